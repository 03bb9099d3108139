"""The program, a choice and what it leaves, laid out flat for the compiled rounds.

What is asked for together lies together, in records: that is quicker to read, and every array
less is quicker to compile, since handing one over makes code in each function.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from capacity.slots.program.program import Program
from capacity.slots.program.relatedness import relatedness

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
TOUCHED = np.dtype(
    [
        ("ask_start", WHOLE),
        ("ask_until", WHOLE),
        ("family", WHOLE),
        ("week", WHOLE),
        ("members", WHOLE),
    ]
)
ASKED = np.dtype([("cell", WHOLE), ("member", WHOLE), ("hours", REAL)])


class Arrays(NamedTuple):
    """The program.

    ``columns``, ``checks`` and ``courses`` end with a record that only says where the last
    one's entries stop: ``foot`` by column, ``asks`` and ``touched`` by course. A check left out
    counts ``unplaced_past`` days past. ``place`` and ``in_day`` say where and when: the first bay
    with those tied to it, and the day number.

    Of what a course asks, the kinds that share nothing come first; the others follow family by
    family and week by week, and ``touched`` says where each of these begins and ends.
    ``member`` is the place of a kind among the ``members`` of its family.

    Labour money rises by ``slopes`` (cells, tiers) for every hour beyond ``edges``, for kinds
    of work that share no crews. For the others ``cut_*`` hold what ``Cuts`` says. ``relatedness``
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
    cut_most: Floats
    cut_held: NDArray[np.bool_]
    relatedness: Floats


class State(NamedTuple):
    """A choice and what it leaves: the column of each check, slack by row, load by cell.

    ``spent`` (families, weeks) is the money for shared hours, ``spent_before`` that at the
    beginning of a round, ``is_fresh`` where it has been worked out since. ``lacked`` (columns,)
    is where a column found no room when it last did not fit, and what it takes there;
    ``is_lacking`` (rows,) marks where one that is wanted finds none. ``urgency`` (checks,) is
    what leaving a check out counts for on the way, in days past. ``out`` are the checks that a
    round takes out, ``before`` their columns until then; ``nearness`` (checks,) and ``sheet``
    (3, members or skills) are paper to reckon on.
    """

    chosen: Ints
    slack: Floats
    load: Floats
    spent: Floats
    spent_before: Floats
    is_fresh: NDArray[np.bool_]
    lacked: Records
    is_lacking: NDArray[np.bool_]
    urgency: Floats
    out: Ints
    before: Ints
    nearness: Floats
    sheet: Floats


def arrays_of(program: Program) -> Arrays:
    """Lay a program out."""
    hours, cuts = program.hours, program.hours.cuts
    widths, prices = (tiers.reshape(len(tiers), len(hours.regular)) for tiers in hours.supply.tiers)
    below_last = np.cumsum(widths[:-1], axis=0)
    edges = hours.regular + np.concatenate([np.zeros((1, len(hours.regular))), below_last])
    slopes = np.diff(prices, axis=0, prepend=0.0)
    foot = program.footprint
    courses, asks, touched = _labour(program)
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
        courses=courses,
        foot=_records(TAKEN, row=foot.indices, size=foot.data),
        asks=asks,
        touched=touched,
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
        cut_most=cuts.most,
        cut_held=cuts.held,
        relatedness=relatedness(program),
    )


def state_of(program: Program, chosen: Ints, most_out: int) -> State:
    """Lay out a choice that keeps all rows, for rounds that take out ``most_out`` checks."""
    slack = program.slack(chosen)
    load, cuts = program.load(chosen), program.hours.cuts
    spent = cuts.money_by_week(program.hours.excess(load))
    nowhere = np.full(program.size, len(program.capacity))
    return State(
        chosen=chosen.copy(),
        # A row of its own for columns that have lacked nothing yet, as there may be no other.
        slack=np.append(slack, 0.0),
        load=load,
        spent=spent,
        spent_before=spent.copy(),
        is_fresh=np.zeros(spent.shape, dtype=np.bool_),
        lacked=_records(TAKEN, row=nowhere, size=np.full(program.size, -np.inf)),
        is_lacking=np.zeros(len(slack), dtype=np.bool_),
        urgency=program.unplaced_past.astype(np.float64),
        out=np.zeros(most_out, dtype=np.int64),
        before=np.zeros(most_out, dtype=np.int64),
        nearness=np.zeros(len(program.checks)),
        sheet=np.zeros((3, max(cuts.kinds.shape[1], cuts.tier.shape[3]))),
    )


def _records(kind: "np.dtype[np.void]", **fields: NDArray[np.generic]) -> Records:
    """Return records as long as the longest field; shorter ones end with zeros."""
    records = np.zeros(max(len(field) for field in fields.values()), dtype=kind)
    for name, field in fields.items():
        records[name][: len(field)] = field
    return records


def _labour(program: Program) -> tuple[Records, Records, Records]:
    """Return the courses, what they ask, and where they ask shared hours."""
    supply, cuts = program.hours.supply, program.hours.cuts
    entries = program.man_hours.tocoo()
    week, kind = np.divmod(entries.col, max(1, supply.kinds))
    family = cuts.family_of[kind]
    order = np.lexsort((week, family, entries.row))
    course, cell, week, kind = entries.row[order], entries.col[order], week[order], kind[order]
    family = family[order]
    member = np.zeros(supply.kinds, dtype=np.int64)
    for kinds in cuts.kinds:
        member[kinds[kinds >= 0]] = np.arange((kinds >= 0).sum())
    shared = np.flatnonzero(family >= 0)
    what = np.stack([course, family, week])[:, shared]
    begins = np.flatnonzero((np.diff(what, axis=1, prepend=-1) != 0).any(axis=0))
    first = shared[begins]
    touched = _records(
        TOUCHED,
        ask_start=first,
        ask_until=first + np.diff(begins, append=len(shared)),
        family=family[first],
        week=week[first],
        members=(cuts.kinds[family[first]] >= 0).sum(axis=1),
    )
    numbers = np.arange(program.man_hours.shape[0] + 1)
    courses = _records(
        COURSE,
        ask_start=np.searchsorted(course, numbers),
        touch_start=np.searchsorted(course[first], numbers),
    )
    asks = _records(ASKED, cell=cell, member=member[kind], hours=entries.data[order])
    return courses, asks, touched
