"""Share out the weeks of a base, where there is something to share out."""

from collections.abc import Iterable, Mapping, Sequence

from capacity.facts import Base, Employment
from capacity.plans.each_skill_by_itself import each_skill_by_itself
from capacity.plans.sharing import cheapest_sharing
from capacity.plans.sharing_program import GroupWeek, WeekPart
from capacity.plans.skill_groups import skill_groups
from capacity.plans.week_hours import (
    AskedInWeek,
    HoursByCrew,
    SharedWeek,
    SkillWeek,
    asked_of,
    hours_of,
)

Near = Mapping[str, SkillWeek] | None
"""The hours of each skill in the same week of another plan, to which ties go."""


class HoursSharing:
    """Shares out any weeks of one base; weeks do not depend on each other."""

    def __init__(self, base: Base) -> None:
        """Find the skills between which there is something to share out."""
        self.groups = skill_groups(base)
        costs = [cost for s in base.skills for cost in (s.overtime_cost, s.contract_cost)]
        self.last_resort = max([base.overload_cost, *costs])

    def shared(
        self, weeks: Iterable[tuple[AskedInWeek, HoursByCrew, Near, HoursByCrew]]
    ) -> list[SharedWeek]:
        """Return the cheapest sharing of each week: what is asked, and each crew's hours.

        Last come the hours of crews that lie within their guarantee.

        Of equally cheap ones it is the one nearest to the same week of another plan, if any.
        """
        parts = [
            [GroupWeek(group, (WeekPart(asked, hours, sure),), near) for group in self.groups]
            for asked, hours, near, sure in weeks
        ]
        hard = [part for week in parts for part in week if not _is_plain(part)]
        cheapest = cheapest_sharing(hard, self.last_resort)
        return [
            together(
                each_skill_by_itself(part.group, part.parts[0].asked, part.parts[0].hours)
                if _is_plain(part)
                else next(cheapest)
                for part in week
            )
            for week in parts
        ]

    def over_days(
        self, weeks: Iterable[tuple[Sequence[WeekPart], Near]]
    ) -> list[list[tuple[GroupWeek, SharedWeek]]]:
        """Return, week by week and group by group, the cheapest sharing when days count.

        Hours of a crew can be had on their own day only. Of equally cheap ones it is the one
        nearest to the week as a whole.
        """
        groups = [
            [GroupWeek(group, tuple(parts), whole) for group in self.groups]
            for parts, whole in weeks
        ]
        shared = cheapest_sharing([g for week in groups for g in week], self.last_resort)
        return [[(group, next(shared)) for group in week] for week in groups]

    @property
    def holds_all_that_fits(self) -> bool:
        """Whether overload costs so much that every hour that can be done is.

        Doing an hour may push hours through all the skills, each at the dearest price.
        """
        costs = [
            c for g in self.groups for s in g.skills for c in (s.overtime_cost, s.contract_cost)
        ]
        skills = sum(len(group.skills) for group in self.groups)
        return self.last_resort > max(costs, default=0.0) * (1 + skills)


def _is_plain(week: GroupWeek) -> bool:
    """Return whether nothing can be won by sharing.

    That is so where every crew has one skill and all types, and in weeks in which nothing is
    asked, or employed crews without a bound on their types do all that is asked of their own
    skill.
    """
    (whole,) = week.parts
    sure = any(whole.guaranteed.get(crew.name, 0.0) for crew in week.group.crews)
    if not (week.group.shares or sure) or not any(whole.asked.values()):
        return True
    for skill in week.group.skills:
        crews = week.group.own(skill, Employment.EMPLOYED)
        if any(crew.types for crew in crews):
            return False
        if asked_of(skill.name, whole.asked) > hours_of(crews, whole.hours):
            return False
    return True


def together(parts: Iterable[SharedWeek]) -> SharedWeek:
    """Put the groups of one week together."""
    whole = SharedWeek({}, {})
    for part in parts:
        whole = SharedWeek({**whole.skills, **part.skills}, {**whole.given, **part.given})
    return whole
