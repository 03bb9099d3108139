"""What rolling forward does, check by check, as a table."""

from collections.abc import Iterator

from capacity.questions.roll.values import Decided, Rolled
from capacity.reports.roll.text import (
    NOT_TAKEN,
    TAKEN,
    decided_in_words,
    delivered_in_words,
    in_work_in_words,
)
from capacity.words import day
from ui.rows import TableRow

CHOSEN = "chosen above"


def roll_rows(rolled: Rolled) -> list[TableRow]:
    """Return a row a check or dated row that is something else next week."""
    return [{"What": what, "Whose": whose, "How": how} for what, whose, how in _rows(rolled)]


def _rows(rolled: Rolled) -> Iterator[tuple[str, str, str]]:
    for left in rolled.delivered:
        yield "delivered", left.check, delivered_in_words(left)
    for one in rolled.in_work:
        yield "in work", one.check, in_work_in_words(one)
    yield from _decided("option booked", rolled.booked, TAKEN)
    yield from _decided("option taken out", rolled.dropped, NOT_TAKEN)
    for name in rolled.not_in:
        yield "did not come", name, "still to be planned"
    for gone in rolled.gone:
        yield "row behind, taken out", gone.of, f"{gone.sheet}, row {gone.row}: {day(gone.last)}"


def _decided(what: str, decided: tuple[Decided, ...], why: str) -> Iterator[tuple[str, str, str]]:
    for one in decided:
        yield what, one.check, decided_in_words(one, why) or CHOSEN
