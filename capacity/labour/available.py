"""What the roster can give by week and kind of work, and what more hours would cost."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Crew, Employment
from capacity.labour.calendar import Calendar
from capacity.labour.guarantees import guaranteed_by_week
from capacity.labour.kinds import Kind, kinds_of
from capacity.labour.patterns import attended_hours
from capacity.labour.supply import DaySupply, Floats, Supply
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
    shares = dict(_shares_paid_anyway(base, by_week, guarantees))
    given = _given(base, kinds, skill_of, by_week, shares, weeks)
    bought = [
        (OVERTIME, overtime_cap, [skill.overtime_cost for skill in base.skills]),
        (CONTRACT, contract_cap, [skill.contract_cost for skill in base.skills]),
        (OVERLOAD, np.full_like(own, np.inf), [base.overload_cost] * len(base.skills)),
    ]
    names, prices = list(given.pools), [price for _, price in given.pools.values()]
    for number, skill in enumerate(base.skills):
        mine = skill_of == number
        names += [f"{word} of {skill.name}" for word, _, _ in bought]
        prices += [np.where(mine, costs[number], np.inf) for _, _, costs in bought]
    any_day = [np.zeros(weeks) for _ in given.pools]
    any_day += [cap[:, number] for number in range(len(base.skills)) for _, cap, _ in bought]
    in_all = [hours for hours, _ in given.pools.values()]
    in_all += [
        cap[:, number] + (given.contract[:, number] if word == CONTRACT else 0.0)
        for number in range(len(base.skills))
        for word, cap, _ in bought
    ]
    days = None
    if base.counts_days:
        of_day = {name: share[calendar.week] for name, share in shares.items()}
        by_roster = _given(base, kinds, skill_of, by_day, of_day, len(calendar.week))
        on_day = [hours for hours, _ in by_roster.pools.values()]
        on_day += [
            by_roster.contract[:, number] * float(word == CONTRACT)
            for number in range(len(base.skills))
            for word, _, _ in bought
        ]
        days = DaySupply(
            week=calendar.week,
            regular=by_roster.regular,
            on_day=np.stack(on_day),
            any_day=np.stack(any_day),
        )
    return Supply(
        skill_of=skill_of,
        regular=given.regular,
        pool_names=tuple(names),
        pool_hours=np.stack(in_all),
        pool_price=np.stack(prices),
        overtime_cap=overtime_cap,
        contract_cap=contract_cap + given.contract,
        days=days,
    )


@dataclass(frozen=True)
class _Given:
    """What crews give, week by week or day by day, (n,) of them.

    ``regular`` (n, kinds) is for one kind only; ``contract`` (n, skills) are the hours of contract
    crews that do all of one skill; ``pools`` are hours (n,) and prices (kinds,) of all others.
    """

    regular: Floats
    contract: Floats
    pools: dict[str, tuple[Floats, Floats]]


def _given(
    base: Base,
    kinds: tuple[Kind, ...],
    skill_of: NDArray[np.int64],
    hours_of: Mapping[str, Floats],
    shares: Mapping[str, Floats],
    length: int,
) -> _Given:
    """Sort the hours of each crew, (length,), by what they can be used for.

    ``shares`` (length,) of those of some crews are paid anyway.
    """
    regular, contract = np.zeros((length, len(kinds))), np.zeros((length, len(base.skills)))
    pools: dict[str, tuple[Floats, Floats]] = {}
    paid_anyway = {name: hours_of[name] * share for name, share in shares.items()}
    for served, (name, hours) in _guaranteed_alike(base, kinds, paid_anyway).items():
        price = np.full(len(kinds), np.inf)
        price[list(served)] = 0.0
        pools[f"{GUARANTEED} of {name}"] = hours, price
    left = {**hours_of, **{name: hours_of[name] - hours for name, hours in paid_anyway.items()}}
    for (served, employment), (name, hours) in _crews_alike(base, kinds, left).items():
        skills = set(skill_of[list(served)])
        if employment is Employment.EMPLOYED and len(served) == 1:
            regular[:, served[0]] += hours
        elif employment is Employment.CONTRACT and _is_whole_skill(served, skill_of):
            contract[:, skills.pop()] += hours
        else:
            price = np.full(len(kinds), np.inf)
            is_employed = employment is Employment.EMPLOYED
            price[list(served)] = (
                0.0 if is_employed else [base.skills[s].contract_cost for s in skill_of[[*served]]]
            )
            pools[name] = hours, price
    return _Given(regular, contract, pools)


def _own_hours(base: Base, by_week: dict[str, Floats], weeks: int) -> Floats:
    """Return the hours of the employed crews whose own skill it is, (weeks, skills)."""
    hours = np.zeros((weeks, len(base.skills)))
    for number, skill in enumerate(base.skills):
        for crew in base.crews:
            if crew.skills[0] == skill.name and crew.employment is Employment.EMPLOYED:
                hours[:, number] += by_week[crew.name]
    return hours


def _crews_alike(
    base: Base, kinds: tuple[Kind, ...], by_week: Mapping[str, Floats]
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


def _shares_paid_anyway(
    base: Base, by_week: Mapping[str, Floats], guarantees: Mapping[str, Floats]
) -> Iterator[tuple[str, Floats]]:
    """Yield which share of a team's hours lies within the guarantee of its crew, (weeks,)."""
    for crew, guaranteed in guarantees.items():
        mine = [team.name for team in base.crews if team.name.split(WITHOUT)[0] == crew]
        if guaranteed.any():
            there = np.sum([by_week[name] for name in mine], axis=0)
            share = np.divide(guaranteed, there, out=np.ones_like(there), where=there > 0)
            for name in mine:
                yield name, np.minimum(share, 1.0)


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
