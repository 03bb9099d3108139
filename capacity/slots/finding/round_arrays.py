"""The program, a choice and what it leaves, laid out flat for the compiled rounds.

What is asked for together lies together, in records: that is quicker to read, and every array
less is quicker to compile, since handing one over makes code in each function.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array, csr_array, vstack

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
COURSE = np.dtype([("ask_start", WHOLE), ("touch_start", WHOLE), ("chain_start", WHOLE)])
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
# How an entry of what a course asks can be bent: hours put off to the next entry of its chain, or
# brought forward from there, and hours more or less than evenly.
BEND = np.dtype([("later", REAL), ("earlier", REAL), ("more", REAL), ("less", REAL)])
CHAIN = np.dtype([("start", WHOLE), ("until", WHOLE), ("family", WHOLE)])
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

    Where hours ``are_levelled``, ``chains`` by course are runs of ``links``: the entries of what it
    asks of one kind, week after week, and ``bends`` says of every entry how it can be bent. One
    more course behind all others stands for what is settled. ``bent_start`` (checks + 2,) says
    where the entries of a check's course stand in what is bent; those settled come last.
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
    are_levelled: bool
    chains: Records
    links: Ints
    bends: Records
    bent_start: Ints


class State(NamedTuple):
    """A choice and what it leaves: the column of each check, slack by row, load by cell.

    ``spent`` (families, weeks) is the money for shared hours, ``spent_before`` that at the
    beginning of a round, ``is_fresh`` where it has been worked out since. ``lacked`` (columns,)
    is where a column found no room when it last did not fit, and what it takes there;
    ``is_lacking`` (rows,) marks where one that is wanted finds none. ``urgency`` (checks,) is
    what leaving a check out counts for on the way, in days past. ``out`` are the checks that a
    round takes out, ``before`` their columns until then; ``nearness`` (checks,) and ``sheet``
    (3, members or skills) are paper to reckon on.

    ``bent`` are the hours by which what a check asks in each entry differs from the even ones, and
    ``flow`` those put off behind it; ``bent_before``, ``flow_before`` and ``load_before`` are all
    that at the beginning of a round; ``spent_tried`` and ``prices`` are paper to
    reckon on.
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
    bent: Floats
    flow: Floats
    bent_before: Floats
    flow_before: Floats
    load_before: Floats
    spent_tried: Floats
    prices: Floats


def arrays_of(program: Program) -> Arrays:
    """Lay a program out."""
    hours, cuts = program.hours, program.hours.cuts
    widths, prices = (tiers.reshape(len(tiers), len(hours.regular)) for tiers in hours.supply.tiers)
    below_last = np.cumsum(widths[:-1], axis=0)
    edges = hours.regular + np.concatenate([np.zeros((1, len(hours.regular))), below_last])
    slopes = np.diff(prices, axis=0, prepend=0.0)
    foot = program.footprint
    courses, asks, touched, chains, links, bends = _labour(program)
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
        are_levelled=hours.are_levelled,
        chains=chains,
        links=links,
        bends=bends,
        bent_start=_bent_start(program, courses),
    )


def state_of(program: Program, arrays: Arrays, chosen: Ints, most_out: int) -> State:
    """Lay out a choice that keeps all rows, for rounds that take out ``most_out`` checks."""
    slack = program.slack(chosen)
    cuts = program.hours.cuts
    # Levelled hours begin evenly; the rounds bend them.
    load = program.load(chosen)[: program.hours.cells].copy()
    excess = np.maximum(load - program.hours.regular, 0.0)
    spent = cuts.money_by_week(excess.reshape(-1, program.hours.supply.kinds))
    entries = int(arrays.bent_start[-1])
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
        bent=np.zeros(entries),
        flow=np.zeros(entries),
        bent_before=np.zeros(entries),
        flow_before=np.zeros(entries),
        load_before=load.copy(),
        prices=np.zeros(int(np.diff(program.first_column).max(initial=0))),
        spent_tried=np.zeros(int(np.diff(arrays.courses["touch_start"]).max(initial=0))),
    )


def _records(kind: "np.dtype[np.void]", **fields: NDArray[np.generic]) -> Records:
    """Return records as long as the longest field; shorter ones end with zeros."""
    records = np.zeros(max(len(field) for field in fields.values()), dtype=kind)
    for name, field in fields.items():
        records[name][: len(field)] = field
    return records


def _labour(program: Program) -> tuple[Records, Records, Records, Records, Ints, Records]:
    """Return the courses, what they ask, where they ask shared hours, and how it can be bent.

    The last three are the chains, their links and the bends.
    """
    supply, cuts = program.hours.supply, program.hours.cuts
    entry, limits = _entries(program)
    week, kind = np.divmod(entry.col, max(1, supply.kinds))
    family = cuts.family_of[kind]
    order = np.lexsort((week, family, entry.row))
    course = entry.row[order].astype(np.int64)
    cell, week, kind = entry.col[order], week[order], kind[order]
    family, limits = family[order], limits[:, order]
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
    asks = _records(ASKED, cell=cell, member=member[kind], hours=entry.data[order])
    numbers = np.arange(program.man_hours.shape[0] + (2 if program.hours.are_levelled else 1))
    links, starts, ends = _chains(course, kind, week, limits)
    of_chain = links[starts] if len(starts) else starts
    chains = _records(CHAIN, start=starts, until=ends, family=family[of_chain])
    courses = _records(
        COURSE,
        ask_start=np.searchsorted(course, numbers),
        touch_start=np.searchsorted(course[first], numbers),
        chain_start=np.searchsorted(course[of_chain], numbers),
    )
    bends = _records(BEND, later=limits[0], earlier=limits[1], more=limits[2], less=limits[3])
    return courses, asks, touched, chains, links, bends


def _entries(program: Program) -> tuple[coo_array, Floats]:
    """Return what courses ask by cell, and (4, entries) how far it can be bent.

    Where hours are levelled, also the cells in which a course asks nothing evenly but could.
    """
    cells = program.hours.cells
    if not program.hours.are_levelled:
        entries = program.man_hours.tocoo()
        return entries, np.zeros((4, entries.nnz))
    settled = program.asked.copy()
    settled[:cells] = 0.0  # in the load from the start
    hours = csr_array(vstack([program.man_hours, csr_array(settled[None])]))
    blocks = [csr_array(hours[:, n * cells : (n + 1) * cells]) for n in range(5)]
    whole = csr_array(abs(blocks[0]))
    for block in blocks[1:]:
        whole = csr_array(whole + abs(block))
    there = whole.tocoo()
    rows, columns = there.row, there.col
    even, *limits = (np.asarray(block[rows, columns]).ravel() for block in blocks)
    return coo_array((even, (rows, columns)), shape=there.shape), np.stack(limits)


def _chains(course: Ints, kind: Ints, week: Ints, limits: Floats) -> tuple[Ints, Ints, Ints]:
    """Return the links of all chains in turn, and where each chain starts and ends among them.

    A chain is a run of one course's entries of one kind in weeks one after the other, across whose
    ends hours can be put off or brought forward.
    """
    nothing = np.empty(0, dtype=np.int64)
    if not limits.any():
        return nothing, nothing, nothing
    order = np.lexsort((week, kind, course))
    bends = (limits[0] + limits[1])[order] > 0.0
    goes_on = np.zeros(len(order), dtype=np.bool_)
    goes_on[:-1] = (
        (course[order][1:] == course[order][:-1])
        & (kind[order][1:] == kind[order][:-1])
        & (week[order][1:] == week[order][:-1] + 1)
        & bends[:-1]
    )
    begins = goes_on & ~np.concatenate(([False], goes_on[:-1]))
    starts = np.flatnonzero(begins)
    ends = np.flatnonzero(~goes_on & np.concatenate(([False], goes_on[:-1]))) + 1
    return order.astype(np.int64), starts, ends


def _bent_start(program: Program, courses: Records) -> Ints:
    """Return where the entries of each check stand in what is bent, (checks + 2,)."""
    checks = len(program.checks)
    if not program.hours.are_levelled:
        return np.zeros(checks + 2, dtype=np.int64)
    entries = np.diff(courses["ask_start"])
    most = np.zeros(checks + 1, dtype=np.int64)
    np.maximum.at(most[:-1], program.check_of, entries[program.course])
    most[-1] = entries[-1]
    return np.concatenate(([0], np.cumsum(most)))
