"""What a plan comes to, as the few figures that are looked at first."""

from dataclasses import dataclass
from math import fsum

from capacity.facts import Status
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import is_over
from capacity.words import LEAST_MONEY, counted, days, hours, money, percent
from capacity.words.marks import TRIANGLE


@dataclass(frozen=True, slots=True)
class Tile:
    """A figure: its name, its value, and what is said below it."""

    name: str
    value: str
    said: str


def tiles_of(view: View, *, is_proof_told: bool = True) -> tuple[Tile, ...]:
    """Return the tiles of a plan.

    Without ``is_proof_told`` nothing is said of what could be saved: the proof of a re-plan
    counts its moves.
    """
    outcome, base = view.outcome, view.base
    goals, accounts = outcome.audit.goals, view.accounts.values()
    missing = len(outcome.plan.not_placed)
    past = sum(account.days_past_latest_in > 0 for account in accounts)
    late = [account for account in accounts if account.late_days]
    weeks = len({load.week for load in outcome.audit.weeks if is_over(load)})
    options = [check for check in base.checks if check.status is Status.OPTION]
    taken = sum(check.name in view.accounts for check in options)
    told = [counted(past, "check")] if past else []
    told += [f"{missing} with no slot"] if missing else []
    return (
        Tile("Days past Latest in", days(goals.days_past_latest_in), ", ".join(told) or "no check"),
        Tile(
            "Days late out",
            days(sum(account.late_days for account in late)),
            f"{counted(len(late), 'check')}, {money(fsum(a.late_money for a in late), base)}"
            if late
            else "no check",
        ),
        Tile(
            "Overload",
            f"{TRIANGLE} {hours(goals.overload_hours)}" if weeks else hours(0.0),
            f"in {counted(weeks, 'week')}" if weeks else "in no week",
        ),
        Tile(
            "Cost",
            money(goals.money, base),
            _could_save(view) if is_proof_told else "as re-planned",
        ),
        Tile(
            "Options taken",
            f"{taken} of {len(options)}",
            f"{len(options) - taken} not taken" if options else "none in the workbook",
        ),
    )


def _could_save(view: View) -> str:
    outcome = view.outcome
    if outcome.bound is None or outcome.gap is None:
        return "could still save: not known"
    saving = max(0.0, outcome.audit.goals.money - outcome.bound)
    if saving < LEAST_MONEY or outcome.gap <= outcome.settings.gap:
        return "proven: no plan costs less"
    return f"could still save at most {money(saving, view.base)} ({percent(outcome.gap)})"
