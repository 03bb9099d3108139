"""Put the tables between the marks: the summary into README.md, every run into RESULTS.md."""

from collections.abc import Sequence
from pathlib import Path

from tests.bench.families import families_of
from tests.bench.result import Line
from tests.bench.summary import summary
from tests.bench.tables import every_run

BEGIN, END = "<!-- bench:begin -->", "<!-- bench:end -->"


def write_pages(lines: Sequence[Line], root: Path) -> None:
    """Write what was measured into the two pages of the project below ``root``.

    Raises
    ------
    ValueError
        When a page does not have both marks, in this order; neither is written then.
    """
    texts = {
        root / "README.md": summary(families_of(lines)),
        root / "tests" / "bench" / "RESULTS.md": every_run(lines),
    }
    pages = {page: put_between_marks(text, page) for page, text in texts.items()}
    for page, text in pages.items():
        page.write_text(text, encoding="utf-8")


def put_between_marks(text: str, page: Path) -> str:
    """Return the page with what stands between its marks replaced, everything else as it is.

    Raises
    ------
    ValueError
        When the page does not have both marks, in this order.
    """
    before, begin, rest = page.read_text(encoding="utf-8").partition(BEGIN)
    _, end, after = rest.partition(END)
    if not begin or not end:
        raise ValueError(f"{page} has no {BEGIN} followed by {END}")
    return f"{before}{BEGIN}\n{text}\n{END}{after}"
