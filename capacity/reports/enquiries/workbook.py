"""The workbook of an answer about enquiries: can they be taken too, when, and at what price."""

from collections.abc import Sequence
from pathlib import Path

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.questions.enquiries.values import CombinationAnswer, EnquiryAnswer
from capacity.reports.enquiries.sheet_combinations import sets_sheet
from capacity.reports.enquiries.sheet_curves import curve_sheets
from capacity.reports.enquiries.sheet_enquiries import enquiries_overview_sheet
from capacity.reports.enquiries.sheet_moves import moves_sheet
from capacity.reports.enquiries.sheet_slots import hours_on_top_sheet, slots_sheet
from capacity.reports.enquiries.ways import taking_plans
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.whole_file import write_whole


def write_enquiries_workbook(
    answers: Sequence[EnquiryAnswer],
    sets: CombinationAnswer,
    base: Base,
    path: Path,
    plans: Sequence[Plan] = (),
) -> None:
    """Write the workbook whole or not at all.

    Raises
    ------
    OutputError
        When the file cannot be written.
    """
    write_whole(enquiries_workbook(answers, sets, base, plans), path)


def enquiries_workbook(
    answers: Sequence[EnquiryAnswer],
    sets: CombinationAnswer,
    base: Base,
    plans: Sequence[Plan] = (),
) -> bytes:
    """Return the workbook as the bytes of an ``.xlsx`` file; ``base`` is without the enquiries."""
    takings = taking_plans(answers, sets)
    book = Book(title=f"Enquiries to {base.name}", plans=plans)
    enquiries_overview_sheet(book, answers, sets, base)
    slots_sheet(book, answers, base)
    curve_sheets(book, answers, base)
    hours_on_top_sheet(book, takings)
    moves_sheet(book, takings, base)
    sets_sheet(book, sets, base)
    return book.content()
