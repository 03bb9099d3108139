"""Change rows of the workbook in place; every change is verified before it counts."""

from collections import Counter
from collections.abc import Mapping
from datetime import date

import streamlit as st

from capacity.errors import InputError
from capacity.inputs.reading.as_of import AsOf, as_of_plan
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.messages import Level, Message
from capacity.words import day
from ui.desk.desk import Desk
from ui.desk.held_workbook import is_verified_at_once, tables_in_use, verified
from ui.desk.opened_workbook import read_as_of, with_edits
from ui.desk.plan_job import last_plan
from ui.parts.grids import (
    draw_all_if_waiting_changed,
    editable,
    forget_grid,
    is_shown,
    show_clashes,
    show_grid,
    take_in,
)
from ui.parts.message_list import place_of, show_message_list
from ui.parts.tables import show_messages
from ui.plain import plain
from ui.planner.date_order import DateOrder, order_of
from ui.planner.editing import BASE, EDITED_SHEETS, as_added
from ui.words import pending_in_words

LEVELLING = (
    "Daily peak %: the most man-hours of one skill that a stage may take on one of its days, in "
    "per cent of its even share (100 to 400). Into float: whether hours may also lie after its "
    "last day, while nothing waits for it."
)
TOLD = {
    "Packages": f"{LEVELLING} Blank: as the setting of the same name says on the sheet Base.",
    "Licences": "People of a crew who lose a skill or an aircraft type after the day Until.",
    "Base calendar": "Own days of the base: closed (no), worked though they would be off (yes), or "
    "shortened (Hours %). Worked blank: as weekdays and holidays have it.",
    "Extra work": "Man-hours that one check has beyond its package, without findings on top. "
    "After, Work and Days are for a stage that the package does not have.",
    "Ready dates": "A stage of a check does not start before Not before: a part, a tool, the "
    "customer's approval or a shop is late. Reason: which.",
    "Progress": "How far the checks in work are, at the start of the day As of. Stage blank: the "
    "check as a whole. Hours to go goes before Done %.",
    "Delivered": "What came of checks that have left: capacity roll writes these rows, and "
    "capacity learn reads them.",
    BASE: "One setting a row. A blank value is the default that What it means names.",
}
"""What is said above a grid."""

HOW = (
    "Every change is verified at once and kept with this page. It counts once you press the button "
    "below or make the plan: a copy of the workbook is made, in which all else stays as it is: "
    "formulas, charts, notes, columns of your own. Your file is never written to."
)
TOO_LARGE = (
    "This workbook is too large to be verified with every change: it is verified once you use them."
)
SHEET, SHOWN_ROW, ORDER = "sheet to change", "row shown first", "date order"
ORDER_CHOSEN = "date order chosen"
"""Kept when the page is left, where the widget's own value is not."""

NOT_USED = "edit not used"
READ_ON = "re-plan today"
"""The key under which the page keeps the day of a re-plan, as of which changes are verified."""

EXCEL = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
EXAMPLE = date(2027, 1, 31)


@st.fragment
def show_editor(desk: Desk) -> None:
    """Show one sheet to change, what is wrong with the changes, and what to do with them.

    A change draws this part of the page anew, and all of it when the first one was made.
    """
    opened = desk.opened
    if opened is None:
        return
    if opened.content is None:
        st.caption("Tables in a folder of CSV files are changed there, not here.")
        return
    if tables_in_use(opened) is None:
        return
    pending = take_in(desk)
    st.caption(HOW)
    as_of = read_as_of_day(desk, pending)
    book = verified(desk, _whole(desk, pending), as_of) if is_verified_at_once(opened) else None
    messages = opened.book.messages if book is None else book.messages
    order = date_order()
    sheet = _sheet(pending, messages)
    if sheet in TOLD:
        st.caption(TOLD[sheet])
    show_clashes(desk, order)
    show_grid(desk, sheet, order, _shown_row(desk, sheet))
    _choose_date_order(order)
    _use_or_throw_away(desk, pending, as_of)
    if book is None:
        st.caption(TOO_LARGE)
    if as_of is not None:
        st.caption(
            f"Verified as of {day(as_of.today)}: progress is stated as of a day after First day, "
            "which a re-plan of that day reads."
        )
    show_message_list(messages, _go_to, f"message {desk.version}")
    draw_all_if_waiting_changed(desk)  # last, so that the change is answered before


def read_as_of_day(desk: Desk, pending: Mapping[str, SheetEdit]) -> AsOf | None:
    """Return the day as of which changes are verified; None where it is the first day.

    It is the day that is set as today for a re-plan, else the latest day of progress not used yet.
    """
    told = [
        value
        for edit in (pending.get("Progress"),)
        if edit is not None
        for values in (*edit.changed.values(), *edit.added)
        if isinstance(value := values.get("As of"), date)
    ]
    today = st.session_state.get(READ_ON) or max(told, default=None)
    base = None if desk.opened is None else desk.opened.book.base
    if today is None or (base is not None and today <= base.first_day):
        return None
    plan = last_plan(desk)
    return AsOf(today) if plan is None else as_of_plan(plan, today)


def date_order() -> DateOrder:
    """Return the order of dates that this person chose, or is used to."""
    chosen: DateOrder | None = st.session_state.get(ORDER) or st.session_state.get(ORDER_CHOSEN)
    return chosen or order_of(st.context.locale)


def _choose_date_order(order: DateOrder) -> None:
    """Let a person choose the order of dates, which the next run then shows."""
    orders = list(DateOrder)
    st.session_state[ORDER_CHOSEN] = st.selectbox(
        "Dates are written as",
        orders,
        index=orders.index(order),
        format_func=lambda order: order.shown(EXAMPLE),
        key=ORDER,
        width=260,
        help="Figures alone such as 3/4/2027 are read in this order where they are pasted, or "
        "typed into a text; 2027-04-03 and 3 Apr 2027 in any.",
    )


def _sheet(pending: Mapping[str, SheetEdit], messages: tuple[Message, ...]) -> str:
    """Let a person choose a sheet, and say in which there are errors and changes."""
    chosen = st.pills(
        "Sheet",
        EDITED_SHEETS,
        default=None if SHEET in st.session_state else EDITED_SHEETS[0],
        required=True,
        key=SHEET,
    )
    errors = Counter(
        place[0]
        for message in messages
        if message.level is Level.ERROR and (place := place_of(message.where)) is not None
    )
    changes = {
        sheet: len(edit.changed) + len(edit.added) + len(edit.removed)
        for sheet, edit in pending.items()
    }
    counts = (("Rows changed", changes), ("Errors", errors))
    told = [
        f"{what}: {', '.join(f'{sheet} {number:,}' for sheet, number in found.items())}."
        for what, found in counts
        if found
    ]
    st.caption(" ".join(told) or "Nothing is changed, and there are no errors.")
    return chosen or EDITED_SHEETS[0]


def _shown_row(desk: Desk, sheet: str) -> int | None:
    """Say which row is above the others after a click on a message, and return its number."""
    of_sheet, row, told = st.session_state.get(SHOWN_ROW, (None, None, ""))
    if of_sheet != sheet or row is None:
        return None
    with st.container(horizontal=True, vertical_alignment="center"):
        place = "shown first" if is_shown(desk, sheet, row) else "new, at the end of the grid"
        st.markdown(plain(f"Row {row} is {place}. {told}"))
        st.button("Rows in their order", on_click=st.session_state.pop, args=(SHOWN_ROW,))
    return int(row)


def _go_to(message: Message) -> None:
    """Open the sheet of a message, with its row above the others."""
    place = place_of(message.where)
    if place is not None:
        st.session_state[SHEET] = place[0]
        told = f"{message.where}: {message.what} {message.remedy}"
        st.session_state[SHOWN_ROW] = (*place, told)


def _use_or_throw_away(desk: Desk, pending: Mapping[str, SheetEdit], as_of: AsOf | None) -> None:
    opened = desk.opened
    assert opened is not None
    if waiting := pending_in_words(desk):
        st.caption(plain(waiting))
    with st.container(horizontal=True):
        label, icon = "Verify the changes and use them", ":material/task_alt:"
        if st.button(label, icon=icon, disabled=not waiting) and use_pending(
            desk, pending, as_of=as_of
        ):
            st.rerun()
        if waiting and st.button("Throw the changes away", icon=":material/delete:"):
            desk.keep_pending({})
            forget_grid()
            st.session_state.pop(NOT_USED, None)
            st.rerun()
        if opened.is_edited:
            st.download_button(
                "Download the changed workbook",
                opened.content or b"",
                file_name=f"{opened.stem}-changed.xlsx",
                mime=EXCEL,
                on_click="ignore",
                icon=":material/download:",
            )
            help = "Changes that are not used yet are thrown away as well."
            if st.button("Go back to the workbook as opened", icon=":material/undo:", help=help):
                assert desk.original is not None
                desk.use(desk.original)
                st.rerun()
    show_refusal(desk, here=True)


def use_pending(
    desk: Desk, pending: Mapping[str, SheetEdit], then: str = "", as_of: AsOf | None = None
) -> bool:
    """Use the changes, unless they would spoil a workbook that can be planned.

    ``then`` says what was to be done with them, which a workbook with errors does not allow
    in any case. ``as_of`` is the day for which it must not have any: news of a later day are an
    error of the workbook by itself.
    """
    opened = desk.opened
    assert opened is not None
    st.session_state.pop(NOT_USED, None)
    edits = _whole(desk, pending)
    must_be_sound = bool(then) or opened.book.base is not None
    try:
        book = verified(desk, edits, as_of) if is_verified_at_once(opened) else None
        if must_be_sound and book is not None and book.base is None:
            raise InputError(book.messages)
        changed = with_edits(opened, list(edits.values()))
        if as_of is None:
            book = changed.book
        elif book is None:
            book = read_as_of(changed, as_of).book
        if must_be_sound and book.base is None:
            raise InputError(book.messages)
    except InputError as refusal:
        st.session_state[NOT_USED] = (desk.version, then, refusal.messages)
        return False
    desk.use(changed, pending)
    return True


def _whole(desk: Desk, pending: Mapping[str, SheetEdit]) -> dict[str, SheetEdit]:
    """Return the changes, with the rows offered that were filled in among those added."""
    base = editable(desk, BASE) if BASE in pending else None
    return {
        sheet: edit if base is None or sheet != BASE else as_added(edit, base)
        for sheet, edit in pending.items()
    }


def show_refusal(desk: Desk, *, here: bool) -> None:
    """Say why the changes are not used: ``here``, where they are made, or where a run begins.

    What is wrong with them is listed where they are made.
    """
    version, then, messages = st.session_state.get(NOT_USED, (None, "", ()))
    if version != desk.version or here == bool(then):
        return
    told: tuple[Message, ...] = messages
    st.error(
        f"{then}The changes are not used yet: with them the workbook has errors. Correct these, "
        "or throw the changes away."
    )
    if then:
        show_messages(told, "of the changes")
