"""What the page Base manager and its print are made of, worked out together."""

from dataclasses import dataclass

from capacity.man_hour_plan.man_hour_plan import man_hour_plan
from capacity.man_hour_plan.month_function import ManHourPlan
from capacity.questions.overtime.review import OvertimeReview, review_overtime
from capacity.reports.plan.view import View


@dataclass(frozen=True, slots=True)
class LabourView:
    """A plan with its overtime by week and crew and its man-hours by month."""

    view: View
    review: OvertimeReview
    months: ManHourPlan


def labour_of(view: View) -> LabourView:
    """Return the labour of a plan."""
    plan, base = view.outcome.plan, view.base
    return LabourView(view, review_overtime(base, plan), man_hour_plan(base, plan))
