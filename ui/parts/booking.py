"""Book what is worth it in one click, and what was booked."""

import streamlit as st

from capacity.errors import AuditError, InputError
from capacity.messages import Message
from capacity.questions.enquiries.booking import Booked
from capacity.reports.enquiries.booked_wording import booked_in_words
from capacity.words import listed
from ui.commercial.booking import book_best, why_not_to_book
from ui.commercial.enquiry_job import Told
from ui.desk.desk import Desk
from ui.desk.plan_job import Result
from ui.parts.editor import EXCEL
from ui.parts.tables import show_messages, show_table
from ui.plain import plain
from ui.planner.change_rows import change_rows

REFUSED = "booking refused"
WHAT_IT_DOES = (
    "The plan with it becomes the plan of all pages, and a copy of the workbook with it as a "
    "booked check goes on from here: download that copy. The file that you opened stays as it is."
)
NOT_BOOKED = "Nothing is booked: the workbook would have errors with it."
BROKEN = "Nothing is booked: the plan with it does not pass the audit. It breaks these rules:"


def show_booking(desk: Desk, told: Told) -> None:
    """Show the button that books the best combination; nothing where none is worth it."""
    names = told.combinations.best.names
    if not names:
        return
    st.subheader("Book it")
    st.caption(WHAT_IT_DOES)
    why_not = why_not_to_book(desk, told)
    if why_not:
        st.text(why_not)
    st.button(
        plain(f"Book {listed(names)}"),
        icon=":material/event_available:",
        disabled=bool(why_not),
        key=f"book {told.number}",
        on_click=_book,
        args=(desk, told),
    )
    _show_refusal(told)


def _book(desk: Desk, told: Told) -> None:
    st.session_state.pop(REFUSED, None)
    if why_not_to_book(desk, told):
        return
    try:
        book_best(desk, told)
    except InputError as fault:
        st.session_state[REFUSED] = (told.number, fault.messages, ())
    except AuditError as fault:
        st.session_state[REFUSED] = (told.number, (), fault.broken)


def _show_refusal(told: Told) -> None:
    number, messages, broken = st.session_state.get(REFUSED, (None, (), ()))
    if number != told.number:
        return
    found: tuple[Message, ...] = messages
    st.error(NOT_BOOKED if found else BROKEN)
    for line in broken:
        st.text(line)
    if found:
        show_messages(found, "of the booking")


def show_booked(result: Result) -> bool:
    """Show what was booked into the plan that is shown; return whether anything was."""
    news = result.news
    if news is None or not isinstance(news.answer, Booked):
        return False
    made = news.answer
    st.subheader("What is booked")
    for sentence in booked_in_words(made):
        st.text(sentence)
    show_table(change_rows(made.changes, made.base), wraps=True)
    st.download_button(
        "Workbook with what is booked (.xlsx)",
        result.opened.content or b"",
        file_name=f"{result.opened.stem}-booked.xlsx",
        mime=EXCEL,
        on_click="ignore",
        icon=":material/download:",
    )
    return True
