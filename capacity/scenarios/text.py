"""Answers to scenarios in lines for a terminal."""

from collections.abc import Sequence

from capacity.facts import Base
from capacity.reports.kit.cell_text import printable
from capacity.scenarios.values import Ended, ScenarioAnswer
from capacity.words import counted, hours, money

MOST_LINES = 40


def scenarios_in_words(
    standing: ScenarioAnswer, answers: Sequence[ScenarioAnswer], base: Base, asked: int
) -> str:
    """Return all answers, those that cost least more first, with what each is compared with."""
    lines = [f"{counted(len(answers), 'scenario')} of {base.name}"]
    if len(answers) < asked:
        lines[0] += f"; {counted(asked - len(answers), 'scenario')} not answered"
    lines.append(f"  as it is: {_figures(standing, None, base)}")
    ranked = in_order(answers)
    for answer in ranked[:MOST_LINES]:
        lines.append(f"  {answer.name}: {_figures(answer, standing, base)}")
    if len(ranked) > MOST_LINES:
        lines.append(f"  and {len(ranked) - MOST_LINES} more; the workbook of answers has them all")
    return "\n".join(printable(line) for line in lines)


def in_order(answers: Sequence[ScenarioAnswer]) -> list[ScenarioAnswer]:
    """Return those planned first, by days past Latest in and cost, then the others by name."""

    def rank(answer: ScenarioAnswer) -> tuple[bool, int, float, str]:
        figures = answer.figures
        if figures is None:
            return True, 0, 0.0, answer.name
        return False, figures.days_past, figures.cost, answer.name

    return sorted(answers, key=rank)


def _figures(answer: ScenarioAnswer, standing: ScenarioAnswer | None, base: Base) -> str:
    figures = answer.figures
    if figures is None:
        return f"{answer.ended.value}{': ' if answer.said else ''}{'; '.join(answer.said[:1])}"
    more = ""
    if standing is not None and standing.figures is not None:
        difference = figures.cost - standing.figures.cost
        kind = "more" if difference >= 0 else "less"
        more = f" ({money(abs(difference), base)} {kind})"
    said = [
        f"cost {money(figures.cost, base)}{more}",
        f"{counted(figures.days_past, 'day')} past Latest in",
        f"{counted(figures.late_days, 'day')} late out",
        f"bought {hours(figures.bought_hours)}",
        f"overload {hours(figures.overload_hours)}",
    ]
    if answer.moved:
        said.append(f"{counted(len(answer.moved), 'check')} with another slot")
    if figures.without_slot:
        said.append(f"no slot: {', '.join(figures.without_slot)}")
    return ", ".join(said)


def ended_in_words(answer: ScenarioAnswer) -> str:
    """Return what could still be saved at most in a scenario, or why it has no plan."""
    figures = answer.figures
    if answer.ended is not Ended.PLANNED or figures is None:
        return "; ".join((answer.ended.value, *answer.said))
    if figures.bound is None:
        return ""
    left = figures.cost - figures.bound
    return "proven: no plan costs less" if left < 0.5 else f"could still save {left:,.0f} at most"
