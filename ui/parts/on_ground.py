"""Aircraft on ground that a re-plan takes in: a form an aircraft, and those entered so far."""

from datetime import date

import streamlit as st

from capacity.errors import InputError
from capacity.facts import Base
from capacity.inputs.aircraft_on_ground import MOST_DAYS, MOST_HEADS, WORK, aircraft_on_ground
from ui.desk.desk import Desk
from ui.desk.plan_job import result_of
from ui.parts.tables import show_messages
from ui.plain import plain
from ui.planner.on_ground_line import OnGroundForm, line_of

ENTERED = "aircraft on ground"
REFUSED = "aircraft on ground refused"
TURN = "aircraft on ground turn"
MOST_HOURS = 200_000.0
MOST_COST = 1e9
WHAT_IT_DOES = (
    "Each becomes a booked check with a package of its own in a copy of the workbook, which goes "
    "on from here. Without a Latest in it is to come in today: each day that it waits counts as a "
    "day past Latest in, which goes before all costs."
)


def entered(desk: Desk) -> tuple[str, ...]:
    """Return the aircraft that were entered and not taken in yet, a line each."""
    of_desk, lines = st.session_state.get(ENTERED, (desk.id, ()))
    return lines if of_desk == desk.id else ()


def forget_entered() -> None:
    """Forget the aircraft that were taken in."""
    st.session_state.pop(ENTERED, None)


def show_on_ground(desk: Desk) -> None:
    """Show the form of an aircraft on ground, and what was entered so far."""
    lines = entered(desk)
    for number, line in enumerate(lines):
        with st.container(horizontal=True, vertical_alignment="center"):
            st.text(line)
            st.button(
                "Leave it out",
                key=f"leave out aircraft {number}",
                on_click=_keep,
                args=(desk, (*lines[:number], *lines[number + 1 :])),
            )
    base = _base_of(desk)
    if base is None or not st.checkbox("Take in an aircraft on ground", value=False):
        return
    st.caption(WHAT_IT_DOES)
    turn = st.session_state.setdefault(TURN, 0)
    form = _fields(base, turn)
    st.button(
        "Add this aircraft", icon=":material/add:", on_click=_add, args=(desk, base, form, lines)
    )
    if messages := st.session_state.get(REFUSED):
        show_messages(messages, "of the aircraft on ground")


def _base_of(desk: Desk) -> Base | None:
    """Return the base whose types and skills there are; that of the plan where news is refused."""
    assert desk.opened is not None
    if desk.opened.book.base is not None:
        return desk.opened.book.base
    result = result_of(desk)
    return None if result is None else result.opened.book.base


def _fields(base: Base, turn: int) -> OnGroundForm:
    def key(name: str) -> str:
        return f"aircraft on ground {name} {turn}"

    with st.container(horizontal=True, vertical_alignment="bottom"):
        type_ = st.selectbox("Type", [t.name for t in base.types], width=220, key=key("type"))
        days = st.number_input("Days of work", 1, MOST_DAYS, 5, width=140, key=key("days"))
        kinds = sorted({kind for bay in base.bays for kind in bay.work})
        index = kinds.index(WORK) if WORK in kinds else 0
        work = st.selectbox("Kind of work", kinds, index=index, width=180, key=key("work"))
        heads = st.number_input(
            "Max heads", 1, MOST_HEADS, None, width=140, key=key("heads"), placeholder="any"
        )
    st.caption("Man-hours by skill")
    hours = {}
    with st.container(horizontal=True, vertical_alignment="bottom"):
        for skill in base.skills:
            hours[skill.name] = st.number_input(
                plain(skill.name),
                0.0,
                MOST_HOURS,
                0.0,
                10.0,
                width=150,
                key=key(f"hours {skill.name}"),
            )
    with st.container(horizontal=True, vertical_alignment="bottom"):
        name = st.text_input("Name of the check", width=160, key=key("name"), placeholder="AOG-1")
        aircraft = st.text_input("Aircraft", width=160, key=key("aircraft"))
        customer = st.text_input("Customer", width=200, key=key("customer"))
        latest_in = _day("Latest in", key("latest"))
        agreed_out = _day("Agreed out", key("agreed"))
        late_cost = st.number_input(
            f"Late cost per day ({plain(base.currency)})",
            0.0,
            MOST_COST,
            0.0,
            100.0,
            width=220,
            key=key("cost"),
        )
    return OnGroundForm(
        type=type_ or "",
        days=int(days),
        hours=hours,
        name=name,
        aircraft=aircraft,
        customer=customer,
        work=work or "",
        max_heads=None if heads is None else int(heads),
        latest_in=latest_in,
        agreed_out=agreed_out,
        late_cost=float(late_cost),
    )


def _day(label: str, key: str) -> date | None:
    value = st.date_input(label, None, format="YYYY-MM-DD", width=160, key=key)
    return value if isinstance(value, date) else None


def _add(desk: Desk, base: Base, form: OnGroundForm, lines: tuple[str, ...]) -> None:
    """Add the aircraft of the form to those entered, unless something is wrong with it."""
    line = line_of(form)
    st.session_state.pop(REFUSED, None)
    try:
        # Which day is today is known only when it is taken in.
        aircraft_on_ground([*lines, line], base, base.first_day)
    except InputError as fault:
        st.session_state[REFUSED] = fault.messages
        return
    st.session_state[TURN] += 1
    _keep(desk, (*lines, line))


def _keep(desk: Desk, lines: tuple[str, ...]) -> None:
    st.session_state[ENTERED] = (desk.id, lines)
