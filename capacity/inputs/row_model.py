"""What all row models share: a sheet, headings, and a row number."""

from typing import ClassVar

from pydantic import BaseModel, ConfigDict


class Row(BaseModel):
    """A row of a sheet; ``row`` is its number as a person sees it.

    ``identity`` are the fields that together stand once, the first of them the name of the
    row. ``columns_needed`` must be there although their cells may be blank. An ``optional``
    sheet may be missing; one that ``may_be_empty`` needs no rows below its headings.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    sheet: ClassVar[str]
    optional: ClassVar[bool] = False
    may_be_empty: ClassVar[bool] = False
    identity: ClassVar[tuple[str, ...]] = ()
    columns_needed: ClassVar[frozenset[str]] = frozenset()

    row: int

    @classmethod
    def headings(cls) -> dict[str, str]:
        """Return the field of every heading, in the order of the sheet."""
        return {info.alias: name for name, info in cls.model_fields.items() if info.alias}

    @classmethod
    def heading(cls, field: str) -> str:
        """Return the heading of a field."""
        return cls.model_fields[field].alias or field

    @classmethod
    def needed_headings(cls) -> list[str]:
        """Return the headings that must be there."""
        return [
            heading
            for heading, field in cls.headings().items()
            if cls.model_fields[field].is_required() or field in cls.columns_needed
        ]
