"""Cross check of size, docking and work: which bay can hold which check."""

from collections.abc import Collection, Iterator

from capacity.findings import Finding, Level
from capacity.inputs.rows import Sheets
from capacity.inputs.sheets import BayRow, CheckRow, StageRow, TypeRow


def misfits(aircraft: TypeRow, work: Collection[str], bay: BayRow) -> list[str]:
    """Return every reason why a bay cannot hold a type for this work; none when it can."""
    reasons = [
        f"the {name} of {needed:g} m exceeds {most:g} m"
        for name, needed, most in (
            ("span", aircraft.span_m, bay.max_span_m),
            ("length", aircraft.length_m, bay.max_length_m),
            ("tail", aircraft.tail_m, bay.max_tail_m),
        )
        if needed > most
    ]
    if bay.docking and aircraft.docking and aircraft.docking not in bay.docking:
        reasons.append(f"it has no docking '{aircraft.docking}'")
    reasons += [f"it does no '{kind}'" for kind in work if kind not in bay.work]
    return reasons


def work_of(sheets: Sheets) -> dict[str, list[str]]:
    """Return the kinds of work of each package that could be read whole."""
    kinds: dict[str, dict[str, None]] = {}
    for stage in sheets[StageRow].rows:
        kinds.setdefault(stage.package, {})[stage.work] = None
    return {
        package: list(work)
        for package, work in kinds.items()
        if sheets[StageRow].whole_for(package)
    }


def some_bay_holds_each_check(sheets: Sheets) -> Iterator[Finding]:
    """Require that a check fits its fixed bay, or some bay when it has none.

    A package of several kinds of work, or of one that no bay does, has its own finding.
    """
    types = {row.type: row for row in sheets[TypeRow].rows}
    bays = {row.bay: row for row in sheets[BayRow].rows}
    done = {kind for bay in bays.values() for kind in bay.work}
    work = work_of(sheets)
    answers: dict[tuple[str, str], str | None] = {}
    for check in sheets[CheckRow].rows:
        aircraft, kinds = types.get(check.type), work.get(check.package, [])
        if aircraft is None or len(kinds) != 1 or not done.issuperset(kinds):
            continue
        if check.is_fixed and check.fixed_bay:
            bay = bays.get(check.fixed_bay)
            if bay and (reasons := misfits(aircraft, kinds, bay)):
                yield Finding(
                    Level.ERROR,
                    sheets.at(check, "fixed_bay"),
                    f"'{bay.bay}' cannot hold the check '{check.check}': {' and '.join(reasons)}.",
                    "Name another bay, or correct the bay, the type or the package.",
                )
        elif sheets[BayRow].whole:
            key = (check.type, check.package)
            if key not in answers:
                answers[key] = _nearest_misfit(aircraft, kinds, bays.values())
            if why := answers[key]:
                yield Finding(
                    Level.ERROR,
                    sheets.at(check, "type"),
                    f"no bay can hold the check '{check.check}'; nearest is {why}.",
                    "Correct the type, the package or the bays, or leave the check out.",
                )


def _nearest_misfit(
    aircraft: TypeRow, work: Collection[str], bays: Collection[BayRow]
) -> str | None:
    """Return the bay with the fewest reasons against it, and those; None when one fits."""
    fewest: tuple[str, list[str]] | None = None
    for bay in bays:
        reasons = misfits(aircraft, work, bay)
        if not reasons:
            return None
        if fewest is None or len(reasons) < len(fewest[1]):
            fewest = (bay.bay, reasons)
    return None if fewest is None else f"'{fewest[0]}', where {' and '.join(fewest[1])}"
