"""Changes of a base that more than one question tries, each with the sentence that names it."""

from dataclasses import dataclass, replace

from capacity.facts import Base, Employment


@dataclass(frozen=True, slots=True)
class ChangedBase:
    """A base after a change, and the change in words; ``of`` names the crew, bay or check."""

    of: str
    what: str
    base: Base


def one_more_head(skill: str, base: Base) -> ChangedBase | None:
    """Return the base with a head more in the largest employed crew of a skill, all the time.

    None where no employed crew has it for its own skill.
    """
    crews = [
        crew
        for crew in base.crews
        if crew.skills[0] == skill and crew.employment is Employment.EMPLOYED
    ]
    if not crews:
        return None
    largest = max(crews, key=lambda crew: crew.heads)
    bigger = replace(largest, heads=largest.heads + 1)
    changed = base.replace(crews=tuple(bigger if c is largest else c for c in base.crews))
    what = f"one more head in {largest.name} ({skill}), all {base.weeks} weeks"
    return ChangedBase(largest.name, what, changed)
