"""How a run goes: the cost of the best plan and the proven bound, over time."""

from collections.abc import Sequence
from typing import Any

import altair as alt

from capacity.plans.outcome import Progress
from ui.charts.common import number_tip, rows_of, styled, tip
from ui.look import Look
from ui.rows import TableRow

HEIGHT_PIXELS = 220
BEST, BOUND = "best plan", "no plan can cost less"


def progress_rows(history: Sequence[Progress]) -> list[dict[str, object]]:
    """Return the rows of both lines; where no bound is proven there is none.

    Cost is drawn only for plans with as few days past ``Latest in`` as the best one: that of
    the others is for less than it will cost to be on time.
    """
    if not history:
        return []
    fewest = history[-1].days_past
    words = [word for word in history if word.days_past == fewest]
    best = [{"seconds": w.seconds, "line": BEST, "money": w.money} for w in words]
    bound = [
        {"seconds": w.seconds, "line": BOUND, "money": w.bound}
        for w in words
        if w.bound is not None
    ]
    return [*best, *bound]


def progress_table(history: Sequence[Progress], currency: str) -> list[TableRow]:
    """Return the improvements in turn as a table, the last one on top."""
    return [
        {
            "After (s)": round(word.seconds, 1),
            "Days past Latest in": word.days_past,
            f"Cost of the best plan ({currency})": word.money,
            f"No plan can cost less than ({currency})": word.bound,
        }
        for word in reversed(history)
    ]


def progress_chart(history: Sequence[Progress], currency: str, look: Look) -> alt.LayerChart:
    """Return the chart of the improvements in turn."""
    rows = progress_rows(history)
    colours = alt.Scale(domain=[BEST, BOUND], range=[look.ink, look.quiet])
    dashes = alt.Scale(domain=[BEST, BOUND], range=[[1, 0], [6, 4]])
    base: Any = alt.Chart(rows_of(rows)).encode(
        x=alt.X("seconds:Q", title="seconds since the run began", scale=alt.Scale(zero=True)),
        y=alt.Y(
            "money:Q", title=currency, axis=alt.Axis(format=",.0f"), scale=alt.Scale(zero=False)
        ),
        stroke=alt.Stroke("line:N", title=None, scale=colours),
        strokeDash=alt.StrokeDash("line:N", title=None, scale=dashes),
    )
    line = base.mark_line(interpolate="step-after", strokeWidth=2)
    dots = (
        alt.Chart(rows_of(rows))
        .mark_point(size=25, filled=True, opacity=1)
        .encode(
            x=alt.X("seconds:Q"),
            y=alt.Y("money:Q"),
            color=alt.Color("line:N", scale=colours, legend=None),
            tooltip=[
                tip("line", "What"),
                number_tip("seconds", "After (s)"),
                number_tip("money", "Cost", ",.0f"),
            ],
        )
    )
    return styled(alt.layer(line, dots), look, HEIGHT_PIXELS)
