"""A plan file and the workbook that it is read with: what has changed, and what cannot be right."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from capacity.errors import InputError
from capacity.facts import Base, Check, Status
from capacity.messages import Level, Message
from capacity.plans.plan import Placement
from capacity.reports.plan_files.fingerprint import fingerprint_of
from capacity.reports.plan_files.json_reader import error
from capacity.reports.plan_files.made import Made, is_newer, tool_version
from capacity.reports.plan_files.written import PlanFile
from capacity.words import day, quoted

MOST_NAMES = 6
"""Names given of a sheet and kind of change; of more, only their number."""

PLAN_AGAIN = "Plan again (plan or replan, with --plan), and ask about that plan."


@dataclass(frozen=True, slots=True)
class SheetChange:
    """The names of a sheet under which the workbook says other things than for the plan."""

    sheet: str
    changed: tuple[str, ...]
    added: tuple[str, ...]
    gone: tuple[str, ...]


def base_of_plan_file(file: PlanFile, base: Base) -> Base:
    """Return the base as the plan has it: its day for work left, what is done, and checks held.

    Raises
    ------
    InputError
        When that day lies after the last one on which a check of the base may come in.
    """
    made = file.made
    if made is None:
        return base
    if made.work_counts_from is not None and made.work_counts_from > base.last_in_day:
        what = (
            f"its work left counts from {day(made.work_counts_from)}, after "
            f"{day(base.last_in_day)}, the last day on which a check can come in by the workbook."
        )
        raise InputError([error(file.name, what, "Raise Weeks, or give a plan of these weeks.")])
    first: dict[str, Placement] = {}
    for placement in file.plan.placements:  # in order of in day
        first.setdefault(placement.check, placement)
    return base.replace(
        work_counts_from=made.work_counts_from,
        work_done=made.work_done,
        checks=tuple(
            _held(check, first[check.name])
            if check.name in made.held and check.name in first
            else check
            for check in base.checks
        ),
    )


def _held(check: Check, placement: Placement) -> Check:
    if check.status is Status.FIXED:
        return check
    return replace(check, status=Status.FIXED, fixed_bay=placement.bay, fixed_in=placement.in_day)


def refuse_other_base(file: PlanFile, base: Base) -> None:
    """Refuse a plan of another base.

    Raises
    ------
    InputError
        When the file names another base, or none of its checks is in this one.
    """
    made = file.made
    if made is not None and made.base != base.name:
        what = f"this is a plan of the base '{made.base}', but the workbook is of '{base.name}'."
        remedy = (
            f"Give a plan of '{base.name}'. If the base has only been renamed, plan anew, without "
            "this file, or give it its old name in the sheet Base."
        )
        raise InputError([error(file.name, what, remedy)])
    placed = [placement.check for placement in file.plan.placements]
    named = tuple(dict.fromkeys((*placed, *file.plan.not_placed)))
    if named and not set(named) & {check.name for check in base.checks}:
        what = f"none of its checks is in the workbook, so it is a plan of another: {_few(named)}."
        raise InputError([error(file.name, what, "Give a plan of this workbook.")])


def changes_since(made: Made, base: Base) -> tuple[SheetChange, ...]:
    """Return what the workbook, read as ``base``, says otherwise than when the plan was made."""
    now = fingerprint_of(base)
    found = []
    for sheet in dict.fromkeys((*made.workbook, *now)):
        before, after = made.workbook.get(sheet, {}), now.get(sheet, {})
        change = SheetChange(
            sheet,
            changed=tuple(n for n in after if n in before and before[n] != after[n]),
            added=tuple(n for n in after if n not in before),
            gone=tuple(n for n in before if n not in after),
        )
        if change.changed or change.added or change.gone:
            found.append(change)
    return tuple(found)


def notes_about(file: PlanFile, base: Base) -> tuple[Message, ...]:
    """Return what is to be said of a plan file that is read with the workbook of ``base``."""
    return tuple(_notes(file, base))


def _notes(file: PlanFile, base: Base) -> Iterator[Message]:
    made = file.made
    if made is None:
        what = "an older version wrote it, without the state of the workbook that it was made for."
        yield Message(Level.NOTE, file.name, what, "Plan again; the new plan file says so.")
        return
    here = tool_version()
    if is_newer(made.version, here):
        what = f"version {made.version} of this program wrote it, and this is {here}."
        yield Message(
            Level.NOTE,
            file.name,
            what,
            "What the newer version added is not read: better use that version.",
        )
    if changes := changes_since(made, base):
        what = (
            f"the workbook has changed since this plan was made ({when(made)}): "
            f"{changes_in_words(changes)}."
        )
        yield Message(Level.NOTE, file.name, what, "Make sure that this is intended.")


def when(made: Made) -> str:
    """Return when a plan file was made, such as ``Mon 4 Jan 2027 09:30 UTC``."""
    return f"{day(made.time.date())} {made.time:%H:%M} UTC"


def changes_in_words(changes: tuple[SheetChange, ...]) -> str:
    """Return ``Checks: 'C1' changed, 'C9' added; Package hours: 'heavy' changed``."""
    return "; ".join(
        f"{change.sheet}: "
        + ", ".join(
            f"{_few(names)} {word}"
            for names, word in (
                (change.changed, "changed"),
                (change.added, "added"),
                (change.gone, "removed"),
            )
            if names
        )
        for change in changes
    )


def _few(names: tuple[str, ...]) -> str:
    if len(names) > MOST_NAMES:
        return f"{quoted(names[:MOST_NAMES])} and {len(names) - MOST_NAMES} more"
    return quoted(names)
