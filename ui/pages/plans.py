"""The page Plan store: plans that others find, and which of them is in force."""

import streamlit as st

from capacity.errors import CapacityError
from ui.desk.session import current_desk
from ui.parts.stored_plans import show_plans, show_saving, show_what_was_done
from ui.plain import plain
from ui.store.kept import plans_of, store_of_this_person
from ui.words import PLANS_ONLY

desk = current_desk()
st.title("Plan store")
st.caption(PLANS_ONLY)
show_what_was_done()

try:
    store = store_of_this_person()
    plans = plans_of(store)
except CapacityError as fault:
    st.error(plain(str(fault)))
    st.stop()

st.text(f"You are {store.person}; you may {store.role().value}.")
st.header("Save", divider="gray")
show_saving(desk, store, plans)
st.header("History", divider="gray")
if plans:
    show_plans(desk, store, plans)
else:
    st.text("Nothing has been saved yet.")
