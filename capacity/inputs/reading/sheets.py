"""The sheets of the workbook: one row model each, with the headings as aliases.

A field without a default must be filled in every row. A column may be missing when its
field has a default and it is not among ``columns_needed``.
"""

from datetime import date, timedelta
from typing import Annotated, Any, ClassVar

from pydantic import BeforeValidator, Field

from capacity.facts import ExtraReason
from capacity.inputs.reading.cells import (
    Clock,
    Count,
    Day,
    Days,
    DonePercent,
    Factor,
    Heads,
    HoursOfDay,
    HoursOfMonth,
    ManHours,
    Metres,
    Money,
    Name,
    Names,
    PartPercent,
    PeakPercent,
    Percent,
    Rate,
    SomeCount,
    SomeDays,
    Text,
    WaitDays,
    Weeks,
    Word,
    Words,
    YesNo,
    one_of,
)
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.settings_cells import (
    CountedBy,
    HolidayPlace,
    Rules,
    RulesMode,
    Weekdays,
)

StatusWord = Annotated[str, BeforeValidator(one_of("fixed", "booked", "option"))]
EmploymentWord = Annotated[str, BeforeValidator(one_of("employed", "contract"))]
Licence = Annotated[str, BeforeValidator(one_of("A", "B1", "B2", "C"))]
FunctionWord = Annotated[
    str, BeforeValidator(one_of("plan", "perform", "supervise", "inspect", "monitor quality"))
]
HeldWord = Annotated[str, BeforeValidator(one_of("in day", "bay", "both"))]
ReasonWord = Annotated[str, BeforeValidator(one_of(*ExtraReason))]
WarnOrOff = Annotated[str, BeforeValidator(one_of("warn", "off"))]


class SettingLine(Row):
    """A row of the sheet ``Base``; all of them together are ``Settings``."""

    sheet: ClassVar[str] = "Base"
    identity: ClassVar[tuple[str, ...]] = ("setting",)
    columns_needed: ClassVar[frozenset[str]] = frozenset({"value"})

    setting: Text = Field(alias="Setting")
    value: Any = Field(None, alias="Value")


class Settings(Row):
    """The sheet ``Base`` turned over: its settings are the columns here."""

    sheet: ClassVar[str] = "Base"

    base: Text = Field(alias="Base")
    first_day: Day = Field(alias="First day")
    weeks: Weeks = Field(alias="Weeks")
    currency: Text = Field("EUR", alias="Currency")
    working_days: Weekdays = Field(frozenset(range(7)), alias="Working days")
    holidays: HolidayPlace = Field(None, alias="Holidays")
    productivity: PartPercent = Field(0.75, alias="Productivity %")
    longest_delay_days: Days = Field(28, alias="Longest delay days")
    longest_wait_days: WaitDays = Field(3, alias="Longest wait days")
    overload_cost: Money = Field(500.0, alias="Overload cost")
    labour_rate: Money | None = Field(None, alias="Labour rate")
    daily_peak: PeakPercent = Field(1.0, alias="Daily peak %")
    into_float: YesNo = Field(False, alias="Into float")
    counted_by: CountedBy = Field("week", alias="Man-hours counted by")
    rules: Rules = Field(None, alias="Working-time rules")
    rules_mode: RulesMode = Field("warn", alias="Working-time mode")
    man_hour_plan_name: Text = Field("Man-hour plan", alias="Man-hour plan name")
    plan_date: Day | None = Field(None, alias="Plan date")
    moves_on_days_off: YesNo = Field(True, alias="Moves on days off")
    own_staff_share_rule: WarnOrOff = Field("warn", alias="Own-staff share rule")

    @property
    def last_in_day(self) -> date:
        """The last day on which a check may come in."""
        return self.first_day + timedelta(days=7 * self.weeks - 1)


class SkillRow(Row):
    """A trade with its dearer hours."""

    sheet: ClassVar[str] = "Skills"
    identity: ClassVar[tuple[str, ...]] = ("skill",)
    columns_needed: ClassVar[frozenset[str]] = frozenset(
        {"overtime_cost", "overtime_cap", "contract_cost", "contract_cap"}
    )

    skill: Name = Field(alias="Skill")
    licence: Licence = Field("", alias="Licence")
    overtime_cost: Money = Field(0.0, alias="Overtime cost")
    overtime_cap: Percent = Field(0.0, alias="Overtime cap %")
    contract_cost: Money = Field(0.0, alias="Contract cost")
    contract_cap: Percent = Field(0.0, alias="Contract cap %")


class BayRow(Row):
    """A parking position."""

    sheet: ClassVar[str] = "Bays"
    identity: ClassVar[tuple[str, ...]] = ("bay",)

    bay: Name = Field(alias="Bay")
    hangar: Text = Field("", alias="Hangar")
    max_span_m: Metres = Field(alias="Max span m")
    max_length_m: Metres = Field(alias="Max length m")
    max_tail_m: Metres = Field(alias="Max tail m")
    work: Names = Field(alias="Work")
    docking: Names = Field((), alias="Docking")
    reached_through: Name | None = Field(None, alias="Reached through")
    shares_floor_with: Names = Field((), alias="Shares floor with")
    changeover_days: Days = Field(0, alias="Changeover days")


class ClosureRow(Row):
    """Days on which a bay is closed."""

    sheet: ClassVar[str] = "Bay closures"
    optional: ClassVar[bool] = True

    bay: Name = Field(alias="Bay")
    first: Day = Field(alias="From")
    last: Day = Field(alias="To")
    reason: Text = Field("", alias="Reason")


class TypeRow(Row):
    """An aircraft type."""

    sheet: ClassVar[str] = "Aircraft types"
    identity: ClassVar[tuple[str, ...]] = ("type",)

    type: Name = Field(alias="Type")
    span_m: Metres = Field(alias="Span m")
    length_m: Metres = Field(alias="Length m")
    tail_m: Metres = Field(alias="Tail m")
    docking: Name | None = Field(None, alias="Docking")


class StageRow(Row):
    """A stage of a package."""

    sheet: ClassVar[str] = "Packages"
    identity: ClassVar[tuple[str, ...]] = ("package", "stage")

    package: Name = Field(alias="Package")
    stage: Name = Field(alias="Stage")
    after: Names = Field((), alias="After")
    work: Name = Field(alias="Work")
    days: SomeDays = Field(alias="Days")
    shortest_days: SomeDays | None = Field(None, alias="Shortest days")
    longest_days: SomeDays | None = Field(None, alias="Longest days")
    equipment: Names = Field((), alias="Equipment")
    max_heads: SomeCount | None = Field(None, alias="Max heads")
    alone: YesNo = Field(False, alias="Alone")
    daily_peak: PeakPercent | None = Field(None, alias="Daily peak %")
    into_float: YesNo | None = Field(None, alias="Into float")
    findings: Percent = Field(0.0, alias="Findings %")
    findings_spread: Percent = Field(0.0, alias="Findings spread %")
    critical: YesNo = Field(False, alias="Critical")
    by_night: YesNo = Field(True, alias="By night")
    types: Names = Field((), alias="Types")
    material_cost: Money | None = Field(None, alias="Material cost")


class HoursRow(Row):
    """Routine man-hours of a stage in one skill.

    Where the sheet has a column a skill, ``column`` is its letter and ``heading_row`` the row
    in which its heading names the skill.
    """

    sheet: ClassVar[str] = "Package hours"
    may_be_empty: ClassVar[bool] = True
    identity: ClassVar[tuple[str, ...]] = ("package", "stage", "skill")

    package: Name = Field(alias="Package")
    stage: Name = Field(alias="Stage")
    skill: Name = Field(alias="Skill")
    man_hours: ManHours = Field(alias="Man-hours")
    column: str = ""
    heading_row: int = 0

    def own_place(self, field: str) -> str | None:
        """Return the cell that holds the hours, or the skill, of a column a skill."""
        rows = {"skill": self.heading_row, "man_hours": self.row}
        return f"{self.column}{rows[field]}" if self.column and field in rows else None


class CheckRow(Row):
    """A check that wants to come in."""

    sheet: ClassVar[str] = "Checks"
    identity: ClassVar[tuple[str, ...]] = ("check",)
    columns_needed: ClassVar[frozenset[str]] = frozenset(
        {"earliest_in", "latest_in", "early_cost_per_day", "late_cost_per_day"}
    )

    check: Name = Field(alias="Check")
    aircraft: Text = Field(alias="Aircraft")
    type: Name = Field(alias="Type")
    package: Name = Field(alias="Package")
    customer: Text = Field("", alias="Customer")
    third_party: YesNo = Field(False, alias="Third party")
    status: StatusWord = Field(alias="Status")
    earliest_in: Day | None = Field(None, alias="Earliest in")
    latest_in: Day | None = Field(None, alias="Latest in")
    wanted_in: Day | None = Field(None, alias="Wanted in")
    wanted_cost_per_day: Money = Field(0.0, alias="Cost per day from Wanted in")
    agreed_out: Day | None = Field(None, alias="Agreed out")
    agreed_days: SomeDays | None = Field(None, alias="Agreed days")
    early_cost_per_day: Money = Field(0.0, alias="Early cost per day")
    late_cost_per_day: Money = Field(0.0, alias="Late cost per day")
    price: Money = Field(0.0, alias="Price")
    findings_factor: Factor = Field(1.0, alias="Findings factor")
    fixed_bay: Name | None = Field(None, alias="Fixed bay")
    fixed_in: Day | None = Field(None, alias="Fixed in")
    remaining: PartPercent | None = Field(None, alias="Remaining %")
    decide_by: Day | None = Field(None, alias="Decide by")
    held: HeldWord = Field("", alias="Held")
    planned_in: Day | None = Field(None, alias="Planned in")
    planned_out: Day | None = Field(None, alias="Planned out")

    @property
    def is_fixed(self) -> bool:
        """Whether bay and day of the check stand."""
        return self.status == "fixed"

    @property
    def is_held(self) -> bool:
        """Whether it is held in its day or its bay without being fixed."""
        return bool(self.held) and not self.is_fixed

    @property
    def held_in(self) -> date | None:
        """The day on which it is held to come in."""
        return self.fixed_in if self.is_held and self.held in ("in day", "both") else None

    @property
    def held_bay(self) -> str | None:
        """The bay that it is held to come into."""
        return self.fixed_bay if self.is_held and self.held in ("bay", "both") else None

    def window(self) -> tuple[date, date] | None:
        """Return ``Earliest in`` and ``Latest in``; of a fixed check blank ones are its day."""
        stand_in = self.fixed_in if self.is_fixed else None
        earliest, latest = self.earliest_in or stand_in, self.latest_in or stand_in
        return (earliest, latest) if earliest and latest else None


class ProgressRow(Row):
    """How far a stage of a check in work is, or the check as a whole."""

    sheet: ClassVar[str] = "Progress"
    optional: ClassVar[bool] = True

    check: Name = Field(alias="Check")
    stage: Name | None = Field(None, alias="Stage")
    as_of: Day = Field(alias="As of")
    done: DonePercent | None = Field(None, alias="Done %")
    hours_booked: ManHours | None = Field(None, alias="Hours booked")
    hours_to_go: ManHours | None = Field(None, alias="Hours to go")
    finished: Day | None = Field(None, alias="Finished")


class ExtraRow(Row):
    """Man-hours of a skill that one check has beyond its package."""

    sheet: ClassVar[str] = "Extra work"
    optional: ClassVar[bool] = True

    check: Name = Field(alias="Check")
    stage: Name = Field(alias="Stage")
    after: Names = Field((), alias="After")
    work: Name | None = Field(None, alias="Work")
    days: SomeDays | None = Field(None, alias="Days")
    skill: Name = Field(alias="Skill")
    man_hours: ManHours = Field(alias="Man-hours")
    reason: ReasonWord = Field(alias="Reason")


class ReadyRow(Row):
    """A day before which a stage of a check cannot start."""

    sheet: ClassVar[str] = "Ready dates"
    optional: ClassVar[bool] = True

    check: Name = Field(alias="Check")
    stage: Name = Field(alias="Stage")
    not_before: Day = Field(alias="Not before")
    reason: Text = Field("", alias="Reason")


class CrewRow(Row):
    """People who work the same pattern."""

    sheet: ClassVar[str] = "Crews"
    may_be_empty: ClassVar[bool] = True
    identity: ClassVar[tuple[str, ...]] = ("crew",)

    crew: Name = Field(alias="Crew")
    skills: Names = Field(alias="Skills")
    types: Names = Field((), alias="Types")
    heads: Count = Field(alias="Heads")
    pattern: Name = Field(alias="Pattern")
    starts_cycle_on: Day = Field(alias="Starts cycle on")
    employment: EmploymentWord = Field("employed", alias="Employment")
    area: Text = Field("", alias="Area")
    first: Day | None = Field(None, alias="From")
    last: Day | None = Field(None, alias="To")
    guaranteed: ManHours = Field(0.0, alias="Guaranteed hours a week")


class PatternRow(Row):
    """Shifts in turn, day by day."""

    sheet: ClassVar[str] = "Shift patterns"
    may_be_empty: ClassVar[bool] = True
    identity: ClassVar[tuple[str, ...]] = ("pattern",)

    pattern: Name = Field(alias="Pattern")
    cycle: Words = Field(alias="Cycle")


class ShiftRow(Row):
    """A shift with its attended hours."""

    sheet: ClassVar[str] = "Shifts"
    may_be_empty: ClassVar[bool] = True
    identity: ClassVar[tuple[str, ...]] = ("shift",)

    shift: Word = Field(alias="Shift")
    start: Clock = Field(alias="Start")
    hours: HoursOfDay = Field(alias="Hours")
    night: YesNo = Field(False, alias="Night")


class AbsenceRow(Row):
    """Heads of a crew who are away."""

    sheet: ClassVar[str] = "Absence"
    optional: ClassVar[bool] = True

    crew: Name = Field(alias="Crew")
    first: Day = Field(alias="From")
    last: Day = Field(alias="To")
    heads: Heads = Field(alias="Heads")
    reason: Text = Field("", alias="Reason")


class LicenceRow(Row):
    """People of a crew whose licence or authorisation ends."""

    sheet: ClassVar[str] = "Licences"
    optional: ClassVar[bool] = True

    crew: Name = Field(alias="Crew")
    of: Name = Field(alias="Skill or type")
    people: SomeCount = Field(alias="People")
    until: Day = Field(alias="Until")


class CalendarRow(Row):
    """Days of the base that are not the usual ones."""

    sheet: ClassVar[str] = "Base calendar"
    optional: ClassVar[bool] = True

    first: Day = Field(alias="From")
    last: Day = Field(alias="To")
    worked: YesNo | None = Field(None, alias="Worked")
    hours: PartPercent | None = Field(None, alias="Hours %")
    reason: Text = Field("", alias="Reason")


class EquipmentRow(Row):
    """A pool of alike pieces."""

    sheet: ClassVar[str] = "Equipment"
    optional: ClassVar[bool] = True
    identity: ClassVar[tuple[str, ...]] = ("equipment",)

    equipment: Name = Field(alias="Equipment")
    number: Count = Field(alias="Number")


class OutageRow(Row):
    """Pieces of equipment out of use."""

    sheet: ClassVar[str] = "Equipment outages"
    optional: ClassVar[bool] = True

    equipment: Name = Field(alias="Equipment")
    first: Day = Field(alias="From")
    last: Day = Field(alias="To")
    number: Count = Field(alias="Number")
    reason: Text = Field("", alias="Reason")


class ShopRow(Row):
    """A shop with its daily rate."""

    sheet: ClassVar[str] = "Shops"
    optional: ClassVar[bool] = True
    identity: ClassVar[tuple[str, ...]] = ("shop",)

    shop: Name = Field(alias="Shop")
    items_per_day: Rate = Field(alias="Items per day")


class LoopRow(Row):
    """Items of a package that go through a shop."""

    sheet: ClassVar[str] = "Shop loops"
    optional: ClassVar[bool] = True

    package: Name = Field(alias="Package")
    shop: Name = Field(alias="Shop")
    items: SomeCount = Field(alias="Items")
    leave_at: Name = Field(alias="Leave at")
    back_for: Name = Field(alias="Back for")


class FunctionRow(Row):
    """Who serves a function of the man-hour plan, and how much of it is needed."""

    sheet: ClassVar[str] = "Functions"
    optional: ClassVar[bool] = True

    function: FunctionWord = Field(alias="Function")
    skill: Name | None = Field(None, alias="Skill")
    heads: Heads | None = Field(None, alias="Heads")
    hours: HoursOfMonth | None = Field(None, alias="Hours per head and month")
    needed: Percent | None = Field(None, alias="Needed per 100 man-hours")


class FunctionAbsenceRow(Row):
    """Heads of a function's people off the roster who are away."""

    sheet: ClassVar[str] = "Function absence"
    optional: ClassVar[bool] = True

    function: FunctionWord = Field(alias="Function")
    first: Day = Field(alias="From")
    last: Day = Field(alias="To")
    heads: Heads = Field(alias="Heads")
    reason: Text = Field("", alias="Reason")


class DeliveredRow(Row):
    """A stage of a check that has left the base."""

    sheet: ClassVar[str] = "Delivered"
    optional: ClassVar[bool] = True

    check: Text = Field(alias="Check")
    aircraft: Text = Field("", alias="Aircraft")
    type: Text = Field("", alias="Type")
    package: Text = Field(alias="Package")
    customer: Text = Field("", alias="Customer")
    findings_factor: Factor = Field(1.0, alias="Findings factor")
    latest_in: Day | None = Field(None, alias="Latest in")
    agreed_out: Day | None = Field(None, alias="Agreed out")
    planned_in: Day | None = Field(None, alias="Planned in")
    actual_in: Day | None = Field(None, alias="Actual in")
    planned_out: Day | None = Field(None, alias="Planned out")
    actual_out: Day | None = Field(None, alias="Actual out")
    stage: Text = Field("", alias="Stage")
    planned_days: Days | None = Field(None, alias="Planned days")
    actual_days: Days | None = Field(None, alias="Actual days")
    routine_hours: ManHours | None = Field(None, alias="Routine man-hours")
    planned_hours: ManHours | None = Field(None, alias="Planned man-hours")
    extra_hours: ManHours = Field(0.0, alias="Extra man-hours")
    actual_hours: ManHours | None = Field(None, alias="Actual man-hours")


SHEETS: tuple[type[Row], ...] = (
    SkillRow,
    BayRow,
    ClosureRow,
    TypeRow,
    StageRow,
    HoursRow,
    CheckRow,
    ProgressRow,
    ExtraRow,
    ReadyRow,
    CrewRow,
    PatternRow,
    ShiftRow,
    AbsenceRow,
    LicenceRow,
    CalendarRow,
    EquipmentRow,
    OutageRow,
    ShopRow,
    LoopRow,
    FunctionRow,
    FunctionAbsenceRow,
    DeliveredRow,
)
