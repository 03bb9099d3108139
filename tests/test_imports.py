"""Imports go one way, and only the named places import a solver or a spreadsheet library."""

import ast
from functools import cache
from pathlib import Path

import pytest

import capacity

ROOT = Path(capacity.__file__).parent
SOURCES = sorted(ROOT.rglob("*.py"))

ALLOWED_PLACES = {
    "ortools": ("slots/engines/", "crews/model/"),
    "highspy": ("slots/engines/",),
    "openpyxl": ("inputs/",),
    "pydantic": ("inputs/",),
    "xlsxwriter": ("reports/", "template/"),
    "numba": ("slots/finding/compiled_code.py",),
    "click": ("cli.py", "commands/"),
    "rich": ("progress_line.py",),
    "icalendar": ("reports/plan/calendar_feed.py",),
    "pandas": ("questions/frames/enquiries_replan.py", "questions/frames/others.py"),
    "sqlalchemy": ("store/",),
    "alembic": ("store/",),
    "altair": (),
    "streamlit": (),
}
# A folder may import those that come before it, and itself.
ORDER = (
    "escaped",
    "address_space",
    "child_process",
    "giving_way",
    "standard_streams",
    "stopping",
    "messages",
    "errors",
    "checked_settings",
    "cores",
    "search_settings",
    "settings",
    "facts",
    "words",
    "cells",
    "plans",
    "working_time",
    "inputs",
    "labour",
    "man_hour_plan",
    "cautions",
    "slots",
    "crews",
    "planning",
    "questions",
    "network",
)
TOP = (
    "reading",
    "reports",
    "progress_line",
    "store",
    "scenarios",
    "sign_in",
    "dashboard",
    "samples",
    "template",
    "commands",
    "cli",
    "__main__",
    "__init__",
)
# Rooms that are entered by some of their modules only ("" is the room itself); to the others every
# module outside the room is closed. A folder below a room is a room of its own.
ENTRANCES = {
    "facts": {""},
    "words": {"", "marks", "palette"},
    "inputs.checking": {"every_rule", "references"},
    "man_hour_plan": {"man_hour_plan", "messages", "month_function", "own_staff_share"},
    "crews": {"assign", "bought", "crew_plan", "crew_settings", "problem"},
    "crews.model": {"rules_apart", "solve"},
    "slots.candidates": {""},
    "slots.engines": {"highs", "near", "posting"},
    "slots.finding": {
        "cheapest_fill",
        "compiled_code",
        "cooling",
        "last_descent",
        "side",
        "wide_neighbourhoods",
    },
    "slots.proving": {"side"},
    "slots.search": {"fixed_first", "large_search", "refusals", "searching"},
    "network": {"rounds", "values"},
    "questions.by_hand": {"answering", "drafts", "values", "wording"},
    "questions.compare": {"cost_steps", "plan_of_checks", "two_plans"},
    "questions.enquiries": {"asked", "booking", "combinations", "values"},
    "questions.learn": {"estimate", "learning", "values"},
    "questions.key_figures": {"computed", "values"},
    "questions.overtime": {"limits", "measures", "review"},
    "questions.roll": {"files", "rolled_plan", "values"},
    "questions.why": {"blocked", "explain", "in_one_line", "values", "wording"},
    "questions.worth": {"selling", "values", "wording"},
    "reports.compare": {"from_files", "sheet_two_plans", "text", "workbook", "wording"},
    "reports.crews": {"calendars", "text", "wording", "workbook"},
    "reports.learn": {"text", "wording", "workbook"},
    "reports.network": {"files", "text", "workbook"},
    "reports.overtime": {"text", "workbook", "wording"},
    "reports.replan": {"sheet_changes", "text", "told", "wording", "workbook"},
    "reports.risk": {"sheet_risk", "text"},
    "reports.roll": {"files", "text"},
    "reports.why": {"sheet_why", "text"},
}


@cache
def imported(source: Path) -> frozenset[str]:
    tree = ast.parse(source.read_text(encoding="utf-8"))
    names = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{source}: imports are written out in full"
            folder = ROOT.parent.joinpath(*(node.module or "").split("."))
            inner = {a.name for a in node.names if (folder / f"{a.name}.py").exists()}
            names |= {f"{node.module}.{name}" for name in inner}
            if len(inner) < len(node.names):
                names.add(node.module or "")
    return frozenset(names)


def part(module: str) -> str:
    return module.split(".")[1] if "." in module else "__init__"


def test_only_the_named_places_import_heavy_libraries():
    assert len(SOURCES) > 400
    wrong = []
    for source in SOURCES:
        here = source.relative_to(ROOT).as_posix()
        for module in imported(source):
            places = ALLOWED_PLACES.get(module.split(".")[0])
            if places is not None and not here.startswith(places):
                wrong.append(f"{here} imports {module}")
    assert not wrong, "\n".join(wrong)


def test_only_sharings_of_man_hours_ask_the_small_solver():
    """Linear programs of a few weeks; whatever is larger is posted in ``slots/engines``."""
    asking = {
        source.relative_to(ROOT).as_posix()
        for source in SOURCES
        if "scipy.optimize" in imported(source)
    }
    assert asking <= {
        "labour/sharing.py",
        "slots/program/day_spread.py",
        "slots/program/levelled_load.py",
        "slots/program/spread_load.py",
    }


def test_imports_go_one_way():
    wrong = []
    for source in SOURCES:
        here = source.relative_to(ROOT).parts[0].removesuffix(".py")
        if here in TOP:
            continue
        before = ORDER[: ORDER.index(here) + 1]
        for module in imported(source):
            if module.startswith("capacity") and part(module) not in before:
                wrong.append(f"{source.relative_to(ROOT)} imports {module}")
    assert not wrong, "\n".join(wrong)


def rooms_of_modules() -> dict[str, str]:
    """Return the room of every module in which a file lies, by the module's full name."""
    rooms = {}
    for source in SOURCES:
        parts = ("capacity", *source.relative_to(ROOT).with_suffix("").parts)
        if parts[-1] == "__init__":
            rooms[".".join(parts[:-1])] = ".".join(parts[1:-1])
        else:
            rooms[".".join(parts)] = ".".join(parts[1:-1])
    return rooms


def test_rooms_are_entered_by_their_doors():
    """No other room imports an inner module, and no door is named that nobody goes through."""
    rooms = rooms_of_modules()
    used: dict[str, set[str]] = {room: set() for room in ENTRANCES}
    wrong = []
    for source in (*SOURCES, *(ROOT.parent / "ui").rglob("*.py")):
        here = ".".join(source.relative_to(ROOT.parent).parts[:-1]).removeprefix("capacity.")
        for module in imported(source):
            room = rooms.get(module)
            if room not in ENTRANCES or f"{here}.".startswith(f"{room}."):
                continue
            door = module.removeprefix(f"capacity.{room}").removeprefix(".")
            used[room].add(door)
            if door not in ENTRANCES[room]:
                wrong.append(f"{source.relative_to(ROOT.parent)} imports {module}")
    assert not wrong, "\n".join(wrong)
    assert used == ENTRANCES


def test_the_audit_shares_nothing_with_the_search():
    """But facts, settings and how a day or a list is written, by which nothing is worked out."""
    for source in (ROOT / "plans").glob("*.py"):
        for module in imported(source):
            own = not module.startswith("capacity") or part(module) in (
                "plans",
                "facts",
                "messages",
                "errors",
                "settings",
                "words",
            )
            assert own, f"{source.name} imports {module}"
            foreign = module.split(".")[0] in ("numpy", "scipy", "highspy", "ortools")
            assert not foreign, f"{source.name}: {module}"


def test_the_public_names_are_sorted_and_there():
    assert list(capacity.__all__) == sorted(capacity.__all__)
    for name in capacity.__all__:
        assert getattr(capacity, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        _ = capacity.nothing
