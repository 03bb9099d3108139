"""What the board draws as rows of tables."""

from capacity.reports.plan.view import View
from capacity.words import week_dates
from ui.manager.heat_rows import band_of, printed
from ui.rows import TableRow


def bay_table(view: View) -> list[TableRow]:
    """Return a row a stay, in order of in day, then the checks without a slot."""
    rows: list[TableRow] = []
    for placement in view.placements:
        check = view.base.check(placement.check)
        rows.append(
            {
                "Check": check.name,
                "Aircraft": check.aircraft,
                "Package": check.package,
                "Customer": check.customer,
                "Status": check.status.value,
                "Bay": placement.bay,
                "In": placement.in_day,
                "Out": placement.out_day,
                "Latest in": check.latest_in,
                "Agreed out": view.agreed_out(placement),
                "Remark": view.remarks_at(placement),
            }
        )
    plan = view.outcome.plan
    for names, slot in ((plan.not_placed, "no slot"), (plan.refused, "not taken")):
        for check in (view.base.check(name) for name in names if view.base.has_check(name)):
            rows.append(
                {
                    "Check": check.name,
                    "Aircraft": check.aircraft,
                    "Package": check.package,
                    "Customer": check.customer,
                    "Status": check.status.value,
                    "Bay": "",
                    "In": None,
                    "Out": None,
                    "Latest in": check.latest_in,
                    "Agreed out": check.agreed_out,
                    "Remark": slot,
                }
            )
    return rows


def week_table(view: View) -> list[TableRow]:
    """Return a row a week and skill, with all hours of the columns."""
    return [
        {
            "Week": load.week,
            "From": week_dates(load.week)[0],
            "Skill": load.skill,
            "Used": printed(load),
            "What": band_of(load).value,
            "Demand (man-hours)": round(load.demand, 1),
            "Regular (man-hours)": round(load.regular, 1),
            "Overtime (man-hours)": round(load.overtime, 1),
            "Contract (man-hours)": round(load.contract, 1),
            "Overload (man-hours)": round(load.overload, 1),
        }
        for load in view.outcome.audit.weeks
    ]
