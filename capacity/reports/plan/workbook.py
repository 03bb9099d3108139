"""The plan workbook: a sheet for each thing that people look for."""

from collections.abc import Sequence
from pathlib import Path

from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan
from capacity.questions.key_figures.computed import key_figures
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.further_sheet import FurtherSheet
from capacity.reports.plan.messages import Where
from capacity.reports.plan.sheet_bay_occupancy import bay_occupancy_sheet
from capacity.reports.plan.sheet_cautions import cautions_sheet
from capacity.reports.plan.sheet_charts import charts_sheet
from capacity.reports.plan.sheet_crews import crew_hours_sheet
from capacity.reports.plan.sheet_extra_work import extra_work_sheet
from capacity.reports.plan.sheet_key_figures import key_figures_sheet
from capacity.reports.plan.sheet_man_hour_plan import man_hour_plan_sheet
from capacity.reports.plan.sheet_messages import messages_sheet
from capacity.reports.plan.sheet_overload import overload_sheet
from capacity.reports.plan.sheet_overview import overview_sheet
from capacity.reports.plan.sheet_progress import progress_sheet
from capacity.reports.plan.sheet_ready_dates import ready_dates_sheet
from capacity.reports.plan.sheet_settings import settings_sheet
from capacity.reports.plan.sheet_slots import slots_sheet
from capacity.reports.plan.sheet_stages import stages_sheet
from capacity.reports.plan.sheet_weeks import man_hours_sheet
from capacity.reports.plan.view import view_of


def write_plan_workbook(
    base: Base,
    outcome: Planned,
    messages: Sequence[Message],
    path: Path,
    where: Where | None = None,
    earlier: Plan | None = None,
) -> None:
    """Write the plan workbook whole or not at all; ``earlier`` is the plan that it replaces.

    Raises
    ------
    OutputError
        When the file cannot be written.
    """
    write_whole(plan_workbook(base, outcome, messages, where, earlier=earlier), path)


def plan_workbook(
    base: Base,
    outcome: Planned,
    messages: Sequence[Message],
    where: Where | None = None,
    further: Sequence[FurtherSheet] = (),
    earlier: Plan | None = None,
) -> bytes:
    """Return the plan workbook as the bytes of an ``.xlsx`` file.

    ``further`` sheets, of the question that the plan answers, come behind the first. ``earlier`` is
    the plan that it replaces, where there is one.
    """
    view = view_of(base, outcome, messages, where)
    book = Book(title=f"Slot plan {base.name}", plans=(outcome.plan,))
    overview_sheet(book, view, further)
    for sheet in further:
        sheet.write(book)
    figures = key_figures(base, outcome.plan, audit=outcome.audit, earlier=earlier)
    key_figures_sheet(book, view, figures)
    bay_occupancy_sheet(book, view)
    slots_sheet(book, view)
    stages_sheet(book, view)
    progress_sheet(book, view)
    extra_work_sheet(book, view)
    ready_dates_sheet(book, view)
    overload_sheet(book, view)
    man_hours_sheet(book, view)
    man_hour_plan_sheet(book, view)
    crew_hours_sheet(book, view)
    charts_sheet(book, view)
    messages_sheet(book, view)
    cautions_sheet(book, view)
    settings_sheet(book, view)
    return book.content()
