"""The program, a choice and what it leaves, laid out flat for the compiled rounds.

What is asked for together lies together, in records: that is quicker to read, and every array
less is quicker to compile, since handing one over makes code in each function.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.slots.kinship import kinship
from capacity.slots.program import Program

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Records = NDArray[np.void]

WHOLE, REAL = np.int64, np.float64
COLUMN = np.dtype(
    [
        ("foot_start", WHOLE),
        ("course", WHOLE),
        ("money", REAL),
        ("past", REAL),
        ("place", WHOLE),
        ("in_day", WHOLE),
    ]
)
CHECK = np.dtype([("first_column", WHOLE), ("unplaced_past", REAL)])
COURSE = np.dtype([("ask_start", WHOLE), ("touch_start", WHOLE)])
TAKEN = np.dtype([("row", np.int32), ("size", np.float32)])
TOUCHED = np.dtype([("family", WHOLE), ("week", WHOLE)])
ASKED = np.dtype([("cell", WHOLE), ("hours", REAL)])


class Arrays(NamedTuple):
    """The program.

    ``columns``, ``checks`` and ``courses`` end with a record that only says where the last
    one's entries stop: ``foot`` by column, ``asks`` and ``touched`` (where a
    course asks shared hours) by course. A check left out counts ``unplaced_past``
    days past. ``place`` and ``in_day`` say where and when: the first bay with those tied to it,
    and the day number.

    Labour money rises by ``slopes`` (cells, tiers) for every hour beyond ``edges``, for kinds
    of work that share no crews. For the others ``cut_*`` hold what ``Cuts`` says. ``kin``
    (checks, checks) says how much two checks can be in each other's way.
    """

    checks: Records
    columns: Records
    courses: Records
    foot: Records
    asks: Records
    touched: Records
    regular: Floats
    edges: Floats
    slopes: Floats
    kinds: int
    cut_kinds: Ints
    cut_group: Ints
    cut_steps: Floats
    cut_own: Floats
    cut_tier: Floats
    cut_crews: Floats
    cut_held: NDArray[np.bool_]
    kin: Floats


class State(NamedTuple):
    """A choice and what it leaves: the column of each check, room by row, load by cell.

    ``spent`` (families, weeks) is the money for shared hours, ``spent_before`` that at the
    beginning of a round. ``lacked`` (columns,) is where a column found no room when it last
    did not fit, and what it takes there. ``sheet`` (4, ...) is paper to reckon on.
    """

    chosen: Ints
    room: Floats
    load: Floats
    spent: Floats
    spent_before: Floats
    lacked: Records
    sheet: Floats


def arrays_of(program: Program) -> Arrays:
    """Lay a program out."""
    hours, cuts = program.hours, program.hours.cuts
    widths, prices = (tiers.reshape(len(tiers), len(hours.regular)) for tiers in hours.supply.tiers)
    below_last = np.cumsum(widths[:-1], axis=0)
    edges = hours.regular + np.concatenate([np.zeros((1, len(hours.regular))), below_last])
    slopes = np.diff(prices, axis=0, prepend=0.0)
    foot, asks, touched = program.footprint, program.man_hours, _families_touched(program)
    family, week = np.divmod(touched.indices, max(1, hours.supply.weeks))
    return Arrays(
        checks=_records(
            CHECK, first_column=program.first_column, unplaced_past=program.unplaced_past
        ),
        columns=_records(
            COLUMN,
            foot_start=foot.indptr,
            course=program.course,
            money=program.money,
            past=program.past,
            place=program.place,
            in_day=program.in_day,
        ),
        courses=_records(COURSE, ask_start=asks.indptr, touch_start=touched.indptr),
        foot=_records(TAKEN, row=foot.indices, size=foot.data),
        asks=_records(ASKED, cell=asks.indices, hours=asks.data),
        touched=_records(TOUCHED, family=family, week=week),
        regular=hours.regular,
        edges=np.ascontiguousarray(edges.T[:, : len(widths)]),
        slopes=np.ascontiguousarray(slopes.T),
        kinds=hours.supply.kinds,
        cut_kinds=cuts.kinds,
        cut_group=cuts.group,
        cut_steps=cuts.steps,
        cut_own=cuts.own,
        cut_tier=cuts.tier,
        cut_crews=cuts.crews,
        cut_held=cuts.held,
        kin=kinship(program),
    )


def state_of(program: Program, chosen: Ints) -> State:
    """Lay out a choice that keeps all rows."""
    room = program.capacity - program.footprint[chosen[chosen >= 0]].sum(axis=0)
    load, cuts = program.load(chosen), program.hours.cuts
    spent = cuts.money_by_week(program.hours.excess(load))
    most_asks = int(np.diff(program.man_hours.indptr).max(initial=1))
    nowhere = np.full(program.size, len(program.capacity))
    return State(
        chosen=chosen.copy(),
        # A row of its own for columns that have lacked nothing yet, as there may be no other.
        room=np.append(room, 0.0),
        load=load,
        spent=spent,
        spent_before=spent.copy(),
        lacked=_records(TAKEN, row=nowhere, size=np.full(program.size, -np.inf)),
        sheet=np.zeros((4, max(most_asks, cuts.kinds.shape[1], cuts.tier.shape[3]))),
    )


def _records(kind: "np.dtype[np.void]", **fields: NDArray[np.generic]) -> Records:
    """Return records as long as the longest field; shorter ones end with zeros."""
    records = np.zeros(max(len(field) for field in fields.values()), dtype=kind)
    for name, field in fields.items():
        records[name][: len(field)] = field
    return records


def _families_touched(program: Program) -> csr_array:
    """Return the weeks of each family in which a course asks something.

    Shape (courses, families x weeks), family by family.
    """
    supply, cuts = program.hours.supply, program.hours.cuts
    asks = program.man_hours.tocoo()
    week, kind = np.divmod(asks.col, max(1, supply.kinds))
    family = cuts.family_of[kind]
    mine = family >= 0
    touched = csr_array(
        (np.ones(mine.sum()), (asks.row[mine], family[mine] * supply.weeks + week[mine])),
        shape=(program.man_hours.shape[0], max(1, len(cuts.kinds)) * supply.weeks),
    )
    touched.sum_duplicates()
    return touched
