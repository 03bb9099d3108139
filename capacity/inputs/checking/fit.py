"""Cross check of size, docking and work: which bay can hold which check."""

from collections.abc import Collection, Iterator, Mapping

from capacity.facts import sizes_exceeded
from capacity.inputs.checking.work_left import WorkLeft, progress_by_check, work_left
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import BayRow, CheckRow, StageRow, TypeRow
from capacity.messages import Level, Message

Work = str | None  # a kind of work; None when nothing is left to do


def misfits(aircraft: TypeRow, work: Work, bay: BayRow) -> list[str]:
    """Return every reason why a bay cannot hold a type for this work; none when it can."""
    reasons = sizes_exceeded(aircraft, bay)
    if bay.docking and aircraft.docking and aircraft.docking not in bay.docking:
        reasons.append(f"it has no docking '{aircraft.docking}'")
    if work is not None and work not in bay.work:
        reasons.append(f"it does no '{work}'")
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


def some_bay_holds_each_check(sheets: Sheets) -> Iterator[Message]:
    """Require for each kind of work of a check a bay that does it and that the check fits.

    The fixed bay, or that in which it is held, is that for the first leg that is left, or one in
    which a fixed check stands, its work there done, until it moves. Work that no bay does has its
    own message.
    """
    types = {row.type: row for row in sheets[TypeRow].rows}
    bays = {row.bay: row for row in sheets[BayRow].rows}
    done = {None, *(kind for bay in bays.values() for kind in bay.work)}
    left, whole, in_work = work_left(sheets), work_of(sheets), progress_by_check(sheets)
    answers: dict[tuple[str, Work], str | None] = {}
    for check in sheets[CheckRow].rows:
        aircraft, legs = types.get(check.type), _legs(check, left, whole, in_work)
        if aircraft is None or not legs:
            continue
        kinds = dict.fromkeys(kind for kind in legs if kind in done)
        stands_in = check.fixed_bay if check.is_fixed else check.held_bay
        if stands_in:
            bay, first = bays.get(stands_in), legs[0]
            moves = bay and check.is_fixed and check.row in left
            moves = bool(moves and left[check.row].moves_first(bay.work if bay else ()))
            needs = None if moves else first
            if bay and first in kinds and (reasons := misfits(aircraft, needs, bay)):
                yield Message(
                    Level.ERROR,
                    sheets.at(check, "fixed_bay"),
                    f"'{bay.bay}' cannot hold the check '{check.check}': {' and '.join(reasons)}.",
                    "Name another bay, or correct the bay, the type or the package.",
                )
            if not moves:
                kinds.pop(first, None)
        for kind in kinds if sheets[BayRow].whole else ():
            key = (check.type, kind)
            if key not in answers:
                answers[key] = _nearest_misfit(aircraft, kind, bays.values())
            if why := answers[key]:
                purpose = f" for its '{kind}'" if len(set(legs)) > 1 else ""
                yield Message(
                    Level.ERROR,
                    sheets.at(check, "type"),
                    f"no bay can hold the check '{check.check}'{purpose}; nearest is {why}.",
                    "Correct the type, the package or the bays, or leave the check out.",
                )


def _legs(
    check: CheckRow,
    left: Mapping[int, WorkLeft],
    whole: Mapping[str, list[str]],
    in_work: Collection[str],
) -> tuple[Work, ...]:
    """Return the kind of work of each leg left, as far as it is known; empty when it is not.

    Of a package whose stages have no order, for what they wait for has a fault, the kinds
    are known all the same, but not what comes first or what is done.
    """
    if check.row in left:
        return left[check.row].kinds_by_leg() or (None,)
    kinds = whole.get(check.package, [])
    is_plain = not check.is_fixed and check.remaining is None and check.check not in in_work
    return tuple(kinds) if is_plain or len(kinds) == 1 else ()


def _nearest_misfit(aircraft: TypeRow, work: Work, bays: Collection[BayRow]) -> str | None:
    """Return the bay with the fewest reasons against it, and those; None when one fits."""
    fewest: tuple[str, list[str]] | None = None
    for bay in bays:
        reasons = misfits(aircraft, work, bay)
        if not reasons:
            return None
        if fewest is None or len(reasons) < len(fewest[1]):
            fewest = (bay.bay, reasons)
    return None if fewest is None else f"'{fewest[0]}', where {' and '.join(fewest[1])}"
