"""Re-plan with news: what a person sets, the plan in force, and what the re-plan changed."""

from typing import Any

import streamlit as st

from capacity.errors import InputError
from capacity.messages import Message
from capacity.questions.replan.replanning import MOST_FREEZE_DAYS
from capacity.questions.replan.values import Replanned
from capacity.reports.plan.wording import work_left_counts_from
from capacity.reports.plan_files.written import PlanFile
from capacity.reports.replan.wording import (
    MOVE_PRICES,
    begun_in_words,
    freeze_in_words,
    proof_in_words,
    saved_in_words,
    search_in_words,
    work_done_in_words,
)
from capacity.words import listed
from ui.days import LEAST_DAY, MOST_DAY
from ui.desk.desk import Desk
from ui.desk.opened_workbook import OpenedBook, opened_from_bytes, plan_file_from_bytes
from ui.desk.plan_job import Result, last_plan, result_of
from ui.desk.replan_job import DEFAULTS, News, as_of_news, plan_on_the_page, start_replan
from ui.desk.saved_plan import take_plan_file
from ui.desk.session import this_browser_is_there, watched
from ui.parts.editor import use_pending
from ui.parts.grids import take_in
from ui.parts.on_ground import entered, forget_entered, show_on_ground
from ui.parts.running import seconds_to_search
from ui.parts.tables import show_messages, show_table
from ui.plain import plain
from ui.planner.change_rows import change_rows
from ui.planner.editing import edits_in_words

MOST_PRICE = 1e9
REFUSED = "re-plan refused"
NOT_SHOWN = (
    "The plan of this file cannot be shown with this workbook. You can still re-plan from it."
)
NOT_MADE = "The re-plan was not made. "
WHAT_IT_DOES = (
    "It begins with the plan in force and moves no more than is worth it; what is in work, fixed "
    "or due today stays. Enter the news in the workbook first (progress, extra work, dates). "
    "Progress as of a day after First day is an error until the re-plan knows that day."
)
NO_TODAY = "Set the day that is today: work left counts from it, and what is in work then stays."
NO_PLAN_IN_FORCE = "There is no plan in force: make a plan, or open its plan file here."


def show_replan(desk: Desk) -> None:
    """Show the fields of a re-plan, its button, and why the last one was refused."""
    if desk.opened is None:
        return
    with st.expander("Re-plan: the plan in force with news", icon=":material/update:"):
        st.caption(WHAT_IT_DOES)
        with st.container(horizontal=True, vertical_alignment="bottom"):
            today = st.date_input(
                "Today",
                value=None,
                min_value=LEAST_DAY,
                max_value=MOST_DAY,
                format="YYYY-MM-DD",
                key="re-plan today",
                width=160,
            )
            freeze = st.number_input(
                "Freeze days",
                min_value=0,
                max_value=MOST_FREEZE_DAYS,
                value=0,
                key="re-plan freeze",
                width=160,
                help="Whatever is due up to so many days after today keeps bay and in day unless "
                "it cannot; what is due today always does.",
            )
            day_price = _price(
                "Price of a day moved",
                DEFAULTS.day_booked,
                "re-plan day price",
                "What a move by a day counts in the search, far ahead; nearer moves count more. "
                "In the workbook's currency; nobody pays it.",
            )
            bay_price = _price(
                "Price of another bay",
                DEFAULTS.bay,
                "re-plan bay price",
                "What another bay counts in the search. In the workbook's currency; nobody "
                "pays it.",
            )
        result = result_of(desk)  # a new plan is the plan in force, and no file any more
        upload = st.file_uploader(
            "Plan file of the plan in force (.json), if it is not the plan below",
            type="json",
            key=f"re-plan file {0 if result is None else result.number}",
        )
        old = None
        if upload is not None:
            old = st.file_uploader(
                "Workbook that this plan was made for (.xlsx): growth is then stated in man-hours",
                type="xlsx",
                key=f"re-plan old workbook {0 if result is None else result.number}",
            )
        has_plan = upload is not None or last_plan(desk) is not None
        if has_plan:
            show_on_ground(desk)
        else:
            st.text(NO_PLAN_IN_FORCE)
        with st.container(horizontal=True):
            is_pressed = st.button(
                "Re-plan",
                type="primary",
                icon=":material/update:",
                disabled=desk.is_working or not has_plan,
            )
            if upload is not None:
                st.button(
                    "Show the plan of this file",
                    icon=":material/visibility:",
                    disabled=desk.is_working,
                    help="It becomes the plan of all pages as it is, with nothing searched for. "
                    "The workbook must be the one that it was made for.",
                    on_click=_take,
                    args=(desk, upload),
                )
        if is_pressed:
            news = None
            if today is not None:
                seconds = seconds_to_search()
                aircraft = entered(desk)
                prices = float(day_price), float(bay_price)
                news = News(today, int(freeze), *prices, seconds, on_ground=aircraft)
            st.session_state.pop(REFUSED, None)
            _start(desk, news, upload, old)
            st.rerun()
        _show_refusal(desk)


def _price(label: str, value: float, key: str, help: str) -> float:
    return float(
        st.number_input(
            label, min_value=0.0, max_value=MOST_PRICE, value=value, key=key, width=220, help=help
        )
    )


def _start(desk: Desk, news: News | None, upload: Any, old: Any) -> None:
    """Read the plan in force, use the changes that are not used yet, and begin."""
    if news is None:
        _refuse(desk, NO_TODAY)
        return
    try:
        with st.spinner("Reading the plan in force and the workbook as of today"):
            file = _in_force(desk, upload)
            if file is None:
                _refuse(desk, NO_PLAN_IN_FORCE)
                return
            pending = take_in(desk)
            if edits_in_words(tuple(pending.values())) and not use_pending(
                desk, pending, NOT_MADE, as_of_news(file, news.today)
            ):
                return
            watched(desk, start_replan(desk, file, news, _opened(old)))
            forget_entered()
    except InputError as fault:
        _refuse(desk, NOT_MADE + "Correct this, then press Re-plan again.", fault.messages)


def _opened(upload: Any) -> OpenedBook | None:
    """Return the uploaded workbook that the plan in force was made for; None without one."""
    if upload is None:
        return None
    found = opened_from_bytes(upload.name, upload.getvalue(), still_wanted=this_browser_is_there())
    if found.book.base is None:
        raise InputError(found.book.messages)
    return found


def _take(desk: Desk, upload: Any) -> None:
    """Make the plan of an opened file the plan of the desk, or say why not."""
    if desk.is_working:  # begun in another window
        return
    st.session_state.pop(REFUSED, None)
    try:
        take_plan_file(desk, upload.name, upload.getvalue(), this_browser_is_there())
    except InputError as fault:
        _refuse(desk, NOT_SHOWN, fault.messages)


def _in_force(desk: Desk, upload: Any) -> PlanFile | None:
    if upload is None:
        return plan_on_the_page(desk)
    return plan_file_from_bytes(
        upload.name, upload.getvalue(), still_wanted=this_browser_is_there()
    )


def _refuse(desk: Desk, what: str, messages: tuple[Message, ...] = ()) -> None:
    st.session_state[REFUSED] = (desk.version, what, messages)


def _show_refusal(desk: Desk) -> None:
    version, what, messages = st.session_state.get(REFUSED, (None, "", ()))
    if version != desk.version or desk.is_working:
        return
    st.error(what)
    if messages:
        show_messages(messages, "of the re-plan")


def show_changes(result: Result) -> None:
    """Show what a re-plan says, and every change; of another plan only what is said of its file."""
    news = result.news
    if news is not None and news.answer is None:
        _show_notes(news.notes)
    if news is None or not isinstance(news.answer, Replanned):
        return
    answer = news.answer
    st.header("What the re-plan changes")
    for sentence in _verdict(answer):
        st.text(sentence)
    if missing := answer.plan.not_placed:
        st.error(plain(f"No slot: {listed(missing)}."))
    if answer.changes:
        show_table(change_rows(answer.changes, answer.base), wraps=True)
        st.caption(MOVE_PRICES)
    _show_notes(news.notes)


def _show_notes(notes: tuple[Message, ...]) -> None:
    if notes:
        with st.expander(f"Messages about the plan in force ({len(notes)})"):
            show_messages(notes, "of the plan in force")


def _verdict(answer: Replanned) -> list[str]:
    said = [
        saved_in_words(answer),
        proof_in_words(answer),
        begun_in_words(answer),
        *freeze_in_words(answer),
        work_left_counts_from(answer.base),
        work_done_in_words(answer.base),
        search_in_words(answer),
    ]
    return [sentence for sentence in said if sentence]
