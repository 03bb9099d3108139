"""The reports of a plan on a desk, as the commands write them to files."""

import tempfile
from pathlib import Path

from capacity.reports.answers import report
from ui.desk.plan_job import Result


def report_bytes(result: Result, ending: str) -> bytes:
    """Return a report as it would be written to a file with that ending."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"plan{ending}"
        _write(result, path)
        return path.read_bytes()


def plan_file_text(result: Result) -> str:
    """Return the plan file of a plan."""
    return report_bytes(result, ".json").decode("utf-8")


def _write(result: Result, path: Path) -> None:
    book, news = result.opened.book, result.news
    assert book.base is not None
    if news is None:
        report(book.base, result.outcome, path, book.messages, where=book.where)
    elif news.answer is None:
        report(book.base, result.outcome, path, book.messages, where=book.where, workbook=news.read)
    else:
        earlier = news.earlier
        report(news.read, news.answer, path, book.messages, where=book.where, earlier=earlier)
