"""Book enquiries: in one click what is worth it, anything else once its cost has been seen."""

from collections.abc import Callable, Sequence

import streamlit as st

from capacity.errors import AuditError, InputError
from capacity.messages import Message
from capacity.questions.enquiries.booking import Booked
from capacity.reports.enquiries.booked_wording import booked_in_words, to_be_booked_in_words
from capacity.reports.enquiries.contribution import counted
from capacity.words import listed
from ui.commercial.booking import (
    BOOKING,
    Forced,
    book_best,
    forced_of,
    put_booked,
    start_forced,
    why_not_to_book,
)
from ui.commercial.enquiry_job import Told
from ui.desk.desk import Desk
from ui.desk.plan_job import Result
from ui.desk.session import watched
from ui.parts.editor import EXCEL
from ui.parts.running import show_work_of
from ui.parts.tables import show_messages, show_table
from ui.plain import plain
from ui.planner.change_rows import change_rows

REFUSED, LEFT = "booking refused", "booking left"
WHAT_IT_DOES = (
    "The plan with it becomes the plan of all pages, and a copy of the workbook with it as a "
    "booked check goes on from here: download that copy. The file that you opened stays as it is."
)
NOT_THE_BEST = (
    "The answer above does not propose this. What it costs and who moves is worked out first; "
    "nothing is booked before you confirm it."
)
NOT_BOOKED = "Nothing is booked: the workbook would have errors with it."
BROKEN = "Nothing is booked: the plan with it does not pass the audit. It breaks these rules:"
NO_SLOT = "Nothing can be booked: there is no slot for it. Let others move, or other days count."
STOPPED = "It was stopped: there may be a cheaper way to book it."


def show_booking(desk: Desk, told: Told) -> None:
    """Show what can be booked, and the button for it; nothing where nothing has a slot."""
    known = [a.enquiry.name for a in told.answers if a.slots or a.with_moves]
    best = told.combinations.best.names
    if not known and not best:
        return
    st.subheader("Book it")
    st.caption(WHAT_IT_DOES)
    why_not = why_not_to_book(desk, told)
    if why_not:
        st.text(why_not)
    names = _chosen(told, list(dict.fromkeys((*best, *known))))
    if not names:
        st.text("Choose what to book.")
    elif set(names) == set(best):
        label = f"Book {listed(best)}"
        _button(desk, label, "book", told, lambda: book_best(desk, told))
    else:
        st.caption(NOT_THE_BEST)
        st.button(
            plain(f"Work out booking {listed(names)}"),
            icon=":material/calculate:",
            disabled=bool(why_not),
            key=f"work out booking {told.number}",
            on_click=_work_out,
            args=(desk, told, names),
        )
        show_work_of(desk, BOOKING)
        forced = forced_of(desk, told)
        if forced is not None and forced.names == names:
            _show_confirmation(desk, told, forced)
    _show_refusal(told)


def _chosen(told: Told, names: list[str]) -> tuple[str, ...]:
    """Return what is to be booked, in the order in which it was asked about."""
    if len(told.answers) == 1:
        return tuple(names)
    chosen = st.multiselect(
        "Enquiries to book",
        names,
        list(told.combinations.best.names),
        placeholder="None",
        key=f"enquiries to book {told.number}",
        help="At first those of the best combination.",
    )
    return tuple(one.name for one in told.question.enquiries if one.name in chosen)


def _show_confirmation(desk: Desk, told: Told, forced: Forced) -> None:
    """Show what booking costs and who moves, and ask whether it is meant."""
    if st.session_state.get(LEFT) == forced.number:
        return
    made = forced.made
    with st.container(border=True):
        if made is None:
            st.warning(NO_SLOT, icon=":material/block:")
            return
        found = counted(made.combination.contribution)
        loses = not made.is_worth_it or (found is not None and found.money < 0)
        _show_sentences(to_be_booked_in_words(made), loses=loses)
        if forced.was_stopped:
            st.text(STOPPED)
        show_table(change_rows(made.changes, made.base), wraps=True)
        anyway = "" if made.is_worth_it else " anyway"
        with st.container(horizontal=True):
            label = f"Book {listed(made.names)}{anyway}"
            _button(desk, label, "book anyway", told, lambda: put_booked(desk, told, made))
            st.button(
                "Do not book",
                icon=":material/close:",
                key=f"do not book {told.number}",
                on_click=_leave,
                args=(forced.number,),
            )


def _show_sentences(sentences: Sequence[str], *, loses: bool) -> None:
    first, cost, *others = sentences
    st.text(first)
    if loses:
        st.warning(plain(" ".join((cost, *others))), icon=":material/warning:")
        return
    for sentence in (cost, *others):
        st.text(sentence)


def _button(desk: Desk, label: str, key: str, told: Told, do: Callable[[], None]) -> None:
    st.button(
        plain(label),
        type="primary",
        icon=":material/event_available:",
        disabled=bool(why_not_to_book(desk, told)),
        key=f"{key} {told.number}",
        on_click=_book,
        args=(desk, told, do),
    )


def _work_out(desk: Desk, told: Told, names: tuple[str, ...]) -> None:
    st.session_state.pop(REFUSED, None)
    if not why_not_to_book(desk, told):
        watched(desk, start_forced(desk, told, names))


def _leave(number: int) -> None:
    st.session_state[LEFT] = number


def _book(desk: Desk, told: Told, do: Callable[[], None]) -> None:
    st.session_state.pop(REFUSED, None)
    if why_not_to_book(desk, told):  # begun or changed in another window
        return
    try:
        do()
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
