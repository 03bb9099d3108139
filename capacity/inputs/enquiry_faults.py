"""What is wrong with aircraft that a base is asked about, whichever way they were stated."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import ClassVar

from pydantic import Field

from capacity.facts import Base, Check, Status
from capacity.inputs.reading.cells import Day, Money
from capacity.inputs.reading.check_from_row import check_from
from capacity.inputs.reading.sheets import CheckRow, StatusWord
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message, error
from capacity.words import day, days, quoted

Where = Callable[[Check, str], str]


class EnquiryRow(CheckRow):
    """An aircraft that is asked about: a row of ``Checks`` whose status is option if blank."""

    sheet: ClassVar[str] = "Enquiries"
    columns_needed: ClassVar[frozenset[str]] = frozenset()

    status: StatusWord = Field("option", alias="Status")
    earliest_in: Day = Field(alias="Earliest in")
    latest_in: Day = Field(alias="Latest in")
    price: Money = Field(0.0, alias="Price")


def check_of(row: EnquiryRow) -> Check:
    """Return the enquiry of a row, with what an enquiry may not have, so that it can be said."""
    return replace(check_from(row), fixed_bay=row.fixed_bay, fixed_in=row.fixed_in)


def faults_of_enquiries(
    enquiries: Sequence[Check], base: Base, at: Where | None = None
) -> Iterator[Message]:
    """Yield everything that keeps enquiries from being put to a base.

    ``at`` tells the cell of a field of an enquiry; without it the enquiry and field are named.
    """
    at = at or (lambda check, field: f"{check.name}, {EnquiryRow.heading(field)}")
    taken = {check.name for check in base.checks}
    types = [aircraft.name for aircraft in base.types]
    packages = [package.name for package in base.packages]
    seen: set[str] = set()
    for enquiry in enquiries:
        for field, name, known, sheet in (
            ("type", enquiry.type, types, "Aircraft types"),
            ("package", enquiry.package, packages, "Packages"),
        ):
            if name not in known:
                what = f"'{name}' is not in the sheet {sheet} of the base's workbook."
                yield error(at(enquiry, field), what, suggest(name, known, f"the sheet {sheet}"))
        yield from _other_types(enquiry, base, at)
        if enquiry.name in taken:
            what = f"'{enquiry.name}' is already a check in the base's workbook."
            yield error(at(enquiry, "check"), what, "Give the enquiry a name of its own.")
        if enquiry.name in seen:
            what = f"'{enquiry.name}' is asked about twice."
            yield error(at(enquiry, "check"), what, "Rename or delete one of the two.")
        seen.add(enquiry.name)
        yield from _misfitting_figures(enquiry, at)
        yield from _window_faults(enquiry, base, at)


def notes_of_enquiries(
    enquiries: Sequence[Check], base: Base, at: Where | None = None
) -> Iterator[Message]:
    """Yield what a person should make sure of before enquiries without a fault are answered.

    A package that names no types is named where no check of the base has it on that type.
    """
    at = at or (lambda check, field: f"{check.name}, {EnquiryRow.heading(field)}")
    untold = {package.name for package in base.packages if not package.types}
    known = {(check.package, check.type) for check in base.checks}
    for enquiry in enquiries:
        if enquiry.package in untold and (enquiry.package, enquiry.type) not in known:
            yield Message(
                Level.NOTE,
                at(enquiry, "package"),
                f"the package '{enquiry.package}' names no types, and no check in the workbook has "
                f"it on the type '{enquiry.type}'.",
                f"Make sure that it is for '{enquiry.type}', or fill in Types of the package.",
            )


def _other_types(enquiry: Check, base: Base, at: Where) -> Iterator[Message]:
    package = next((package for package in base.packages if package.name == enquiry.package), None)
    is_known = any(aircraft.name == enquiry.type for aircraft in base.types)
    if package is not None and is_known and not package.is_for(enquiry.type):
        what = f"the package '{package.name}' is for {quoted(package.types)}, not '{enquiry.type}'."
        yield error(at(enquiry, "package"), what, "Name another package, or correct the type.")


def _misfitting_figures(enquiry: Check, at: Where) -> Iterator[Message]:
    if enquiry.status is not Status.OPTION:
        what = f"the enquiry '{enquiry.name}' is {enquiry.status}."
        remedy = "Make it an option; a check that is already agreed belongs in the base's workbook."
        yield error(at(enquiry, "status"), what, remedy)
    if enquiry.agreed_out is not None and enquiry.agreed_days is not None:
        what = "Agreed out and Agreed days are both given."
        yield error(at(enquiry, "agreed_days"), what, "Keep the one that was promised.")
    if enquiry.held_in is not None or enquiry.held_bay is not None:
        yield error(at(enquiry, "held"), "Held is for checks, not for an enquiry.", "Clear it.")
        return
    for field in ("fixed_bay", "fixed_in", "remaining"):
        if getattr(enquiry, field) is not None:
            what = f"{EnquiryRow.heading(field)} is for fixed checks, not for an enquiry."
            yield error(at(enquiry, field), what, "Clear it.")


def _window_faults(enquiry: Check, base: Base, at: Where) -> Iterator[Message]:
    first, last = enquiry.earliest_in, enquiry.latest_in
    if first > last:
        what = f"Latest in {day(last)} is before Earliest in {day(first)}."
        yield error(at(enquiry, "latest_in"), what, "Correct one of the two.")
    elif first > base.last_in_day:
        what = (
            f"Earliest in {day(first)} is after {day(base.last_in_day)}, the last day on which a "
            "check can "
            "come in under this plan."
        )
        yield error(at(enquiry, "earliest_in"), what, "Leave the enquiry out, or raise Weeks.")
    elif last < base.first_day:
        late = days((base.first_day - last).days)
        what = (
            f"Latest in {day(last)} is {late} before the First day {day(base.first_day)} of the "
            "plan."
        )
        yield error(at(enquiry, "latest_in"), what, "Correct it, or leave the enquiry out.")
    if base.has_lapsed(enquiry):
        assert enquiry.decide_by is not None
        what = f"the enquiry has lapsed: Decide by is {day(enquiry.decide_by)}."
        yield error(at(enquiry, "decide_by"), what, "Correct it, or leave the enquiry out.")
    if enquiry.agreed_out is not None and enquiry.agreed_out <= first:
        what = f"Agreed out {day(enquiry.agreed_out)} is not after Earliest in {day(first)}."
        yield error(at(enquiry, "agreed_out"), what, "Correct it, or leave it blank.")
