"""The paces at which a check can be run: how many worked days each stage takes."""

from capacity.slots.work import StageWork

# With so many flexible stages at the most, each of them is also run fast or slow by itself.
FEW_FLEXIBLE = 4


def paces_of(work: tuple[StageWork, ...]) -> list[tuple[int, ...]]:
    """Return worked days by stage for each pace, the normal one first, none twice.

    Normal, every stage at its shortest, every stage at its longest; and, where few stages
    are flexible, one of them alone at its shortest or longest. Man-hours stay the same.
    """
    normal = tuple(stage.days for stage in work)
    shortest = tuple(stage.shortest for stage in work)
    longest = tuple(stage.longest for stage in work)
    flexible = [n for n in range(len(work)) if shortest[n] < longest[n]]
    paces = [normal, shortest, longest]
    if len(flexible) <= FEW_FLEXIBLE:
        for number in flexible:
            for days in (shortest[number], longest[number]):
                paces.append((*normal[:number], days, *normal[number + 1 :]))
    return list(dict.fromkeys(paces))
