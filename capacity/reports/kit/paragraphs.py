"""Sentences over the whole width of a sheet, each in a row that is high enough for it."""

from collections.abc import Sequence

from capacity.reports.kit.formats import Look
from capacity.reports.kit.sheet import Sheet

POINTS_A_LINE, FILLED = 17, 0.8
"""Height of a line, and the share of the width that a line fills before it breaks."""


def write_paragraphs(
    sheet: Sheet, top: int, sentences: Sequence[str], look: Look, widths: Sequence[float]
) -> int:
    """Write a sentence a row over columns of these widths; return the first row below."""
    characters = FILLED * sum(widths)
    for row, sentence in enumerate(sentences, start=top):
        sheet.run(row, 0, len(widths) - 1, sentence, look)
        sheet.height(row, POINTS_A_LINE * (1 + int(len(sentence) // characters)))
    return top + len(sentences)
