"""When, with what, and for which state of a workbook a plan file was made."""

import importlib.metadata
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime

from capacity.facts import Base, Status, WorkDone
from capacity.plans.weeks import week_name
from capacity.reports.plan_files.fingerprint import Fingerprint, fingerprint_of

PACKAGE = "hangar-capacity"


@dataclass(frozen=True, slots=True)
class Made:
    """Where a plan file comes from.

    ``time`` is in UTC; ``base`` is the name of the base. Work left on checks counts from
    ``work_counts_from``, from the first day where that is None. ``held`` are the checks that a
    re-plan holds in bay and day though the workbook does not fix them; ``work_done`` is what it
    found worked of stages whose hours are levelled. ``workbook`` is the fingerprint of the
    workbook as it was read.
    """

    version: str
    time: datetime
    base: str
    work_counts_from: date | None = None
    held: tuple[str, ...] = ()
    workbook: Fingerprint = field(default_factory=dict)
    work_done: tuple[WorkDone, ...] = ()


def tool_version() -> str:
    """Return the version of this program."""
    return importlib.metadata.version(PACKAGE)


def made_now(base: Base, workbook: Base | None = None) -> Made:
    """Return where a plan of ``base`` comes from that is written now.

    ``workbook`` is the base as it was read, where that is another than the one planned.
    """
    read = workbook or base
    fixed = {check.name for check in read.checks if check.status is Status.FIXED}
    return Made(
        version=tool_version(),
        time=datetime.now(UTC).replace(microsecond=0),
        base=base.name,
        work_counts_from=base.work_counts_from,
        held=tuple(
            check.name
            for check in base.checks
            if check.status is Status.FIXED and check.name not in fixed
        ),
        workbook=fingerprint_of(read),
        work_done=base.work_done,
    )


def as_json(made: Made) -> Mapping[str, object]:
    """Return it as it stands in a plan file."""
    told: dict[str, object] = {
        "version": made.version,
        "time": made.time.isoformat().replace("+00:00", "Z"),
        "base": made.base,
        "work_counts_from": made.work_counts_from and made.work_counts_from.isoformat(),
        "held": list(made.held),
        "workbook": {sheet: dict(names) for sheet, names in made.workbook.items()},
    }
    if made.work_done:
        told["work_done"] = [_done(one) for one in made.work_done]
    return told


def _done(told: WorkDone) -> Mapping[str, object]:
    return {
        "check": told.check,
        "stage": told.stage,
        "from": told.first.isoformat(),
        "before": told.before.isoformat(),
        # Not rounded: a plan that changes nothing of it has the same hours.
        "hours": [
            {"week": week_name(one.monday), "skill": one.skill, "hours": one.hours}
            for one in told.hours
        ],
    }


def is_newer(version: str, than: str) -> bool:
    """Return whether a version such as ``1.10.0`` is a later one, number by number."""
    return _numbers(version) > _numbers(than)


def _numbers(version: str) -> tuple[int, ...]:
    numbers = []
    for part in version.split("."):
        digits = part[: len(part) - len(part.lstrip("0123456789"))]
        if not digits:
            break
        numbers.append(int(digits))
    return tuple(numbers)
