"""The cross checks: everything that several cells together can get wrong."""

from collections.abc import Callable, Iterator

from capacity.inputs.checking import (
    base_calendar,
    bay_ties,
    checks,
    equipment,
    extra_work,
    fit,
    fixed,
    fixed_together,
    functions,
    held,
    labour,
    levelling,
    licences,
    noted_columns,
    paces,
    package_types,
    packages,
    percents,
    progress,
    ready_dates,
    references,
    remaining,
    shops,
)
from capacity.inputs.reading.rows import Sheets
from capacity.messages import Level, Message

Rule = Callable[[Sheets], Iterator[Message]]

MOST_ERRORS_OF_A_RULE = 200  # more than a person reads at once, and a bound on time

RULES: tuple[Rule, ...] = (
    references.ids_stand_once,
    references.ids_differ_by_more_than_case,
    references.names_are_known,
    references.ranges_run_forward,
    base_calendar.rows_tell_something,
    base_calendar.rows_are_no_slips,
    base_calendar.rows_agree,
    base_calendar.worked_days_off,
    bay_ties.bays_are_tied_to_others,
    bay_ties.ways_run_in_no_circle,
    packages.after_names_stages,
    packages.stages_do_not_wait_in_a_circle,
    packages.packages_end,
    packages.hours_name_stages,
    packages.packages_have_hours,
    packages.material_stands_once,
    packages.work_is_done_somewhere,
    packages.skills_have_crews,
    package_types.types_are_told_alike,
    package_types.checks_are_of_a_type_of_their_package,
    paces.paces_lie_around_days,
    paces.heads_suffice,
    levelling.float_holds_nothing,
    levelling.peaks_have_more_than_a_day,
    equipment.outages_lie_within_numbers,
    equipment.outages_together_lie_within_numbers,
    equipment.stages_find_equipment,
    shops.loops_name_stages,
    shops.loops_run_forward,
    shops.loops_end,
    labour.caps_have_costs,
    labour.overload_is_the_last_resort,
    labour.contract_crews_have_costs,
    labour.guarantees_are_of_contract_crews,
    labour.types_have_crews,
    labour.patterns_have_shifts,
    labour.absences_lie_within_heads,
    labour.crews_are_there,
    labour.estimated_holidays,
    licences.licences_are_of_their_crew,
    licences.licences_are_of_people,
    functions.rows_tell_something,
    functions.heads_have_hours,
    functions.skills_serve_one_function,
    functions.need_is_told_once,
    functions.work_needs_no_share_of_itself,
    functions.absences_have_heads,
    functions.areas_are_hangars,
    percents.percents_are_no_shares,
    percents.overtime_is_less_than_regular,
    checks.windows_are_given,
    checks.windows_run_forward,
    checks.windows_meet_the_plan,
    checks.windows_lie_within_the_plan,
    checks.agreed_out_is_after_the_window_opens,
    checks.out_is_agreed_once,
    checks.figures_have_an_effect,
    remaining.work_left_agrees_with_the_days,
    extra_work.new_stages_are_told_whole,
    extra_work.new_stages_come_after_others,
    extra_work.stages_of_checks_end,
    extra_work.extra_work_is_told_once,
    extra_work.extra_work_finds_bays_and_people,
    extra_work.extra_hours_find_room,
    extra_work.extra_work_is_to_come,
    progress.progress_is_of_checks_in_work,
    progress.progress_names_stages,
    progress.progress_is_told_once,
    progress.progress_says_what_is_left,
    progress.progress_is_not_of_tomorrow,
    progress.stages_go_on_in_order,
    progress.estimates_agree_with_hours_booked,
    ready_dates.ready_dates_name_stages,
    ready_dates.ready_dates_lie_near_the_plan,
    ready_dates.ready_dates_are_of_stages_to_come,
    fit.some_bay_holds_each_check,
    fixed.fixed_checks_have_bay_and_day,
    fixed.fixed_days_lie_in_their_window,
    fixed.fixed_days_are_worked,
    held.held_checks_say_where,
    held.held_days_lie_in_their_window,
    held.decisions_are_of_options,
    fixed.fixed_bays_are_open,
    fixed.fixed_checks_do_not_collide,
    fixed_together.ways_are_clear,
    fixed_together.floor_is_free,
    fixed_together.equipment_suffices,
    fixed.fixed_checks_reach_the_plan,
    noted_columns.columns_that_ask_nothing,
)


def check(sheets: Sheets) -> list[Message]:
    """Return what all rules find in the rows that could be read."""
    found = (message for rule in RULES for message in _bounded(rule(sheets)))
    return list(dict.fromkeys(found))  # a cell that stands for several rows is named once


def _bounded(found: Iterator[Message]) -> Iterator[Message]:
    errors = 0
    for message in found:
        yield message
        errors += message.level is Level.ERROR
        if errors == MOST_ERRORS_OF_A_RULE:
            sheet = message.where.partition("!")[0]
            remedy = "Correct these first, and check again."
            yield Message(Level.ERROR, sheet, "there may be more errors of this kind.", remedy)
            return
