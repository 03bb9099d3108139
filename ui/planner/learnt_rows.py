"""What delivered checks teach, as tables: by package, and by stage with what is proposed."""

from capacity.questions.learn.estimate import Estimate
from capacity.questions.learn.values import Learnt, LearntStage
from capacity.reports.learn.wording import Where, proposals_in_words, visits_in_words
from capacity.words import percent
from ui.rows import TableRow


def stage_rows(learnt: Learnt, where: Where) -> list[TableRow]:
    """Return a row a package and stage; ``where`` names the cells of proposals."""
    return [_stage(stage, where) for package in learnt.packages for stage in package.stages]


def package_rows(learnt: Learnt) -> list[TableRow]:
    """Return a row a package, of whole visits."""
    return [
        {
            "Package": package.package,
            "Visits": package.visits,
            "Findings (% of routine)": _share(package.findings),
            "Stay (days)": _days(package.stay),
            "Stay planned (days)": _days(package.planned_stay),
            "Late out (days)": _days(package.days_late),
        }
        for package in learnt.packages
    ]


def _stage(stage: LearntStage, where: Where) -> TableRow:
    gone = stage.planned_days is None
    return {
        "Package": stage.package,
        "Stage": f"{stage.stage} (no longer in the workbook)" if gone else stage.stage,
        "Visits": visits_in_words(stage.findings or stage.days),
        "Findings now": "" if stage.planned_findings is None else percent(stage.planned_findings),
        "Findings learnt": _share(stage.findings),
        "Mean within": _limits(stage.findings),
        "Days now": stage.planned_days,
        "Days learnt": _days(stage.days),
        "Man-hours, of planned": _share(stage.hours),
        "Proposed": proposals_in_words(stage, where),
    }


def _share(found: Estimate | None) -> str:
    return "" if found is None else percent(found.mean)


def _limits(found: Estimate | None) -> str:
    if found is None or found.low is None or found.high is None:
        return ""
    return f"{percent(found.low)} to {percent(found.high)}"


def _days(found: Estimate | None) -> float | None:
    return None if found is None else round(found.mean, 1)
