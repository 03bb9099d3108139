"""The workbook of bases planned together: what each does, and where each enquiry goes."""

from pathlib import Path

from capacity.facts import Network, SharedEnquiry
from capacity.network.values import NetworkPlanned, PlanOfBase
from capacity.reports.kit import formats
from capacity.reports.kit.formats import DATE, MONEY, WHOLE, WRAPPED
from capacity.reports.kit.issue import plan_number
from capacity.reports.kit.paragraphs import write_paragraphs
from capacity.reports.kit.sheet import Book, Cell
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.network.wording import BREAK_EVEN, HOW, all_sentences
from capacity.reports.plan.wording import CAUTION

OVERVIEW, BASES, ENQUIRIES = "Overview", "Bases", "Enquiries"
WIDTHS = (110,)


def write_network_workbook(answer: NetworkPlanned, network: Network, path: Path) -> None:
    """Write the workbook whole or not at all; raises ``OutputError``."""
    title = "Bases planned together"
    book = Book(title, plans=tuple(one.outcome.plan for one in answer.bases))
    first = book.sheet(OVERVIEW)
    first.hide_gridlines()
    first.widths(WIDTHS)
    first.write(0, 0, title, formats.TITLE)
    said = [*all_sentences(answer, network), HOW, BREAK_EVEN]
    said += [str(note) for note in answer.notes]
    row = write_paragraphs(first, 2, said, WRAPPED, WIDTHS)
    write_paragraphs(first, row, (CAUTION,), formats.NOTE, WIDTHS)
    write_sheet_table(book.sheet(BASES), _of_bases(network.currency), answer.bases)
    columns = _of_enquiries(answer, network)
    write_sheet_table(book.sheet(ENQUIRIES), columns, network.enquiries)
    write_whole(book.content(), path)


def _of_bases(unit: str) -> tuple[Column[PlanOfBase], ...]:
    return (
        Column("Base", lambda one: one.name, width=22),
        Column("Plan", lambda one: plan_number(one.outcome.plan), width=12),
        Column(f"Cost of the plan ({unit})", lambda one: one.cost, MONEY, width=16),
        Column(f"Spends ({unit})", lambda one: one.spent, MONEY, width=16),
        Column(f"Earns ({unit})", lambda one: one.earned, MONEY, width=16),
        Column(
            "Days past Latest in",
            lambda one: one.days_past,
            WHOLE,
            marked=lambda one: one.days_past > 0,
        ),
        Column(
            "No slot", lambda one: ", ".join(one.outcome.plan.not_placed) or None, WRAPPED, width=18
        ),
        Column(
            "Enquiries taken",
            lambda one: ", ".join(taken.check for taken in one.taken) or None,
            WRAPPED,
            width=30,
        ),
    )


def _of_enquiries(answer: NetworkPlanned, network: Network) -> tuple[Column[SharedEnquiry], ...]:
    taken = {one.check: one for one in answer.taken}
    missed = {one.check: one for one in answer.not_taken}
    unit = network.currency

    def base_of(one: SharedEnquiry) -> Cell:
        return taken[one.name].at if one.name in taken else "not taken"

    def in_slot(one: SharedEnquiry, field: str) -> Cell:
        value: Cell = getattr(taken[one.name], field) if one.name in taken else None
        return value

    def asked(one: SharedEnquiry) -> Cell:
        return ", ".join(f"{base} {cost:,.0f}" for base, cost in one.ferry_costs.items())

    def earned(one: SharedEnquiry) -> Cell:
        slot = taken.get(one.name)
        return None if slot is None else slot.price - slot.ferry_cost

    def needed(one: SharedEnquiry) -> Cell:
        return missed[one.name].needed_price if one.name in missed else None

    def needed_at(one: SharedEnquiry) -> Cell:
        return (missed[one.name].at or None) if one.name in missed else None

    return (
        Column("Check", lambda one: one.name, width=14),
        Column("Aircraft", lambda one: one.check.aircraft, width=12),
        Column("Base", base_of, width=20),
        Column("Bay", lambda one: in_slot(one, "bay"), width=14),
        Column("In", lambda one: in_slot(one, "in_day"), DATE, width=16),
        Column("Out", lambda one: in_slot(one, "out_day"), DATE, width=16),
        Column(f"Price ({unit})", lambda one: one.check.price, MONEY, width=14),
        Column(f"Ferry cost ({unit})", lambda one: in_slot(one, "ferry_cost"), MONEY, width=14),
        Column(f"Price less ferry cost ({unit})", earned, MONEY, width=14),
        Column(f"Break-even price ({unit})", needed, MONEY, width=14),
        Column("Break-even at", needed_at, width=20),
        Column(f"Ferry costs by base asked ({unit})", asked, WRAPPED, width=36),
    )
