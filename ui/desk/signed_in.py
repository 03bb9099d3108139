"""Who has signed in at this browser, where the dashboard asks for it."""

import base64
import hashlib
import hmac
import os
from functools import cache
from pathlib import Path

import streamlit as st

from capacity.sign_in import FILE_VARIABLE, SignIn, read_sign_in


def asks_to_sign_in() -> bool:
    """Return whether this dashboard shows its pages only to whoever has signed in."""
    return bool(os.environ.get(FILE_VARIABLE))


def person_signed_in() -> str | None:
    """Return the name by which the sign-in knows a person: an address, else their number there.

    None where nobody has signed in. An address that the sign-in says is not verified is none.
    """
    if not asks_to_sign_in() or not st.user.get("is_logged_in"):
        return None
    email, subject = st.user.get("email"), st.user.get("sub")
    if isinstance(email, str) and email and st.user.get("email_verified", True) is not False:
        return email
    return f"{st.user.get('iss')} {subject}" if subject else None


def desk_secret(person: str) -> str:
    """Return the secret of a person's own desk: always the same, and nobody else works it out."""
    key = _sign_in().secret.encode()
    digest = hmac.new(key, b"desk of " + person.encode(), hashlib.sha256).digest()
    return base64.urlsafe_b64encode(digest).decode().rstrip("=")


def let_in() -> None:
    """Show nothing but the way to sign in to whoever has not; the run ends there."""
    if not asks_to_sign_in():
        return
    if person_signed_in() is None:
        st.title("Hangar capacity")
        st.text("Sign in to see the plans of your base.")
        st.button("Sign in", icon=":material/login:", type="primary", on_click=st.login)
        st.stop()


def show_who_is_signed_in() -> None:
    """Show who has signed in, and the way out."""
    person = person_signed_in()
    if person is None:
        return
    with st.container(horizontal=True, horizontal_alignment="right", vertical_alignment="center"):
        st.text(person)
        st.button("Sign out", icon=":material/logout:", type="tertiary", on_click=st.logout)


@cache
def _sign_in() -> SignIn:
    return read_sign_in(Path(os.environ[FILE_VARIABLE]))
