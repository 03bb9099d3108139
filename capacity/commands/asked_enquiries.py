"""Which aircraft ``capacity enquiry`` asks about: those of a list, or the one of its options."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import click

from capacity.commands.common import show
from capacity.errors import InputError
from capacity.facts import Base, Check, Package, Status
from capacity.inputs.aircraft_on_ground import aircraft_on_ground
from capacity.inputs.enquiry_faults import notes_of_enquiries
from capacity.inputs.limited import enquiries_and_messages
from capacity.messages import Level
from capacity.questions.enquiries.asked import enquiry as enquiry_of


@dataclass(frozen=True)
class AskedAbout:
    """What the options say; None and empty where they say nothing."""

    enquiries_path: Path | None
    aircraft_type: str | None
    package: str | None
    on_ground: str | None
    name: str | None
    customer: str
    earliest: date | None
    latest: date | None
    agreed_out: date | None
    agreed_days: int | None
    late_cost: float
    price: float

    def refuse_contradictions(self) -> None:
        """Refuse options that name no aircraft, or name it in two ways."""
        if self.on_ground is not None and (self.aircraft_type, self.package) != (None, None):
            raise click.UsageError(
                "--aircraft-on-ground says type and work: leave out --type and --package."
            )
        if self.enquiries_path is not None and (self.on_ground or self.name or self.customer):
            raise click.UsageError(
                "--enquiries names its own aircraft: leave out --aircraft-on-ground, --name and "
                "--customer."
            )
        what = () if self.on_ground is not None else (self.aircraft_type, self.package)
        if (self.enquiries_path is None) == any(part is None for part in (*what, self.earliest)):
            raise click.UsageError(
                "Give either --enquiries, or --earliest with --type and --package, or with "
                "--aircraft-on-ground, of one aircraft."
            )

    def in_base(self, base: Base) -> tuple[Sequence[Check], Sequence[Package]]:
        """Return the enquiries, and packages that they bring along; messages are shown.

        Raises
        ------
        InputError
            With everything that keeps them from being put to the base.
        """
        if self.enquiries_path is not None:
            return _listed(self.enquiries_path, base), ()
        assert self.earliest is not None
        if self.on_ground is not None:
            return self._on_ground(self.on_ground, self.earliest, base)
        assert self.aircraft_type is not None
        assert self.package is not None
        return [self._of_type(self.aircraft_type, self.package, self.earliest, base)], ()

    def _of_type(self, aircraft_type: str, package: str, earliest: date, base: Base) -> Check:
        """Return the enquiry of an aircraft with a package of the workbook."""
        found = enquiry_of(
            base,
            aircraft_type,
            package,
            earliest,
            agreed_out=self.agreed_out,
            agreed_days=self.agreed_days,
            latest=self.latest,
            late_cost_per_day=self.late_cost,
            price=self.price,
            name=self.name or "Enquiry",
            customer=self.customer,
        )
        show(list(notes_of_enquiries([found], base)))
        return found

    def _on_ground(
        self, line: str, earliest: date, base: Base
    ) -> tuple[Sequence[Check], Sequence[Package]]:
        """Return an aircraft on ground; what its line says goes before the options."""
        more = {"name": self.name, "customer": self.customer}
        parts = [line, *(f"{word} {value}" for word, value in more.items() if value)]
        (one,) = aircraft_on_ground(
            ["; ".join(parts)],
            base,
            earliest,
            latest=self.latest or max(base.last_in_day, earliest),
            status=Status.OPTION,
        )
        check = replace(
            one.check,
            third_party=True,
            agreed_out=one.check.agreed_out or self.agreed_out,
            agreed_days=None if one.check.agreed_out else self.agreed_days,
            late_cost_per_day=one.check.late_cost_per_day or self.late_cost,
            price=self.price,
        )
        return [check], [one.package]


def _listed(path: Path, base: Base) -> Sequence[Check]:
    """Return the enquiries of a workbook; its messages are shown, and errors raised."""
    enquiries, messages = enquiries_and_messages(path, base)
    if any(message.level is Level.ERROR for message in messages):
        raise InputError(messages)
    show(messages)
    return enquiries
