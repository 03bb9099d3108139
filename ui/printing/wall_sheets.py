"""Which days and bays stand on which page of the wall sheet: a quarter each, hangar by hangar."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from capacity.facts import Bay
from capacity.reports.plan.drawn_days import DrawnDays

WEEKS_ON_A_PAGE, WEEKS_TOO_FEW = 13, 2
"""A quarter, as the workbook counts it. No page is opened for fewer weeks than ``WEEKS_TOO_FEW``
and one more: the last page takes them."""

ONE_WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class WallSheet:
    """One page: whole weeks ``[first, until)`` from a Monday on, and some bays by hangar.

    ``number`` counts from 1 to ``of``; ``before`` and ``after`` are the numbers of the pages on
    which its bays go on, None for the first and the last.
    """

    number: int
    of: int
    first: date
    until: date
    hangars: tuple[tuple[str, tuple[Bay, ...]], ...]
    before: int | None
    after: int | None

    @property
    def bays(self) -> tuple[Bay, ...]:
        """The bays from the top of the page to its foot."""
        return tuple(bay for _, bays in self.hangars for bay in bays)

    @property
    def weeks_wide(self) -> int:
        """For how many weeks it has room: a last page that is not full is drawn no wider."""
        return max(WEEKS_ON_A_PAGE, (self.until - self.first).days // 7)


def wall_sheets(bays: Sequence[Bay], drawn: DrawnDays, first: date, most: int) -> list[WallSheet]:
    """Return the pages from the week of ``first`` to the last day drawn.

    At most ``most`` bays stand on a page; more are parted evenly, the pages of a quarter in turn.
    """
    quarters = list(_quarters(first, drawn.days[-1]))
    groups = _parted(_by_hangar(bays), most)
    count = len(groups)
    return [
        WallSheet(
            number=(number := quarter * count + group + 1),
            of=len(quarters) * count,
            first=begin,
            until=until,
            hangars=_hangars(groups[group]),
            before=number - count if quarter else None,
            after=number + count if quarter < len(quarters) - 1 else None,
        )
        for quarter, (begin, until) in enumerate(quarters)
        for group in range(count)
    ]


def _quarters(first: date, last: date) -> Iterator[tuple[date, date]]:
    begin = first - timedelta(days=first.weekday())
    while True:
        weeks = (last - begin).days // 7 + 1
        if weeks <= WEEKS_ON_A_PAGE + WEEKS_TOO_FEW:
            yield begin, begin + weeks * ONE_WEEK
            return
        yield begin, begin + WEEKS_ON_A_PAGE * ONE_WEEK
        begin += WEEKS_ON_A_PAGE * ONE_WEEK


def _by_hangar(bays: Sequence[Bay]) -> list[Bay]:
    """Return the bays hangar by hangar, these in the order in which they are first named."""
    order = list(dict.fromkeys(bay.hangar for bay in bays))
    return sorted(bays, key=lambda bay: order.index(bay.hangar))


def _parted(bays: Sequence[Bay], most: int) -> list[Sequence[Bay]]:
    pages = max(1, -(-len(bays) // most))
    ends = [len(bays) * page // pages for page in range(pages + 1)]
    return [bays[begin:end] for begin, end in pairwise(ends)]


def _hangars(bays: Sequence[Bay]) -> tuple[tuple[str, tuple[Bay, ...]], ...]:
    names = dict.fromkeys(bay.hangar for bay in bays)
    return tuple((name, tuple(bay for bay in bays if bay.hangar == name)) for name in names)
