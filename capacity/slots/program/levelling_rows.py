"""Levelling as rows of the program: hours flow across the ends of weeks within limits.

With f[w] hours put off across the end of week w, and x the chosen columns::

    f[w] <= sum of x later[w],   -f[w] <= sum of x earlier[w]
    f[w - 1] - f[w] <= sum of x more[w],   f[w] - f[w - 1] <= sum of x less[w]

and the same for two weeks together. Each is a sum of limits that every single stage keeps, so
whatever the stages can do is within them: the program with these rows is a relaxation, and its
bounds hold. Rows that no course's own limits call for are left out: they follow from the others.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array, eye_array, hstack, vstack

from capacity.slots.candidates import EARLIER, LATER, LESS, LESS_OF_TWO, LIMITS, MORE, MORE_OF_TWO
from capacity.slots.program.levelled_load import flow_rows, into_weeks
from capacity.slots.program.program import Program

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
TINY = 1e-7


@dataclass(frozen=True)
class Levelling:
    """What the linear form needs: flows across ``edges``, (flows,) cells, and their rows.

    ``into_weeks`` (cells, flows) is what hours put off add to each cell. Row r says: ``rows``
    (rows, 2 flows) of the hours put off and of those brought forward are at most ``asked`` (rows,),
    that of what is settled, and the chosen of ``limits`` (courses, rows).
    """

    edges: Ints
    into_weeks: csr_array
    rows: csr_array
    limits: csr_array
    asked: Floats


def levelling_of(program: Program) -> Levelling:
    """Return the flows and rows of a program whose hours are levelled."""
    hours = program.hours
    cells, supply = hours.cells, hours.supply
    settled = program.asked[cells : (1 + LIMITS) * cells]
    settled = settled.reshape(LIMITS, supply.weeks, supply.kinds)
    most = settled.copy()
    used = np.unique(program.course)
    by_limit = [program.limit(number)[used] for number in range(LIMITS)]
    for number, limit in enumerate(by_limit):
        most[number] += np.asarray(limit.sum(axis=0)).reshape(supply.weeks, supply.kinds)
    needed = _needed([*by_limit], [csr_array(s.reshape(1, -1)) for s in settled], supply.kinds)
    flows = flow_rows(most, needed=needed)
    count = len(flows.edges)
    one = eye_array(count)
    nothing = csr_array((count, count))
    columns = np.concatenate(
        [
            (1 + LATER) * cells + flows.edges,
            (1 + EARLIER) * cells + flows.edges,
            cells + flows.name,
        ]
    )
    return Levelling(
        edges=flows.edges,
        into_weeks=into_weeks(flows.edges, cells, supply.kinds),
        rows=csr_array(
            vstack(
                [
                    hstack([one, nothing]),
                    hstack([nothing, one]),
                    hstack([flows.matrix, -flows.matrix]),
                ]
            )
        ),
        limits=csr_array(program.man_hours[:, columns]),
        asked=program.asked[columns],
    )


def _needed(limits: list[csr_array], settled: list[csr_array], kinds: int) -> Ints:
    """Return the rows, by name, that some course's limits on single flows do not imply."""
    names: list[Ints] = []
    cells = limits[0].shape[1]
    for some in (limits, settled):
        later, earlier = some[LATER], some[EARLIER]
        for limit, implied in (
            (MORE, _of_week(later, -kinds) + earlier),
            (LESS, later + _of_week(earlier, -kinds)),
            (MORE_OF_TWO, _of_week(later, -kinds) + _of_week(earlier, kinds)),
            (LESS_OF_TWO, _of_week(later, kinds) + _of_week(earlier, -kinds)),
        ):
            lacks = csr_array(implied - some[limit]).tocoo()
            names.append(limit * cells + np.unique(lacks.col[lacks.data > TINY]).astype(np.int64))
    found: Ints = np.unique(np.concatenate(names)).astype(np.int64)
    return found


def _of_week(limit: csr_array, shift: int) -> csr_array:
    """Return for each cell the limit of the cell ``shift`` cells further on, 0 where none is."""
    entries = limit.tocoo()
    column = entries.col - shift
    there = (column >= 0) & (column < limit.shape[1])
    return csr_array((entries.data[there], (entries.row[there], column[there])), shape=limit.shape)
