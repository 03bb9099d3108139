"""An aircraft on ground as the form has it, told in the line that the command reads."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class OnGroundForm:
    """An aircraft on ground; ``hours`` are man-hours by skill, 0 for none, ``late_cost`` a day."""

    type: str
    days: int
    hours: Mapping[str, float]
    name: str = ""
    aircraft: str = ""
    customer: str = ""
    work: str = ""
    max_heads: int | None = None
    latest_in: date | None = None
    agreed_out: date | None = None
    late_cost: float = 0.0


def line_of(form: OnGroundForm) -> str:
    """Return the line: ``Linden 180; 12 days; Airframe 300, Avionics 80; name R-77``."""
    return "; ".join(part for part in _parts(form) if part)


def _parts(form: OnGroundForm) -> Iterator[str]:
    yield form.type
    yield f"{form.days} {'day' if form.days == 1 else 'days'}"
    yield ", ".join(f"{skill} {_number(hours)}" for skill, hours in form.hours.items() if hours)
    for word, text in (
        ("name", form.name),
        ("aircraft", form.aircraft),
        ("customer", form.customer),
        ("work", form.work),
    ):
        yield f"{word} {text.strip()}" if text.strip() else ""
    if form.max_heads is not None:
        yield f"max heads {form.max_heads}"
    if form.latest_in is not None:
        yield f"latest in {form.latest_in.isoformat()}"
    if form.agreed_out is not None:
        yield f"agreed out {form.agreed_out.isoformat()}"
    if form.late_cost:
        yield f"late cost {_number(form.late_cost)}"


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
