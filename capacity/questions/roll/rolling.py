"""Decide what becomes of every check and every dated row when the first day moves on."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from capacity.errors import InputError
from capacity.facts import Base, Check, DeliveredStage, Status, latest_by_stage
from capacity.inputs.reading.cells import day as day_in_cell
from capacity.inputs.reading.cells import text as text_in_cell
from capacity.inputs.reading.edited_copy import SheetEdit, SheetTable, TableRow
from capacity.inputs.reading.sheets import DeliveredRow
from capacity.messages import Level, Message
from capacity.plans.plan import Placement, Plan
from capacity.plans.worked_days import WorkedDays
from capacity.plans.worked_starts import on_worked_days
from capacity.questions.replan.begun import begun_of
from capacity.questions.roll.delivering import delivered, hours_so_far
from capacity.questions.roll.states import stage_states
from capacity.questions.roll.values import Decided, Delivered, Gone, InWork, Rolled, StageState
from capacity.words import day, hours, listed

SHARE = 1e-9

DATED = {
    "Bay closures": "Bay",
    "Absence": "Crew",
    "Equipment outages": "Equipment",
    "Function absence": "Function",
    "Base calendar": "Reason",
}
"""Sheets of rows with From and To, and the column that says whose they are."""

OF_CHECKS = ("Progress", "Extra work", "Ready dates")
"""Sheets whose rows belong to a check, and leave with it."""

SHEETS = ("Base", "Checks", *OF_CHECKS, *DATED)

Where = Callable[[str, str, str], str]
"""The cell of a sheet, the name of a row, and a heading."""


def roll(
    base: Base,
    plan: Plan,
    tables: Mapping[str, SheetTable],
    first_day: date,
    *,
    weeks: int | None = None,
    book: Collection[str] = (),
    drop: Collection[str] = (),
    not_in: Collection[str] = (),
    where: Where | None = None,
) -> Rolled:
    """Return what is different in the workbook of ``base`` when it begins on ``first_day``.

    ``tables`` are its sheets by name, as they stand. A check that the plan has in before that day
    is in work then, or has left, unless it did not come: it is among ``not_in``, or its ``Earliest
    in`` is later now (``begun_of``). Options named in ``book`` become booked and those in ``drop``
    are taken out; of the others whose ``Decide by`` is past, those that the plan takes are booked,
    the rest taken out, as is one whose ``Latest in`` is past: an option cannot come any more then.

    Raises
    ------
    InputError
        When the day is not after the first one, or past the last in day, or a name is no option.
    """
    cell = where or (lambda sheet, name, heading: sheet)
    _refuse(base, plan, first_day, book, drop, not_in, cell)
    task = _Task(base, on_worked_days(plan, base), tables, first_day, cell, frozenset(not_in))
    for check in base.checks:
        task.take(check, is_booked=check.name in book, is_dropped=check.name in drop)
    task.rows_behind()
    task.settings(weeks)
    return Rolled(
        old_first_day=base.first_day,
        first_day=first_day,
        weeks=weeks or base.weeks,
        delivered=tuple(task.delivered),
        in_work=tuple(task.in_work),
        booked=tuple(task.booked),
        dropped=tuple(task.dropped),
        not_in=tuple(not_in),
        gone=tuple(task.gone),
        for_a_person=tuple(task.for_a_person),
        edits=tuple(task.edits()),
    )


def _refuse(
    base: Base,
    plan: Plan,
    first_day: date,
    book: Collection[str],
    drop: Collection[str],
    not_in: Collection[str],
    cell: Where,
) -> None:
    messages = []
    if first_day <= base.first_day:
        what = f"the new first day {day(first_day)} is not after {day(base.first_day)}."
        messages.append(
            Message(Level.ERROR, cell("Base", "First day", "Value"), what, "Name a later day.")
        )
    if first_day > base.last_in_day:
        what = (
            f"the new first day {day(first_day)} is after {day(base.last_in_day)}, the last day on "
            "which a check can come in by this plan."
        )
        remedy = "Raise Weeks and plan first, or name an earlier day."
        messages.append(Message(Level.ERROR, cell("Base", "Weeks", "Value"), what, remedy))
    begun = begun_of(base, plan.by_check(), first_day)
    for option, names in (("--book", book), ("--drop", drop)):
        for name in names:
            what = ""
            if not base.has_check(name):
                what = f"{option}: '{name}' is not in the sheet Checks."
            elif base.check(name).status is not Status.OPTION:
                what = f"{option}: '{name}' is {base.check(name).status.value}, not an option."
            elif option == "--drop" and name in begun:
                what = f"--drop: '{name}' is in already by the plan."
            if what:
                remedy = "Name an option that is still open."
                messages.append(Message(Level.ERROR, cell("Checks", name, "Status"), what, remedy))
    for name in sorted(set(not_in) - begun):
        what = f"--not-in: '{name}' does not come in before {day(first_day)} by the plan."
        remedy = "Name a check that the plan has in by then."
        messages.append(Message(Level.ERROR, cell("Checks", name, "Check"), what, remedy))
    for name in sorted(name for name in not_in if base.progress_of(name)):
        what = f"--not-in: '{name}' has rows in Progress."
        messages.append(Message(Level.ERROR, cell("Progress", name, "Check"), what, "Delete them."))
    for name in sorted(set(book) & set(drop)):
        what = f"'{name}' cannot be both booked and dropped."
        messages.append(Message(Level.ERROR, cell("Checks", name, "Status"), what, "Name it once."))
    if messages:
        raise InputError(messages)


@dataclass
class _Task:
    """Gathers what becomes of checks and rows, and the edits for it."""

    base: Base
    plan: Plan
    tables: Mapping[str, SheetTable]
    first_day: date
    cell: Where
    not_in: frozenset[str]
    delivered: list[Delivered] = field(default_factory=list)
    in_work: list[InWork] = field(default_factory=list)
    booked: list[Decided] = field(default_factory=list)
    dropped: list[Decided] = field(default_factory=list)
    gone: list[Gone] = field(default_factory=list)
    for_a_person: list[Message] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._before = self.plan.by_check()
        self._begun = begun_of(self.base, self._before, self.first_day) - self.not_in
        self._worked = WorkedDays(self.base)
        self._changed: dict[str, dict[int, dict[str, object]]] = {}
        self._removed: dict[str, set[int]] = {}
        self._added: dict[str, list[dict[str, object]]] = {}
        self._rows = {_said(row, "Check"): row for row in self._table("Checks").rows}
        self._progress: dict[str, list[TableRow]] = {}
        for row in self._table("Progress").rows:
            name = _said(row, "Check")
            self._progress.setdefault(name, []).append(row)

    def take(self, check: Check, *, is_booked: bool, is_dropped: bool) -> None:
        """Decide what becomes of a check."""
        if check.name in self._begun:
            self._take_begun(check)
            return
        if check.status is Status.OPTION:
            self._take_option(check, is_booked=is_booked, is_dropped=is_dropped)
            return
        if check.latest_in < self.first_day and check.status is not Status.FIXED:
            self._tell(
                check.name,
                "Latest in",
                f"'{check.name}' is not in, and its Latest in {day(check.latest_in)} has passed.",
                "Correct its dates, or delete its row if it does not come any more.",
            )

    def _take_option(self, check: Check, *, is_booked: bool, is_dropped: bool) -> None:
        """Book an option, take it out, or leave it open."""
        by = self._decide_by(check)
        by = by if by is not None and by < self.first_day else None
        latest = check.latest_in if check.latest_in < self.first_day else None
        is_named = is_booked or is_dropped
        if not (is_named or by or latest):
            return
        decided = Decided(check.name, *((None, None) if is_named else (by, None if by else latest)))
        if is_booked or (by and not is_dropped and check.name in self._before):
            self.booked.append(decided)
            values = {"Status": "booked", **self._cleared(check, "Decide by")}
            self._change("Checks", self._rows[check.name].number, values)
        else:
            self.dropped.append(decided)
            self._take_out(check.name)

    def rows_behind(self) -> None:
        """Take out rows of closures, absences and the like that end before the new first day."""
        for sheet, whose in DATED.items():
            for row in self._table(sheet).rows:
                if "To" not in row.values:
                    continue
                last = day_in_cell(row.values["To"])
                if last < self.first_day:
                    name = _said(row, whose)
                    self.gone.append(Gone(sheet, row.number, name, last))
                    self._removed.setdefault(sheet, set()).add(row.number)

    def settings(self, weeks: int | None) -> None:
        """Move the first day on, and the weeks where they are named."""
        wanted: dict[str, object] = {"first day": self.first_day}
        if weeks is not None:
            wanted["weeks"] = weeks
        for row in self._table("Base").rows:
            name = _said(row, "Setting").strip().casefold()
            if name in wanted:
                self._change("Base", row.number, {"Value": wanted[name]})

    def edits(self) -> Iterator[SheetEdit]:
        """Return the edits of each sheet."""
        self._fill_emptied("Progress")
        for sheet in (*SHEETS, "Delivered"):
            edit = SheetEdit(
                sheet,
                self._changed.get(sheet, {}),
                tuple(self._added.get(sheet, ())),
                frozenset(self._removed.get(sheet, ())),
            )
            if not edit.is_empty:
                yield edit

    def _fill_emptied(self, sheet: str) -> None:
        """Put added rows where others are taken out, so that the sheet does not only grow."""
        added, emptied = self._added.get(sheet, []), self._removed.get(sheet, set())
        for number in sorted(emptied)[: len(added)]:
            emptied.discard(number)
            blank = dict.fromkeys(self._table(sheet).headings)
            self._change(sheet, number, {**blank, **added.pop(0)})

    def _table(self, sheet: str) -> SheetTable:
        return self.tables.get(sheet, SheetTable(sheet, ()))

    def _change(self, sheet: str, row: int, values: Mapping[str, object]) -> None:
        self._changed.setdefault(sheet, {}).setdefault(row, {}).update(values)

    def _tell(self, check: str, heading: str, what: str, remedy: str) -> None:
        where = self.cell("Checks", check, heading)
        self.for_a_person.append(Message(Level.WARNING, where, what, remedy))

    def _decide_by(self, check: Check) -> date | None:
        row = self._rows.get(check.name)
        told = row.values.get("Decide by") if row else None
        return None if told is None else day_in_cell(told)

    def _date_of(self, check: Check, heading: str) -> date | None:
        told = self._rows[check.name].values.get(heading)
        return None if told is None else day_in_cell(told)

    def _cleared(self, check: Check, *headings: str) -> dict[str, object]:
        """Return what clears those of a check's cells that hold something."""
        told = self._rows[check.name].values
        return {heading: None for heading in headings if heading in told}

    def _take_out(self, name: str) -> None:
        """Take a check out, and with it all rows that belong to it."""
        self._removed.setdefault("Checks", set()).add(self._rows[name].number)
        for sheet in OF_CHECKS:
            for row in self._table(sheet).rows:
                if _said(row, "Check") == name:
                    self._removed.setdefault(sheet, set()).add(row.number)

    def _take_begun(self, check: Check) -> None:
        placements = self._before.get(check.name, [])
        states = stage_states(self.base, check, placements, self.first_day, self._worked)
        left = [state for state in states if state.left > SHARE]
        if not left:
            self._deliver(check, placements)
            return
        self._go_on(check, placements, states)
        out_day = placements[-1].out_day if placements else None
        names = listed([state.stage for state in left])
        if not placements:
            self._tell(
                check.name,
                "Check",
                f"'{check.name}' is in, but not in the plan: its work is taken as stated.",
                "Tell its progress as of the new first day in the sheet Progress.",
            )
        elif out_day is not None and out_day <= self.first_day:
            self._tell(
                check.name,
                "Check",
                f"'{check.name}' was to be out on {day(out_day)}, but {names} not finished.",
                "It stays in work with what is left; plan again, and tell its customer.",
            )

    def _deliver(self, check: Check, placements: Sequence[Placement]) -> None:
        row = self._rows[check.name]
        was_fixed = _said(row, "Status").casefold() == "fixed"
        came_in = self._date_of(check, "Fixed in") if was_fixed else None
        # A day that lay ahead when the workbook was made was a plan, not what happened.
        actual_in = came_in if came_in and came_in < self.base.first_day else None
        planned = self._date_of(check, "Planned in"), self._date_of(check, "Planned out")
        record = delivered(
            self.base, check, placements, self._worked, actual_in=actual_in, planned=planned
        )
        self.delivered.append(record)
        self._take_out(check.name)
        self._added.setdefault("Delivered", []).extend(_as_row(stage) for stage in record.stages)
        if record.missing:
            self.for_a_person.append(
                Message(
                    Level.WARNING,
                    "Delivered",
                    f"'{check.name}' has left, but nobody reported {listed(record.missing)}.",
                    "Fill it in there, or leave it blank: nothing is learnt from it then.",
                )
            )
        so_far = hours_so_far(self.base.progress_of(check.name))
        if so_far:
            told = listed([f"{hours(booked)} on {name}" for name, booked in so_far.items()])
            self.for_a_person.append(
                Message(
                    Level.WARNING,
                    "Delivered",
                    f"'{check.name}' had {told} booked before the end; what it came to in all is "
                    "not known.",
                    "Fill in Actual man-hours there.",
                )
            )

    def _go_on(
        self, check: Check, placements: Sequence[Placement], states: tuple[StageState, ...]
    ) -> None:
        """Keep a check in its bay, fixed, with what is left of it."""
        row = self._rows[check.name]
        here = [p for p in placements if p.in_day <= self.first_day]
        bay = here[-1].bay if here else check.fixed_bay or ""
        in_day = check.fixed_in if check.status is Status.FIXED else None
        in_day = in_day or placements[0].in_day
        was_fixed = _said(row, "Status").casefold() == "fixed"
        values: dict[str, object] = {"Status": "fixed", "Fixed bay": bay, "Fixed in": in_day}
        values |= self._cleared(check, "Held", "Decide by")
        if not was_fixed and placements:
            values |= {"Planned in": in_day, "Planned out": placements[-1].out_day}
            self._tell(
                check.name,
                "Fixed in",
                f"'{check.name}' is taken to have come in on {day(in_day)}, as planned.",
                "Correct Fixed in if it came on another day.",
            )
        self._write_progress(check, states)
        values |= self._cleared(check, "Remaining %")
        self._change("Checks", row.number, values)
        out_day = placements[-1].out_day if placements else None
        was_option = check.status is Status.OPTION
        self.in_work.append(
            InWork(check.name, bay, in_day, out_day, states, not was_fixed, was_option)
        )

    def _write_progress(self, check: Check, states: Sequence[StageState]) -> None:
        """Write what is left of each stage, so that all of it counts from the new first day."""
        rows = self._progress.get(check.name, [])
        latest = latest_by_stage(self.base.progress_of(check.name))
        whole = latest.get(None)
        if not latest and all(abs(state.left - 1) <= SHARE for state in states):
            values = _progress_row(check.name, states[0], with_hours=False)
            self._added.setdefault("Progress", []).append({**values, "As of": self.first_day})
            return
        for state in states:
            told = latest.get(state.stage)
            if told is not None and (told.as_of >= self.first_day or told.finished is not None):
                continue  # what people said stands
            if (
                told is None
                and (state.left >= 1 - SHARE and state.left <= 1 + SHARE)
                and whole is None
            ):
                continue
            if told is None and whole is not None and whole.as_of >= self.first_day:
                continue
            values = _progress_row(check.name, state, with_hours=bool(told and told.hours_to_go))
            mine = [
                row
                for row in rows
                if _said(row, "Stage") == state.stage and "Hours booked" not in row.values
            ]
            if mine:
                self._change("Progress", mine[-1].number, values)
            else:
                self._added.setdefault("Progress", []).append(values)


def _said(row: TableRow, heading: str) -> str:
    """Return the text in a cell of a row; blank where there is none."""
    told = row.values.get(heading)
    return "" if told is None else text_in_cell(told)


def _progress_row(check: str, state: StageState, *, with_hours: bool) -> dict[str, object]:
    """Return a row of the sheet Progress; more than was planned is stated in man-hours."""
    in_hours = (with_hours or state.left > 1 + SHARE) and state.left > SHARE and state.man_hours > 0
    return {
        "Check": check,
        "Stage": state.stage,
        "As of": state.as_of,
        "Done %": None if in_hours else 100 * (1 - state.left),
        "Hours to go": state.left * state.man_hours if in_hours else None,
    }


def _as_row(record: DeliveredStage) -> dict[str, object]:
    """Return a record under the headings of the sheet Delivered; blank where nothing is known."""
    values = {heading: getattr(record, name) for heading, name in DeliveredRow.headings().items()}
    if not record.extra_hours:
        values["Extra man-hours"] = None
    if record.findings_factor == 1:
        values["Findings factor"] = None
    return {heading: value for heading, value in values.items() if value not in (None, "")}
