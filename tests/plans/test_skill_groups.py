"""Skills that a crew ties belong to one group, and each skill to one only."""

from dataclasses import replace

from capacity.plans.skill_groups import skill_groups

from .stories import MECHANIC, PLENTY, base


def test_each_skill_is_in_one_group() -> None:
    """The crew of A and B ties these two, that of B and C the third; D stays by itself."""
    skills = tuple(replace(MECHANIC, name=name) for name in "ABCD")
    crews = tuple(
        replace(PLENTY, name=f"Crew {names}", skills=tuple(names)) for names in ("AB", "BC", "D")
    )
    groups = skill_groups(base(skills=skills, crews=crews))
    found = {
        "".join(skill.name for skill in group.skills): [crew.name for crew in group.crews]
        for group in groups
    }
    assert len(groups) == 2
    assert found == {"ABC": ["Crew AB", "Crew BC"], "D": ["Crew D"]}
