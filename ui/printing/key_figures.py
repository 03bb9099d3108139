"""The key figures of a plan as a page to print."""

from collections.abc import Sequence

from capacity.questions.key_figures.values import KeyFigures
from capacity.reports.plan.key_figure_words import TITLE, WHEN_UNCOUNTED, changed_in_words, period
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import CAUTION
from ui.manager.key_figure_rows import lines_table, tables_behind
from ui.printing.sheet import caution, heading, paragraph, sheet, value_table


def key_figures_page(view: View, figures: KeyFigures, notes: Sequence[str] = ()) -> bytes:
    """Return the key figures as an HTML page, in UTF-8; every text stays a text.

    ``notes`` stand at the top, in a frame.
    """
    base = view.base
    body = [
        *map(caution, (CAUTION, *notes)),
        paragraph(f"Planning period {period(figures)}."),
        value_table(lines_table(figures, base)),
    ]
    if figures.changed is not None:
        body += map(paragraph, changed_in_words(figures.changed))
    for title, rows in tables_behind(figures, base):
        body += [heading(title), value_table(rows, is_small=True)]
    if figures.options and base.labour_rate is None:
        body.append(paragraph(WHEN_UNCOUNTED))
    return sheet(TITLE, base.name, body, view.outcome.plan)
