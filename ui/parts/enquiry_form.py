"""What is asked about: one aircraft in a form, or several in a table."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import streamlit as st

from capacity.errors import InputError
from capacity.facts import Base, Check
from capacity.inputs.enquiry_faults import notes_of_enquiries
from capacity.messages import Level, Message
from capacity.questions.enquiries.asked import enquiry
from ui.desk.desk import Desk
from ui.desk.plan_job import Result
from ui.desk.plan_question import base_of
from ui.parts.enquiry_typed import show_typed
from ui.parts.enquiry_ways import send, show_faults, show_ways
from ui.plain import plain

ONE, SEVERAL = "One aircraft", "Several in a table"
KINDS = (ONE, SEVERAL)
DRAFT, KIND = "enquiry draft", "enquiry kind"
LONGEST_NAME = 60
LONGEST_AGREED_DAYS = 1000
DATES = "YYYY-MM-DD"
"""Of the forms that the field takes, the one in which day and month cannot be exchanged."""


@dataclass(frozen=True, slots=True)
class Draft:
    """What stood in the form when it was sent off; it stands there again on the next visit."""

    name: str = "Enquiry"
    type: str = ""
    package: str = ""
    earliest: date | None = None
    latest: date | None = None
    agreed_out: date | None = None
    agreed_days: int | None = None
    price: float = 0.0
    late_cost: float = 0.0


@dataclass(frozen=True, slots=True)
class _Keys:
    """Names of the fields for one plan; another plan has fields of its own."""

    run: int

    def of(self, field: str) -> str:
        return f"enquiry {field} {self.run}"


def show_form(desk: Desk, result: Result) -> None:
    """Show the form; a question that is sent off begins a job, one with faults shows them."""
    keys = _Keys(result.number)
    before = desk.forms.get(KIND)
    kind = st.radio(
        "Ask about",
        KINDS,
        index=KINDS.index(str(before)) if before in KINDS else 0,
        horizontal=True,
        key=keys.of("kind"),
    )
    desk.forms[KIND] = kind
    if kind == ONE:
        _show_one(desk, result, keys)
    else:
        show_typed(desk, result, keys.of)
    show_faults(result)


def _show_one(desk: Desk, result: Result, keys: _Keys) -> None:
    base, before = base_of(result), desk.forms.get(DRAFT)
    last = before if isinstance(before, Draft) else Draft()
    # Not in the form: which packages it offers depends on it.
    types = [aircraft.name for aircraft in base.types]
    type_ = st.selectbox("Aircraft type", types, _place(last.type, types), key=keys.of("type"))
    with st.form(keys.of("form"), enter_to_submit=False):
        draft = _one_aircraft(base, replace(last, type=type_), keys)
        ways = show_ways(desk, base, keys.of)
        sent = st.form_submit_button(
            "Ask", type="primary", icon=":material/request_quote:", disabled=desk.is_working
        )
    if sent:
        desk.forms[DRAFT] = draft
        enquiries, messages = _one(base, draft)
        send(desk, result, enquiries, messages, ways)


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


def _one(base: Base, draft: Draft) -> tuple[Sequence[Check], tuple[Message, ...]]:
    """Return the enquiry of the form, and what is to be said of it; none where it is faulty."""
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


def _place(name: str, names: Sequence[str]) -> int:
    return names.index(name) if name in names else 0
