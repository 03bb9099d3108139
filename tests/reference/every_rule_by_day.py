"""The optimum once more where man-hours are counted by days: every hour on a day of its own."""

from collections import Counter, defaultdict
from datetime import date
from math import inf

from capacity.facts import Base, Employment
from tests.reference.every_rule_program import EveryRule, best_of
from tests.reference.plain_dates import guaranteed_hours, people

Row = dict[int, float]


def best_by_day(base: Base) -> tuple[int, float] | None:
    """Return the least days past, and the least money at that; None when nothing stands."""
    return best_of(EveryRuleByDay(base), base)


class EveryRuleByDay(EveryRule):
    """Crews give hours on the days of their roster; what is bought lies on any days of its week."""

    def _hand_out_hours(self) -> None:
        asked: defaultdict[date, defaultdict[tuple[str, str], Row]]
        asked = defaultdict(lambda: defaultdict(dict))
        for number, course in enumerate(self._courses):
            for (day, skill), hours in course.by_day.items():
                asked[day][skill, course.check.type][number] = -hours
            for strand in course.strands:
                whole = {number: -strand.hours}
                for day in strand.days:
                    there = self._column(0.0)
                    whole[there] = 1.0
                    self._row({there: 1.0, number: -strand.most_of_a_day}, -inf, 0)
                    asked[day][strand.skill, course.check.type][there] = -1.0
                self._row(whole, 0, 0)
        for day, of_day in asked.items():
            self._give_on(day, of_day)
        for week in {day.isocalendar()[:2] for day in asked}:
            days = [of_day for day, of_day in asked.items() if day.isocalendar()[:2] == week]
            self._buy_for(week, days)
        for of_day in asked.values():
            for row in of_day.values():
                self._row(row, 0, inf)

    def _give_on(self, day: date, asked: dict[tuple[str, str], Row]) -> None:
        cost = {skill.name: skill.contract_cost for skill in self._base.skills}
        week = day.isocalendar()[:2]
        for crew in self._base.crews:
            hired = crew.employment is Employment.CONTRACT
            teams = self._teams(crew, week)
            in_all = sum(hours for (skills, types), hours in teams.items() if skills and types)
            sure = guaranteed_hours(self._base, crew, week)
            share = min(1.0, sure / in_all) if in_all else 0.0
            today: Counter[tuple[tuple[str, ...], frozenset[str]]] = people(self._base, crew, day)
            for (skills, types), hours in today.items():
                given, within = [], []
                for (skill, type_), row in asked.items():
                    if skill in skills and type_ in types:
                        given.append(self._column(cost[skill] if hired else 0.0))
                        within.append(self._column(0.0))
                        row[given[-1]] = row[within[-1]] = 1.0
                self._row(dict.fromkeys(given + within, 1.0), 0, hours)
                self._row(dict.fromkeys(within, 1.0), 0, share * hours)

    def _buy_for(self, week: tuple[int, int], days: list[dict[tuple[str, str], Row]]) -> None:
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
                bought = {}
                for of_day in days:
                    for (name, _), row in of_day.items():
                        if name == skill.name:
                            bought[self._column(cost)] = row
                for column, row in bought.items():
                    row[column] = 1.0
                self._row(dict.fromkeys(bought, 1.0), 0, most)
