"""Moves by hand, one after the other: each is answered at once beside all other checks."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from capacity.errors import AuditError, InputError
from capacity.facts import Base
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Plan
from capacity.questions.by_hand.ground import Ground, OneLaidOut, Standing
from capacity.questions.by_hand.held import held_at
from capacity.questions.by_hand.own_limits import can_be_laid_out, own_limits
from capacity.questions.by_hand.values import HandAnswer, HandMove, Limit, OwnLimit
from capacity.questions.conflicts.confirmed import UNKNOWN
from capacity.questions.conflicts.places import AllPlaces
from capacity.questions.why.blocked import InTheWay
from capacity.questions.why.values import Blocker
from capacity.slots.candidates import bays_missing
from capacity.slots.program.program import Program
from capacity.words import day

MOST_KEPT, MOST_ANSWERS = 64, 16
"""So many standing plans are kept, so that undo and redo need no work, and so many answers, so
that a move that was answered is kept at once."""

MOST_PRICED_LEVELLED = 6
"""Of a check's courses so many are priced exactly where man-hours are levelled, the cheapest of
them by a guide: each takes a linear program over all weeks."""

CENT = 0.005

Moves = tuple[HandMove, ...]


class ByHand:
    """Answers moves in a plan; what all of them share is made once.

    The plan after some moves follows from these alone, so a move that is undone and done
    again leads to the same plan. Not to be used by two threads at once.
    """

    def __init__(self, base: Base, plan: Plan) -> None:
        """Find the plan among the slots of its base.

        Raises
        ------
        InputError
            When the plan is none of this base's.
        AuditError
            When it breaks a rule.
        """
        audit = Auditor(base).audit(plan)
        if audit.broken:
            raise AuditError(audit.broken)
        self.base, self.plan = base, plan
        self._ground = Ground(base)
        self._standing: dict[Moves, Standing] = {
            (): self._ground.standing(base, plan, audit),
        }
        self._answers: dict[tuple[Moves, HandMove], _Answered] = {}

    def answer(self, moves: Sequence[HandMove], move: HandMove) -> HandAnswer:
        """Return what one more move comes to after those that were made.

        Raises
        ------
        InputError
            When a name is unknown, or one of the ``moves`` made is not legal.
        AuditError
            When the audit finds other days past or another cost than were claimed.
        """
        return self._answered(tuple(moves), move).answer

    def plan_after(self, moves: Sequence[HandMove]) -> tuple[Plan, Audit]:
        """Return the plan after some moves with its audit; raises as ``answer`` does."""
        standing = self._after(tuple(moves))
        return standing.plan, standing.audit

    def base_after(self, moves: Sequence[HandMove]) -> Base:
        """Return the base that holds the moved checks where they are now; raises ``InputError``."""
        return self._after(tuple(moves)).base

    def _after(self, moves: Moves) -> Standing:
        if moves in self._standing:
            return self._standing[moves]
        found = self._answered(moves[:-1], moves[-1])
        if not found.answer.is_legal:
            raise InputError([_not_legal(moves[-1])])
        self._keep(moves, found.standing(self._ground))
        return self._standing[moves]

    def _keep(self, moves: Moves, standing: Standing) -> None:
        while len(self._standing) >= MOST_KEPT:
            del self._standing[next(made for made in self._standing if made)]
        self._standing[moves] = standing

    def _answered(self, moves: Moves, move: HandMove) -> "_Answered":
        key = (moves, move)
        if key not in self._answers:
            found = self._worked_out(self._after(moves), move)
            while len(self._answers) >= MOST_ANSWERS:
                del self._answers[next(iter(self._answers))]
            self._answers[key] = found
        return self._answers[key]

    def _worked_out(self, standing: Standing, move: HandMove) -> "_Answered":
        self._refuse_unknown(move)
        base = held_at(standing.base, move)
        limits = list(own_limits(move, base, standing.plan))
        laid = self._laid_out(standing, move, limits)
        if laid is None:
            return _Answered(_answer(standing, move, limits), standing, base, None, -1)
        return _Case(standing, base, move, laid, self._ground.opened).answered(limits)

    def _laid_out(
        self, standing: Standing, move: HandMove, limits: list[OwnLimit]
    ) -> OneLaidOut | None:
        """Return the check laid out; None where that is not possible, with a limit that says so."""
        if move.in_day is None:
            return self._ground.without(standing, move.check)
        if not can_be_laid_out(move, self.base):
            return None
        laid = self._ground.laid_out(standing, move.check, move.bay, move.in_day)
        if len(laid.columns):
            return laid
        if not any(limit.limit is Limit.BAY for limit in limits):
            missing = bays_missing(self.base.check(move.check), self.base)
            limits.append(OwnLimit(Limit.NO_STAY, (missing,) if missing else ()))
        return None

    def _refuse_unknown(self, move: HandMove) -> None:
        messages = []
        checks = [check.name for check in self.base.checks]
        if move.check not in checks:
            what = f"'{move.check}' is not a check in the workbook."
            remedy = suggest(move.check, checks, "the sheet Checks")
            messages.append(Message(Level.ERROR, "check", what, remedy))
        bays = [bay.name for bay in self.base.bays]
        if not move.is_off and move.bay not in bays:
            what = f"'{move.bay}' is not a bay in the workbook."
            remedy = suggest(move.bay, bays, "the sheet Bays")
            messages.append(Message(Level.ERROR, "bay", what, remedy))
        if messages:
            raise InputError(messages)


@dataclass(frozen=True)
class _Answered:
    """An answer with what is needed to go on from it."""

    answer: HandAnswer
    before: Standing
    base: Base
    laid: OneLaidOut | None
    column: int

    def standing(self, ground: Ground) -> Standing:
        """Return what stands once the move is made."""
        plan, audit = self.answer.plan, self.answer.audit
        assert self.laid is not None
        assert plan is not None
        assert audit is not None
        return ground.going_on(self.before, self.laid, self.column, self.base, plan, audit)


@dataclass(frozen=True)
class _Case:
    """One move of a check that could be laid out."""

    standing: Standing
    base: Base
    move: HandMove
    laid: OneLaidOut
    opened: Base

    def answered(self, limits: list[OwnLimit]) -> _Answered:
        """Choose the column, audit the plan with it, and say what it breaks."""
        column, alike, priced, in_the_way = self._chosen()
        chosen = self.laid.with_column(column)
        plan = self.laid.plan_with(chosen)
        audit = Auditor(self.base).audit(plan, self.standing.audit)
        if not limits:  # an option past Latest in counts no days: it may not come in then at all
            _hold_to_claims(self.laid.program.cost(chosen), audit)
        if audit.broken and not limits and not in_the_way:
            limits = [OwnLimit(Limit.AUDIT, audit.broken)]
        answer = _answer(self.standing, self.move, limits, in_the_way, plan, audit)
        answer = replace(answer, courses=alike, priced=priced)
        return _Answered(answer, self.standing, self.base, self.laid, column)

    def _chosen(self) -> tuple[int, int, int, tuple[Blocker, ...]]:
        """Return the column, of how many it is the cheapest, as how many of them are priced.

        Then what is in its way.
        """
        columns, program = self.laid.columns, self.laid.program
        if not len(columns):
            return -1, 0, 0, ()
        places = AllPlaces(self.base, self.opened, self.laid.slots)
        closed = places.closed(places.columns())
        free = program.fits(columns, program.slack(self.laid.others))
        for mask in closed.values():
            free &= ~mask[columns]
        if free.any():
            return *self._cheapest(columns[free]), ()
        in_the_way = InTheWay(places, self.laid.others)
        rules = in_the_way.broken_rules(columns)
        column, alike, priced = self._cheapest(columns[rules == rules.min()])
        return column, alike, priced, in_the_way.of(column) or (Blocker(UNKNOWN),)

    def _cheapest(self, columns: NDArray[np.int64]) -> tuple[int, int, int]:
        """Return the cheapest of some columns, how many they are, and how many are priced."""
        program, others = self.laid.program, self.laid.others
        # What a course costs is the same through whichever further bays.
        columns = columns[np.sort(np.unique(program.course[columns], return_index=True)[1])]
        count = len(columns)
        if program.hours.are_levelled and len(columns) > MOST_PRICED_LEVELLED:
            guide = np.round(program.added_beside(others, columns), 6)
            columns = columns[np.argsort(guide, kind="stable")[:MOST_PRICED_LEVELLED]]
        if len(columns) == 1:
            return int(columns[0]), count, 1
        money = np.round(program.cost_beside(others, columns), 6)
        best = columns[np.lexsort((self._days_there(columns, program), money))[0]]
        return int(best), count, len(columns)

    def _days_there(self, columns: NDArray[np.int64], program: Program) -> NDArray[np.int64]:
        """Return how long the check stays by each of its columns: of equal ones the shortest."""
        own = self.laid.slots.candidates[self.laid.asked]
        course = own.course[program.places_of(self.laid.asked, columns)]
        stays = own.courses.stays
        days: NDArray[np.int64] = stays.out_day[course] - stays.in_day[course]
        return days


def _answer(
    standing: Standing,
    move: HandMove,
    limits: Sequence[OwnLimit],
    in_the_way: tuple[Blocker, ...] = (),
    plan: Plan | None = None,
    audit: Audit | None = None,
) -> HandAnswer:
    before = standing.plan.by_check().get(move.check, ())
    after = () if plan is None else plan.by_check().get(move.check, ())
    return HandAnswer(
        move=move,
        before=tuple(before),
        after=tuple(after),
        limits=tuple(limits),
        in_the_way=in_the_way,
        plan_before=standing.plan,
        audit_before=standing.audit,
        plan=plan,
        audit=audit,
    )


def _hold_to_claims(claimed: tuple[int, float], audit: Audit) -> None:
    """Refuse a plan whose days past or money are others than the program claims."""
    days, money = claimed
    wrong = []
    if days != audit.goals.days_past_latest_in:
        found = audit.goals.days_past_latest_in
        wrong.append(f"{days} days past Latest in were claimed, the audit finds {found}")
    if abs(money - audit.goals.money) > CENT:
        wrong.append(f"a cost of {money:.2f} was claimed, the audit finds {audit.goals.money:.2f}")
    if wrong:
        raise AuditError(wrong)


def _not_legal(move: HandMove) -> Message:
    to = "off the bays" if move.in_day is None else f"into {move.bay} on {day(move.in_day)}"
    return Message(
        Level.ERROR,
        f"move of {move.check}",
        f"{move.check} cannot be moved {to} any more.",
        "Undo this move, or begin a new draft from the plan.",
    )
