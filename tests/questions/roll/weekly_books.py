"""Invented workbooks of a small base that goes from week to week, and their plans.

Bays that maintain and one that paints, crews of two skills, packages with stages side by side,
at several paces and in one case with a move; own fleet, customers and options. All drawn.
"""

from datetime import date, time, timedelta
from pathlib import Path
from random import Random

import capacity
from capacity.facts import Base
from capacity.plans.plan import Plan
from tests.inputs.books import Sheets, write_workbook

FIRST_DAY = date(2027, 1, 4)
MECHANIC, CABIN = "mechanic", "cabin"


def day(number: int) -> date:
    """Count days from the first day."""
    return FIRST_DAY + timedelta(days=number)


def weekly_book(seed: int, *, checks: int = 7, weeks: int = 6, paint: bool = True) -> Sheets:
    """Return the sheets of a base; the same for the same seed."""
    random = Random(seed)
    bays = [["B1", 40, 45, 14, "maintenance", 1], ["B2", 40, 45, 14, "maintenance", 0]]
    if paint:
        bays.append(["P1", 40, 45, 14, "paint", 0])
    stages: list[list[object]] = []
    hours: list[list[object]] = []
    for package in ("short", "long"):
        size = 1 if package == "short" else 2
        inspect = random.randint(2, 3) * size
        stages += [
            [package, "open", "-", "maintenance", size, None, None, 0, 0],
            [package, "inspect", "open", "maintenance", inspect, inspect - 1, inspect + 1, 40, 30],
            [package, "cabin", "open", "maintenance", random.randint(2, 5), None, None, 15, 25],
            [package, "close", "inspect, cabin", "maintenance", size, None, None, 0, 0],
        ]
        if package == "long" and paint:
            stages.append([package, "paint", "close", "paint", 2, None, None, 0, 0])
        for name, skill, most in (
            ("open", MECHANIC, 40), ("inspect", MECHANIC, 90), ("inspect", CABIN, 20),
            ("cabin", CABIN, 60), ("close", MECHANIC, 40),
        ):  # fmt: skip
            hours.append([package, name, skill, size * random.randint(most // 2, most)])
        if package == "long" and paint:
            hours.append([package, "paint", MECHANIC, random.randint(20, 40)])
    rows: list[list[object]] = []
    for number in range(checks):
        opens = random.randint(0, 7 * (weeks - 2))
        latest = opens + random.randint(4, 12)
        is_option = number >= checks - 2
        package = random.choice(("short", "long"))
        rows.append([
            f"C{number + 1}", f"N-{number + 1}", "T30", package, "own", "no",
            "option" if is_option else "booked", day(opens), day(latest),
            day(latest + random.randint(14, 20)), random.choice((50, 120)),
            random.choice((300, 700)), 6000 if is_option else None, 1,
        ])  # fmt: skip
    return {
        "Base": [["Setting", "Value"], ["Base", "Weekfield"], ["First day", FIRST_DAY],
                 ["Weeks", weeks], ["Working days", "Mon-Fri"], ["Productivity %", 80],
                 ["Longest delay days", 14]],
        "Skills": [["Skill", "Overtime cost", "Overtime cap %", "Contract cost", "Contract cap %"],
                   [MECHANIC, 60, 20, 90, 25], [CABIN, 65, 20, 95, 25]],
        "Bays": [["Bay", "Max span m", "Max length m", "Max tail m", "Work", "Changeover days"],
                 *bays],
        "Bay closures": [["Bay", "From", "To", "Reason"],
                         ["B2", day(2), day(3), "door"], ["B2", day(37), day(38), "floor"]],
        "Aircraft types": [["Type", "Span m", "Length m", "Tail m"], ["T30", 34, 38, 12]],
        "Packages": [["Package", "Stage", "After", "Work", "Days", "Shortest days",
                      "Longest days", "Findings %", "Findings spread %"], *stages],
        "Package hours": [["Package", "Stage", "Skill", "Man-hours"], *hours],
        "Checks": [["Check", "Aircraft", "Type", "Package", "Customer", "Third party", "Status",
                    "Earliest in", "Latest in", "Agreed out", "Early cost per day",
                    "Late cost per day", "Price", "Findings factor"], *rows],
        "Crews": [["Crew", "Skills", "Heads", "Pattern", "Starts cycle on"],
                  ["red", MECHANIC, 5, "days", FIRST_DAY], ["blue", CABIN, 3, "days", FIRST_DAY]],
        "Shift patterns": [["Pattern", "Cycle"], ["days", "D D D D D - -"]],
        "Shifts": [["Shift", "Start", "Hours"], ["D", time(6, 0), 7.5]],
        "Shops": [["Shop", "Items per day"], ["cabin shop", random.choice((0.5, 1))]],
        "Shop loops": [["Package", "Shop", "Items", "Leave at", "Back for"],
                       ["long", "cabin shop", random.randint(2, 3), "open", "close"]],
        "Absence": [["Crew", "From", "To", "Heads", "Reason"],
                    ["red", day(0), day(4), 1, "training"], ["red", day(9), day(18), 1, "leave"]],
    }  # fmt: skip


def planned_book(folder: Path, seed: int, seconds: float = 2.0, **more: int) -> tuple[Path, Plan]:
    """Return a workbook and its plan."""
    path = write_workbook(weekly_book(seed, **more), folder / "week.xlsx")
    return path, plan_of(capacity.read(path), seconds)


def plan_of(base: Base, seconds: float, begin: Plan | None = None) -> Plan:
    """Return a plan of a base; the search is short."""
    outcome = capacity.plan(base, capacity.Settings(seconds=seconds), begin=begin)
    assert isinstance(outcome, capacity.Planned), outcome
    return outcome.plan
