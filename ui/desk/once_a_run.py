"""What is worked out of a plan once a run, and shown at every click after that.

No two runs of a server have the same number, so a plan that several people opened from the store
has one for all of them, and is worked out once for all of them too.
"""

from collections.abc import Callable
from typing import Any, TypeVar, cast

import streamlit as st

VALUES_CACHED = 250
"""Values kept for all desks together; the largest, of a year of 300 checks, are some MB.

A page asks for up to 8 of a plan: with fewer than people times 8 each would push out the next
one's, and every page would be worked out anew.
"""

Value = TypeVar("Value")


def once_a_run(name: str, run: int, make: Callable[[], Value]) -> Value:
    """Return a value of run number ``run``; ``make`` is called for the first time.

    ``name`` tells the values of a run apart. They are shared, so nobody may change them.
    """
    return cast(Value, _cached(run, name, make))


@st.cache_resource(max_entries=VALUES_CACHED, show_spinner=False)
def _cached(run: int, name: str, _make: Callable[[], Any]) -> Any:
    return _make()
