"""The tables of quarter.xlsx, put together from the invented base, packages and checks."""

import invented_base as base
import invented_equipment as shared
import invented_functions as functions
import invented_stage_rules as rules
from invented_checks import CHECKS
from invented_delivered import PACKAGE, delivered
from invented_packages import MATERIAL, PACKAGES, TYPES_OF_SIZE
from invented_progress import COLUMNS_OF_CHECKS, EXTRA_WORK, OF_CHECKS, PROGRESS, READY_DATES

Rows = list[tuple[object, ...]]

STAGE_HEADINGS = (
    "Package",
    "Stage",
    "After",
    "Work",
    "Days",
    "Shortest days",
    "Longest days",
    "Equipment",
    "Max heads",
    "Alone",
    "Daily peak %",
    "Into float",
    "Findings %",
    "Findings spread %",
    "Critical",
    "By night",
    "Types",
    "Material cost",
)

FIRST_PLANS = {
    "W-01": ("2026-12-03", "2027-01-25"),
    "W-02": ("2026-12-28", "2027-01-22"),
    "N-01": ("2026-12-14", "2027-01-20"),
    "R-01": ("2026-12-28", "2027-01-15"),
}


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
        "Checks": _with_first_plans(_checks()),
        "Progress": PROGRESS,
        "Extra work": EXTRA_WORK,
        "Ready dates": READY_DATES,
        "Crews": _crews(),
        "Shift patterns": base.PATTERNS,
        "Shifts": base.SHIFTS,
        "Absence": base.ABSENCE,
        "Licences": base.LICENCES,
        "Base calendar": base.CALENDAR,
        "Equipment": shared.EQUIPMENT,
        "Equipment outages": shared.OUTAGES,
        "Shops": shared.SHOPS,
        "Shop loops": shared.LOOPS,
        "Functions": functions.FUNCTIONS,
        "Function absence": functions.FUNCTION_ABSENCE,
        "Delivered": delivered(PACKAGES[PACKAGE]),
    }


def _with_first_plans(checks: Rows) -> Rows:
    """Return the checks with the in and out day of the plans with which some came in."""
    headings, *rows = checks
    return [
        (*headings, "Planned in", "Planned out"),
        *((*row, *FIRST_PLANS.get(str(row[0]), (None, None))) for row in rows),
    ]


def _stages() -> Rows:
    rows: Rows = [STAGE_HEADINGS]
    for package, lines in PACKAGES.items():
        # Every package is for one size of aircraft; its first row says so, and what material costs.
        types: str | None = TYPES_OF_SIZE[package.split()[0]]
        material: int | None = MATERIAL[package]
        for stage, after, days, findings, _ in lines:
            shortest, longest = rules.FLEXIBLE.get((package, stage), (None, None))
            equipment = rules.EQUIPMENT_IN.get((package, stage), rules.EQUIPMENT_OF.get(stage))
            peak, into_float = _levelling(stage, equipment)
            rows.append(
                (
                    package,
                    stage,
                    after,
                    "paint" if stage in rules.PAINT else "maintenance",
                    days,
                    shortest,
                    longest,
                    equipment,
                    rules.MAX_HEADS.get(stage),
                    "yes" if stage in rules.ALONE else None,
                    peak,
                    into_float,
                    findings,
                    rules.SPREAD.get(stage, rules.USUAL_SPREAD) if findings else None,
                    "yes" if stage in rules.CRITICAL else None,
                    "no" if stage in rules.BY_DAY else "yes",
                    types,
                    material,
                )
            )
            types = material = None
    return rows


def _levelling(stage: str, equipment: str | None) -> tuple[int | None, str | None]:
    """Return what stands in the columns Daily peak % and Into float.

    Equipment goes on to the next aircraft on its day, so its hours stay where they are.
    """
    if stage in rules.EVENLY:
        return 100, "no"
    if stage in rules.LEVELLED and equipment is None:
        return rules.LEVELLED_PEAK, "yes"
    return None, None


def _checks() -> Rows:
    """Return the checks with the columns that few of them use."""
    headings = (*CHECKS[0], *COLUMNS_OF_CHECKS)
    rows: Rows = [headings]
    for row in CHECKS[1:]:
        cells = dict(zip(CHECKS[0], row, strict=True)) | OF_CHECKS.get(str(row[0]), {})
        rows.append(tuple(cells.get(heading) for heading in headings))
    return rows


def _crews() -> Rows:
    """Return the crews with the span of days that some are there for, and what is guaranteed."""
    rows: Rows = [(*base.CREWS[0], "From", "To", "Guaranteed hours a week")]
    rows += [(*row, *base.THERE.get(str(row[0]), (None, None, None))) for row in base.CREWS[1:]]
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
