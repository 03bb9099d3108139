"""The stages that checks have by the sheet ``Extra work``, and whether they have an order."""

from capacity.facts import ExtraWork
from capacity.inputs.checking.packages import (
    LONGEST_PACKAGE,
    circle,
    days_in_all,
    networks,
    stage_names,
)
from capacity.inputs.reading.facts_from_rows import extra_work_from
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CheckRow, ExtraRow, StageRow


def extra_by_check(sheets: Sheets) -> dict[str, tuple[ExtraWork, ...]]:
    """Return the extra work of each check, by its name."""
    found: dict[str, tuple[ExtraWork, ...]] = {}
    for row in extra_work_from(sheets):
        found[row.check] = (*found.get(row.check, ()), row)
    return found


def new_stages(sheets: Sheets) -> dict[str, dict[str, list[ExtraRow]]]:
    """Return the rows of the stages that checks have beyond their package, by check and stage.

    Only of checks whose package could be read whole, so that nothing is taken for new wrongly.
    """
    known = stage_names(sheets)
    package_of = {check.check: check.package for check in sheets[CheckRow].rows}
    found: dict[str, dict[str, list[ExtraRow]]] = {}
    for row in sheets[ExtraRow].rows:
        package = package_of.get(row.check)
        if package is None or not sheets[StageRow].whole_for(package):
            continue
        if row.stage not in known.get(package, {}):
            found.setdefault(row.check, {}).setdefault(row.stage, []).append(row)
    return found


def stages_of_check(sheets: Sheets) -> dict[str, dict[str, int]]:
    """Return the names of all stages of each check of a known package, with some row of theirs."""
    known, new = stage_names(sheets), new_stages(sheets)
    return {
        check.check: {
            **known[check.package],
            **{name: rows[0].row for name, rows in new.get(check.check, {}).items()},
        }
        for check in sheets[CheckRow].rows
        if check.package in known
    }


def graphs_with_extra(sheets: Sheets) -> dict[str, dict[str, tuple[str, ...]]]:
    """Return what each stage of a check with new ones waits for, if all names are known."""
    sound, extra = networks(sheets), extra_by_check(sheets)
    package_of = {check.check: check.package for check in sheets[CheckRow].rows}
    found = {}
    for check, stages in new_stages(sheets).items():
        package = package_of[check]
        if package not in sound:
            continue
        last = list(sound[package])[-1]
        graph = dict(sound[package])
        for name in stages:
            told = [row.after for row in extra[check] if row.stage == name]
            graph[name] = next((after for after in told if after is not None), (last,))
        if all(name in graph for after in graph.values() for name in after):
            found[check] = graph
    return found


def unsound_extra(sheets: Sheets) -> frozenset[str]:
    """Return the checks whose stages cannot be laid out, since their extra work has a fault."""
    if not sheets[ExtraRow].whole:
        return frozenset(row.check for row in sheets[CheckRow].rows)
    graphs = graphs_with_extra(sheets)
    unsound = set()
    for check, stages in new_stages(sheets).items():
        whole = all(
            any(row.work for row in rows) and any(row.days for row in rows)
            for rows in stages.values()
        )
        if not whole or check not in graphs or circle(graphs[check]):
            unsound.add(check)
    return frozenset(unsound) | set(far_too_long(sheets))


def far_too_long(sheets: Sheets) -> dict[str, int]:
    """Return the days of all stages together, where those of a check with new ones are too many."""
    of_package = days_in_all(sheets)
    package_of = {check.check: check.package for check in sheets[CheckRow].rows}
    found = {}
    for check, stages in new_stages(sheets).items():
        of_new = sum(max((row.days or 0 for row in rows), default=0) for rows in stages.values())
        days = of_package.get(package_of[check], 0) + of_new
        if days > LONGEST_PACKAGE:
            found[check] = days
    return found
