"""The year laid by hand as a workbook that a person can upload."""

from pathlib import Path

from tests.inputs.books import Sheets, write_workbook
from tests.ui.year_plan import year_base


def write_year(path: Path) -> Path:
    """Write the year; read back it is ``year_base()`` again."""
    return write_workbook(year_sheets(), path)


def year_sheets() -> Sheets:
    """Return the sheets of the year, a row a fact."""
    base = year_base()
    return {
        "Base": [
            ["Setting", "Value"],
            ["Base", base.name],
            ["First day", base.first_day],
            ["Weeks", base.weeks],
            ["Currency", base.currency],
            ["Working days", "Mon-Sun"],
            ["Holidays", "none"],
            ["Productivity %", 100 * base.productivity],
            ["Longest delay days", base.longest_delay_days],
            ["Overload cost", base.overload_cost],
        ],
        "Skills": [
            ["Skill", "Overtime cost", "Overtime cap %", "Contract cost", "Contract cap %"],
            *(
                [s.name, s.overtime_cost, 100 * s.overtime_cap, s.contract_cost,
                 100 * s.contract_cap]
                for s in base.skills
            ),
        ],
        "Bays": [
            ["Bay", "Hangar", "Max span m", "Max length m", "Max tail m", "Work"],
            *(
                [b.name, b.hangar, b.max_span_m, b.max_length_m, b.max_tail_m, ", ".join(b.work)]
                for b in base.bays
            ),
        ],
        "Bay closures": [
            ["Bay", "From", "To", "Reason"],
            *([c.bay, c.first, c.last, c.reason] for c in base.closures),
        ],
        "Aircraft types": [
            ["Type", "Span m", "Length m", "Tail m"],
            *([t.name, t.span_m, t.length_m, t.tail_m] for t in base.types),
        ],
        "Packages": [
            ["Package", "Stage", "After", "Work", "Days", "Findings %"],
            *(
                [p.name, s.name, ", ".join(s.after) or "-", s.work, s.days, 0]
                for p in base.packages for s in p.stages
            ),
        ],
        "Package hours": [
            ["Package", "Stage", "Skill", "Man-hours"],
            *(
                [p.name, s.name, skill, hours]
                for p in base.packages for s in p.stages for skill, hours in s.man_hours.items()
            ),
        ],
        "Checks": [
            ["Check", "Aircraft", "Type", "Package", "Customer", "Third party", "Status",
             "Earliest in", "Latest in", "Agreed out", "Early cost per day", "Late cost per day",
             "Fixed bay", "Fixed in"],
            *(
                [c.name, c.aircraft, c.type, c.package, c.customer or None,
                 "yes" if c.third_party else "no", c.status.value, c.earliest_in, c.latest_in,
                 c.agreed_out, c.early_cost_per_day, c.late_cost_per_day, c.fixed_bay, c.fixed_in]
                for c in base.checks
            ),
        ],
        "Crews": [
            ["Crew", "Skills", "Heads", "Pattern", "Starts cycle on", "Employment"],
            *(
                [c.name, ", ".join(c.skills), c.heads, c.pattern, c.starts_cycle_on,
                 c.employment.value]
                for c in base.crews
            ),
        ],
        "Shift patterns": [
            ["Pattern", "Cycle"],
            *([p.name, " ".join(shift or "-" for shift in p.cycle)] for p in base.patterns),
        ],
        "Shifts": [
            ["Shift", "Start", "Hours", "Night"],
            *([s.name, s.start, s.hours, "no"] for s in base.shifts),
        ],
    }  # fmt: skip
