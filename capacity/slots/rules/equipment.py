"""Equipment pools: jack sets, tail docks, cranes."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from functools import partial

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.cells import Where, cells
from capacity.facts import Base, Check
from capacity.slots.candidates import Columns, Courses
from capacity.slots.rules.changes import Amount, Change, FewestOf, Help, OneChange
from capacity.slots.rules.family import Blocking, Family, Packing
from capacity.slots.rules.rows import RowMaker, Rows
from capacity.slots.rules.rule import Met, Rule, RuleKind
from capacity.words import day, listed


def equipment(columns: Columns, base: Base) -> Rows:
    """On every day the stages under way hold no more pieces than there are in use.

    For every pool e and day t::

        sum of uses[j, e, t] * x[j] <= number[e] - outages[e, t] - held by fixed checks[e, t]

    uses[j, e, t] counts the stages of candidate j that hold e and have start <= t < end,
    days off included: a set of jacks stays under the aircraft over the week-end. A stage in
    work has its own from the day on which the work goes on.
    """
    maker = RowMaker(len(columns.check))
    slots, calendar = columns.slots, columns.slots.calendar
    days = len(calendar.worked)
    for pool in base.equipment:
        held = [_held(c.courses, pool.name, days) for c in slots.candidates]
        if not any(part.any() for part in held):
            continue
        uses = csr_array(np.concatenate(held))[columns.course].tocsc()
        room = np.full(days, float(pool.number))
        for courses in slots.settled:
            room -= _held(courses, pool.name, days)[0]
        for outage in base.equipment_outages:
            if outage.equipment == pool.name:
                first = max(0, calendar.number(outage.first))
                room[first : max(0, calendar.number(outage.last) + 1)] -= outage.number
        for number in range(days):
            entries = slice(uses.indptr[number], uses.indptr[number + 1])
            name = f"{pool.name} on {calendar.date(number)}"
            maker.add(
                name,
                uses.indices[entries].astype(np.int64),
                max(0.0, room[number]),
                uses.data[entries],
            )
    return maker.rows()


def _held(courses: Courses, pool: str, days: int) -> NDArray[np.float64]:
    """Return how many pieces each course holds on each day, shape (courses, days)."""
    held = np.zeros((len(courses.past), days))
    on_day = np.arange(days)
    for number, stage in enumerate(courses.work):
        if pool in stage.equipment:
            start, end = courses.stays.starts[:, number, None], courses.stays.ends[:, number, None]
            if stage.in_work:
                start = courses.stays.begins[:, None]
            held += (start <= on_day) & (on_day < end)
    return held


def _pool_rows(part: frozenset[Rule], columns: Columns, base: Base) -> Rows:
    """Return the rows of one pool, with the outages in a part of the rules."""
    pool = next(rule.of for rule in part if rule.kind == EQUIPMENT)
    rows = {rule.row for rule in part if rule.kind == OUTAGE}
    outages = tuple(outage for row, outage in enumerate(base.equipment_outages) if row in rows)
    pools = tuple(e for e in base.equipment if e.name == pool)
    return equipment(columns, base.replace(equipment=pools, equipment_outages=outages))


def _rules(base: Base, checks: Collection[Check], on_time: bool) -> Iterator[Rule]:
    for pool in base.equipment:
        yield Rule(EQUIPMENT, pool.name)
    yield from _outages(base)


def _outages(base: Base) -> Iterator[Rule]:
    for row, outage in enumerate(base.equipment_outages):
        yield Rule(OUTAGE, outage.equipment, row=row)


def _parts(mine: frozenset[Rule], asked: frozenset[Rule], base: Base) -> Iterator[frozenset[Rule]]:
    """Yield the rules of each pool; an outage tells nothing of one of which there is enough."""
    for pool in sorted(rule.of for rule in mine if rule.kind == EQUIPMENT):
        yield frozenset(rule for rule in mine if rule.of == pool)


def _blocking(base: Base) -> Iterator[Blocking]:
    """Yield the rows of each pool with none, each, and at last all of its outages."""
    for pool in base.equipment:
        number = frozenset({Rule(EQUIPMENT, pool.name)})
        outages = tuple(rule for rule in _outages(base) if rule.of == pool.name)
        yield Blocking((*number,), partial(_pool_rows, number))
        for outage in outages:
            yield Blocking((outage,), partial(_pool_rows, number | {outage}), hiding=number)
        if len(outages) > 1:
            every = number | {*outages}
            yield Blocking(outages, partial(_pool_rows, every), hiding=every)


def _more_equipment(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Add pieces to a pool; one more for each check is enough."""

    def more(pieces: int) -> Base:
        pools = tuple(
            replace(pool, number=pool.number + pieces) if pool.name == rule.of else pool
            for pool in base.equipment
        )
        return base.replace(equipment=pools)

    yield FewestOf(MORE_EQUIPMENT, len(checks), more, days=0)


def _in_use_again(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Take an outage away."""
    outage = base.equipment_outages[rule.row]
    others = tuple(o for row, o in enumerate(base.equipment_outages) if row != rule.row)
    days = (outage.last - outage.first).days + 1
    yield OneChange(IN_USE_AGAIN, base.replace(equipment_outages=others), days)


def _number_holds(rule: Rule, base: Base, where: Where) -> str:
    pool = next(pool for pool in base.equipment if pool.name == rule.of)
    return f"{pool.number} x {rule.of} {cells(where, 'Equipment', rule.of, 'Number')}"


def _number_blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    at = cells(where, "Equipment", rule.of, "Number")
    return f"{rule.of} {at} is held by {listed(met.checks)}"


def _outage_holds(rule: Rule, base: Base, where: Where) -> str:
    outage = base.equipment_outages[rule.row]
    return (
        f"{outage.number} x {rule.of} out of use from {day(outage.first)} to "
        f"{day(outage.last)} {_at_outage(rule.row, where)}"
    )


def _outage_blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    held = f", the rest is held by {listed(met.checks)}" if met.checks else ""
    return f"{rule.of} is out of use {_at_outage(rule.row, where)}{held}"


def _at_outage(row: int, where: Where) -> str:
    return cells(where, "Equipment outages", f"#{row + 1}", "From", "To")


def _says_more(amount: Amount, where: Where) -> str:
    at = cells(where, "Equipment", amount.of, "Number")
    return f"have {amount.number} x {amount.of} more {at}"


def _says_in_use(amount: Amount, where: Where) -> str:
    return f"put off the outage of {amount.of} {_at_outage(amount.row, where)}"


IN_USE_AGAIN = Change("outage taken away", 9, _says_in_use, has_least=False)
MORE_EQUIPMENT = Change("more equipment", 10, _says_more, is_bought=True)

EQUIPMENT = RuleKind("equipment", _number_holds, _number_blocks, _more_equipment)
OUTAGE = RuleKind("outage", _outage_holds, _outage_blocks, _in_use_again)

EQUIPMENT_POOLS = Family(
    name="equipment",
    kinds=(EQUIPMENT, OUTAGE),
    audited_as=frozenset({"equipment"}),
    rules=_rules,
    packing=Packing(equipment, exact=_pool_rows, parts=_parts, blocking=_blocking),
)
