"""``capacity explain --move``: checks moved by hand, one after the other, and held in a copy."""

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

import click

from capacity.commands.exits import Exit
from capacity.commands.option_types import DAY
from capacity.commands.outputs import Outputs
from capacity.facts import Base
from capacity.inputs import Book
from capacity.inputs.limited import held_copy
from capacity.plans.plan import Plan
from capacity.questions.by_hand.answering import ByHand
from capacity.questions.by_hand.drafts import Draft
from capacity.questions.by_hand.values import HandAnswer, HandMove
from capacity.questions.by_hand.wording import costs_in_words, verdict_in_words
from capacity.reports.kit.cell_text import printable
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.wording import CAUTION
from capacity.words import days, money

OFF = "off"
HALF = 0.5
FORM = "'CHECK; BAY; IN DAY', such as 'N-05; Bay 2; 2027-01-31', or 'CHECK; off' for no slot"


def moves_of(lines: Sequence[str]) -> tuple[HandMove, ...]:
    """Return the moves that are given; raises ``UsageError`` for a line that is none."""
    return tuple(_move_of(line) for line in lines)


def _move_of(line: str) -> HandMove:
    parts = [part.strip() for part in line.split(";")]
    match parts:
        case [check, off] if check and off.casefold() == OFF:
            return HandMove(check)
        case [check, bay, in_day] if check and bay:
            return HandMove(check, bay, _day(in_day, line))
        case _:
            raise click.BadParameter(f"'{line}' is no move: write {FORM}.", param_hint="--move")


def _day(text: str, line: str) -> date:
    try:
        return DAY.convert(text, None, None).date()
    except click.UsageError as fault:
        told = f"'{line}': {fault.message}"
        raise click.BadParameter(told, param_hint="--move") from fault


def explain_moves(
    base: Base,
    plan: Plan,
    moves: Sequence[HandMove],
    workbook: Path,
    read: Book,
    workbook_out: Path | None,
) -> Exit:
    """Answer the moves in turn, to the first that is not legal; write the copy if all are.

    Not legal is an answer too; impossible is only a copy that was asked for.
    """
    desk, draft = ByHand(base, plan), Draft("moves")
    outputs, all_legal = Outputs(), True
    said: list[str] = []
    for move in moves:
        answer = desk.answer(draft.moves, move)
        said += _told(answer, base, read)
        if not answer.is_legal:
            all_legal = False
            break
        draft = draft.with_move(answer.move)
    if len(moves) > 1 and all_legal:
        said.append(_together(desk, draft, base))

    def write(path: Path) -> None:
        held: dict[str, tuple[str | None, date | None]] = dict.fromkeys(
            draft.off_the_bays, (None, None)
        )
        held |= {move.check: (move.bay, move.in_day) for move in draft.held}
        write_whole(held_copy(workbook, held), path)

    if all_legal:
        outputs.write(workbook_out, write)
    elif workbook_out is not None:
        said.append(f"{workbook_out.name} is not written: not all of these moves are legal.")
    for sentence in said:
        click.echo(printable(sentence))
    click.echo(CAUTION)
    is_owed = workbook_out is not None and not all_legal
    return outputs.end(Exit.IMPOSSIBLE if is_owed else Exit.PLANNED)


def _told(answer: HandAnswer, base: Base, read: Book) -> Iterator[str]:
    yield verdict_in_words(answer, base, read.where)
    yield from (f"  {sentence}" for sentence in costs_in_words(answer, base))


def _together(desk: ByHand, draft: Draft, base: Base) -> str:
    before, after = desk.plan_after(())[1].goals, desk.plan_after(draft.moves)[1].goals
    more, past = after.money - before.money, after.days_past_latest_in - before.days_past_latest_in
    cost = "the same" if abs(more) < HALF else f"{money(abs(more), base)} {_more_or(more, 'less')}"
    said = f"All {len(draft.moves)} moves together: the plan costs {cost}"
    return (
        f"{said}, {days(abs(past))} {_more_or(past, 'fewer')} past Latest in."
        if past
        else f"{said}."
    )


def _more_or(amount: float, other: str) -> str:
    return "more" if amount > 0 else other
