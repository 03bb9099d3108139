"""Skills between which man-hours can be shared out, because a crew has both."""

from dataclasses import dataclass

from capacity.facts import Base, Crew, Employment, Skill
from capacity.plans.licences import Licensed


@dataclass(frozen=True, slots=True)
class SkillGroup:
    """Skills that no crew ties to any other skill, and the crews that have them."""

    skills: tuple[Skill, ...]
    crews: tuple[Crew, ...]

    @property
    def shares(self) -> bool:
        """Whether a crew has several skills, or is authorised on some types only."""
        return len(self.skills) > 1 or any(crew.types for crew in self.crews)

    def own(self, skill: Skill, employment: Employment) -> tuple[Crew, ...]:
        """Return the crews whose own skill it is."""
        return tuple(
            crew
            for crew in self.crews
            if crew.skills[0] == skill.name and crew.employment is employment
        )


def skill_groups(base: Base) -> tuple[SkillGroup, ...]:
    """Return the groups into which the crews of the base tie its skills."""
    groups = [{skill.name} for skill in base.skills]
    crews = Licensed(base).crews
    for crew in crews:
        tied = [names for names in groups if not names.isdisjoint(crew.skills)]
        apart = [names for names in groups if names.isdisjoint(crew.skills)]
        groups = [*apart, set[str]().union(*tied)]
    return tuple(
        SkillGroup(
            tuple(skill for skill in base.skills if skill.name in names),
            tuple(crew for crew in crews if crew.skills[0] in names),
        )
        for names in groups
    )
