"""What is worked out of a plan once a run, and shown at every click after that."""

from collections.abc import Callable
from typing import Any, TypeVar, cast

import streamlit as st

from ui.desk.session import current_desk

VALUES_CACHED = 100
"""Values kept for all desks together; the largest, of a year of 300 checks, are some MB."""

Value = TypeVar("Value")


def once_a_run(name: str, run: int, make: Callable[[], Value]) -> Value:
    """Return a value of run number ``run`` on this desk; ``make`` is called for the first time.

    ``name`` tells the values of a run apart. They are shared, so nobody may change them.
    """
    return cast(Value, _cached(current_desk().id, run, name, make))


@st.cache_resource(max_entries=VALUES_CACHED, show_spinner=False)
def _cached(desk: str, run: int, name: str, _make: Callable[[], Any]) -> Any:
    return _make()
