"""What grown findings do to the plan: who is late out then, and which weeks have overload."""

from functools import partial

import streamlit as st

from capacity.questions.risk.settings import MOST_DRAWS, Keep, RiskSettings, Shape
from capacity.reports.kit.issue import plan_number
from capacity.reports.plan.wording import CAUTION
from capacity.reports.risk.sheet_risk import in_words, risk_workbook
from capacity.reports.risk.text import MADE_WITH, WhatIf, two_risks_in_words
from ui.desk.desk import Desk
from ui.desk.plan_question import base_of
from ui.desk.session import watched
from ui.manager.risk_job import RISK, RiskAnswer, risk_on, start_risk
from ui.manager.risk_rows import checks_at_risk, weeks_at_risk
from ui.parts.editor import EXCEL
from ui.parts.running import LONGEST_SECONDS, show_work_of
from ui.parts.tables import show_table
from ui.plain import plain

TITLE = "Risk: what grown findings do to the plan"
FEWEST_DRAWS = 100
SECONDS = 60
MOST_SEED = 2**31 - 1
MOST_SPREAD_PERCENT = 1000.0
NO_OTHER = "no other plan"
WHAT_IT_DOES = (
    "The plan is played through many times with findings drawn at random, as far as the workbook "
    "says how much they vary (Findings spread %). For each check it tells in how many simulations "
    "it is out by its day, for each week and skill in how many there is overload, and the buffer "
    "that is enough in 80 % of them."
)
OTHER_PLAN = (
    "The plan has changed since these simulations. Nothing of them is drawn in the bays or the "
    "weeks any more: simulate again."
)
DEFAULTS = RiskSettings()
SHAPES = {"log-normal": Shape.LOG_NORMAL, "triangular": Shape.TRIANGULAR}
KEEPS = {"its man-hours a day": Keep.DAILY_HOURS, "its days": Keep.DAYS}
WHAT_IFS = {NO_OTHER: None, **{f"one made with {words}": way for way, words in MADE_WITH.items()}}


def show_risk(desk: Desk) -> None:
    """Show the fields of the simulations, their button and progress, and the last answer."""
    st.header(TITLE)
    st.caption(WHAT_IT_DOES)
    settings, seconds, what_if = _fields()
    st.button(
        "Simulate",
        icon=":material/casino:",
        disabled=desk.is_working,
        on_click=_start,
        args=(desk, settings, seconds, what_if),
    )
    show_work_of(desk, RISK, "risk")
    answer = risk_on(desk)
    if answer is not None:
        _show_answer(answer)


def _fields() -> tuple[RiskSettings, float, WhatIf | None]:
    with st.container(horizontal=True, vertical_alignment="bottom"):
        draws = st.number_input(
            "Simulations", FEWEST_DRAWS, MOST_DRAWS, DEFAULTS.draws, 100, width=160
        )
        seed = st.number_input(
            "Seed",
            0,
            MOST_SEED,
            DEFAULTS.seed,
            width=120,
            help="The same seed draws the same findings for a check, whatever the plan is.",
        )
        seconds = st.number_input(
            "Seconds at most",
            1,
            LONGEST_SECONDS,
            SECONDS,
            width=160,
            key="seconds for risk",
            help="There are as many simulations as there is time for. A more careful plan to "
            "compare with has as long again.",
        )
    with (
        st.expander("How findings vary, and a more careful plan to compare with"),
        st.container(horizontal=True, vertical_alignment="bottom"),
    ):
        shape = st.selectbox("Distribution of findings", list(SHAPES), width=200)
        keep = st.selectbox("With grown findings a stage keeps", list(KEEPS), width=240)
        spread = st.number_input(
            "Spread where none is given (%)",
            min_value=0.0,
            max_value=MOST_SPREAD_PERCENT,
            value=None,
            width=240,
            help="Your judgement, for stages without Findings spread %: standard deviation in per "
            "cent of the findings. They count as certain while this is empty.",
        )
        other = st.selectbox("Compare with", list(WHAT_IFS), width=420)
    settings = RiskSettings(
        draws=int(draws),
        seed=int(seed),
        shape=SHAPES[shape],
        default_spread=None if spread is None else spread / 100,
        keep=KEEPS[keep],
    )
    return settings, float(seconds), WHAT_IFS[other]


def _start(desk: Desk, settings: RiskSettings, seconds: float, what_if: WhatIf | None) -> None:
    watched(desk, start_risk(desk, settings, seconds, what_if))


def _show_answer(answer: RiskAnswer) -> None:
    told, result = answer.told, answer.result
    risk, base = told.risk, base_of(result)
    st.markdown(f"**Plan {plain(plan_number(answer.plan))}**")
    if answer.is_outdated:
        st.warning(OTHER_PLAN, icon=":material/history:")
    for sentence in in_words(risk, base):
        st.text(sentence)
    if told.compared is not None and told.what_if is not None:
        st.text(two_risks_in_words(told.compared, told.what_if))
    st.caption("Checks, the least likely to be out by their day first")
    show_table(checks_at_risk(risk), "checks at risk")
    if weeks := weeks_at_risk(risk):
        st.caption("Weeks and skills most likely to have overload")
        show_table(weeks, "weeks at risk")
    with st.expander("What is assumed"):
        for sentence in (*risk.model, CAUTION):
            st.text(sentence)
    st.download_button(
        "Risk workbook (.xlsx)",
        partial(_workbook, answer),
        file_name="risk.xlsx",
        mime=EXCEL,
        on_click="ignore",
        icon=":material/download:",
    )


def _workbook(answer: RiskAnswer) -> bytes:
    told, result = answer.told, answer.result
    return risk_workbook(told.risk, base_of(result), told.compared, (answer.plan,))
