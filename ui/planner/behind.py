"""What is behind a bar or a week: stages of a check, demand by check and assigned crews.

The hours are laid out as the audit lays them out, by the same functions, so they add up to the
week's demand.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from functools import partial
from operator import attrgetter

from capacity.cautions.applying import cautions_of_plan
from capacity.facts import Stage
from capacity.plans.laid_plan import stays_of
from capacity.plans.man_hours import asked_by
from capacity.plans.plan import Placement, WeekLoad
from capacity.plans.weeks import week_name
from capacity.questions.risk.values import CheckRisk
from capacity.reports.plan.caution_words import source_told, why_told
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import bought, remarks
from capacity.words import LEAST_HOURS, day, days, hours, money, percent, week_dates
from ui.rows import TableRow


def check_facts(view: View, name: str) -> list[tuple[str, str]]:
    """Return what is known of a placed check, in words."""
    check, account = view.base.check(name), view.accounts[name]
    in_money = partial(money, base=view.base)
    agreed = "none" if account.agreed_out is None else day(account.agreed_out)
    facts = [
        ("Aircraft", f"{check.aircraft}, {check.type}"),
        ("Package", check.package),
        ("Customer", f"{check.customer or 'not stated'}{', third party' * check.third_party}"),
        ("Status", check.status.value),
        ("In", f"{day(account.in_day)}; Latest in {day(check.latest_in)}"),
        ("Out", f"{day(account.out_day)}; Agreed out: {agreed}"),
        ("Dates", remarks(account) or "neither past Latest in nor late out"),
        (
            "Days before Latest in",
            f"{days(account.early_days)}, {money(account.early_money, view.base)}",
        ),
        (
            "Days late out",
            f"{days(account.late_days)}, {money(account.late_money, view.base)}",
        ),
        ("Man-hours in this plan", f"{account.man_hours:,.0f} h"),
    ]
    if account.wanted_money:
        away = f"{days(account.wanted_days)}, {in_money(account.wanted_money)}"
        facts.append(("Days away from Wanted in", away))
    if account.price:
        facts.append(("Price earned", in_money(account.price)))
    return facts


def risk_facts(risk: CheckRisk) -> list[tuple[str, str]]:
    """Return how a check may end by the simulations of its plan, in words."""
    by = "Agreed out" if risk.agreed else "planned out day"
    buffer = days(risk.buffer_days) if risk.buffer_days else "none"
    return [
        ("Out by its day", f"in {percent(risk.on_day)} of simulations ({by} {day(risk.home_by)})"),
        (
            "Likely out",
            f"by {day(risk.out_likely)} in 50 %, by {day(risk.out_safe)} in 80 % of simulations",
        ),
        ("Buffer that is enough in 80 %", f"{buffer}, {hours(risk.buffer_man_hours)}"),
    ]


def window_facts(view: View, name: str) -> list[tuple[str, str]]:
    """Return what is known of a check without a slot, in words."""
    check = view.base.check(name)
    agreed = "none" if check.agreed_out is None else day(check.agreed_out)
    return [
        ("Aircraft", f"{check.aircraft}, {check.type}"),
        ("Package", check.package),
        ("Customer", f"{check.customer or 'not stated'}{', third party' * check.third_party}"),
        ("Status", f"{check.status.value}, no slot"),
        ("In", f"Earliest in {day(check.earliest_in)}; Latest in {day(check.latest_in)}"),
        ("Out", f"Agreed out: {agreed}"),
    ]


def late_table(view: View) -> list[TableRow]:
    """Return the checks that have no slot, come in past ``Latest in`` or are out late."""
    rows: list[TableRow] = [
        {
            "Check": name,
            "Aircraft": view.base.check(name).aircraft,
            "Remark": "no slot",
            "In": None,
            "Latest in": view.base.check(name).latest_in,
            "Out": None,
            "Agreed out": view.base.check(name).agreed_out,
        }
        for name in view.outcome.plan.not_placed
        if view.base.has_check(name)
    ]
    for name, account in view.accounts.items():
        past, late = account.days_past_latest_in, account.late_days
        told = [f"{days(past)} past Latest in"] if past else []
        told += [f"{days(late)} late out"] if late else []
        if told:
            check = view.base.check(name)
            rows.append(
                {
                    "Check": name,
                    "Aircraft": check.aircraft,
                    "Remark": ", ".join(told),
                    "In": account.in_day,
                    "Latest in": check.latest_in,
                    "Out": account.out_day,
                    "Agreed out": account.agreed_out,
                }
            )
    return rows


def _routine_hours(stage: Stage) -> float:
    return 0.0 if stage.is_extra else sum(stage.man_hours.values())


def _extra_hours(stage: Stage) -> float:
    return sum((stage.man_hours if stage.is_extra else stage.extra_hours).values())


def stages_table(view: View, name: str) -> list[TableRow]:
    """Return the stages of a check in turn, each with its bay, days and man-hours."""
    stages = view.stages[name]
    return [
        {
            "Stage": done.stage,
            "Bay": placement.bay,
            "Kind of work": stages[done.stage].work,
            "From": done.first,
            "To (included)": done.until - timedelta(days=1),
            "Routine man-hours of the package": _routine_hours(stages[done.stage]),
            "Extra man-hours": _extra_hours(stages[done.stage]) or None,
            "Alone on the aircraft": "yes" if stages[done.stage].alone else "",
        }
        for placement in _of_check(view.placements, name)
        for done in placement.stages
    ]


def cautions_table(view: View, name: str) -> list[TableRow]:
    """Return the cautions for the stages of a check, with why and from where."""
    own = replace(view.outcome.plan, placements=tuple(_of_check(view.placements, name)))
    return [
        {
            "Stage": applied.stage,
            "Caution": applied.caution.text,
            "Because": why_told(applied),
            "Source": source_told(applied.caution),
        }
        for applied in cautions_of_plan(own, view.base)
        if applied.check == name
    ]


def demand_of_week(view: View, week: str, skill: str) -> list[TableRow]:
    """Return the checks with demand for a skill in a week, the largest first."""
    asked = []
    for name, stay in stays_of(view.outcome.plan, view.base).items():
        amount = {
            (week_name(monday), asked_skill): amount
            for (monday, asked_skill), amount in asked_by(stay, view.base.first_day).items()
        }.get((week, skill), 0.0)
        if amount >= LEAST_HOURS:
            asked.append((amount, name))
    return [
        {
            "Check": name,
            "Aircraft": view.base.check(name).aircraft,
            "Demand (man-hours)": round(amount, 1),
            "In": view.accounts[name].in_day,
            "Out": view.accounts[name].out_day,
            "Status": view.base.check(name).status.value,
        }
        for amount, name in sorted(asked, key=lambda pair: (-pair[0], pair[1]))
    ]


def assigned_in_week(view: View, week: str, skill: str) -> list[TableRow]:
    """Return the crews assigned to a skill in a week, the most hours first."""
    given = [g for g in view.outcome.audit.crew_hours if (g.week, g.skill) == (week, skill)]
    return [
        {
            "Crew": g.crew,
            "Employment": view.base.crew(g.crew).employment.value,
            "Own skill": view.base.crew(g.crew).skills[0],
            "Assigned (man-hours)": round(g.hours, 1),
        }
        for g in sorted(given, key=lambda g: (-g.hours, g.crew))
    ]


def load_of(view: View, week: str, skill: str) -> WeekLoad | None:
    """Return the man-hours of a week and skill; None where the plan has no such week."""
    loads = {(load.week, load.skill): load for load in view.outcome.audit.weeks}
    return loads.get((week, skill))


def week_sentence(load: WeekLoad) -> str:
    """Return in a sentence the demand of a week for a skill and how it is met."""
    monday, sunday = week_dates(load.week)
    told = (
        f"{load.skill} in {load.week}, {day(monday)} to {day(sunday)}: "
        f"demand {hours(load.demand)}, available {hours(load.regular)} regular"
    )
    more = bought(load)
    return f"{told}; on top: {', '.join(more)}." if more else f"{told}; nothing on top."


def _of_check(placements: Sequence[Placement], name: str) -> list[Placement]:
    own = [placement for placement in placements if placement.check == name]
    return sorted(own, key=attrgetter("in_day"))
