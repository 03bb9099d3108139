"""A week in which no man-hour goes to another skill than the crew's own."""

from capacity.facts import Employment, Skill
from capacity.plans.skill_groups import SkillGroup
from capacity.plans.week_hours import (
    AskedInWeek,
    HoursByCrew,
    SharedWeek,
    SkillWeek,
    asked_of,
    hours_of,
    split_over,
)


def each_skill_by_itself(group: SkillGroup, asked: AskedInWeek, hours: HoursByCrew) -> SharedWeek:
    """Fill regular hours first, then overtime and contract, the cheaper first, then overload.

    Crews of one skill give in proportion to what they have. Contract hours are those of
    contract crews first; only what they do not have is taken from the contract cap.
    """
    skills: dict[str, SkillWeek] = {}
    given: dict[tuple[str, str], float] = {}
    for skill in group.skills:
        employed = group.own(skill, Employment.EMPLOYED)
        contracted = group.own(skill, Employment.CONTRACT)
        demand, regular = asked_of(skill.name, asked), hours_of(employed, hours)
        there = hours_of(contracted, hours)
        week = _cheaper_first(skill, demand, regular, there)
        skills[skill.name] = week
        given |= split_over(employed, skill.name, min(demand, regular), hours)
        given |= split_over(contracted, skill.name, min(week.contract, there), hours)
    return SharedWeek(skills, given)


def _cheaper_first(skill: Skill, demand: float, regular: float, contracted: float) -> SkillWeek:
    """Buy what is short; overload is the last resort, whatever it costs.

    The caps are shares of the regular hours; contract crews come on top of the contract cap.
    """
    short = max(0.0, demand - regular)
    overtime_cap = skill.overtime_cap * regular
    contract_cap = skill.contract_cap * regular + contracted
    if skill.overtime_cost <= skill.contract_cost:
        overtime = min(short, overtime_cap)
        contract = min(short - overtime, contract_cap)
    else:
        contract = min(short, contract_cap)
        overtime = min(short - contract, overtime_cap)
    overload = short - overtime - contract
    return SkillWeek(regular, overtime, contract, overload, overtime_cap, contract_cap)
