"""Cross checks of the work that checks have beyond their package."""

from collections.abc import Iterator

from capacity.facts import with_extra
from capacity.inputs.checking.extra_stages import (
    extra_by_check,
    far_too_long,
    graphs_with_extra,
    new_stages,
    stages_of_check,
)
from capacity.inputs.checking.paces import shift_hours
from capacity.inputs.checking.packages import (
    LONGEST_PACKAGE,
    circle,
    nobody_has_it,
    sound_networks,
    stage_names,
)
from capacity.inputs.checking.repeated import repeated
from capacity.inputs.checking.work_left import work_left
from capacity.inputs.reading.facts_from_rows import NOTHING, packages_from
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import (
    BayRow,
    CheckRow,
    CrewRow,
    ExtraRow,
    HoursRow,
    ProgressRow,
    SkillRow,
)
from capacity.inputs.wording import nearest, suggest
from capacity.messages import Level, Message
from capacity.words import hours, listed

TINY = 1e-9
OF_NEW_STAGES = ("after", "work", "days")


def new_stages_are_told_whole(sheets: Sheets) -> Iterator[Message]:
    """Require ``Work`` and ``Days`` of a new stage, alike in all its rows; of no other one."""
    new, known = new_stages(sheets), stage_names(sheets)
    package_of = {check.check: check.package for check in sheets[CheckRow].rows}
    for check, stages in new.items():
        package = package_of[check]
        for name, rows in stages.items():
            for field in ("work", "days"):
                if all(getattr(row, field) is None for row in rows):
                    near = nearest(name, known.get(package, {}))
                    yield Message(
                        Level.ERROR,
                        sheets.at(rows[0], field),
                        f"'{name}' is not a stage of '{package}', the package of '{check}', so it "
                        f"is a new one, but its {rows[0].heading(field)} is blank.",
                        f"Did you mean '{near}'?" if near else "Fill it in.",
                    )
            yield from _not_alike(rows, check, name, sheets)
    for row in sheets[ExtraRow].rows:
        if row.stage in new.get(row.check, {}) or row.check not in package_of:
            continue
        if row.stage not in known.get(package_of[row.check], {}):
            continue
        for field in OF_NEW_STAGES:
            if getattr(row, field):
                yield Message(
                    Level.ERROR,
                    sheets.at(row, field),
                    f"{row.heading(field)} is for new stages, and '{row.stage}' is one of the "
                    f"package '{package_of[row.check]}'.",
                    "Clear it, or give the stage another name.",
                )


def _not_alike(rows: list[ExtraRow], check: str, name: str, sheets: Sheets) -> Iterator[Message]:
    for field in OF_NEW_STAGES:
        told = [row for row in rows if getattr(row, field)]
        for row in told[1:]:
            if getattr(row, field) != getattr(told[0], field):
                yield Message(
                    Level.ERROR,
                    sheets.at(row, field),
                    f"{row.heading(field)} of '{name}' of '{check}' is another one than in row "
                    f"{told[0].row}.",
                    "Make them alike, or fill it in once only.",
                )


def new_stages_come_after_others(sheets: Sheets) -> Iterator[Message]:
    """Require that ``After`` of a new stage names other stages of the check, in no circle."""
    known, new = stages_of_check(sheets), new_stages(sheets)
    for check, stages in new.items():
        for name, rows in stages.items():
            for row in rows:
                for before in row.after if row.after != (NOTHING,) else ():
                    where = sheets.at(row, "after")
                    if before == name:
                        what, remedy = f"'{name}' waits for itself.", "Name another stage."
                    elif before == NOTHING:
                        what, remedy = "there is a hyphen beside names.", "Use it alone, for none."
                    elif before not in known[check]:
                        what = f"'{before}' is not a stage of '{check}'."
                        remedy = suggest(before, known[check], "the check")
                    else:
                        continue
                    yield Message(Level.ERROR, where, what, remedy)
    for check, graph in graphs_with_extra(sheets).items():
        nodes = circle(graph)
        mine = [name for name in nodes if name in new[check]]
        if mine and len(set(nodes)) > 1:  # one that waits for itself has a message
            yield Message(
                Level.ERROR,
                sheets.at(new[check][mine[0]][0], "after"),
                f"stages of '{check}' wait for each other in a circle: {' after '.join(nodes)}.",
                "Take one of them out of After; blank is after the last stage, - is none.",
            )


def stages_of_checks_end(sheets: Sheets) -> Iterator[Message]:
    """Require a bearable number of days of each check with its new stages."""
    new = new_stages(sheets)
    for check, days in far_too_long(sheets).items():
        first = next(iter(new[check].values()))[0]
        yield Message(
            Level.ERROR,
            sheets.at(first, "days"),
            f"the stages of '{check}' have up to {days:,} days together, the new ones with them.",
            f"A check may have at most {LONGEST_PACKAGE:,}.",
        )


def extra_work_is_told_once(sheets: Sheets) -> Iterator[Message]:
    """Refuse two rows of one stage and skill of a check for the same reason."""
    for row, before in repeated(
        sheets[ExtraRow].rows, lambda row: (row.check, row.stage, row.skill, row.reason)
    ):
        yield Message(
            Level.ERROR,
            sheets.at(row, "check"),
            f"extra work of '{row.check}' in '{row.stage}' and '{row.skill}' for the reason "
            f"'{row.reason}' is here and in row {before.row}.",
            "Put the man-hours of both into one row.",
        )


def extra_work_finds_bays_and_people(sheets: Sheets) -> Iterator[Message]:
    """Require a bay for the work of a new stage; warn of a skill that nobody has."""
    kinds = dict.fromkeys(kind for bay in sheets[BayRow].rows for kind in bay.work)
    manned = {skill for crew in sheets[CrewRow].rows if crew.heads for skill in crew.skills}
    told = {row.skill for row in sheets[HoursRow].rows}
    for row in sheets[ExtraRow].rows:
        if row.work is not None and sheets[BayRow].whole and row.work not in kinds:
            yield Message(
                Level.ERROR,
                sheets.at(row, "work"),
                f"no bay does work of the kind '{row.work}'.",
                suggest(row.work, kinds, "the column Work of a bay"),
            )
        is_known = row.skill in sheets[SkillRow].named and sheets[CrewRow].whole
        if is_known and row.man_hours and row.skill not in manned | told:
            manned.add(row.skill)
            yield nobody_has_it(sheets, row)


def extra_hours_find_room(sheets: Sheets) -> Iterator[Message]:
    """Warn of a stage whose heads leave no room for its hours with the extra ones.

    man-hours / days <= Max heads x hours of the shifts x productivity, at its normal days.
    """
    plan = sheets.settings
    if plan is None or not sheets[CrewRow].whole:
        return
    packages, sound = {p.name: p for p in packages_from(sheets)}, sound_networks(sheets)
    extra = extra_by_check(sheets)
    rooms = {nights: shift_hours(sheets, nights=nights) for nights in (False, True)}
    for check in sheets[CheckRow].rows:
        if check.check not in extra or check.package not in sound:
            continue
        for stage in with_extra(packages[check.package], extra[check.check]).stages:
            if stage.max_heads is None or not stage.extra_hours:
                continue
            room = stage.max_heads * rooms[stage.by_night] * plan.productivity
            asked = sum(stage.asked_hours(check.findings_factor).values())
            if asked / stage.days > room + TINY:
                row = next(
                    row
                    for row in sheets[ExtraRow].rows
                    if (row.check, row.stage) == (check.check, stage.name)
                )
                yield Message(
                    Level.WARNING,
                    sheets.at(row, "man_hours"),
                    f"with its extra work '{stage.name}' of '{check.check}' has "
                    f"{hours(asked / stage.days)} a day, but Max heads {stage.max_heads} leaves "
                    f"room for {hours(room)}.",
                    "Give the extra work a new stage of its own, with its days.",
                )


def extra_work_is_to_come(sheets: Sheets) -> Iterator[Message]:
    """Warn of extra work on a stage that is done: its hours are not planned.

    A note where a row of Progress says itself that the stage is done: its extra work with it.
    """
    checks, left = {check.check: check for check in sheets[CheckRow].rows}, work_left(sheets)
    said: set[tuple[str, str]] = set()
    told = {(row.check, row.stage) for row in sheets[ProgressRow].rows}
    for row in sheets[ExtraRow].rows:
        check = checks.get(row.check)
        if check is None or check.row not in left or (row.check, row.stage) in said:
            continue
        to_come = [stage.name for stage in left[check.row].stages]
        if row.stage not in to_come:
            said.add((row.check, row.stage))
            open_ones = f" Open are {listed(to_come)}." if to_come else ""
            yield Message(
                Level.NOTE if (row.check, row.stage) in told else Level.WARNING,
                sheets.at(row, "stage"),
                f"'{row.stage}' of '{row.check}' is done, so its extra work is not planned.",
                "Give it to a stage that is not done, or to a new one; delete the row when it is "
                f"done.{open_ones}",
            )
