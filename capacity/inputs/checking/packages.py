"""Cross checks of packages: their stages, what waits for what, their man-hours."""

from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter

from capacity.inputs.reading.facts_from_rows import NOTHING, stages_with_after
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import BayRow, CrewRow, ExtraRow, HoursRow, SkillRow, StageRow
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message

LONGEST_PACKAGE = 2_000  # days of all stages together; far longer than any check


def stage_names(sheets: Sheets) -> dict[str, dict[str, int]]:
    """Return the rows of the stages of every package by name, faulty ones too."""
    found: dict[str, dict[str, int]] = {}
    for row, (package, stage) in sheets[StageRow].identities:
        found.setdefault(package, {}).setdefault(stage, row)
    return found


def after_names_stages(sheets: Sheets) -> Iterator[Message]:
    """Require that ``After`` names other stages of the same package."""
    if not sheets[StageRow].names_known:
        return
    known = stage_names(sheets)
    for row in sheets[StageRow].rows:
        if row.after == (NOTHING,):
            continue
        for name in row.after:
            where = sheets.at(row, "after")
            if name == row.stage:
                what, remedy = f"the stage '{name}' waits for itself.", "Name another stage."
            elif name == NOTHING:
                what, remedy = "there is a hyphen beside names.", "Use it alone, for no stage."
            elif name not in known[row.package]:
                what = f"'{name}' is not a stage of the package '{row.package}'."
                remedy = suggest(name, known[row.package], "the package")
            else:
                continue
            yield Message(Level.ERROR, where, what, remedy)


def circle(graph: dict[str, tuple[str, ...]]) -> list[str]:
    """Return the stages of one circle in which each waits for the next; empty if none."""
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as found:
        nodes: list[str] = found.args[1]
        return nodes[::-1]  # it lists them with each before the one that waits for it
    return []


def networks(sheets: Sheets) -> dict[str, dict[str, tuple[str, ...]]]:
    """Return what each stage waits for, of the packages that are sound so far.

    Packages with a faulty row, and those with a name in ``After`` that is no other stage of
    theirs, are left out: they have their messages.
    """
    graphs: dict[str, dict[str, tuple[str, ...]]] = {}
    for row, after in stages_with_after(sheets):
        graphs.setdefault(row.package, {})[row.stage] = after
    return {
        package: graph
        for package, graph in graphs.items()
        if sheets[StageRow].whole_for(package)
        and all(name in graph and name != stage for stage, after in graph.items() for name in after)
    }


def stages_do_not_wait_in_a_circle(sheets: Sheets) -> Iterator[Message]:
    """Require that no stage waits for itself by way of others."""
    rows = stage_names(sheets)
    for package, graph in networks(sheets).items():
        if nodes := circle(graph):
            yield Message(
                Level.ERROR,
                sheets[StageRow].places.cell(rows[package][nodes[0]], "After"),
                f"stages of the package '{package}' wait for each other in a circle: "
                f"{' after '.join(nodes)}.",
                "Take one of them out of After; a blank After is the row above, - is none.",
            )


def days_in_all(sheets: Sheets) -> dict[str, int]:
    """Return the days of all stages together, each at its longest, by package."""
    days: dict[str, int] = {}
    for row in sheets[StageRow].rows:
        days[row.package] = days.get(row.package, 0) + max(row.days, row.longest_days or 0)
    return days


def packages_end(sheets: Sheets) -> Iterator[Message]:
    """Require a bearable number of days of each package."""
    for package, days in days_in_all(sheets).items():
        if days > LONGEST_PACKAGE:
            yield Message(
                Level.ERROR,
                sheets[StageRow].places.of(package, "Days"),
                f"the stages of the package '{package}' have up to {days:,} days together.",
                f"A package may have at most {LONGEST_PACKAGE:,}.",
            )


def sound_networks(sheets: Sheets) -> dict[str, dict[str, tuple[str, ...]]]:
    """Return the networks without a circle and of a bearable length."""
    length = days_in_all(sheets)
    return {
        package: graph
        for package, graph in networks(sheets).items()
        if length[package] <= LONGEST_PACKAGE and not circle(graph)
    }


def hours_name_stages(sheets: Sheets) -> Iterator[Message]:
    """Require that man-hours belong to a stage that the package has."""
    if not sheets[StageRow].names_known:
        return
    known = stage_names(sheets)
    for row in sheets[HoursRow].rows:
        if row.package in known and row.stage not in known[row.package]:
            yield Message(
                Level.ERROR,
                sheets.at(row, "stage"),
                f"'{row.stage}' is not a stage of the package '{row.package}'.",
                suggest(row.stage, known[row.package], "the sheet Packages"),
            )


def packages_have_hours(sheets: Sheets) -> Iterator[Message]:
    """Warn of a package without man-hours: they were likely forgotten."""
    hours = sheets[HoursRow]
    if not hours.names_known:
        return
    for package in sheets[StageRow].named:
        if package not in hours.named:
            yield Message(
                Level.WARNING,
                sheets[StageRow].places.of(package),
                f"the package '{package}' has no man-hours, so its checks have no demand.",
                "Add them to the sheet Package hours.",
            )


def material_stands_once(sheets: Sheets) -> Iterator[Message]:
    """Refuse a material cost in another row than the first of its package: it is of the whole."""
    if not sheets[StageRow].names_known:
        return
    first = sheets[StageRow].named
    for row in sheets[StageRow].rows:
        if row.material_cost is not None and row.row != first[row.package]:
            to = sheets[StageRow].places.cell(first[row.package], row.heading("material_cost"))
            yield Message(
                Level.ERROR,
                sheets.at(row, "material_cost"),
                f"Material cost is that of the whole package '{row.package}', whose first row "
                f"is row {first[row.package]}.",
                f"Type the cost of all its stages into {to}, and clear this cell.",
            )


def work_is_done_somewhere(sheets: Sheets) -> Iterator[Message]:
    """Require that every kind of work of a stage is done in some bay."""
    if not sheets[BayRow].whole:
        return
    known = dict.fromkeys(kind for bay in sheets[BayRow].rows for kind in bay.work)
    for row in sheets[StageRow].rows:
        if row.work not in known:
            yield Message(
                Level.ERROR,
                sheets.at(row, "work"),
                f"no bay does work of the kind '{row.work}'.",
                suggest(row.work, known, "the column Work of a bay"),
            )


def nobody_has_it(sheets: Sheets, row: HoursRow | ExtraRow) -> Message:
    """Return the warning that a skill which a row asks for has no people."""
    return Message(
        Level.WARNING,
        sheets.at(row, "skill"),
        f"nobody has the skill '{row.skill}'; all its man-hours will be overload, "
        "because caps are a share of the crews' hours.",
        "Add a crew to the sheet Crews, or heads to one.",
    )


def skills_have_crews(sheets: Sheets) -> Iterator[Message]:
    """Warn of a skill that is asked for and has no people: all its hours are overload."""
    if not sheets[CrewRow].whole:
        return
    manned = {skill for crew in sheets[CrewRow].rows if crew.heads for skill in crew.skills}
    for row in sheets[HoursRow].rows:
        if row.skill in manned or not row.man_hours or row.skill not in sheets[SkillRow].named:
            continue
        manned.add(row.skill)
        yield nobody_has_it(sheets, row)
