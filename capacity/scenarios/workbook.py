"""The workbook of scenarios: a row each, beside the plan as it is."""

from collections.abc import Callable, Sequence
from pathlib import Path

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.reports.kit import formats
from capacity.reports.kit.formats import HOURS, MONEY, WHOLE, WRAPPED
from capacity.reports.kit.paragraphs import write_paragraphs
from capacity.reports.kit.sheet import Book, Cell
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.wording import CAUTION
from capacity.scenarios.text import ended_in_words, in_order
from capacity.scenarios.values import Figures, ScenarioAnswer
from capacity.words import counted

OVERVIEW, SHEET = "Overview", "Scenarios"
WIDTHS = (110,)
HOW = (
    "Each scenario is the workbook with what its rows change, planned by itself. Its search begins "
    "with what still stands of the plan as it is, and has the same time as all others; every plan "
    "is audited. Differences are against the plan as it is, on the workbook as it is."
)


def write_scenarios_workbook(
    standing: ScenarioAnswer,
    answers: Sequence[ScenarioAnswer],
    base: Base,
    plan: Plan,
    path: Path,
) -> None:
    """Write the workbook whole or not at all; raises ``OutputError``."""
    book = Book(title=f"Scenarios of {base.name}", plans=(plan,))
    first = book.sheet(OVERVIEW)
    first.hide_gridlines()
    first.widths(WIDTHS)
    first.write(0, 0, f"Scenarios of {base.name}", formats.TITLE)
    planned = sum(answer.figures is not None for answer in answers)
    said = f"{counted(len(answers), 'scenario')}, of which {planned} could be planned."
    row = write_paragraphs(first, 2, (said, HOW), WRAPPED, WIDTHS)
    write_paragraphs(first, row, (CAUTION,), formats.NOTE, WIDTHS)
    write_sheet_table(book.sheet(SHEET), _columns(base, standing), [standing, *in_order(answers)])
    write_whole(book.content(), path)


def _columns(base: Base, standing: ScenarioAnswer) -> tuple[Column[ScenarioAnswer], ...]:
    unit = base.currency

    def figure(of: Callable[[Figures], Cell]) -> Callable[[ScenarioAnswer], Cell]:
        return lambda answer: None if answer.figures is None else of(answer.figures)

    def more(of: Callable[[Figures], float]) -> Callable[[ScenarioAnswer], Cell]:
        before = standing.figures
        if before is None:
            return lambda answer: None
        return figure(lambda figures: of(figures) - of(before))

    return (
        Column("Scenario", lambda a: a.name, width=28),
        Column("What is different", lambda a: "; ".join(a.words) or None, WRAPPED, width=44),
        Column(f"Cost of the plan ({unit})", figure(lambda f: f.cost), MONEY, width=16),
        Column(f"More than as it is ({unit})", more(lambda f: f.cost), MONEY, width=16),
        Column(
            "Days past Latest in",
            figure(lambda f: f.days_past),
            WHOLE,
            marked=lambda a: a.figures is not None and a.figures.days_past > 0,
        ),
        Column("Days late out", figure(lambda f: f.late_days), WHOLE),
        Column("Bought (h)", figure(lambda f: f.bought_hours), HOURS),
        Column("Bought more than as it is (h)", more(lambda f: f.bought_hours), HOURS, width=14),
        Column(
            "Overload (h)",
            figure(lambda f: f.overload_hours),
            HOURS,
            marked=lambda a: a.figures is not None and a.figures.overload_hours > 0.05,
        ),
        Column("No slot", figure(lambda f: ", ".join(f.without_slot) or None), WRAPPED, width=18),
        Column(
            "Options taken", figure(lambda f: ", ".join(f.options_taken) or None), WRAPPED, width=18
        ),
        Column("Checks with another slot", lambda a: ", ".join(a.moved) or None, WRAPPED, width=30),
        Column("How it ended", lambda a: ended_in_words(a) or None, WRAPPED, width=34),
        Column("Took (s)", lambda a: round(a.seconds, 1) or None, HOURS),
    )
