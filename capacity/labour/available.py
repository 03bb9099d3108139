"""What the roster can give by week and kind of work, and what more hours would cost."""

from collections import defaultdict
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Crew, Employment
from capacity.labour.calendar import Calendar
from capacity.labour.guarantees import guaranteed_by_week
from capacity.labour.kinds import Kind, kinds_of
from capacity.labour.patterns import attended_hours
from capacity.labour.supply import Floats, Supply
from capacity.labour.teams import WITHOUT, team_shares, teams_of

OVERTIME, CONTRACT, OVERLOAD = "overtime", "contract", "overload"
GUARANTEED = "guaranteed hours"


def crew_hours(base: Base, calendar: Calendar) -> dict[str, NDArray[np.float64]]:
    """Return each crew's booked man-hours by day, shape (days,).

    hours = max(0, heads - absent) x shift hours x share of a shortened day x productivity on
    worked days from the first plannable day on, while the crew is there.
    """
    days = len(calendar.worked)
    gives = calendar.hours_share * (calendar.worked & (np.arange(days) >= calendar.first))
    hours = {}
    for crew in base.crews:
        per_head = attended_hours(crew, base, calendar.origin, days)
        hours[crew.name] = (
            people_present(crew, base, calendar) * per_head * base.productivity * gives
        )
    return hours


def hours_a_head(crew: Crew, base: Base, calendar: Calendar) -> tuple[Floats, Floats]:
    """Return people present and booked man-hours of each of them by day, both of shape (days,)."""
    present = people_present(crew, base, calendar)
    hours = crew_hours(base.replace(crews=(crew,)), calendar)[crew.name]
    return present, np.divide(hours, present, out=np.zeros_like(hours), where=present > 0)


def team_hours(base: Base, calendar: Calendar) -> dict[str, NDArray[np.float64]]:
    """Return the booked man-hours by day of the teams into which licences divide the crews.

    Those of people who can do nothing any more are in no team.
    """
    hours: dict[str, NDArray[np.float64]] = {}
    for crew in base.crews:
        present, a_head = hours_a_head(crew, base, calendar)
        for name, heads in team_shares(crew, base, calendar, present):
            hours[name] = heads * a_head
    return hours


def available_hours(base: Base, calendar: Calendar) -> Supply:
    """Return the man-hours of all crews and the hours that can be bought.

    Crews that serve one kind of work give it regular hours; each set of crews that serve
    the same several kinds is a pool. Overtime and contract caps are shares of the regular
    hours of the employed crews whose own skill it is; the hours of contract crews come on
    top of the contract cap, at the contract cost of the skill that they go to; those that they are
    guaranteed cost nothing more.
    """
    kinds, weeks = kinds_of(base), len(calendar.week_names)
    by_day = team_hours(base, calendar) if base.licences else crew_hours(base, calendar)
    guarantees = {crew.name: guaranteed_by_week(crew, base, calendar) for crew in base.crews}
    crews = {crew.name for crew in base.crews}
    teams = [team for team in teams_of(base) if team.name in crews or by_day[team.name].any()]
    base = base.replace(crews=tuple(teams), licences=())
    by_week: dict[str, Floats] = {
        name: np.bincount(calendar.week, weights=hours, minlength=weeks).astype(np.float64)
        for name, hours in by_day.items()
    }
    own = _own_hours(base, by_week, weeks)
    skill_of = np.array([[s.name for s in base.skills].index(k.skill) for k in kinds], dtype=int)
    overtime_cap = own * [skill.overtime_cap for skill in base.skills]
    contract_cap = own * [skill.contract_cap for skill in base.skills]
    regular = np.zeros((weeks, len(kinds)))
    pools: dict[str, tuple[Floats, Floats]] = {}
    paid_anyway = dict(_paid_anyway(base, by_week, guarantees))
    for served, (name, hours) in _guaranteed_alike(base, kinds, paid_anyway).items():
        price = np.full(len(kinds), np.inf)
        price[list(served)] = 0.0
        pools[f"{GUARANTEED} of {name}"] = hours, price
    by_week |= {name: by_week[name] - hours for name, hours in paid_anyway.items()}
    for (served, employment), (name, hours) in _crews_alike(base, kinds, by_week).items():
        skills = set(skill_of[list(served)])
        if employment is Employment.EMPLOYED and len(served) == 1:
            regular[:, served[0]] += hours
        elif employment is Employment.CONTRACT and _is_whole_skill(served, skill_of):
            contract_cap[:, skills.pop()] += hours
        else:
            price = np.full(len(kinds), np.inf)
            is_employed = employment is Employment.EMPLOYED
            price[list(served)] = (
                0.0 if is_employed else [base.skills[s].contract_cost for s in skill_of[[*served]]]
            )
            pools[name] = hours, price
    for number, skill in enumerate(base.skills):
        mine = skill_of == number
        for word, cap, cost in (
            (OVERTIME, overtime_cap[:, number], skill.overtime_cost),
            (CONTRACT, contract_cap[:, number], skill.contract_cost),
            (OVERLOAD, np.full(weeks, np.inf), base.overload_cost),
        ):
            pools[f"{word} of {skill.name}"] = cap, np.where(mine, cost, np.inf)
    return Supply(
        skill_of=skill_of,
        regular=regular,
        pool_names=tuple(pools),
        pool_hours=np.stack([hours for hours, _ in pools.values()]),
        pool_price=np.stack([price for _, price in pools.values()]),
        overtime_cap=overtime_cap,
        contract_cap=contract_cap,
    )


def _own_hours(base: Base, by_week: dict[str, Floats], weeks: int) -> Floats:
    """Return the hours of the employed crews whose own skill it is, (weeks, skills)."""
    hours = np.zeros((weeks, len(base.skills)))
    for number, skill in enumerate(base.skills):
        for crew in base.crews:
            if crew.skills[0] == skill.name and crew.employment is Employment.EMPLOYED:
                hours[:, number] += by_week[crew.name]
    return hours


def _crews_alike(
    base: Base, kinds: tuple[Kind, ...], by_week: dict[str, Floats]
) -> dict[tuple[tuple[int, ...], Employment], tuple[str, Floats]]:
    """Return names and hours of the crews by the kinds that they serve and their employment."""
    alike: defaultdict[tuple[tuple[int, ...], Employment], list[str]] = defaultdict(list)
    for crew in base.crews:
        served = tuple(n for n, kind in enumerate(kinds) if kind.is_given_by(crew))
        if served:
            alike[served, crew.employment].append(crew.name)
    return {
        key: (", ".join(names), np.sum([by_week[name] for name in names], axis=0))
        for key, names in alike.items()
    }


def _paid_anyway(
    base: Base, by_week: dict[str, Floats], guarantees: dict[str, Floats]
) -> Iterator[tuple[str, Floats]]:
    """Yield the hours of teams within the guarantee of their crew, in proportion to their hours."""
    for crew, guaranteed in guarantees.items():
        mine = [team.name for team in base.crews if team.name.split(WITHOUT)[0] == crew]
        if guaranteed.any():
            there = np.sum([by_week[name] for name in mine], axis=0)
            share = np.divide(guaranteed, there, out=np.ones_like(there), where=there > 0)
            for name in mine:
                yield name, by_week[name] * np.minimum(share, 1.0)


def _guaranteed_alike(
    base: Base, kinds: tuple[Kind, ...], hours: dict[str, Floats]
) -> dict[tuple[int, ...], tuple[str, Floats]]:
    """Return names and guaranteed hours of crews by the kinds that they serve."""
    some = base.replace(crews=tuple(crew for crew in base.crews if crew.name in hours))
    alike = _crews_alike(some, kinds, hours)
    return {served: of_crews for (served, _), of_crews in alike.items()}


def _is_whole_skill(served: tuple[int, ...], skill_of: NDArray[np.int64]) -> bool:
    """Return whether the kinds are all those of one skill."""
    first = skill_of[served[0]]
    return tuple(np.flatnonzero(skill_of == first)) == served


def people_present(crew: Crew, base: Base, calendar: Calendar) -> NDArray[np.float64]:
    """Return the heads of a crew that are there and not absent by day, shape (days,)."""
    heads = np.full(len(calendar.worked), float(crew.heads))
    for absence in base.absences:
        if absence.crew == crew.name:
            first = max(0, calendar.number(absence.first))
            heads[first : max(0, calendar.number(absence.last) + 1)] -= absence.heads
    if crew.first is not None:
        heads[: max(0, calendar.number(crew.first))] = 0.0
    if crew.last is not None:
        heads[max(0, calendar.number(crew.last) + 1) :] = 0.0
    present: NDArray[np.float64] = np.maximum(heads, 0.0)
    return present
