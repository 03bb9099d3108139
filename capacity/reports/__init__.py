"""Reports: the plan as a workbook for people, as JSON for programs, as lines for a terminal."""

from capacity.reports.plan.by_suffix import report
from capacity.reports.plan.summary import summary, write_summary
from capacity.reports.plan.text import describe
from capacity.reports.plan.workbook import write_plan_workbook

__all__ = ["describe", "report", "summary", "write_plan_workbook", "write_summary"]
