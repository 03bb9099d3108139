"""What a re-plan changes as rows of a table, in the words of its workbook."""

from collections.abc import Sequence

from capacity.facts import Base
from capacity.questions.replan.values import Change
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.reports.replan.told import told_in_words
from capacity.reports.replan.wording import what_in_words, why_in_words
from ui.rows import TableRow


def change_rows(changes: Sequence[Change], base: Base) -> list[TableRow]:
    """Return a row a change: what is different, before and now, why, and who must be told."""
    return [
        {
            "Check": change.check,
            "What": what_in_words(change),
            "Before": stay_in_words(change.before),
            "Now": stay_in_words(change.after),
            "In later by (days)": change.days_moved if change.before and change.after else None,
            "Why": why_in_words(change, base),
            f"Saves ({base.currency})": None if change.saves is None else round(change.saves),
            "Who must be told": told_in_words(change.concerned) or "nobody",
        }
        for change in changes
    ]
