"""The key figures of a plan as tables, for the page Base manager and its print."""

from collections.abc import Iterator

from capacity.facts import Base
from capacity.questions.key_figures.computed import key_figures
from capacity.questions.key_figures.values import KeyFigures
from capacity.reports.kit.sheet import Cell
from capacity.reports.plan.key_figure_columns import tables_of
from capacity.reports.plan.key_figure_words import lines_of
from capacity.reports.plan.view import View
from ui.rows import TableRow


def figures_of(view: View) -> KeyFigures:
    """Return the key figures of the plan shown."""
    return key_figures(view.base, view.outcome.plan, audit=view.outcome.audit)


def lines_table(figures: KeyFigures, base: Base) -> list[TableRow]:
    """Return a line a figure: its value, what it says, how it is counted."""
    return [
        {
            "Figure": line.name,
            "Value": line.in_words,
            "What it says": f"{line.said[:1].upper()}{line.said[1:]}",
            "How it is counted": line.counted,
        }
        for line in lines_of(figures, base)
    ]


def tables_behind(figures: KeyFigures, base: Base) -> Iterator[tuple[str, list[TableRow]]]:
    """Yield the tables behind the figures, each with its title, as in the workbook."""
    for title, columns, rows in tables_of(figures, base):
        yield title, [{c.heading: _shown(c.value(row)) for c in columns} for row in rows]


def _shown(value: Cell) -> object:
    return round(value, 1) if isinstance(value, float) else value
