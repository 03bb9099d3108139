"""Findings as rows, for the pages and for what is printed."""

from collections.abc import Sequence

from capacity.messages import Message
from ui.planner.behind import TableRow


def findings_table(findings: Sequence[Message]) -> list[TableRow]:
    """Return findings, each with its cell and what to do."""
    return [
        {
            "Level": finding.level.value,
            "Where": finding.where,
            "What": finding.what,
            "What to do": finding.remedy,
        }
        for finding in findings
    ]
