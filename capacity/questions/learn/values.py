"""What was learnt, package by package and stage by stage."""

from dataclasses import dataclass

from capacity.questions.learn.estimate import Estimate

LEAST_SHARE = 1e-9


@dataclass(frozen=True, slots=True)
class LearntStage:
    """What the delivered checks say of one stage of a package; None where nothing is known.

    ``findings`` are shares of the routine man-hours at a findings factor of 1, extra work left
    out; ``days`` are days that the base works; ``hours`` are actual man-hours as a share of the
    planned ones. ``planned_findings``, ``planned_spread`` and ``planned_days`` are what the
    workbook says now, all None for a stage that it does not have any more.
    """

    package: str
    stage: str
    visits: int
    findings: Estimate | None = None
    days: Estimate | None = None
    hours: Estimate | None = None
    planned_findings: float | None = None
    planned_spread: float | None = None
    planned_days: int | None = None

    @property
    def proposed_findings(self) -> float | None:
        """The share to plan with: the mean, never below 0."""
        return None if self.findings is None else max(0.0, self.findings.mean)

    @property
    def proposed_spread(self) -> float | None:
        """The standard deviation as a share of the findings; None where there are none."""
        found = self.findings
        if found is None or found.deviation is None or found.mean <= LEAST_SHARE:
            return None
        return found.deviation / found.mean

    @property
    def proposed_days(self) -> int | None:
        """The mean in whole days, half a day up, at least one."""
        return None if self.days is None else max(1, int(self.days.mean + 0.5))


@dataclass(frozen=True, slots=True)
class LearntPackage:
    """What whole visits say of a package; ``findings`` only of those with all hours booked.

    ``stay`` are calendar days from in to out, ``planned_stay`` those planned for the same visits;
    ``days_late`` the days by which they were out after Agreed out, 0 for those on time.
    """

    package: str
    visits: int
    findings: Estimate | None
    stay: Estimate | None
    planned_stay: Estimate | None
    days_late: Estimate | None
    stages: tuple[LearntStage, ...]


@dataclass(frozen=True, slots=True)
class Learnt:
    """What was learnt from ``visits`` delivered checks; ``silent`` have no actual value at all."""

    visits: int
    packages: tuple[LearntPackage, ...]
    silent: tuple[str, ...] = ()
