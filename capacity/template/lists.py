"""Which columns offer a list to choose from: a few words, or the names of another sheet."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from xlsxwriter.utility import xl_col_to_name

from capacity.inputs.checking.references import REFERENCES
from capacity.inputs.reading.cell_kinds import Kind, kind_of
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import SHEETS, Settings, StageRow

LAST_ROW = 2_000
"""The last row that lists are offered in and whose names they offer, as a person counts rows."""

# Columns with another heading than the one whose names they hold.
_CALLED_OTHERWISE = {
    "After": "Stage",
    "Leave at": "Stage",
    "Back for": "Stage",
    "Fixed bay": "Bay",
    "Skill or type": "Skill",
}


@dataclass(frozen=True, slots=True)
class Offer:
    """What the cells of a column offer: words, or a range of another sheet.

    Where ``other_texts`` may stand, such as several names with commas between, none is refused.
    """

    source: tuple[str, ...] | str
    other_texts: bool = False

    def rule(self) -> dict[str, object]:
        """Return it as XlsxWriter wants it. A warning, so that nobody is kept from pasting."""
        source = self.source if isinstance(self.source, str) else list(self.source)
        shown = {"show_error": False} if self.other_texts else {"error_type": "warning"}
        return {"validate": "list", "source": source, **shown}


@dataclass(frozen=True, slots=True)
class NamesOf:
    """Whose names the cells of a column hold: those under a field of a sheet.

    ``others`` tells whether other texts may stand there, such as a new name.
    """

    model: type[Row]
    field: str
    others: bool


def names_in(model: type[Row], field: str) -> NamesOf | None:
    """Return whose names the cells of a field hold; None where they are no names of others."""
    kind = kind_of(model, field)
    if kind.kind not in (Kind.TEXT, Kind.NAMES) or field == _own_name(model):
        return None
    for reference in REFERENCES:
        if (reference.model, reference.field) == (model, field):
            target = reference.target
            return NamesOf(target, target.identity[0], others=kind.kind is Kind.NAMES)
    # Headings alike: a help, and no more, since the name may also be a new one.
    heading = model.heading(field)
    owner = _owner_of(_CALLED_OTHERWISE.get(heading, heading))
    return None if owner is None else NamesOf(*owner, others=True)


def offer_of(model: type[Row], field: str) -> Offer | None:
    """Return what the cells of a field offer; None where anything may be typed."""
    if choices := kind_of(model, field).choices:
        return Offer(choices)
    names = names_in(model, field)
    return None if names is None else Offer(_range(names.model, names.field), names.others)


def offers_of(sheet: str, headings: Sequence[str]) -> Iterator[tuple[int, Offer]]:
    """Yield the places of the headings of a sheet that offer something; unknown ones do not."""
    model = next(model for model in SHEETS if model.sheet == sheet)
    fields = model.headings()
    for place, heading in enumerate(headings):
        if heading in fields and (offer := offer_of(model, fields[heading])) is not None:
            yield place, offer


def offer_of_setting(name: str) -> Offer | None:
    """Return what the value of a setting offers; None where anything may be typed."""
    field = Settings.headings().get(name)
    choices = kind_of(Settings, field).choices if field else ()
    return Offer(choices) if choices else None


def _own_name(model: type[Row]) -> str:
    """Return the field by which a row is called, where no other sheet has its name."""
    if model is StageRow:
        return "stage"  # the package is one of those above it
    heading = model.heading(model.identity[0]) if model.identity else ""
    owner = _owner_of(heading)
    return model.identity[0] if owner is not None and owner[0] is model else ""


def _owner_of(heading: str) -> tuple[type[Row], str] | None:
    """Return the sheet, the first in order, whose rows are called by this heading."""
    if heading == StageRow.heading("stage"):
        return StageRow, "stage"
    for model in SHEETS:
        if model.identity and model.heading(model.identity[0]) == heading:
            return model, model.identity[0]
    return None


def _range(model: type[Row], field: str) -> str:
    letter = xl_col_to_name(list(model.headings().values()).index(field), col_abs=True)
    return f"='{model.sheet}'!{letter}$2:{letter}${LAST_ROW}"
