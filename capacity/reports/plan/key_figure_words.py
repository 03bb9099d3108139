"""The key figures of a plan in words, for its workbook, the dashboard and the printed page."""

from calendar import month_name
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from capacity.facts import Base
from capacity.questions.key_figures.values import Changed, KeyFigures, OptionResult
from capacity.reports.enquiries.wording import move_in_words, named
from capacity.words import counted, day, days, hours, money, percent

PERCENT, DAYS, HOURS, COUNT = "%", "days", "h", ""
TITLE = "Key figures"
NO_EARLIER = "No earlier plan was given, so nothing is said of what changed."
WHEN_UNCOUNTED = (
    "Contributions count no regular labour, since the sheet Base has no Labour rate, and material "
    "only where the package has a Material cost."
)
COUNTED_ALIKE = "Contribution = price - added cost of the plan - regular labour - material"


@dataclass(frozen=True, slots=True)
class KeyLine:
    """One figure: its value in its unit, None where there is nothing to tell, and what it says.

    ``counted`` is how it is counted.
    """

    name: str
    value: float | None
    unit: str
    said: str
    counted: str

    @property
    def explained(self) -> str:
        """Return what it says and how it is counted, as sentences."""
        said = f"{self.said[:1].upper()}{self.said[1:]}. " if self.said else ""
        return f"{said}{self.counted}."

    @property
    def in_words(self) -> str:
        """Return the value with its unit, as a person reads it."""
        if self.value is None:
            return "none"
        if self.unit == PERCENT:
            return percent(self.value / 100)
        if self.unit == HOURS:
            return hours(self.value)
        if self.unit == DAYS:
            is_whole = float(self.value).is_integer()
            return days(int(self.value)) if is_whole else f"{self.value:,.1f} days"
        if self.unit == COUNT:
            return f"{self.value:,.0f}"
        return f"{self.value:,.0f} {self.unit}"


def period(figures: KeyFigures) -> str:
    """Return the planning period, of which bay use and labour use speak."""
    return f"{day(figures.first)} to {day(figures.last)}"


def lines_of(figures: KeyFigures, base: Base) -> tuple[KeyLine, ...]:
    """Return the figures one below the other, in the order in which a manager asks."""
    return tuple(_lines(figures, base))


def _lines(figures: KeyFigures, base: Base) -> Iterator[KeyLine]:
    bays, labour, currency = figures.all_bays, figures.labour, base.currency
    yield KeyLine(
        "Bay use",
        _percent(bays.used),
        PERCENT,
        f"{bays.occupied:,} of {counted(bays.open, 'open day')} of all bays are occupied",
        "Occupied days / open days of all bays in the planning period; closed days, and those "
        "taken up by a bay on the same floor, are not open",
    )
    yield KeyLine(
        "Labour use",
        _percent(labour.used),
        PERCENT,
        f"{hours(labour.demand)} of demand, {hours(labour.regular)} of regular man-hours",
        "Demand / regular man-hours in the weeks of the planning period, all skills; in a re-plan "
        "without the weeks that are over",
    )
    yield KeyLine(
        "Man-hours a day in work",
        figures.man_hours_a_day,
        HOURS,
        f"{counted(len(figures.turn_rounds), 'check')} with a slot",
        "Man-hours of all checks / calendar days that they are in, from the first day of the plan",
    )
    yield KeyLine(
        "Mean turn-round",
        figures.mean_days,
        DAYS,
        _against_promise(figures.mean_days_over_promise),
        "Days from in day to out day; promised are those from the in day to Agreed out",
    )
    yield KeyLine(
        "On-time share",
        _percent(figures.on_time_share),
        PERCENT,
        f"{figures.on_time} of {counted(figures.promised, 'check')} with an Agreed out "
        f"{'is' if figures.on_time == 1 else 'are'} out by then",
        "Checks out by Agreed out / checks with an Agreed out; one without a slot is not on time",
    )
    yield KeyLine(
        "Options won", len(figures.won), COUNT, _contribution_of(figures.won, base), COUNTED_ALIKE
    )
    yield KeyLine(
        "Options lost",
        len(figures.lost),
        COUNT,
        _contribution_of(figures.lost, base, at_most=True),
        "The same without any added cost of the plan, and with regular labour alone: the most "
        "that was forgone",
    )
    for name, amount in (
        ("Overtime", figures.bought.overtime),
        ("Contract labour", figures.bought.contract),
        ("Overload", figures.bought.overload),
    ):
        yield KeyLine(name, amount, HOURS, "", "Man-hours in all weeks of the plan")
    unused = figures.unused_interval
    yield KeyLine(
        "Unused interval",
        unused.days,
        DAYS,
        f"{counted(unused.checks, 'check')}, cost {money(unused.money, base)}",
        "Days before Latest in",
    )
    yield KeyLine(
        "Days past Latest in",
        figures.days_past_latest_in,
        DAYS,
        f"no slot: {named(figures.no_slot)}" if figures.no_slot else "every check has a slot",
        f"Of fixed and booked checks; one without a slot counts {base.longest_delay_days + 1}",
    )
    yield KeyLine(
        "Cost of the plan", figures.money, currency, "", "The prices of options won are taken off"
    )


def changed_in_words(changed: Changed) -> Iterator[str]:
    """Yield what is other than in the earlier plan."""
    if not (changed.moves or changed.new or changed.gone):
        yield "Every check has the slot that it had in the earlier plan."
        return
    if changed.moves:
        who = "1 check differs"
        if len(changed.moves) > 1:
            who = f"{len(changed.moves)} checks differ"
        yield f"{who} from the earlier plan: {_moves(changed)}."
    if changed.new:
        yield f"New since the earlier plan: {named(changed.new)}."
    if changed.gone:
        yield f"No longer in the workbook: {named(changed.gone)}."


def month_in_words(first: date) -> str:
    """Return ``January 2027``."""
    return f"{month_name[first.month]} {first.year}"


def _moves(changed: Changed) -> str:
    return named([move_in_words(move) for move in changed.moves], "; ")


def _against_promise(over: float | None) -> str:
    if over is None:
        return "nothing is promised"
    if abs(over) < 0.05:
        return "as long as promised, on average"
    return f"{abs(over):.1f} days {'longer' if over > 0 else 'shorter'} than promised, on average"


def _contribution_of(
    options: tuple[OptionResult, ...], base: Base, *, at_most: bool = False
) -> str:
    if not options:
        return "none"
    amount = money(sum(option.contribution.money for option in options), base)
    asked = hours(sum(option.man_hours for option in options))
    said = f"contribution {'at most ' if at_most else ''}{amount}, with {asked} of work"
    return said if base.labour_rate is not None else f"{said} whose regular labour is not counted"


def _percent(share: float | None) -> float | None:
    return None if share is None else 100 * share
