"""Serve the dashboard, with the plan of one workbook known beforehand: the year laid by hand.

Takes the arguments of ``ui.serving.server``. A search for a year goes on for minutes; what a
page does with its plan does not hang on how it was found. Every other workbook is searched as ever.
"""

import sys
from pathlib import Path

ROOT = str(Path(__file__).parents[2])
if ROOT not in sys.path:
    sys.path.append(ROOT)

import ui.desk.plan_job  # noqa: E402
import ui.serving.server  # noqa: E402
from tests.browser.year_work import KnownOrSearched  # noqa: E402

if __name__ == "__main__":
    ui.desk.plan_job.PlanWork = KnownOrSearched
    ui.serving.server.run()
