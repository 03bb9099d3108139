"""The cross checks: everything that several cells together can get wrong."""

from collections.abc import Callable, Iterator

from capacity.findings import Finding, Level
from capacity.inputs import (
    checking_bay_ties,
    checking_checks,
    checking_equipment,
    checking_fit,
    checking_fixed,
    checking_fixed_together,
    checking_functions,
    checking_labour,
    checking_noted_columns,
    checking_paces,
    checking_package_types,
    checking_packages,
    checking_percents,
    checking_references,
    checking_remaining,
    checking_shops,
)
from capacity.inputs.rows import Sheets

Rule = Callable[[Sheets], Iterator[Finding]]

MOST_ERRORS_OF_A_RULE = 200  # more than a person reads at once, and a bound on time

RULES: tuple[Rule, ...] = (
    checking_references.ids_stand_once,
    checking_references.ids_differ_by_more_than_case,
    checking_references.names_are_known,
    checking_references.ranges_run_forward,
    checking_bay_ties.bays_are_tied_to_others,
    checking_bay_ties.ways_run_in_no_circle,
    checking_packages.after_names_stages,
    checking_packages.stages_do_not_wait_in_a_circle,
    checking_packages.packages_end,
    checking_packages.hours_name_stages,
    checking_packages.packages_have_hours,
    checking_packages.work_is_done_somewhere,
    checking_packages.skills_have_crews,
    checking_package_types.types_are_told_alike,
    checking_package_types.checks_are_of_a_type_of_their_package,
    checking_paces.paces_lie_around_days,
    checking_paces.heads_suffice,
    checking_equipment.outages_lie_within_numbers,
    checking_equipment.outages_together_lie_within_numbers,
    checking_equipment.stages_find_equipment,
    checking_shops.loops_name_stages,
    checking_shops.loops_run_forward,
    checking_shops.loops_end,
    checking_labour.caps_have_costs,
    checking_labour.overload_is_the_last_resort,
    checking_labour.contract_crews_have_costs,
    checking_labour.types_have_crews,
    checking_labour.patterns_have_shifts,
    checking_labour.absences_lie_within_heads,
    checking_labour.estimated_holidays,
    checking_functions.rows_tell_something,
    checking_functions.heads_have_hours,
    checking_functions.skills_serve_one_function,
    checking_functions.need_is_told_once,
    checking_functions.work_needs_no_share_of_itself,
    checking_functions.absences_have_heads,
    checking_functions.areas_are_hangars,
    checking_percents.percents_are_no_shares,
    checking_percents.overtime_is_less_than_regular,
    checking_checks.windows_are_given,
    checking_checks.windows_run_forward,
    checking_checks.windows_meet_the_plan,
    checking_checks.windows_lie_within_the_plan,
    checking_checks.agreed_out_is_after_the_window_opens,
    checking_checks.figures_have_an_effect,
    checking_remaining.work_left_agrees_with_the_days,
    checking_fit.some_bay_holds_each_check,
    checking_fixed.fixed_checks_have_bay_and_day,
    checking_fixed.fixed_days_lie_in_their_window,
    checking_fixed.fixed_bays_are_open,
    checking_fixed.fixed_checks_do_not_collide,
    checking_fixed_together.ways_are_clear,
    checking_fixed_together.floor_is_free,
    checking_fixed_together.equipment_suffices,
    checking_fixed.fixed_checks_reach_the_plan,
    checking_noted_columns.columns_that_ask_nothing,
)


def check(sheets: Sheets) -> list[Finding]:
    """Return what all rules find in the rows that could be read."""
    return [finding for rule in RULES for finding in _bounded(rule(sheets))]


def _bounded(found: Iterator[Finding]) -> Iterator[Finding]:
    errors = 0
    for finding in found:
        yield finding
        errors += finding.level is Level.ERROR
        if errors == MOST_ERRORS_OF_A_RULE:
            sheet = finding.where.partition("!")[0]
            remedy = "Correct these first, and check again."
            yield Finding(Level.ERROR, sheet, "there may be more errors of this kind.", remedy)
            return
