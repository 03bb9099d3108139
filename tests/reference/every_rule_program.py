"""The optimum once more, with every rule: courses as columns of ``scipy.optimize.milp``.

Where the package holds shops to windows of days and prices shared hours by cuts, here items and
hours are handed out: from each errand to the days of the shop, and by week from each crew to
each skill and aircraft type. Who is in whose way is written down check by check.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from datetime import date
from itertools import combinations
from math import inf

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, OptimizeResult, milp
from scipy.sparse import coo_array

from capacity.facts import Base, Bay, Crew, Employment, Status
from tests.reference.courses import Span, courses_of
from tests.reference.plain_dates import (
    ONE_DAY,
    guaranteed_hours,
    guaranteed_money,
    is_worked,
    people,
)

# What ``milp`` returns; it broke down once, with its presolve on.
INFEASIBLE, SOLVE_ERROR = 2, 4

Week = tuple[int, int]
"""ISO year and week."""


def best_with_every_rule(base: Base) -> tuple[int, float] | None:
    """Return the least days past, and the least money at that; None when nothing stands.

    The courses found are solved for once more as they stand, so that a course taken to
    0.999999 does not leave a millionth of its man-hours out of the money.
    """
    return best_of(EveryRule(base), base)


def best_of(program: "EveryRule", base: Base) -> tuple[int, float] | None:
    """Return the same of a program of some base."""
    fewest = program.least(program.past)
    if fewest.status == INFEASIBLE:
        return None
    days = round(fewest.fun)
    taken = np.round(program.least(program.money, days).x[: program.whole])
    money = program.least(program.money, days, taken).fun
    return days, money + guaranteed_money(base)


class EveryRule:
    """Columns: the courses, then each check left out, then what is handed out."""

    def __init__(self, base: Base) -> None:
        """Write down all rows."""
        self._base = base
        self._courses = [course for check in base.checks for course in courses_of(base, check)]
        self.past: list[float] = []
        self.money: list[float] = []
        self._rows: list[tuple[dict[int, float], float, float]] = []
        for course in self._courses:
            self._column(course.money, course.past)
        self._fixed_out = list(self._each_check_once())
        self.whole = len(self.money)
        for bay in base.bays:
            self._one_at_a_time(self._standing([bay], bay.changeover_days))
            for inner in base.bays:
                if bay.name in _way_to(base, inner):
                    self._clear(bay, inner)
        for one, other in combinations(base.bays, 2):
            if one.name in other.shares_floor_with or other.name in one.shares_floor_with:
                self._one_at_a_time(self._standing([one, other]))
        self._lend_equipment()
        for shop in base.shops:
            self._hand_out_items(shop.name, shop.items_per_day)
        self._hand_out_hours()

    def least(
        self, cost: list[float], days: int | None = None, taken: np.ndarray | None = None
    ) -> OptimizeResult:
        """Solve to the end: with ``days`` past at most, and with the courses ``taken``."""
        lower, upper = np.zeros(len(cost)), np.full(len(cost), inf)
        upper[self._fixed_out] = 0
        if taken is not None:
            lower[: self.whole] = upper[: self.whole] = taken
        rows = [*self._rows]
        if days is not None:
            rows.append((dict(enumerate(self.past)), -inf, days))
        entries = [(n, column, row[column]) for n, (row, _, _) in enumerate(rows) for column in row]
        numbers, columns, factors = zip(*entries, strict=True)
        matrix = coo_array((factors, (numbers, columns)), shape=(len(rows), len(cost)))
        for presolve in (True, False):
            result = milp(
                cost,
                integrality=np.repeat([1, 0], [self.whole, len(cost) - self.whole]),
                bounds=Bounds(lower, upper),
                constraints=LinearConstraint(
                    matrix.tocsr(), [low for _, low, _ in rows], [high for _, _, high in rows]
                ),
                options={"mip_rel_gap": 0.0, "presolve": presolve},
            )
            if result.status != SOLVE_ERROR:
                break
        assert result.success or result.status == INFEASIBLE, result.message
        return result

    def _column(self, money: float, past: float = 0.0) -> int:
        self.money.append(money)
        self.past.append(past)
        return len(self.money) - 1

    def _row(self, row: dict[int, float], low: float, high: float) -> None:
        self._rows.append((row, low, high))

    def _each_check_once(self) -> Iterable[int]:
        """Place a check or leave it out; return the columns that leave fixed ones out."""
        for check in self._base.checks:
            is_option = check.status is Status.OPTION
            out = self._column(0.0, 0 if is_option else self._base.longest_delay_days + 1)
            own = {n: 1.0 for n, course in enumerate(self._courses) if course.check is check}
            self._row({out: 1.0, **own}, 1, 1)
            if check.status is Status.FIXED:
                yield out

    def _standing(self, bays: list[Bay], changeover: int = 0) -> dict[date, set[int]]:
        """Return who stands in any of the bays, day by day."""
        names = {bay.name for bay in bays}
        standing: defaultdict[date, set[int]] = defaultdict(set)
        for number, visit in self._visits(names):
            until = visit.until + changeover * ONE_DAY
            for day in Span(visit.name, visit.first, until).days():
                standing[day].add(number)
        return standing

    def _visits(self, bays: set[str]) -> Iterable[tuple[int, Span]]:
        for number, course in enumerate(self._courses):
            yield from ((number, visit) for visit in course.visits if visit.name in bays)

    def _one_at_a_time(self, standing: dict[date, set[int]]) -> None:
        for columns in standing.values():
            self._row(dict.fromkeys(columns, 1.0), 0, 1)

    def _clear(self, outer: Bay, inner: Bay) -> None:
        """Let nobody else be inside a stay in the outer bay when a check passes it."""
        inside: defaultdict[date, set[int]] = defaultdict(set)
        for number, stay in self._visits({outer.name}):
            for day in stay.days()[1:]:
                inside[day].add(number)
        passing: defaultdict[tuple[date, str], set[int]] = defaultdict(set)
        for number, visit in self._visits({inner.name}):
            for day in (visit.first, visit.until):
                passing[day, self._courses[number].check.name].add(number)
        for (day, name), columns in passing.items():
            others = {n for n in inside[day] if self._courses[n].check.name != name}
            if others:
                self._row(dict.fromkeys(columns | others, 1.0), 0, 1)

    def _lend_equipment(self) -> None:
        held: defaultdict[tuple[str, date], dict[int, float]] = defaultdict(dict)
        for number, course in enumerate(self._courses):
            for pool_and_day, pieces in course.held.items():
                held[pool_and_day][number] = float(pieces)
        number_of = {pool.name: pool.number for pool in self._base.equipment}
        for (name, day), pieces_by_course in held.items():
            out = sum(
                outage.number
                for outage in self._base.equipment_outages
                if outage.equipment == name and outage.first <= day <= outage.last
            )
            self._row(pieces_by_course, 0, max(0, number_of[name] - out))

    def _hand_out_items(self, shop: str, rate: float) -> None:
        """Hand all items of an errand out to days that the shop works while they are away."""
        errands: defaultdict[tuple[date, date], Counter[int]] = defaultdict(Counter)
        for number, course in enumerate(self._courses):
            for sent in course.sent:
                if sent.shop == shop:
                    errands[sent.leave, sent.back][number] += sent.items
        on_day: defaultdict[date, list[int]] = defaultdict(list)
        for (leave, back), items in errands.items():
            row = {number: -float(count) for number, count in items.items()}
            for day in Span(shop, leave, back).days():
                if is_worked(self._base, day):
                    on_day[day].append(self._column(0.0))
                    row[on_day[day][-1]] = 1.0
            self._row(row, 0, 0)
        for columns in on_day.values():
            self._row(dict.fromkeys(columns, 1.0), 0, rate)

    def _hand_out_hours(self) -> None:
        """Cover what each week asks of each skill on each type by crews and by what is bought."""
        asked: defaultdict[Week, defaultdict[tuple[str, str], dict[int, float]]]
        asked = defaultdict(lambda: defaultdict(dict))
        for number, course in enumerate(self._courses):
            for (year, number_of_week, skill), hours in course.man_hours.items():
                asked[year, number_of_week][skill, course.check.type][number] = -hours
            for strand in course.strands:
                # Every strand of every course by itself: hours of its weeks, within their most.
                whole = {number: -strand.hours}
                for week, most in strand.most.items():
                    hours_there = self._column(0.0)
                    whole[hours_there] = 1.0
                    self._row({hours_there: 1.0, number: -most}, -inf, 0)
                    asked[week][strand.skill, course.check.type][hours_there] = -1.0
                self._row(whole, 0, 0)
        for week, of_week in asked.items():
            self._give(week, of_week)
            self._buy(week, of_week)
            for row in of_week.values():
                self._row(row, 0, inf)

    def _give(self, week: Week, asked: dict[tuple[str, str], dict[int, float]]) -> None:
        """Let each crew give to its skills, on its types, no more than it has."""
        contract_cost = {skill.name: skill.contract_cost for skill in self._base.skills}
        for crew in self._base.crews:
            sure = guaranteed_hours(self._base, crew, week)
            hired = crew.employment is Employment.CONTRACT
            teams = self._teams(crew, week)
            in_all = sum(hours for (skills, types), hours in teams.items() if skills and types)
            for (skills, types), hours in teams.items():
                given, within = [], []
                for (skill, type_), row in asked.items():
                    if skill in skills and type_ in types:
                        given.append(self._column(contract_cost[skill] if hired else 0.0))
                        row[given[-1]] = 1.0
                        within.append(self._column(0.0))
                        row[within[-1]] = 1.0
                self._row(dict.fromkeys(given + within, 1.0), 0, hours)
                share = min(1.0, sure / in_all) if in_all else 0.0
                self._row(dict.fromkeys(within, 1.0), 0, share * hours)

    def _teams(self, crew: Crew, week: Week) -> Counter[tuple[tuple[str, ...], frozenset[str]]]:
        """Return the hours of a crew in a week by the skills and types of its people."""
        whole: Counter[tuple[tuple[str, ...], frozenset[str]]] = Counter()
        for day in range(1, 8):
            whole.update(people(self._base, crew, date.fromisocalendar(*week, day)))
        return whole

    def _buy(self, week: Week, asked: dict[tuple[str, str], dict[int, float]]) -> None:
        """Buy for any type, within shares of what the skill's own employed crews have."""
        for skill in self._base.skills:
            own = sum(
                hours
                for crew in self._base.crews
                if crew.employment is Employment.EMPLOYED
                for (skills, types), hours in self._teams(crew, week).items()
                if types and skills[:1] == (skill.name,)
            )
            for cost, most in (
                (skill.overtime_cost, skill.overtime_cap * own),
                (skill.contract_cost, skill.contract_cap * own),
                (self._base.overload_cost, inf),
            ):
                bought = {
                    self._column(cost): row for (s, _), row in asked.items() if s == skill.name
                }
                for column, row in bought.items():
                    row[column] = 1.0
                self._row(dict.fromkeys(bought, 1.0), 0, most)


def _way_to(base: Base, bay: Bay) -> set[str]:
    """Return the bays that an aircraft passes on its way into a bay."""
    through = {bay.name: bay.reached_through for bay in base.bays}
    way, next_ = set(), bay.reached_through
    while next_ is not None and next_ not in way:
        way.add(next_)
        next_ = through.get(next_)
    return way
