"""The drafts of a desk: plans changed by hand, each with the plan that it begins with."""

from dataclasses import dataclass, replace
from datetime import date

from capacity.plans.outcome import Planned
from capacity.questions.by_hand.drafts import Draft, next_name
from capacity.questions.by_hand.values import HandMove
from ui.desk.desk import JOB_NUMBERS, Desk
from ui.desk.plan_job import Result, result_of
from ui.desk.plan_question import base_of

MOST_DRAFTS = 8
"""Of more the oldest goes."""

Slot = tuple[str | None, date | None]


@dataclass(frozen=True, slots=True)
class HandDraft:
    """A draft with the result that it begins with.

    ``number`` is another one after each change of the draft, and no run's: what is worked out of
    its plan is kept under it.
    """

    draft: Draft
    start: Result
    number: int

    @property
    def name(self) -> str:
        """What a person calls it."""
        return self.draft.name

    def changed_to(self, draft: Draft) -> "HandDraft":
        """Return it with another draft in place of its own."""
        return self if draft == self.draft else HandDraft(draft, self.start, next(JOB_NUMBERS))


@dataclass(frozen=True, slots=True)
class HandWork:
    """All drafts of a desk; ``shown`` names the one on the page, ``asked`` is in its form.

    It is on the page as long as the plan is that of run ``shown_at``: a new plan is shown itself.
    ``held`` is what the workbook in use holds because of a draft.
    """

    drafts: tuple[HandDraft, ...] = ()
    shown: str = ""
    shown_at: int = 0
    asked: HandMove | None = None
    held: tuple[HandMove, ...] = ()

    def named(self, name: str) -> HandDraft | None:
        """Return the draft of a name; None where there is none."""
        return next((one for one in self.drafts if one.name == name), None)


def work_of(desk: Desk) -> HandWork:
    """Return the drafts of a desk."""
    assert isinstance(desk.by_hand, HandWork | None)
    return desk.by_hand or HandWork()


def shown_draft(desk: Desk) -> HandDraft | None:
    """Return the draft on the page: the one chosen, else a new one from the plan that is shown.

    None where there is no plan.
    """
    work, result = work_of(desk), result_of(desk)
    chosen = work.named(work.shown)
    if chosen is not None and is_shown(desk):
        return chosen
    if result is None or not isinstance(result.outcome, Planned):
        return None
    return HandDraft(Draft(next_name([one.name for one in work.drafts])), result, result.number)


def draft_with_moves(desk: Desk) -> HandDraft | None:
    """Return the draft on the page if it has moves: then the board shows it and not the plan."""
    draft = shown_draft(desk)
    return draft if draft is not None and draft.draft.moves else None


def put_draft(desk: Desk, changed: HandDraft) -> None:
    """Put a draft in the place of the one of its name, or beside the others, and show it."""
    work = work_of(desk)
    drafts = tuple(changed if one.name == changed.name else one for one in work.drafts)
    if work.named(changed.name) is None:
        drafts = (*drafts, changed)[-MOST_DRAFTS:]
    desk.keep_by_hand(replace(work, drafts=drafts, shown=changed.name, shown_at=_run_shown(desk)))


def show_draft(desk: Desk, name: str) -> None:
    """Show another draft; of a name that is not known a new one."""
    desk.keep_by_hand(replace(work_of(desk), shown=name, shown_at=_run_shown(desk)))


def is_shown(desk: Desk) -> bool:
    """Return whether the draft chosen was chosen since the plan that is shown was made."""
    return work_of(desk).shown_at == _run_shown(desk)


def _run_shown(desk: Desk) -> int:
    result = result_of(desk)
    return 0 if result is None else result.number


def remove_draft(desk: Desk, name: str) -> None:
    """Take a draft away; the plan is shown then."""
    work = work_of(desk)
    left = tuple(one for one in work.drafts if one.name != name)
    desk.keep_by_hand(replace(work, drafts=left, shown=""))


def ask(desk: Desk, move: HandMove | None) -> None:
    """Remember what stands in the form, so that it is there when the page is drawn again."""
    work = work_of(desk)
    if move != work.asked:
        desk.by_hand = replace(work, asked=move)


def to_hold(desk: Desk, one: HandDraft) -> dict[str, Slot]:
    """Return where the workbook is to hold checks, so that it holds those of a draft.

    What another draft held there before is held as it was when this one began, unless somebody
    has changed it since.
    """
    held: dict[str, Slot] = {}
    opened, before = desk.opened, base_of(one.start)
    now = None if opened is None else opened.book.base
    for move in work_of(desk).held:
        if now is not None and now.has_check(move.check) and before.has_check(move.check):
            check, was = now.check(move.check), before.check(move.check)
            if (check.held_bay, check.held_in) == (move.bay, move.in_day):
                held[move.check] = (was.held_bay, was.held_in)
    held |= dict.fromkeys(one.draft.off_the_bays, (None, None))
    held |= {move.check: (move.bay, move.in_day) for move in one.draft.held}
    return held
