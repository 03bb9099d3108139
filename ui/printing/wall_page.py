"""Where things are on a page of the wall sheet: dates across, bays down.

Everything is in millimetres of the paper, so that a page is exactly one sheet of it.
"""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from capacity.facts import Bay
from capacity.plans.plan import Placement
from capacity.reports.plan.drawn_days import DrawnDays
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import is_over
from capacity.words import week_dates
from ui.printing.drawing import Box
from ui.printing.lettering import cut_to, lines_of, width_of
from ui.printing.paper import LINE, Paper
from ui.printing.wall_sheets import WallSheet
from ui.printing.wall_words import without_slot

PAD_MM = 0.3
HIGHEST_ROW_MM = 22.0
"""A base of few bays leaves room free below them rather than have bars as high as a hand."""

MOST_LINES_WITHOUT_SLOT = 3


@dataclass(frozen=True)
class WallPage:
    """What is drawn: a sheet of a plan on a paper, as of ``today``."""

    view: View
    drawn: DrawnDays
    sheet: WallSheet
    paper: Paper
    today: date

    @cached_property
    def letter_mm(self) -> float:
        """Size of the print."""
        return self.paper.letter_mm

    @cached_property
    def left_mm(self) -> float:
        """Where the days begin: right of hangars, bays and what comes from another page."""
        return self.paper.hangar_mm + self.paper.bay_mm + self.paper.beside_mm

    @cached_property
    def day_mm(self) -> float:
        """How wide a day is."""
        right = self.paper.width - self.paper.beside_mm
        return (right - self.left_mm) / (7 * self.sheet.weeks_wide)

    @cached_property
    def head_mm(self) -> float:
        """How high legend, months, weeks and days are above the bays."""
        return self.dates_mm + self.letter_mm * LINE * (3 if self.shows_days else 2)

    @cached_property
    def dates_mm(self) -> float:
        """Where the dates begin, below the legend and the word at the line of today."""
        return 2 * self.letter_mm + self.letter_mm * LINE

    @cached_property
    def shows_days(self) -> bool:
        """Whether the number of every day has room."""
        return self.day_mm >= width_of("30") * self.small_mm

    @cached_property
    def small_mm(self) -> float:
        """Size of small print."""
        return 0.8 * self.letter_mm

    @cached_property
    def waiting(self) -> list[str]:
        """The lines that name the checks without a slot."""
        told = without_slot(self.view)
        if not told:
            return []
        told[0] = f"No slot: {told[0]}"
        width = self.paper.width / self.letter_mm
        lines: list[str] = []
        for number, one in enumerate(told):
            rest = f"and {len(told) - number - 1} more" if number < len(told) - 1 else ""
            joined = lines_of([lines[-1], one], width - width_of(f", {rest}"), 1) if lines else []
            if joined and joined[0].endswith(f", {one}"):
                lines[-1] = joined[0]
            elif len(lines) < MOST_LINES_WITHOUT_SLOT:
                lines.append(cut_to(one, width - width_of(f", {rest}")))
            else:
                lines[-1] += f", and {len(told) - number} more"
                break
        return lines

    @cached_property
    def foot_mm(self) -> float:
        """How high the lines below the bays are: hours without people, checks without a slot."""
        return self.letter_mm * LINE * (len(self.waiting) + bool(self.overload)) + 2 * PAD_MM

    @cached_property
    def row_mm(self) -> float:
        """How high a bay is."""
        room = self.paper.drawing_mm - self.head_mm - self.foot_mm
        return min(HIGHEST_ROW_MM, room / max(1, len(self.sheet.bays)))

    @cached_property
    def overload(self) -> dict[date, float]:
        """Man-hours of overload of all skills by Monday, of the weeks on this page."""
        found: defaultdict[date, float] = defaultdict(float)
        for load in self.view.outcome.audit.weeks:
            monday = week_dates(load.week)[0]
            if is_over(load) and self.sheet.first <= monday < self.sheet.until:
                found[monday] += load.overload
        return dict(found)

    def x(self, when: date) -> float:
        """Return where a day begins, within the days of the page."""
        inside = min(max(when, self.sheet.first), self.sheet.until)
        return self.left_mm + (inside - self.sheet.first).days * self.day_mm

    def span(self, first: date, until: date, row: int) -> Box:
        """Return the box of days ``[first, until)`` of a bay."""
        left, top = self.x(first), self.head_mm + row * self.row_mm
        return Box(left, top + PAD_MM, self.x(until) - left, self.row_mm - 2 * PAD_MM)

    def shows(self, first: date, until: date) -> bool:
        """Whether any of the days is on the page."""
        return first < self.sheet.until and until > self.sheet.first

    def is_on(self, when: date) -> bool:
        """Whether a day is on the page."""
        return self.sheet.first <= when < self.sheet.until

    @cached_property
    def bar_mm(self) -> float:
        """How high the short upright bar is: with two lines of print, the upper half of its bay."""
        high = self.row_mm - 2 * PAD_MM
        return high / 2 if self.most_lines(self.small_mm) > 1 else high

    def ends_on(self, stay: Placement) -> bool:
        """Whether a stay ends on the page, at its last day at the latest."""
        return stay.out_day <= self.sheet.until

    def late_days(self, stay: Placement) -> int:
        """Return how many days the check of a stay is out late, told where it ends."""
        account = self.view.account_leaving(stay)
        return account.late_days if account and self.ends_on(stay) else 0

    def stays_in(self, bay: Bay) -> list[Placement]:
        """Return the stays of a bay in turn."""
        return [stay for stay in self.view.placements if stay.bay == bay.name]

    def most_lines(self, size_mm: float) -> int:
        """Return how many lines of print of a size a bay has room for."""
        return max(1, int((self.row_mm - 2 * PAD_MM) / (size_mm * LINE)))

    @cached_property
    def bays_foot_mm(self) -> float:
        """Where the last bay ends."""
        return self.head_mm + len(self.sheet.bays) * self.row_mm
