"""The door before every page, file, upload and connection: the address must hold the key.

The key is the first part of the path, not a cookie: browsers send cookies of 127.0.0.1 to every
server on the machine, whatever its port and whoever runs it.
"""

import secrets
from collections.abc import Callable, Sequence
from urllib.parse import parse_qs, quote, urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from ui.serving.door_page import no_way_in

HOSTS = ("127.0.0.1", "localhost")
"""The names by which this machine may be asked. Any other one is somebody else's, led here."""

KEY_BYTES = 32

FOLLOWS_NO_ONE = {
    "Referrer-Policy": "same-origin",  # the address is a secret
    "X-Frame-Options": "SAMEORIGIN",
}


def new_key() -> str:
    """Return a key that nobody can guess."""
    return secrets.token_urlsafe(KEY_BYTES)


class Door:
    """Lets those through who have the key, and shows everybody else how to get in.

    ``knows_desk`` tells whether work is kept under a secret: an address that names it, from
    before this start, is led to the same work behind today's key.
    """

    is_there = False
    """Whether there is one in this process: pages that are served without it show nothing."""

    def __init__(self, app: ASGIApp, key: str, knows_desk: Callable[[str], bool]) -> None:
        """Stand before ``app``."""
        Door.is_there = True
        self._app, self._key, self._knows_desk = app, key, knows_desk

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or hand it on."""
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
        elif _is_for_us(Headers(scope=scope)) and self._has_key(scope["path"]):
            await self._app(scope, receive, _with_headers(send))
        elif scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": 1008})
        else:
            await self._refusal(scope)(scope, receive, send)

    def _has_key(self, path: str) -> bool:
        """Return whether a path begins with the key; how long that takes tells nothing of it."""
        before, _, rest = path.partition("/")
        told = rest.partition("/")[0]
        return not before and secrets.compare_digest(told.encode(), self._key.encode())

    def _refusal(self, scope: Scope) -> Response:
        """Return the page without a way in, or the way to work that the address names."""
        is_page = scope["method"] == "GET" and _is_for_us(Headers(scope=scope))
        desk = parse_qs(scope["query_string"].decode("latin-1")).get("desk", [""])[0]
        if is_page and desk and self._knows_desk(desk):
            answer: Response = RedirectResponse(f"/{self._key}/?desk={quote(desk)}", 303)
        else:
            answer = no_way_in()
        answer.headers["Cache-Control"] = "no-store"
        answer.headers.update(FOLLOWS_NO_ONE)
        return answer


class OpenDoor:
    """Lets everybody come as far as the sign-in, by the names of the dashboard alone."""

    def __init__(self, app: ASGIApp, hosts: Sequence[str]) -> None:
        """Stand before ``app``."""
        Door.is_there = True
        self._app, self._hosts = app, tuple(hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or hand it on."""
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
        elif _is_for_us(Headers(scope=scope), self._hosts):
            await self._app(scope, receive, _with_headers(send))
        elif scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": 1008})
        else:
            await no_way_in()(scope, receive, send)


def _is_for_us(headers: Headers, names: Sequence[str] = HOSTS) -> bool:
    """Return whether a request names this machine, and was not sent by a page from elsewhere.

    What differs here never comes to Streamlit's own comparison, which asks the outside world
    for this machine's public address first.
    """
    hosts, origins = headers.getlist("host"), headers.getlist("origin")
    if len(hosts) != 1 or len(origins) > 1 or _name(f"//{hosts[0]}") not in names:
        return False
    return not origins or origins[0] in (f"http://{hosts[0]}", f"https://{hosts[0]}")


def _name(address: str) -> str | None:
    """Return the name of the host in an address; None where there is no such thing."""
    try:
        parts = urlsplit(address)
        _ = parts.port  # raises for what is no number
    except ValueError:
        return None
    is_plain = not (parts.username or parts.password or parts.path or parts.query)
    return parts.hostname if is_plain else None


def _with_headers(send: Send) -> Send:
    """Send on, and tell the browser to keep the address to itself."""

    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            MutableHeaders(scope=message).update(FOLLOWS_NO_ONE)
        await send(message)

    return sent
