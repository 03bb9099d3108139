"""The workbook of booked enquiries: the whole plan with them, what changes, whom to tell."""

from collections.abc import Sequence
from pathlib import Path

from capacity.messages import Message
from capacity.plans.outcome import Planned
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.compare.plan_of_checks import PlanOfChecks
from capacity.questions.compare.two_plans import compare_of_bases
from capacity.questions.enquiries.booking import Booked
from capacity.reports.compare.sheet_two_plans import (
    goals_of,
    goals_pair_table,
    money_pair_table,
    overload_pair_sheet,
)
from capacity.reports.enquiries.booked_wording import booked_in_words
from capacity.reports.kit import formats
from capacity.reports.kit.formats import SECTION
from capacity.reports.kit.paragraphs import write_paragraphs
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.further_sheet import FurtherSheet
from capacity.reports.plan.messages import Where
from capacity.reports.plan.wording import CAUTION
from capacity.reports.plan.workbook import plan_workbook
from capacity.reports.replan.sheet_changes import CHANGES, OVERLOAD_COMPARED, changes_sheet

BOOKING = "Booking"
NAMES = ("plan before", "plan with the booking")
WIDTHS = (34, 20, 24, 30, 16)


def write_booked_workbook(
    booked: Booked, path: Path, messages: Sequence[Message] = (), where: Where | None = None
) -> None:
    """Write the workbook whole or not at all.

    Raises
    ------
    OutputError
        When the file cannot be written.
    """
    write_whole(booked_workbook(booked, messages, where), path)


def booked_workbook(
    booked: Booked, messages: Sequence[Message] = (), where: Where | None = None
) -> bytes:
    """Return the plan workbook with the sheets of the booking, as bytes of an ``.xlsx`` file."""
    told = compare_of_bases(
        PlanOfChecks(booked.before, booked.base_before, frozenset()),
        PlanOfChecks(booked.plan, booked.base, frozenset()),
    )

    def booking_sheet(book: Book) -> None:
        sheet = book.sheet(BOOKING)
        sheet.hide_gridlines()
        sheet.widths(WIDTHS)
        sheet.write(0, 0, f"Booked at {booked.base.name}", formats.TITLE)
        row = write_paragraphs(sheet, 2, booked_in_words(booked), formats.VERDICT, WIDTHS)
        row = write_paragraphs(sheet, row, (CAUTION,), formats.NOTE, WIDTHS) + 1
        blanks = [None] * (len(WIDTHS) - 1)
        sheet.write_row(row, ["Goals, in order of importance", *blanks], SECTION)
        goals = goals_of(told, booked.base)
        row = goals_pair_table(sheet, row + 1, goals, NAMES, WIDTHS) + 1
        sheet.write_row(row, ["Cost by kind", *blanks], SECTION)
        money_pair_table(sheet, row + 1, told, NAMES, booked.base, WIDTHS)

    further = (
        FurtherSheet(BOOKING, "what is booked, what it costs and gains", booking_sheet),
        FurtherSheet(
            CHANGES,
            "each check booked or moved for it, and who must be told",
            lambda book: changes_sheet(
                book, booked.changes, booked.base, booked.audit, with_prices=False
            ),
        ),
        FurtherSheet(
            OVERLOAD_COMPARED,
            "the weeks with overload, before and with the booking",
            lambda book: overload_pair_sheet(book, told, NAMES, OVERLOAD_COMPARED),
        ),
    )
    made = outcome_of_booking(booked)
    return plan_workbook(booked.base, made, messages, where, further, earlier=booked.before)


def outcome_of_booking(booked: Booked) -> Planned:
    """Return the plan with the booking as an outcome; its proof stands with the enquiry."""
    return as_outcome(
        booked.plan,
        booked.base,
        booked.settings,
        booked.seconds,
        "question",
        booked.audit_before,
    )
