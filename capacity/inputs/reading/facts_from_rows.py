"""Validated rows become facts; nothing is judged here."""

from capacity.facts import (
    Absence,
    AircraftType,
    Base,
    Bay,
    CalendarDays,
    Closure,
    Crew,
    DeliveredStage,
    Employment,
    Equipment,
    EquipmentOutage,
    ExtraReason,
    ExtraWork,
    Function,
    FunctionAbsence,
    FunctionStaff,
    Licence,
    Package,
    Pattern,
    ReadyDate,
    Shift,
    Shop,
    ShopLoop,
    Skill,
    Stage,
    WorkProgress,
)
from capacity.inputs.reading.check_from_row import check_from
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import (
    AbsenceRow,
    BayRow,
    CalendarRow,
    CheckRow,
    ClosureRow,
    CrewRow,
    DeliveredRow,
    EquipmentRow,
    ExtraRow,
    FunctionAbsenceRow,
    FunctionRow,
    HoursRow,
    LicenceRow,
    LoopRow,
    OutageRow,
    PatternRow,
    ProgressRow,
    ReadyRow,
    Settings,
    ShiftRow,
    ShopRow,
    SkillRow,
    StageRow,
    TypeRow,
)

NOTHING = "-"  # no stage before, or a day off


def base_from(sheets: Sheets, settings: Settings) -> Base:
    """Return the base that rows without any error describe."""
    return Base(
        name=settings.base,
        first_day=settings.first_day,
        weeks=settings.weeks,
        skills=tuple(_skill(row) for row in sheets[SkillRow].rows),
        bays=tuple(_bay(row) for row in sheets[BayRow].rows),
        types=tuple(
            AircraftType(row.type, row.span_m, row.length_m, row.tail_m, row.docking)
            for row in sheets[TypeRow].rows
        ),
        packages=packages_from(sheets),
        checks=tuple(check_from(row) for row in sheets[CheckRow].rows),
        crews=tuple(_crew(row) for row in sheets[CrewRow].rows),
        patterns=tuple(
            Pattern(row.pattern, tuple(None if word == NOTHING else word for word in row.cycle))
            for row in sheets[PatternRow].rows
        ),
        shifts=tuple(
            Shift(row.shift, row.start, row.hours, row.night) for row in sheets[ShiftRow].rows
        ),
        closures=tuple(
            Closure(row.bay, row.first, row.last, row.reason) for row in sheets[ClosureRow].rows
        ),
        absences=tuple(
            Absence(row.crew, row.first, row.last, row.heads, row.reason)
            for row in sheets[AbsenceRow].rows
        ),
        equipment=tuple(Equipment(row.equipment, row.number) for row in sheets[EquipmentRow].rows),
        equipment_outages=tuple(
            EquipmentOutage(row.equipment, row.first, row.last, row.number, row.reason)
            for row in sheets[OutageRow].rows
        ),
        shops=tuple(Shop(row.shop, row.items_per_day) for row in sheets[ShopRow].rows),
        shop_loops=tuple(
            ShopLoop(row.package, row.shop, row.items, row.leave_at, row.back_for)
            for row in sheets[LoopRow].rows
        ),
        progress=progress_from(sheets),
        extra_work=extra_work_from(sheets),
        ready_dates=ready_dates_from(sheets),
        currency=settings.currency,
        working_weekdays=settings.working_days,
        holidays=settings.holidays,
        productivity=settings.productivity,
        longest_delay_days=settings.longest_delay_days,
        longest_wait_days=settings.longest_wait_days,
        overload_cost=settings.overload_cost,
        working_time_rules=settings.rules,
        working_time_mode=settings.rules_mode,
        functions=tuple(_function_staff(row) for row in sheets[FunctionRow].rows),
        function_absences=tuple(
            FunctionAbsence(Function(row.function), row.first, row.last, row.heads, row.reason)
            for row in sheets[FunctionAbsenceRow].rows
        ),
        man_hour_plan_name=settings.man_hour_plan_name,
        plan_date=settings.plan_date,
        own_staff_share_rule=settings.own_staff_share_rule == "warn",
        licences=tuple(
            Licence(row.crew, row.of, row.people, row.until) for row in sheets[LicenceRow].rows
        ),
        comes_in_on_days_off=settings.moves_on_days_off,
        leaves_on_days_off=settings.moves_on_days_off,
        counts_days=settings.counted_by == "day",
        calendar_days=tuple(
            CalendarDays(row.first, row.last, row.worked, row.hours or 1.0, row.reason)
            for row in sheets[CalendarRow].rows
        ),
        labour_rate=settings.labour_rate,
        delivered=tuple(
            DeliveredStage(**row.model_dump(exclude={"row"})) for row in sheets[DeliveredRow].rows
        ),
    )


def progress_from(sheets: Sheets) -> tuple[WorkProgress, ...]:
    """Return what the rows that could be read tell of checks in work, in their order."""
    return tuple(
        WorkProgress(
            row.check,
            row.as_of,
            row.stage,
            row.done,
            row.hours_booked,
            row.hours_to_go,
            row.finished,
        )
        for row in sheets[ProgressRow].rows
    )


def extra_work_from(sheets: Sheets) -> tuple[ExtraWork, ...]:
    """Return the extra work of the rows that could be read, in their order."""
    return tuple(
        ExtraWork(
            check=row.check,
            stage=row.stage,
            skill=row.skill,
            man_hours=row.man_hours,
            reason=ExtraReason(row.reason),
            after=() if row.after == (NOTHING,) else row.after or None,
            work=row.work,
            days=row.days,
        )
        for row in sheets[ExtraRow].rows
    )


def ready_dates_from(sheets: Sheets) -> tuple[ReadyDate, ...]:
    """Return the Ready dates of the rows that could be read, in their order."""
    return tuple(
        ReadyDate(row.check, row.stage, row.not_before, row.reason) for row in sheets[ReadyRow].rows
    )


def packages_from(sheets: Sheets) -> tuple[Package, ...]:
    """Return the packages of the rows that could be read, stages in the order of the sheet."""
    man_hours: dict[tuple[str, str], dict[str, float]] = {}
    for asked in sheets[HoursRow].rows:
        man_hours.setdefault((asked.package, asked.stage), {})[asked.skill] = asked.man_hours
    stages: dict[str, list[Stage]] = {}
    for row, after in stages_with_after(sheets):
        hours = man_hours.get((row.package, row.stage), {})
        stages.setdefault(row.package, []).append(_stage(row, after, hours, sheets.settings))
    types = types_of_packages(sheets)
    material = {row.package: row.material_cost for row in reversed(sheets[StageRow].rows)}
    return tuple(
        Package(name, tuple(parts), types.get(name, ()), material[name] or 0.0)
        for name, parts in stages.items()
    )


def types_of_packages(sheets: Sheets) -> dict[str, tuple[str, ...]]:
    """Return the aircraft types that packages name, on the first of their rows that does."""
    found: dict[str, tuple[str, ...]] = {}
    for row in sheets[StageRow].rows:
        if row.types:
            found.setdefault(row.package, row.types)
    return found


def stages_with_after(sheets: Sheets) -> list[tuple[StageRow, tuple[str, ...]]]:
    """Return each stage with the stages it waits for; blank means the row above."""
    above: dict[str, str] = {}
    found = []
    for row in sheets[StageRow].rows:
        if row.after == (NOTHING,):
            after: tuple[str, ...] = ()
        elif row.after:
            after = row.after
        else:
            after = (above[row.package],) if row.package in above else ()
        above[row.package] = row.stage
        found.append((row, after))
    return found


def _skill(row: SkillRow) -> Skill:
    return Skill(
        name=row.skill,
        overtime_cost=row.overtime_cost,
        overtime_cap=row.overtime_cap,
        contract_cost=row.contract_cost,
        contract_cap=row.contract_cap,
        licence=row.licence,
    )


def _bay(row: BayRow) -> Bay:
    return Bay(
        name=row.bay,
        hangar=row.hangar,
        max_span_m=row.max_span_m,
        max_length_m=row.max_length_m,
        max_tail_m=row.max_tail_m,
        work=frozenset(row.work),
        docking=frozenset(row.docking),
        reached_through=row.reached_through,
        shares_floor_with=frozenset(row.shares_floor_with),
        changeover_days=row.changeover_days,
    )


def _stage(
    row: StageRow,
    after: tuple[str, ...],
    man_hours: dict[str, float],
    settings: Settings | None,
) -> Stage:
    """Return the stage; where its own cells are blank, the settings say how hours are levelled."""
    peak, reaches = (1.0, False) if settings is None else (settings.daily_peak, settings.into_float)
    return Stage(
        name=row.stage,
        work=row.work,
        days=row.days,
        man_hours=man_hours,
        after=after,
        findings=row.findings,
        findings_spread=row.findings_spread,
        shortest_days=row.shortest_days,
        longest_days=row.longest_days,
        equipment=row.equipment,
        max_heads=row.max_heads,
        alone=row.alone,
        critical=row.critical,
        by_night=row.by_night,
        daily_peak=peak if row.daily_peak is None else row.daily_peak,
        into_float=reaches if row.into_float is None else row.into_float,
    )


def _crew(row: CrewRow) -> Crew:
    return Crew(
        name=row.crew,
        skills=row.skills,
        heads=row.heads,
        pattern=row.pattern,
        starts_cycle_on=row.starts_cycle_on,
        types=frozenset(row.types),
        employment=Employment(row.employment),
        area=row.area,
        first=row.first,
        last=row.last,
        guaranteed_hours=row.guaranteed,
    )


def _function_staff(row: FunctionRow) -> FunctionStaff:
    return FunctionStaff(
        function=Function(row.function),
        skill=row.skill,
        heads=row.heads or 0.0,
        hours_per_head_and_month=row.hours or 0.0,
        needed_share=row.needed or 0.0,
    )
