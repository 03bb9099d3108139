"""All rows of the board: the plan of a view, and upon it what other parts know of it."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from capacity.reports.plan.view import View
from capacity.words import percent
from ui.board.rows import Block, BoardRows, Cell, CheckNote, Notes, Waiting, Week
from ui.planner import week_rows as hours
from ui.planner.bay_rows import bay_rows, by_hangar, days_off
from ui.planner.block_rows import blocks_of, works_of
from ui.planner.span import span_of
from ui.planner.taken_rows import taken_of
from ui.planner.waiting_rows import waiting_of


def board_rows(view: View) -> BoardRows:
    """Return the rows of a plan, without today's line and notes."""
    base = by_hangar(view.base)
    span = span_of(view)
    blocks = blocks_of(view, base, span)
    weeks = hours.weeks_of(view, span)
    in_before = any(placement.in_day < base.first_day for placement in view.placements)
    return BoardRows(
        first=span.first,
        day_count=span.day_count,
        today=None,
        begins=span.number(base.first_day) if in_before else None,
        bays=bay_rows(base, blocks),
        blocks=blocks,
        waiting=waiting_of(view, span),
        taken=taken_of(view, base, span),
        off=days_off(base, span),
        works=works_of(base),
        weeks=weeks,
        skills=tuple(skill.name for skill in base.skills),
        cells=hours.cells_of(view, weeks),
        hours=tuple(
            hours.skill_hours(view, skill, weeks) for skill in hours.skills_worst_first(view)
        ),
    )


def with_today(rows: BoardRows, today: date) -> BoardRows:
    """Return the rows with today's line, if that day is drawn."""
    number = (today - rows.first).days
    return replace(rows, today=number if 0 <= number < rows.day_count else None)


def with_notes(rows: BoardRows, notes: Notes) -> BoardRows:
    """Return the rows with what other parts know, each note in the words of its tip as well."""
    return replace(
        rows,
        blocks=tuple(_block(block, notes.checks.get(block.check)) for block in rows.blocks),
        waiting=tuple(_waits(one, notes.checks.get(one.check)) for one in rows.waiting),
        cells=tuple(_cell(cell, rows.weeks, rows.skills, notes) for cell in rows.cells),
    )


def _block(block: Block, note: CheckNote | None) -> Block:
    if note is None:
        return block
    told = [*block.told]
    if note.out_by_its_day is not None and block.agreed is not None:
        told.append(f"Out by its Agreed out in {percent(note.out_by_its_day)} of simulations")
    if note.moved:
        told.append(f"Moved: {note.moved}")
    held = note.held or block.held
    if held:
        told.append(f"Held: {held}")
    return replace(
        block, out_by_its_day=note.out_by_its_day, held=held, moved=note.moved, told=tuple(told)
    )


def _waits(waiting: Waiting, note: CheckNote | None) -> Waiting:
    if note is None:
        return waiting
    told = [*waiting.told, *([f"Moved: {note.moved}"] if note.moved else [])]
    return replace(waiting, moved=note.moved, held=note.held or waiting.held, told=tuple(told))


def _cell(cell: Cell, weeks: Sequence[Week], skills: Sequence[str], notes: Notes) -> Cell:
    note = notes.weeks.get((weeks[cell.week].name, skills[cell.skill]))
    if note is None or note.at_risk is None:
        return cell
    told = (*cell.told, f"Overload in {percent(note.at_risk)} of simulations")
    return replace(cell, at_risk=note.at_risk, told=told)
