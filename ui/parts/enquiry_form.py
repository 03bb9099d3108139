"""What is asked about, and who may move for it: one form, for an aircraft or a list of them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import streamlit as st

from capacity.errors import InputError
from capacity.facts import Base, Check, Status
from capacity.inputs.enquiries_workbook import notes_of_enquiries
from capacity.messages import Level, Message
from capacity.questions.enquiries.asked import SECONDS_AN_ENQUIRY, enquiry
from ui.commercial.enquiry_job import Question, start_enquiries
from ui.commercial.enquiry_list import MOST_ENQUIRIES, MOST_MEGABYTES, read_enquiry_list
from ui.desk.desk import Desk
from ui.desk.plan_job import Result
from ui.desk.plan_question import base_of
from ui.desk.session import this_browser_is_there, watched
from ui.parts.tables import show_messages
from ui.plain import plain

ONE, SEVERAL = "One aircraft", "A list of enquiries"
KINDS = (ONE, SEVERAL)
DRAFT, FAULTS = "enquiry draft", "enquiry faults"
LONGEST_NAME = 60
LONGEST_AGREED_DAYS = 1000
LONGEST_SECONDS = 600
DATES = "YYYY-MM-DD"
"""Of the forms that the field takes, the one in which day and month cannot be exchanged."""


@dataclass(frozen=True, slots=True)
class Draft:
    """What stood in the form when it was sent off; it stands there again on the next visit."""

    kind: str = ONE
    name: str = "Enquiry"
    type: str = ""
    package: str = ""
    earliest: date | None = None
    latest: date | None = None
    agreed_out: date | None = None
    agreed_days: int | None = None
    price: float = 0.0
    late_cost: float = 0.0
    may_move: tuple[str, ...] = ()
    all_may_move: bool = False
    on_time_only: bool = False
    seconds: int = int(SECONDS_AN_ENQUIRY)


@dataclass(frozen=True, slots=True)
class _Keys:
    """Names of the fields for one plan; another plan has fields of its own."""

    run: int

    def of(self, field: str) -> str:
        return f"enquiry {field} {self.run}"


def show_form(desk: Desk, result: Result) -> None:
    """Show the form; a question that is sent off begins a job, one with faults shows them."""
    base, keys = base_of(result), _Keys(result.number)
    before = st.session_state.get(DRAFT)
    last = before if isinstance(before, Draft) else Draft()
    kind = st.radio(
        "Ask about", KINDS, index=KINDS.index(last.kind), horizontal=True, key=keys.of("kind")
    )
    content, type_ = None, ""
    if kind == ONE:
        # Not in the form: which packages it offers depends on it.
        types = [aircraft.name for aircraft in base.types]
        type_ = st.selectbox("Aircraft type", types, _place(last.type, types), key=keys.of("type"))
    with st.form(keys.of(f"form {KINDS.index(kind)}"), enter_to_submit=False):
        draft = replace(last, kind=kind)
        if kind == ONE:
            draft = _one_aircraft(base, replace(draft, type=type_), keys)
        else:
            content = _list_of_enquiries(keys)
        draft = _who_may_move(base, draft, keys)
        sent = st.form_submit_button(
            "Ask", type="primary", icon=":material/request_quote:", disabled=desk.is_working
        )
    if sent:
        st.session_state[DRAFT] = draft
        _send(desk, result, draft, content)
    _show_faults(result)


def _one_aircraft(base: Base, last: Draft, keys: _Keys) -> Draft:
    packages = [package.name for package in base.packages if package.is_for(last.type)]
    currency = plain(base.currency)
    what, when, money = st.columns(3)
    with what:
        package = st.selectbox(
            "Package",
            packages,
            _place(last.package, packages) if packages else None,
            placeholder="No package is for this type",
            key=keys.of("package"),
        )
        name = st.text_input(
            "Name of the enquiry", last.name, max_chars=LONGEST_NAME, key=keys.of("name")
        )
    with when:
        first = last.earliest or base.first_day
        earliest = st.date_input("Earliest in", first, format=DATES, key=keys.of("earliest"))
        latest = st.date_input(
            "Latest in (may be left blank)",
            last.latest,
            format=DATES,
            key=keys.of("latest"),
            help="Blank: the last day from which it can be out by Agreed out; without that too, "
            "the last day of the plan.",
        )
        agreed_out = st.date_input(
            "Agreed out (may be left blank)", last.agreed_out, format=DATES, key=keys.of("out")
        )
        agreed_days = st.number_input(
            "Agreed days (may be left blank)",
            min_value=1,
            max_value=LONGEST_AGREED_DAYS,
            value=last.agreed_days,
            key=keys.of("agreed days"),
            help="Calendar days from its in day to the day on which it is to be out, whenever it "
            "comes in; in place of Agreed out.",
        )
    with money:
        price = st.number_input(
            f"Price offered ({currency})",
            min_value=0.0,
            value=last.price,
            step=1000.0,
            format="%.0f",
            key=keys.of("price"),
            help="0: no price is offered yet.",
        )
        late_cost = st.number_input(
            f"Late cost ({currency} per day late out)",
            min_value=0.0,
            value=last.late_cost,
            step=100.0,
            format="%.0f",
            key=keys.of("late cost"),
        )
    return replace(
        last,
        name=name.strip(),
        package=package or "",
        earliest=earliest,
        latest=latest,
        agreed_out=agreed_out,
        agreed_days=None if agreed_days is None else int(agreed_days),
        price=price,
        late_cost=late_cost,
    )


def _list_of_enquiries(keys: _Keys) -> bytes | None:
    """Return the workbook that was chosen, None for none."""
    upload = st.file_uploader(
        f"Workbook with a sheet Enquiries (.xlsx, at most {MOST_MEGABYTES} MB)",
        type="xlsx",
        key=keys.of("list"),
    )
    st.caption(
        f"At most {MOST_ENQUIRIES} enquiries, a row each, with the columns of the sheet Checks; "
        "the column Status may be missing."
    )
    return None if upload is None else upload.getvalue()


def _who_may_move(base: Base, last: Draft, keys: _Keys) -> Draft:
    names = [check.name for check in base.checks if check.status is not Status.FIXED]
    who, how = st.columns([2, 1])
    with who:
        may_move = st.multiselect(
            "Checks that may move for it",
            names,
            [name for name in last.may_move if name in names],
            placeholder="No check may move",
            key=keys.of("may move"),
        )
        everybody = st.checkbox(
            "All checks may move", last.all_may_move, key=keys.of("all may move")
        )
    with how:
        seconds = st.number_input(
            "Seconds to search per enquiry when others may move",
            min_value=1,
            max_value=LONGEST_SECONDS,
            value=last.seconds,
            key=keys.of("seconds"),
        )
        on_time = st.checkbox(
            "Only slots that are out as agreed", last.on_time_only, key=keys.of("on time")
        )
    return replace(
        last,
        may_move=tuple(may_move),
        all_may_move=everybody,
        on_time_only=on_time,
        seconds=int(seconds),
    )


def _send(desk: Desk, result: Result, draft: Draft, content: bytes | None) -> None:
    """Begin the job, or keep what is wrong with the enquiries to show it."""
    with st.spinner("Reading the enquiry"):
        enquiries, messages = _enquiries(base_of(result), draft, content)
    st.session_state[FAULTS] = (result.number, messages)
    if not enquiries:
        return
    question = Question(
        enquiries=tuple(enquiries),
        may_move=None if draft.all_may_move else draft.may_move,
        on_time_only=draft.on_time_only,
        seconds=float(draft.seconds),
    )
    watched(desk, start_enquiries(desk, question))
    st.rerun()


def _enquiries(
    base: Base, draft: Draft, content: bytes | None
) -> tuple[Sequence[Check], tuple[Message, ...]]:
    if draft.kind == SEVERAL:
        if content is None:
            remedy = "Choose a workbook with the enquiries above, then press Ask."
            return (), (Message(Level.ERROR, "List", "no list is chosen yet.", remedy),)
        return read_enquiry_list(content, base, this_browser_is_there())
    if not draft.package:
        remedy = f"Choose another type, or add '{draft.type}' to Types of a package."
        what = f"no package is for '{draft.type}'."
        return (), (Message(Level.ERROR, "Package", what, remedy),)
    if draft.earliest is None:
        return (), (Message(Level.ERROR, "Earliest in", "it is blank.", "Give the first day."),)
    try:
        one = enquiry(
            base,
            draft.type,
            draft.package,
            draft.earliest,
            agreed_out=draft.agreed_out,
            agreed_days=draft.agreed_days,
            price=draft.price,
            latest=draft.latest,
            late_cost_per_day=draft.late_cost,
            name=draft.name or Draft().name,
        )
    except InputError as refusal:
        return (), refusal.messages
    return (one,), tuple(notes_of_enquiries([one], base))


def _show_faults(result: Result) -> None:
    run, messages = st.session_state.get(FAULTS, (None, ()))
    if run != result.number or not messages:
        return
    if any(message.level is Level.ERROR for message in messages):
        st.error("Nothing has been asked yet. Correct this first, then press Ask again.")
    else:
        st.caption("What to know about the enquiry:")
    show_messages(messages)


def _place(name: str, names: Sequence[str]) -> int:
    return names.index(name) if name in names else 0
