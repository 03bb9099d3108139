"""Why a check stands where it does in a plan, and not on a better day."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from capacity.errors import AuditError, InputError
from capacity.facts import Base, Check, Status
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message
from capacity.plans.audit import Audit, Auditor, CheckAccount
from capacity.plans.plan import Plan
from capacity.questions.asking.differences import hours_more
from capacity.questions.asking.places import bays_along, places_of
from capacity.questions.conflicts.confirmed import UNKNOWN
from capacity.questions.conflicts.days_left_out import days_left_out
from capacity.questions.conflicts.places import AllPlaces, all_places
from capacity.questions.why.blocked import InTheWay
from capacity.questions.why.confirmed import Beside, are_all_placed, slots_of
from capacity.questions.why.shorter_stays import ShorterStay, shorter_stays
from capacity.questions.why.values import Blocked, Blocker, Dearer, Why
from capacity.slots.candidates import Slots
from capacity.slots.program.choice import Choice
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program
from capacity.slots.rules.families import lifted
from capacity.slots.rules.longest_wait import THE_LONGEST_WAIT

Floats = NDArray[np.float64]
HALF_CENT = 0.005


class PlanReasons:
    """Answers for any check of one plan; what all answers share is made once."""

    def __init__(self, base: Base, plan: Plan) -> None:
        """Find the plan among all places of its base; raises ``InputError`` when it is not."""
        self._base, self._plan = base, plan
        self._every = all_places(base, plan)
        self._places = places_of(plan, self._every.slots)
        self._auditor = Auditor(base)
        self._audit = self._auditor.audit(plan)
        if self._audit.broken:
            raise AuditError(self._audit.broken)

    def why(self, name: str) -> Why:
        """Return why a check stands where it does, and what keeps each better place from it.

        All other checks stay where they are. Each place that is said to be free is free in
        the program that plans, too, and audited.

        Raises
        ------
        InputError
            When the base has no such check.
        """
        known = [check.name for check in self._base.checks]
        if name not in known:
            what = f"'{name}' is not a check in the workbook."
            remedy = suggest(name, known, "the sheet Checks")
            raise InputError([Message(Level.ERROR, "check", what, remedy)])
        check = self._base.checks[known.index(name)]
        better: tuple[Blocked | Dearer, ...] = ()
        if check.status is not Status.FIXED:
            better = tuple(_Places(self, check).better())
        return self._told(check, better)

    @property
    def audit(self) -> Audit:
        """Return what the plan comes to."""
        return self._audit

    def beside(self, name: str) -> Beside:
        """Return the program that plans, with all checks but one held at their places."""
        return Beside(self._base, self._plan, name, self._slots)

    @cached_property
    def _slots(self) -> Slots:
        return slots_of(self._base, self._plan)

    def narrowed_to(self, name: str) -> tuple[AllPlaces, Choice]:
        """Return all places of a check with the others at theirs, and the plan among them."""
        masks, chosen, first = [], [], 0
        for number, candidates in enumerate(self._every.slots.candidates):
            place = int(self._places[number])
            mask = np.arange(len(candidates.course)) == place
            chosen.append(first if place >= 0 else -1)
            if candidates.courses.check.name == name:
                mask = np.ones(len(candidates.course), dtype=np.bool_)
                chosen[-1] = first + place if place >= 0 else -1
            masks.append(mask)
            first += int(mask.sum())
        return self._every.narrowed(masks), np.array(chosen, dtype=np.int64)

    def audited(self, made: Plan) -> Audit:
        """Audit a plan that is said to stand; raises ``AuditError`` when it does not."""
        audit = self._auditor.audit(made, self._audit)
        if audit.broken:
            raise AuditError(audit.broken)
        return audit

    def _told(self, check: Check, better: tuple[Blocked | Dearer, ...]) -> Why:
        account = next((a for a in self._audit.accounts if a.check == check.name), None)
        without = self._auditor.audit(self._without(check.name), self._audit)
        return Why(
            check=check.name,
            placements=tuple(self._plan.by_check().get(check.name, ())),
            days_past=account.days_past_latest_in if account else 0,
            early_days=account.early_days if account else 0,
            late_days=account.late_days if account else 0,
            early_money=account.early_money if account else 0.0,
            late_money=account.late_money if account else 0.0,
            wanted_days=account.wanted_days if account else 0,
            wanted_money=account.wanted_money if account else 0.0,
            labour_money=_labour(self._audit) - _labour(without),
            hours=hours_more(without, self._audit),
            better=better,
            left_out=days_left_out(check, self._base, self._every.slots),
            shorter=self._shorter(check, account),
            longer_wait=self._has_place_by_waiting(check, account),
        )

    def _without(self, name: str) -> Plan:
        """Return the plan without a check; levelled man-hours of the others lie anew then."""
        others = tuple(p for p in self._plan.placements if p.check != name)
        if not any(stage.hours for placement in others for stage in placement.stages):
            return replace(self._plan, placements=others)
        places, chosen = self.narrowed_to(name)
        program = places.program()
        chosen[program.checks.index(name)] = -1
        return plan_of(chosen, program, places.slots)

    def _shorter(self, check: Check, account: CheckAccount | None) -> tuple[ShorterStay, ...]:
        """Return what keeps a check that is out late from being out sooner."""
        if account is None or not account.late_days:
            return ()
        return shorter_stays(check, self._base, account.in_day)

    def _has_place_by_waiting(self, check: Check, account: CheckAccount | None) -> bool:
        """Return whether a check that is not in on time could be if it might wait longer."""
        if account is not None and not account.days_past_latest_in:
            return False
        for rule, base in lifted(self._base, {check.package}):
            if rule == THE_LONGEST_WAIT:
                slots = slots_of(base, self._plan)
                if not are_all_placed(self._plan, slots):
                    return False  # with so many ways to wait some are not looked at
                return Beside(base, self._plan, check.name, slots).has_free_place()
        return False


def _labour(audit: Audit) -> float:
    return audit.overtime_money + audit.contract_money + audit.overload_money


class _Places:
    """The places of one check beside a plan, priced as if all of them were free."""

    def __init__(self, reasons: PlanReasons, check: Check) -> None:
        self._reasons, self._check = reasons, check
        self._places, self._chosen = reasons.narrowed_to(check.name)
        self._program: Program = self._places.program()
        self._number = self._program.checks.index(check.name)
        self._first = int(self._program.first_column[self._number])
        self._columns = self._program.columns_of(self._number)
        self._others = self._chosen.copy()
        self._others[self._number] = -1
        self._own = self._program.money[self._columns]
        self._past = self._program.past[self._columns]
        self._money = self._money_of_all()
        now = int(self._chosen[self._number]) - self._first
        self._is_placed = bool(self._chosen[self._number] >= 0)
        unplaced = int(self._program.unplaced_past[self._number])
        self._past_now = int(self._past[now]) if self._is_placed else unplaced
        self._own_now = float(self._own[now]) if self._is_placed else 0.0
        self._money_now = self._program.cost(self._chosen)[1]
        self._beside = reasons.beside(check.name)

    def better(self) -> Iterator[Blocked | Dearer]:
        """Yield each better place by day and bay, the best pace and wait of it."""
        in_the_way = InTheWay(self._places, self._others)
        candidates = self._places.slots.candidates[self._number]
        in_day = candidates.courses.stays.in_day[candidates.course]
        ways = [tuple(way) for way in candidates.groups]
        best: dict[tuple[object, ...], int] = {}
        wanted = np.flatnonzero(self._is_better())
        rules = in_the_way.broken_rules(self._columns)
        order = np.lexsort((np.round(self._money, 6), self._past, rules))
        for place in order[np.isin(order, wanted)]:
            best.setdefault((int(in_day[place]), ways[place]), int(place))
        for key in sorted(best, key=lambda key: (key[0], key[1])):
            place = best[key]
            told = self._blocked if rules[place] else self._free
            yield told(place, in_the_way)

    def _is_better(self) -> NDArray[np.bool_]:
        """Return which places have fewer days past, or cost less by themselves or in all."""
        if not self._is_placed:
            may: NDArray[np.bool_] = (self._past == 0) | (self._past < self._past_now)
            return may
        same, fewer = self._past == self._past_now, self._past < self._past_now
        cheaper = self._own < self._own_now - HALF_CENT
        cheaper |= self._money < self._money_now - HALF_CENT
        better: NDArray[np.bool_] = fewer | (same & cheaper)
        return better

    def _money_of_all(self) -> Floats:
        """Return the money of the plan with the check in each of its columns."""
        return self._program.cost_beside(self._others, self._columns)

    def _bays(self, place: int) -> tuple[str, ...]:
        slots = self._places.slots
        return bays_along(slots.candidates[self._number], place, slots)

    def _days(self, place: int) -> tuple[int, int]:
        candidates = self._places.slots.candidates[self._number]
        stays, course = candidates.courses.stays, int(candidates.course[place])
        return int(stays.in_day[course]), int(stays.out_day[course])

    def _blocked(self, place: int, in_the_way: InTheWay) -> Blocked:
        date = self._places.slots.calendar.date
        in_day, out_day = self._days(place)
        return Blocked(
            day=date(in_day),
            bays=self._bays(place),
            out_day=date(out_day),
            by=in_the_way.of(self._first + place) or (Blocker(UNKNOWN),),
            saves=self._money_now - float(self._money[place]),
            days_past_less=self._past_now - int(self._past[place]),
        )

    def _free(self, place: int, in_the_way: InTheWay) -> Blocked | Dearer:
        """Tell a place as free if the program that plans has it and room for it, too."""
        chosen = self._others.copy()
        chosen[self._number] = self._first + place
        made = plan_of(chosen, self._program, self._places.slots)
        if not self._beside.lets_stand(made.by_check()[self._check.name]):
            return self._blocked(place, in_the_way)
        audit = self._reasons.audited(made)
        date = self._places.slots.calendar.date
        in_day, out_day = self._days(place)
        return Dearer(
            day=date(in_day),
            bays=self._bays(place),
            out_day=date(out_day),
            money=audit.goals.money - self._reasons.audit.goals.money,
            own=float(self._own[place]) - self._own_now,
            hours=hours_more(self._reasons.audit, audit),
            days_past_less=self._past_now - int(self._past[place]),
        )
