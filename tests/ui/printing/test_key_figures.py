"""The key figures on paper: the same figures as in the workbook, and every text a text."""

from dataclasses import replace

from capacity.reports.plan.key_figure_columns import tables_of
from tests.ui.plans import base, view
from tests.ui.printed_page import ALLOWED, FORBIDDEN, read
from ui.manager.key_figure_rows import figures_of, lines_table, tables_behind
from ui.printing.key_figures import key_figures_page

EVIL = "<script>alert('x')</script>"


def page_of(*notes: str):
    shown = view(replace(base(), name=EVIL))
    return shown, read(key_figures_page(shown, figures_of(shown), notes))


def test_figures_and_the_tables_behind_them_are_all_there():
    shown, page = page_of("The workbook was changed.")
    figures = figures_of(shown)
    lines = [row["Figure"] for row in lines_table(figures, shown.base)]
    assert [row[0] for row in page.rows[: 1 + len(lines)]] == ["Figure", *lines]
    assert page.texts["h2"] == [title for title, _, _ in tables_of(figures, shown.base)]
    assert "The workbook was changed." in page.texts["p"]
    assert any("release decision" in text for text in page.texts["p"])


def test_texts_stay_texts():
    _, page = page_of(EVIL)
    assert set(page.tags) <= ALLOWED
    assert EVIL in page.texts["p"]
    assert not [name for name, _ in page.attributes if name in FORBIDDEN]


def test_the_tables_are_those_of_the_workbook():
    shown, _ = page_of()
    figures = figures_of(shown)
    for (title, rows), (of_workbook, columns, values) in zip(
        tables_behind(figures, shown.base), tables_of(figures, shown.base), strict=True
    ):
        assert title == of_workbook
        assert len(rows) == len(values)
        assert all(list(row) == [column.heading for column in columns] for row in rows)
