"""A re-plan that is kept over a restart: on its base, which the workbook by itself is not."""

from dataclasses import replace
from datetime import UTC, datetime

from capacity.errors import InputError
from capacity.inputs.reading.as_of import as_of_plan
from capacity.reports.plan_files.base_of import base_of_plan_file
from capacity.reports.plan_files.made import Made, made_now, tool_version
from capacity.reports.plan_files.written import PlanFile
from ui.desk.opened_workbook import OpenedBook, read_as_of
from ui.desk.plan_job import PlanWithNews
from ui.desk.saved_work import SavedNews, SavedPlan, audited_again


def saved_news(news: PlanWithNews) -> SavedNews:
    """Return what is to be kept so that the base of a re-plan can be made again."""
    assert news.opened.book.base is not None
    made = made_now(news.opened.book.base, news.read)
    return SavedNews(made.work_counts_from, made.held, made.work_done)


def plan_with_news(saved: SavedPlan, news: SavedNews, made_from: OpenedBook) -> PlanWithNews | None:
    """Return a kept re-plan with a new audit; None where its base or plan no longer stands."""
    opened = made_from
    if news.work_counts_from is not None:
        opened = read_as_of(made_from, as_of_plan(saved.plan, news.work_counts_from))
    read = opened.book.base
    if read is None:
        return None
    made = Made(
        tool_version(),
        datetime.now(UTC),
        read.name,
        news.work_counts_from,
        news.held,
        work_done=news.work_done,
    )
    try:
        base = base_of_plan_file(PlanFile(made_from.name, saved.plan, made, None), read)
    except InputError:
        return None
    planned = audited_again(saved, base)
    if planned is None:
        return None
    return PlanWithNews(replace(opened, book=replace(opened.book, base=base)), read, planned)
