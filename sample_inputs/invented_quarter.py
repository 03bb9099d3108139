"""The tables of quarter.xlsx, put together from the invented base, packages and checks."""

import invented_base as base
from invented_checks import CHECKS
from invented_packages import BY_DAY, PACKAGES, PAINT

Rows = list[tuple[object, ...]]


def quarter() -> dict[str, Rows]:
    """Return all sheets of the quarter, each with its headings first."""
    return {
        "Base": base.BASE,
        "Skills": base.SKILLS,
        "Bays": base.BAYS,
        "Bay closures": base.CLOSURES,
        "Aircraft types": base.TYPES,
        "Packages": _stages(),
        "Package hours": _man_hours(),
        "Checks": CHECKS,
        "Crews": base.CREWS,
        "Shift patterns": base.PATTERNS,
        "Shifts": base.SHIFTS,
        "Absence": base.ABSENCE,
    }


def _stages() -> Rows:
    rows: Rows = [("Package", "Stage", "After", "Work", "Days", "Findings %", "By night")]
    for package, lines in PACKAGES.items():
        work = "paint" if package in PAINT else "maintenance"
        for stage, after, days, findings, _ in lines:
            by_night = "no" if stage in BY_DAY else "yes"
            rows.append((package, stage, after, work, days, findings, by_night))
    return rows


def _man_hours() -> Rows:
    skills = [row[0] for row in base.SKILLS[1:]]
    rows: Rows = [("Package", "Stage", "Skill", "Man-hours")]
    for package, lines in PACKAGES.items():
        for stage, _, _, _, hours in lines:
            for skill, asked in zip(skills, hours, strict=True):
                if asked:
                    rows.append((package, stage, skill, asked))
    return rows
