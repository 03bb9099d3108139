"""A first crew plan, day by day: every stage gets its even share, then what is left over."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import groupby

from capacity.crews.choice import CrewChoice
from capacity.crews.problem import CrewProblem, CrewShift, Task


def first_crews(problem: CrewProblem, spans: Sequence[int]) -> CrewChoice:
    """Return a crew plan that keeps every rule, made in one pass over the days.

    Every task is run as ``spans`` says, by number.
    """
    return _Days(problem, spans).all()


class _Days:
    """Works its way through the days; what is still to do falls as people are sent."""

    def __init__(self, problem: CrewProblem, spans: Sequence[int]) -> None:
        self.problem = problem
        self.made = CrewChoice(span=list(spans))
        self.worked = [t.spans[s].worked for t, s in zip(problem.tasks, spans, strict=True)]
        self.left = {
            (n, k): t for n, task in enumerate(problem.tasks) for k, t in task.hundredths.items()
        }
        self.free: dict[int, int] = {}
        self.overtime_left: dict[tuple[str, int], list[int]] = {}
        for caps in problem.caps:
            shared = [caps.overtime]
            for day in caps.days:
                self.overtime_left[caps.skill, day] = shared
        self.limits_left: defaultdict[tuple[str, int], list[list[int]]] = defaultdict(list)
        for limit in problem.overtime_limits:
            there = [
                s.heads for s in problem.shifts if s.crew == limit.crew and s.day in limit.days
            ]
            left = [min(there, default=0) * limit.hundredths]
            for day in limit.days:
                self.limits_left[limit.crew, day].append(left)
        self.called: defaultdict[str, defaultdict[int, int]] = defaultdict(lambda: defaultdict(int))
        self.served: defaultdict[str, set[str]] = defaultdict(set)
        self.contract: defaultdict[tuple[str, str], int] = defaultdict(int)
        self.on_stage: defaultdict[tuple[int, str], int] = defaultdict(int)
        self.opened: set[tuple[int, str]] = set()

    def all(self) -> CrewChoice:
        numbered = sorted(enumerate(self.problem.shifts), key=lambda pair: pair[1].day)
        for day, group in groupby(numbered, key=lambda pair: pair[1].day):
            self._day(day, dict(group))
        bought: defaultdict[str, int] = defaultdict(int)
        for caps in self.problem.caps:
            bought[caps.skill] += caps.contract
        for key, hundredths in self.left.items():
            taken = min(hundredths, bought[key[1]])
            if taken:
                bought[key[1]] -= taken
                self.made.bought[key] = taken
            if hundredths > taken:
                self.made.short[key] = hundredths - taken
        return self.made

    def _day(self, day: int, shifts: dict[int, CrewShift]) -> None:
        self.contract.clear()
        self.on_stage.clear()
        self.opened.clear()
        self.free = {n: s.heads * self.problem.parts for n, s in shifts.items()}
        tasks = [n for n, worked in enumerate(self.worked) if day in worked]
        days_left = {n: self._days_left(n, day) for n in tasks}
        regular = {n: s for n, s in shifts.items() if not s.called_in}
        # Those with least time first; employed people first, so that contract people may follow.
        tasks.sort(key=lambda n: days_left[n])
        for share in (1.0, 0.0):
            for number in tasks:
                for skill, _ in sorted(self.problem.tasks[number].hundredths.items()):
                    left = self.left[number, skill]
                    wanted = -(-left // days_left[number]) if share else left
                    self._send(number, skill, wanted, regular)
        for number in tasks:
            for skill in self.problem.tasks[number].hundredths:
                if days_left[number] <= 2:
                    self._overtime(number, skill, regular)
                    called = {n: s for n, s in shifts.items() if s.called_in}
                    self._send(number, skill, self.left[number, skill], called)

    def _days_left(self, number: int, day: int) -> int:
        return max(1, sum(day <= other < self.problem.days for other in self.worked[number]))

    def _send(self, number: int, skill: str, wanted: int, shifts: dict[int, CrewShift]) -> None:
        """Send people of one skill to a stage until it has what is wanted or nobody is free."""
        task = self.problem.tasks[number]
        crews = [n for n, s in shifts.items() if skill in s.skills and self._may(s, task)]
        known = self.served[task.check]
        crews.sort(
            key=lambda n: (
                shifts[n].contract,
                shifts[n].crew not in known,
                shifts[n].skills[0] != skill,
            )
        )
        for n in crews:
            shift = shifts[n]
            wanted = min(wanted, self.left[number, skill])
            if wanted <= 0:
                return
            parts = min(self.free[n], -(-wanted // shift.hundredths))
            parts = min(parts, self._parts_allowed(n, shift, task, number, skill))
            if parts <= 0 or not self._is_open(number, shift, shifts):
                continue
            parts = min(parts, self.free[n], self._licensed(n, shift, task.check, skill))
            hundredths = min(wanted, parts * shift.hundredths)
            if hundredths <= 0:
                continue
            self._give(n, shift, number, skill, parts, hundredths)
            wanted -= hundredths

    def _may(self, shift: CrewShift, task: Task) -> bool:
        allowed = shift.crew in self.problem.crews_of.get(task.check, frozenset())
        return allowed and shift.hundredths > 0 and (task.by_night or not shift.night)

    def _parts_allowed(self, n: int, shift: CrewShift, task: Task, number: int, skill: str) -> int:
        """Return the parts that most heads, contract share, call-ins and caps still allow."""
        parts = self.problem.parts
        allowed = min(shift.heads * parts, self._licensed(n, shift, task.check, skill))
        if task.max_heads is not None:
            places = task.max_heads * parts * shift.hundredths - self.on_stage[number, shift.shift]
            allowed = min(allowed, places // shift.hundredths)
        if self.problem.share_contract and shift.contract:
            allowed = min(allowed, -self._contract_excess(shift, task))
        if shift.called_in:
            recent = self.called[shift.crew]
            used = sum(recent[day] for day in range(shift.day - 6, shift.day + 1))
            allowed = min(allowed, shift.heads * parts - used)
            cap = self.overtime_left.get((skill, shift.day), [0])[0]
            allowed = min(allowed, cap // shift.hundredths)
        return allowed

    def _licensed(
        self,
        n: int,
        shift: CrewShift,
        check: str,
        skill: str,
        brought: Iterable[tuple[str, str, int]] = (),
    ) -> int:
        """Return the parts that people who still may can give to a skill on an aircraft."""
        types, parts = self.problem.type_of, self.problem.parts
        own = shift.people_without(skill, types.get(check, ""))
        if not own:
            return shift.heads * parts
        seated = [(c, k, p) for (m, c, k), p in self.made.heads.items() if m == n]
        lost = [(shift.people_without(k, types.get(c, "")), p) for c, k, p in (*seated, *brought)]
        return min(
            max(0, shift.heads - few) * parts - sum(p for other, p in lost if other >= few)
            for few in {own, *(other for other, _ in lost if 0 < other < own)}
        )

    def _contract_excess(self, shift: CrewShift, task: Task) -> int:
        hangar = (self.problem.hangar_of or {}).get((task.check, shift.day), "")
        return self.contract[hangar, shift.shift]

    def _is_open(self, number: int, shift: CrewShift, shifts: dict[int, CrewShift]) -> bool:
        """Bring in those who must be there when the stage is worked; say whether they are."""
        if (number, shift.shift) in self.opened:
            return True
        task = self.problem.tasks[number]
        licence_of = self.problem.licence_of or {}
        wanted = {licence_of.get(skill, "") for skill in task.hundredths} - {""}
        needs = [
            (1, [k for k in licence_of if licence_of[k] == licence]) for licence in sorted(wanted)
        ]
        if task.critical:
            licensed = [k for k in task.hundredths if licence_of.get(k, "")] or list(
                task.hundredths
            )
            needs.append((2, licensed))
        brought: list[tuple[int, str, int]] = []
        free = dict(self.free)
        for least, skills in needs:
            there = self._there(task.check, shift, skills, shifts, brought)
            missing = least - sum(there.values())
            for n, other in shifts.items():
                if missing <= 0:
                    break
                if other.called_in or not self._meets(shift, other, task):
                    continue
                skill = next(
                    (k for k in other.skills if k in skills and self._asks(task.check, k, other)),
                    None,
                )
                parts = min(missing, free.get(n, 0), other.heads - there.get(n, 0))
                if skill is not None:
                    seats = [(task.check, k, p) for m, k, p in brought if m == n]
                    parts = min(parts, self._licensed(n, other, task.check, skill, seats))
                if skill is None or parts <= 0:
                    continue
                brought.append((n, skill, parts))
                free[n] -= parts
                missing -= parts
            if missing > 0:
                return False
        for n, skill, parts in brought:
            self._seat(n, shifts[n], task.check, skill, parts)
        self.opened.add((number, shift.shift))
        return True

    def _asks(self, check: str, skill: str, shift: CrewShift) -> bool:
        """Return whether some stage of the check in work that day asks for the skill."""
        return any(
            task.check == check
            and skill in task.hundredths
            and shift.day in worked
            and (task.by_night or not shift.night)
            for task, worked in zip(self.problem.tasks, self.worked, strict=True)
        )

    def _meets(self, shift: CrewShift, other: CrewShift, task: Task) -> bool:
        allowed = other.crew in self.problem.crews_of.get(task.check, frozenset())
        return allowed and other.shift in self.problem.met_by(shift.shift) and not other.contract

    def _there(
        self,
        check: str,
        shift: CrewShift,
        skills: list[str],
        shifts: dict[int, CrewShift],
        brought: list[tuple[int, str, int]],
    ) -> dict[int, int]:
        """Return how many different people of each crew-shift are on the aircraft."""
        met = self.problem.met_by(shift.shift)
        seated = [(n, k, p) for (n, name, k), p in self.made.heads.items() if name == check]
        parts: defaultdict[int, int] = defaultdict(int)
        for n, k, more in (*seated, *brought):
            if k in skills and n in shifts and shifts[n].shift in met:
                parts[n] += more
        return {n: min(number, shifts[n].heads) for n, number in parts.items()}

    def _seat(self, n: int, shift: CrewShift, check: str, skill: str, parts: int) -> None:
        key = (n, check, skill)
        self.made.heads[key] = self.made.heads.get(key, 0) + parts
        self.free[n] -= parts
        self.served[check].add(shift.crew)
        hangar = (self.problem.hangar_of or {}).get((check, shift.day), "")
        self.contract[hangar, shift.shift] += parts if shift.contract else -parts
        if shift.called_in:
            self.called[shift.crew][shift.day] += parts

    def _give(
        self, n: int, shift: CrewShift, number: int, skill: str, parts: int, hundredths: int
    ) -> None:
        check = self.problem.tasks[number].check
        idle = self._idle(n, shift, check, skill)
        # Those who are there already and have nothing to do come first.
        more = max(0, -(-(hundredths - idle) // shift.hundredths))
        self._seat(n, shift, check, skill, min(parts, more))
        self._book(n, shift, number, skill, hundredths)
        if shift.called_in:
            self.overtime_left[skill, shift.day][0] -= hundredths

    def _idle(self, n: int, shift: CrewShift, check: str, skill: str) -> int:
        seated = self.made.heads.get((n, check, skill), 0)
        used = sum(
            hundredths
            for (m, task, k), hundredths in self.made.hours.items()
            if m == n and k == skill and self.problem.tasks[task].check == check
        )
        return max(0, seated * shift.hundredths - used)

    def _book(self, n: int, shift: CrewShift, number: int, skill: str, hundredths: int) -> None:
        key = (n, number, skill)
        self.made.hours[key] = self.made.hours.get(key, 0) + hundredths
        self.left[number, skill] -= hundredths
        self.on_stage[number, shift.shift] += hundredths

    def _overtime(self, number: int, skill: str, shifts: dict[int, CrewShift]) -> None:
        """Let those who are on the aircraft stay longer for what is left of a stage."""
        check = self.problem.tasks[number].check
        most_heads = self.problem.tasks[number].max_heads
        for n, shift in shifts.items():
            key = (n, check, skill)
            parts = self.made.heads.get(key, 0)
            if not parts or not shift.extra or (n, number, skill) not in self.made.hours:
                continue
            extra = parts * shift.extra - self.made.overtime.get(key, 0)
            cap = self.overtime_left.get((skill, shift.day), [0])
            limits = [cap, *self.limits_left[shift.crew, shift.day]]
            hundredths = min(self.left[number, skill], extra, *(limit[0] for limit in limits))
            if most_heads is not None:
                most = (
                    most_heads * self.problem.parts * shift.hundredths
                    - self.on_stage[number, shift.shift]
                )
                hundredths = min(hundredths, most)
            if hundredths > 0:
                self.made.overtime[key] = self.made.overtime.get(key, 0) + hundredths
                for limit in limits:
                    limit[0] -= hundredths
                self._book(n, shift, number, skill, hundredths)
