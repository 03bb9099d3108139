"""What a comparison of two plans says in words, for the workbook and the terminal."""

from capacity.facts import Base
from capacity.questions.compare.cost_steps import CostSteps, GrownCheck, Step
from capacity.questions.compare.two_plans import Comparison, PlacementPair
from capacity.questions.replan.values import What
from capacity.reports.compare.sheet_two_plans import Names
from capacity.reports.enquiries.wording import named
from capacity.words import LEAST_HOURS, LEAST_MONEY, counted, days, hours, listed, money

NAMES: Names = ("first plan", "second plan")

DIFFERS = {
    What.DAY: "another in day",
    What.BAY: "another bay",
    What.STAGES: "other days of stages",
}


def compared_in_words(told: Comparison, names: Names, base: Base) -> str:
    """Return one sentence on which plan is the better one, goal by goal."""
    first, second = told.first.goals, told.second.goals
    past = second.days_past_latest_in - first.days_past_latest_in
    parts = []
    if past:
        more_or_fewer = "more" if past > 0 else "fewer"
        parts.append(f"has {counted(abs(past), f'{more_or_fewer} day')} past Latest in")
    more = second.money - first.money
    if abs(more) >= LEAST_MONEY:
        parts.append(f"costs {money(abs(more), base)} {'more' if more > 0 else 'less'}")
    over = second.overload_hours - first.overload_hours
    if abs(over) >= LEAST_HOURS:
        parts.append(f"has {hours(abs(over))} {'more' if over > 0 else 'less'} overload")
    if not parts:
        return "Both plans have the same days past Latest in, cost and overload."
    return f"'{names[1]}' {listed(parts)} than '{names[0]}'."


def differing_in_words(told: Comparison) -> str:
    """Return how many checks differ."""
    number, all_of_them = len(told.differing), counted(len(told.placements), "check")
    return f"{number} of {all_of_them} {'differs' if number == 1 else 'differ'}."


def apart_in_words(told: Comparison, names: Names) -> list[str]:
    """Return which checks only one plan has, and that the figures leave them out."""
    lists = (
        (f"Only in {names[0]}", told.only_first),
        (f"Only in {names[1]}", told.only_second),
        ("In both plans, but no longer in the workbook", told.no_longer),
        ("In the workbook, but in neither plan", told.in_neither),
    )
    said = [f"{where}: {', '.join(checks)}." for where, checks in lists if checks]
    if said:
        number = counted(len(told.placements), "check")
        said.append(f"All figures are of the {number} that both plans and the workbook have.")
    return said


def steps_in_words(steps: CostSteps, names: Names) -> list[tuple[str, float]]:
    """Return the way from the cost of one plan to that of the other, a line and amount a step."""
    words = {
        Step.GONE: "checks that are gone",
        Step.WORKBOOK: "the workbook: same slots, checks of both plans",
        Step.GONE_AND_WORKBOOK: "the workbook: checks gone, and changes of the others",
        Step.CHOSEN: "the plan: other slots for checks of both plans",
        Step.NEW: "new checks",
    }
    said = [(f"{names[0]}, as it was made", steps.first)]
    for one in steps.steps:
        who = f" ({named(one.checks)})" if one.checks else ""
        said.append((f"{words[one.step]}{who}", one.money))
    return [*said, (names[1], steps.second)]


def notes_on_steps(steps: CostSteps, names: Names) -> list[str]:
    """Return what to know of the steps: their order, who grew, what could not have stayed."""
    said = [
        "Each amount is what a step adds after those above it; in another order it would differ."
    ]
    if steps.grown:
        grown = "; ".join(map(_grown_in_words, steps.grown))
        said.append(f"Changed by the workbook in the same slot: {grown}.")
    if steps.broken:
        rules = counted(len(steps.broken), "rule")
        said.append(
            f"The slots of {names[0]} could not all have stayed: by the workbook as it is now they "
            f"break {rules}, first of all this: {steps.broken[0]}"
        )
    return said


def _grown_in_words(one: GrownCheck) -> str:
    said = []
    if abs(one.man_hours) >= LEAST_HOURS:
        more = "more" if one.man_hours > 0 else "fewer"
        said.append(f"{hours(abs(one.man_hours))} {more}")
    if one.days:
        said.append(f"{days(abs(one.days))} {'longer' if one.days > 0 else 'shorter'}")
    return f"{one.check} {', '.join(said) or 'otherwise'}"


def broken_in_words(told: Comparison, names: Names) -> list[str]:
    """Return the rules of the base that either plan breaks, each loudly."""
    audits = zip(names, (told.first, told.second), strict=True)
    return [f"{name!r} BREAKS A RULE: {rule}" for name, audit in audits for rule in audit.broken]


def differs_in_words(pair: PlacementPair, names: Names) -> str | None:
    """Return what is different about a check; None when nothing is."""
    if What.PLACED in pair.what:
        return f"only in {names[1]}"
    if What.UNPLACED in pair.what:
        return f"only in {names[0]}"
    if not pair.what:
        return None if pair.first else "in neither"
    return ", ".join(DIFFERS[what] for what in pair.what)
