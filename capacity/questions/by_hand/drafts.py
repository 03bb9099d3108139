"""Drafts: a plan with any number of moves by hand, undone and done again, side by side."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import fsum

from capacity.facts import Base
from capacity.plans.audit import Audit
from capacity.plans.plan import Plan
from capacity.questions.asking.differences import Move, moves_between
from capacity.questions.by_hand.held import base_with_holds, last_moves
from capacity.questions.by_hand.values import HandMove
from capacity.questions.compare.two_plans import MoneyPair, money_pairs


@dataclass(frozen=True, slots=True)
class Draft:
    """Moves made in a plan, in their order; those ``undone`` can be done again, the last first."""

    name: str
    moves: tuple[HandMove, ...] = ()
    undone: tuple[HandMove, ...] = ()

    def with_move(self, move: HandMove) -> "Draft":
        """Return the draft with one more move; what was undone is gone then."""
        return replace(self, moves=(*self.moves, move), undone=())

    def undo(self) -> "Draft":
        """Return the draft without its last move; itself where there is none."""
        if not self.moves:
            return self
        return replace(self, moves=self.moves[:-1], undone=(*self.undone, self.moves[-1]))

    def redo(self) -> "Draft":
        """Return the draft with the move that was undone last; itself where there is none."""
        if not self.undone:
            return self
        return replace(self, moves=(*self.moves, self.undone[-1]), undone=self.undone[:-1])

    @property
    def held(self) -> tuple[HandMove, ...]:
        """Return where each moved check is held; one off the bays is not."""
        return tuple(move for move in last_moves(self.moves) if not move.is_off)

    @property
    def off_the_bays(self) -> tuple[str, ...]:
        """Return the checks that were taken off the bays and have no slot."""
        return tuple(move.check for move in last_moves(self.moves) if move.is_off)

    def base(self, base: Base) -> Base:
        """Return a base that holds every moved check, to plan around what is held."""
        return base_with_holds(base, self.moves)


@dataclass(frozen=True, slots=True)
class DraftFigures:
    """What a plan comes to, for setting drafts side by side; ``moved`` against the plan.

    ``late_days`` are days late out of all checks together. Hours are man-hours, ``bought`` ones
    overtime and contract labour. ``money`` are the kinds of money of the plan and the draft.
    """

    name: str
    cost: float
    costs_more: float
    days_past: int
    late_days: int
    overload_hours: float
    bought_hours: float
    no_slot: tuple[str, ...]
    moved: tuple[Move, ...]
    money: tuple[MoneyPair, ...]


def figures_of(name: str, plan: Plan, audit: Audit, before: Plan, first: Audit) -> DraftFigures:
    """Return what a draft comes to beside the plan ``before`` it began with."""
    return DraftFigures(
        name=name,
        cost=audit.goals.money,
        costs_more=audit.goals.money - first.goals.money,
        days_past=audit.goals.days_past_latest_in,
        late_days=sum(account.late_days for account in audit.accounts),
        overload_hours=audit.goals.overload_hours,
        bought_hours=fsum(load.overtime + load.contract_paid for load in audit.weeks),
        no_slot=plan.not_placed,
        moved=moves_between(before, plan, ()),
        money=money_pairs(first, audit),
    )


def next_name(names: Sequence[str]) -> str:
    """Return a name for one more draft: ``Draft A``, ``Draft B``, and so on."""
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    free = (f"Draft {letter}" for letter in letters if f"Draft {letter}" not in names)
    return next(free, f"Draft {len(names) + 1}")
