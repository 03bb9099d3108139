"""Measure crew plans of invented bases: ``python -m tests.bench.crews --seeds 1 2 3``.

Prints, for each base, when the first plan stood, and the goals about hours beside their proven
bounds: man-hours not met as a share of those asked, overtime by itself.
"""

import argparse
import sys
from statistics import median

from capacity.crews.assign import assign_crews
from capacity.crews.crew_settings import CrewSettings
from capacity.crews.problem import HUNDREDTHS
from capacity.planning import plan
from capacity.plans.outcome import Planned
from capacity.settings import Settings
from tests.bench.invented_crews import invented_crews

HEAD = (
    "| base | first plan | man-hours met | at the most (proven) | overtime | at the least (proven) "
    "| gap: hours not met and overtime, of those asked | pairs of crew and aircraft |\n"
    "|---|---|---|---|---|---|---|---|\n"
)


def main() -> None:
    """Measure and print a table in Markdown."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.crews", description=__doc__)
    parser.add_argument("--seeds", type=int, nargs="+", default=[1, 2, 3, 4, 5])
    parser.add_argument("--seconds", type=float, default=60.0)
    options = parser.parse_args()
    sys.stdout.write(HEAD)
    gaps, firsts = [], []
    for seed in options.seeds:
        base = invented_crews(seed)
        made = plan(base, Settings(seconds=10, seed=seed))
        assert isinstance(made, Planned)
        settings = CrewSettings(seconds=options.seconds, seed=seed)
        staffed = assign_crews(base, made.plan, settings)
        reached = {goal.goal: goal for goal in staffed.goals}
        short, overtime = reached["overload"], reached.get("overtime")
        over = (overtime.value, overtime.bound) if overtime else (0, 0)
        asked = staffed.audit.asked
        gap = (short.value - short.bound + over[0] - over[1]) / HUNDREDTHS / asked
        gaps.append(gap)
        firsts.append(staffed.first_seconds)
        sys.stdout.write(
            f"| {seed} | {staffed.first_seconds:.1f} s "
            f"| {asked - short.value / HUNDREDTHS:,.0f} of {asked:,.0f} h "
            f"| {asked - short.bound / HUNDREDTHS:,.0f} h | {over[0] / HUNDREDTHS:,.0f} h "
            f"| {over[1] / HUNDREDTHS:,.0f} h | {100 * gap:.2f} % | "
            f"{staffed.audit.crews_per_aircraft} |\n"
        )
        sys.stdout.flush()
    sys.stdout.write(
        f"\nmedian: first plan {median(firsts):.1f} s, gap {100 * median(gaps):.2f} %\n"
    )


if __name__ == "__main__":
    main()
