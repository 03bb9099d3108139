"""Sign-in to the dashboard by OpenID Connect: the file that says how, looked over before its use.

The names in its table ``auth`` are those of Streamlit, which signs people in.
"""

import os
import stat
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from capacity.errors import CapacityError

FILE_VARIABLE = "CAPACITY_DASHBOARD_SIGN_IN"
"""The environment variable that names the file to the server and its pages."""

NEEDED = ("redirect_uri", "cookie_secret", "client_id", "client_secret", "server_metadata_url")
CALLBACK = "/oauth2callback"
LEAST_SECRET = 32
"""Letters of the secret that signs cookies: 32 drawn from 64 are 192 bits."""


@dataclass(frozen=True, slots=True)
class SignIn:
    """How people sign in.

    ``path`` is the file; ``address`` is where people find the dashboard, such as
    ``https://planning.example.org/hangar``, and ``secret`` what its cookies are signed with.
    """

    path: Path
    address: str
    secret: str

    @property
    def host(self) -> str:
        """The name by which people ask for the dashboard."""
        return urlsplit(self.address).hostname or ""

    @property
    def base_path(self) -> str:
        """The path below which the pages lie, without slashes at its ends."""
        return urlsplit(self.address).path.strip("/")


def read_sign_in(path: Path) -> SignIn:
    """Return how people sign in, by a file that only its owner may read.

    Raises
    ------
    CapacityError
        With everything that is wrong with it; no secret is said.
    """
    try:
        with path.open("rb") as file:
            mode = os.fstat(file.fileno()).st_mode
            told = tomllib.load(file)
    except (OSError, ValueError) as fault:
        raise CapacityError(f"{path}: it cannot be read as TOML ({fault}).") from fault
    auth = told.get("auth")
    auth = auth if isinstance(auth, dict) else {}
    faults = list(_faults(auth))
    if sys.platform != "win32" and stat.S_IMODE(mode) & 0o077:
        faults.append("others may read it: take that away (chmod 600)")
    if faults:
        raise CapacityError(f"{path}: {'; '.join(faults)}.")
    return SignIn(path, auth["redirect_uri"].removesuffix(CALLBACK), auth["cookie_secret"])


def _faults(auth: dict[str, Any]) -> "list[str]":
    missing = [name for name in NEEDED if not (isinstance(auth.get(name), str) and auth[name])]
    faults = [f"its table [auth] lacks {', '.join(missing)}"] if missing else []
    secret, redirect = auth.get("cookie_secret"), auth.get("redirect_uri")
    if isinstance(secret, str) and secret and len(secret) < LEAST_SECRET:
        faults.append(f"cookie_secret needs {LEAST_SECRET} letters at least, drawn at random")
    if isinstance(redirect, str) and redirect and not _is_address(redirect):
        faults.append(f"redirect_uri is no address that ends in {CALLBACK}")
    return faults


def _is_address(redirect: str) -> bool:
    """Return whether it is one of https, or of this machine, that ends as it has to."""
    try:
        parts = urlsplit(redirect)
        host = parts.hostname
        _ = parts.port
    except ValueError:
        return False
    is_here = host in ("127.0.0.1", "localhost")
    ends = parts.path.endswith(CALLBACK) and not (parts.query or parts.fragment)
    return bool(host) and ends and (parts.scheme == "https" or (parts.scheme == "http" and is_here))
