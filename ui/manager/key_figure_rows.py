"""The key figures of a plan as tables, for the page Base manager and its print."""

from collections.abc import Iterator

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.questions.key_figures.computed import key_figures
from capacity.questions.key_figures.values import KeyFigures
from capacity.reports.kit.sheet import Cell
from capacity.reports.plan.key_figure_columns import tables_of
from capacity.reports.plan.key_figure_words import lines_of
from capacity.reports.plan.view import View
from ui.rows import TableRow


def figures_of(view: View, earlier: Plan | None = None) -> KeyFigures:
    """Return the key figures of the plan shown, beside those of an ``earlier`` one."""
    plan, audit = view.outcome.plan, view.outcome.audit
    return key_figures(view.base, plan, audit=audit, earlier=earlier)


def lines_table(figures: KeyFigures, base: Base) -> list[TableRow]:
    """Return a line a figure: its value, that of an earlier plan, what it says and counts."""
    lines = lines_of(figures, base)
    changed = figures.changed
    before = lines if changed is None else lines_of(changed.before, base)
    return [
        {
            "Figure": line.name,
            "Value": line.in_words,
            **({} if changed is None else {"Earlier plan": old.in_words}),
            "What it says": f"{line.said[:1].upper()}{line.said[1:]}",
            "How it is counted": line.counted,
        }
        for line, old in zip(lines, before, strict=True)
    ]


def tables_behind(figures: KeyFigures, base: Base) -> Iterator[tuple[str, list[TableRow]]]:
    """Yield the tables behind the figures, each with its title, as in the workbook."""
    for title, columns, rows in tables_of(figures, base):
        yield title, [{c.heading: _shown(c.value(row)) for c in columns} for row in rows]


def _shown(value: Cell) -> object:
    return round(value, 1) if isinstance(value, float) else value
