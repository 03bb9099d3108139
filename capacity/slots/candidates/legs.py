"""The parts of a check that are done in one bay each: its legs."""

from itertools import groupby

from capacity.slots.candidates.work import StageWork


def kinds_by_leg(work: tuple[StageWork, ...]) -> tuple[str, ...]:
    """Return the kind of work of each leg: a run of stages that need the same kind.

    A check with nothing left to do has one leg that needs no kind.
    """
    return tuple(kind for kind, _ in groupby(stage.kind for stage in work)) or ("",)


def legs_of(work: tuple[StageWork, ...]) -> tuple[int, ...]:
    """Return the leg of each stage, counted from 0."""
    runs = groupby(stage.kind for stage in work)
    return tuple(leg for leg, (_, run) in enumerate(runs) for _ in run)
