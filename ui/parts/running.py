"""Begin a run, see how work goes, stop it: a part that draws itself anew while work goes on."""

from collections.abc import Collection

import streamlit as st

from capacity.questions.overtime.measures import How
from capacity.settings import Settings
from capacity.words import days, money, percent
from ui.charts.progress import progress_chart, progress_table
from ui.commercial.booking import BOOKING
from ui.commercial.enquiry_job import ENQUIRIES
from ui.desk.desk import Desk
from ui.desk.job import Job, State
from ui.desk.plan_job import PLAN, last_plan, progress_of, result_of, start_plan
from ui.desk.roll_job import ROLL
from ui.desk.search_settings import search_settings
from ui.desk.session import current_look, watched
from ui.manager.crew_job import CREWS, goals_so_far
from ui.manager.crew_rows import goal_rows
from ui.manager.measures_job import MEASURES, tried_so_far
from ui.manager.risk_job import RISK, simulated_so_far
from ui.page_words import as_on_the_page
from ui.parts.cached_chart import spec_of
from ui.parts.editor import show_refusal, use_pending
from ui.parts.grids import take_in
from ui.parts.tables import show_messages, show_table
from ui.plain import plain
from ui.planner.editing import edits_in_words
from ui.planner.why_job import WHY
from ui.words import AS_TABLE, pending_in_words

LOOK_EVERY_SECONDS = 0.5
"""A plan that is there waits at most so long until the page sees it."""

LONGEST_SECONDS = 86_400
SECONDS = "seconds to search"
GOES_ON = "begin with the last plan"
DOING = {
    ROLL: "Rolling forward",
    PLAN: "Searching",
    MEASURES: "Trying measures",
    ENQUIRIES: "Looking at enquiries",
    BOOKING: "Working out what booking it costs",
    CREWS: "Putting crews on aircraft",
    WHY: "Looking for what is in the way",
    RISK: "Simulating",
}
WAITING = (
    "Changes of the workbook are not used yet. They are kept with this page, and Make the plan "
    "uses them."
)
NOT_MADE = "The plan was not made. "
STOPPED_EARLY = "The run was stopped before its first plan. The plan before it is still here."


def show_start(desk: Desk) -> None:
    """Show the time to search and the button that begins a run."""
    opened = desk.opened
    if opened is None:
        return
    waiting = bool(desk.pending)
    with st.container(horizontal=True, vertical_alignment="bottom"):
        seconds = st.number_input(
            "Seconds to search at most",
            min_value=1,
            max_value=LONGEST_SECONDS,
            value=int(seconds_to_search()),
            width=220,
            help="The run ends sooner when no plan can be better, and whenever you stop it.",
        )
        st.session_state[SECONDS] = seconds
        goes_on = last_plan(desk) is not None and st.checkbox(
            "Begin with the plan below",
            value=True,
            key=GOES_ON,
            help="The search begins with what is still valid of it. Without this it begins anew.",
        )
        st.button(
            "Make the plan",
            type="primary",
            icon=":material/play_arrow:",
            disabled=(opened.book.base is None and not waiting) or desk.is_working,
            on_click=_start,
            args=(desk, search_settings(float(seconds)), goes_on),
        )


def show_unused(desk: Desk) -> None:
    """Say that changes of the workbook are not used yet, and why the last attempt used none."""
    if desk.pending:
        st.warning(WAITING, icon=":material/edit_note:")
    show_refusal(desk, here=False)


def search_in_words(desk: Desk) -> str:
    """Return the title of what begins a search, where it folds away beside a plan."""
    # Without their number: a change in the grid draws the grid anew, and not this title.
    return "Make the plan anew, with the changes" if desk.pending else "Make the plan anew"


def seconds_to_search() -> float:
    """Return the seconds that a person allows a search."""
    return float(st.session_state.get(SECONDS, int(Settings().seconds)))


def show_waiting(desk: Desk) -> None:
    """Say how many changes of the workbook are not used yet, if there are any."""
    if waiting := pending_in_words(desk):
        st.warning(plain(waiting), icon=":material/edit_note:")


def _start(desk: Desk, settings: Settings, goes_on: bool) -> None:
    """Use the changes that are not used yet, and begin; not if they have errors."""
    if edits_in_words(tuple(take_in(desk).values())) and not use_pending(
        desk, take_in(desk), NOT_MADE
    ):
        return
    watched(desk, start_plan(desk, settings, goes_on=goes_on))


def show_work(desk: Desk, elsewhere: Collection[str] = ()) -> None:
    """Show the work that goes on, on whichever page, looking at it about twice a second.

    Not work of the kinds ``elsewhere``, which the page shows beside their buttons.
    """
    if desk.job_kind not in elsewhere:
        _show_looking(desk)


def show_work_of(desk: Desk, kind: str, beside: str = "") -> None:
    """Show the work of a kind beside the button that begins it.

    ``beside`` tells this place from others of a page that show the same work.
    """
    if desk.job_kind == kind:
        _show_looking(desk, beside)


def _show_looking(desk: Desk, beside: str = "") -> None:
    every = LOOK_EVERY_SECONDS if desk.is_working else None
    st.fragment(_work, run_every=every)(desk, desk.is_working, beside)


def _work(desk: Desk, was_working: bool, beside: str) -> None:
    job = desk.job
    if was_working and not desk.is_working:
        st.rerun()  # the whole page, which then no longer looks
    if job is None:
        return
    if job.state is State.DONE:
        if desk.job_kind == PLAN and job.answer is None:
            st.info(STOPPED_EARLY, icon=":material/stop:")
        return
    if job.state is State.FAILED:
        if job.refusal:
            st.error("Nothing was done: the plan and the workbook are as before.")
            show_messages(job.refusal, "of the work that was refused")
            return
        st.error("The work broke off. What happened, for whoever looks after this:")
        st.text(as_on_the_page(job.failure))
        return
    with st.container(border=True):
        _live(job, desk, beside)


def _live(job: Job, desk: Desk, beside: str) -> None:
    if job.state is State.WAITING:
        st.text("Waiting until other work on this machine has ended.")
    else:
        share = min(1.0, job.seconds / job.limit)
        doing = DOING.get(desk.job_kind, "Working")
        st.progress(share, text=f"{doing}: {job.seconds:.0f} s of about {job.limit:.0f} s")
    if desk.job_kind == PLAN:
        _plan_so_far(job, desk)
    elif desk.job_kind == MEASURES:
        _measures_so_far(job, desk)
    elif desk.job_kind == RISK and (so_far := simulated_so_far(job)) is not None:
        st.text(f"{so_far.done:,} of {so_far.all_of_them:,} simulations are done.")
    elif desk.job_kind == CREWS:
        _crews_so_far(job)
    keeps = desk.job_kind in (PLAN, CREWS)
    label = "Stop and keep the best plan" if keeps else "Stop"
    st.button(
        "Stopping" if job.is_stopping else label,
        icon=":material/stop:",
        disabled=job.is_stopping,
        on_click=job.stop,
        key=f"stop {beside}",
    )


def _plan_so_far(job: Job, desk: Desk) -> None:
    history = progress_of(job)
    base = desk.base_at_work
    if not history or base is None:
        st.text("Preparing: every bay and day of every check is listed.")
        return
    now = history[-1]
    best, bound, saving, past = st.columns(4)
    best.metric("Best plan so far", plain(money(now.money, base)))
    known = "none proven yet" if now.bound is None else money(now.bound, base)
    bound.metric("No plan can cost less than", plain(known))
    most = "not known" if now.gap is None else percent(now.gap)
    saving.metric("Could still save at most", plain(most))
    past.metric("Days past Latest in", days(now.days_past))
    chart = progress_chart(history, base.currency, current_look())
    st.vega_lite_chart(spec_of(chart), key="progress")
    with st.expander(AS_TABLE):
        show_table(progress_table(history, base.currency))


def _measures_so_far(job: Job, desk: Desk) -> None:
    """Name the measures that have been tried, with what each comes to."""
    result, tried = result_of(desk), tried_so_far(job)
    base = result.opened.book.base if result is not None else None
    if not tried or base is None:
        st.text("Preparing: the most expensive weeks and skills show what is worth trying.")
        return
    found = {measure.what: measure for measure in tried}  # a search tells it again
    anew = sum(measure.how is How.SEARCHED_ANEW for measure in found.values())
    st.text(f"Looked at so far: {len(found)}, of which {anew} were searched anew")
    for measure in found.values():
        word = "saves" if measure.saves >= 0 else "costs"
        st.text(f"{measure.what}: {word} {money(abs(measure.saves), base)}")


def _crews_so_far(job: Job) -> None:
    if goals := goals_so_far(job):
        show_table(goal_rows(goals), wraps=True)
    else:
        st.text("Stages are laid and people put on them; then goal after goal is bettered.")
