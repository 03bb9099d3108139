"""Who must be told of a change, as columns of a table and in a line."""

from collections.abc import Callable
from typing import TypeVar

from capacity.questions.asking.concerned import Concerned
from capacity.reports.enquiries.wording import named
from capacity.reports.kit.formats import WRAPPED
from capacity.reports.kit.table import Column

Row = TypeVar("Row")

NOT_KNOWN = "customer and crews: see the workbook of the plan before"


def told_columns(of: Callable[[Row], Concerned]) -> tuple[Column[Row], ...]:
    """Return a column for each kind of those who must be told."""

    def names(kind: str) -> Callable[[Row], str | None]:
        return lambda row: ", ".join(getattr(of(row), kind)) or None

    def customer(row: Row) -> str | None:
        return (of(row).customer or None) if of(row).is_known else NOT_KNOWN

    return (
        Column("Tell customer", customer, WRAPPED, width=18),
        Column("Tell bays", names("bays"), WRAPPED, width=16),
        Column("Tell crews", names("crews"), WRAPPED, width=30),
        Column("Tell shops", names("shops"), WRAPPED, width=18),
        Column("Tell licence holders", names("licences"), WRAPPED, width=22),
    )


def told_in_words(one: Concerned) -> str | None:
    """Return who must be told in a line, of each kind the first ones; None where it is nobody."""
    said = [
        *([one.customer] if one.customer else []),
        *([NOT_KNOWN] if not one.is_known else []),
        *(
            f"{what} {named(names)}"
            for what, names in (
                ("bays", one.bays),
                ("crews", one.crews),
                ("shops", one.shops),
                ("licence holders", one.licences),
            )
            if names
        ),
    ]
    return "; ".join(said) or None
