"""The server of the dashboard; started by ``capacity dashboard``, with ``ui`` on the path."""

import argparse
import os
import sys
from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from pathlib import Path
from typing import NoReturn

from capacity import giving_way
from capacity.escaped import escaped_streams
from ui.serving.ending import end_by_signals, end_with, leave
from ui.serving.pinned import pin_settings

pin_settings()  # before streamlit reads any

import streamlit as st  # noqa: E402
from starlette.middleware import Middleware  # noqa: E402
from streamlit import config  # noqa: E402

from capacity.dashboard import KEY_VARIABLE  # noqa: E402
from capacity.sign_in import FILE_VARIABLE, SignIn, read_sign_in  # noqa: E402
from ui.desk.board import BOARD  # noqa: E402
from ui.serving.door import HOSTS, Door, OpenDoor, new_key  # noqa: E402
from ui.serving.shown_address import shown_address  # noqa: E402

PAGES = Path(__file__).parents[1] / "app.py"

SIGNED_IN = """
People find the dashboard at

  {address}

and have to sign in there. It listens on {listen}, port {port}, without encryption: nobody but the
proxy that people come through should reach that port.
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Serve until a signal or the end of the command that began this; return the exit code."""
    wanted = argparse.ArgumentParser("server")
    wanted.add_argument("--port", type=int)
    wanted.add_argument("--no-browser", action="store_true")
    wanted.add_argument("--end-with-input", action="store_true")
    wanted.add_argument("--listen")
    told = wanted.parse_args(arguments)
    end_by_signals()
    os.environ.setdefault(giving_way.VARIABLE, giving_way.BEHIND_THE_PAGES)
    if told.end_with_input:
        end_with(sys.stdin.fileno())
    with escaped_streams():
        named = os.environ.get(FILE_VARIABLE)
        if named is not None:
            return serve_signed_in(read_sign_in(Path(named)), told.port, told.listen or HOSTS[0])
        return serve(told.port, not told.no_browser)


def serve_signed_in(sign_in: SignIn, port: int | None, listen: str) -> int:
    """Serve whoever has signed in, on an address of this machine."""

    @asynccontextmanager
    async def said(app: st.App) -> AsyncIterator[dict[str, object]]:
        port = config.get_option("server.port")
        sys.stdout.write(SIGNED_IN.format(address=sign_in.address, listen=listen, port=port))
        sys.stdout.flush()
        yield {}

    settings: dict[str, object] = {
        "server.baseUrlPath": sign_in.base_path,
        "server.address": listen,
        "server.allowedHosts": [sign_in.host, *HOSTS],
        "browser.serverAddress": sign_in.host,
    }
    return _run(said, Middleware(OpenDoor, hosts=(sign_in.host, *HOSTS)), settings, port)


def serve(port: int | None, in_a_browser: bool) -> int:
    """Serve on a port of this machine, or on the first free one from 8501 on."""
    key = os.environ.pop(KEY_VARIABLE, None) or new_key()

    @asynccontextmanager
    async def shown(app: st.App) -> AsyncIterator[dict[str, object]]:
        address = f"http://{HOSTS[0]}:{config.get_option('server.port')}/{key}/"
        with shown_address(address, in_a_browser):
            yield {}

    door = Middleware(Door, key=key, knows_desk=BOARD.keeps)
    return _run(shown, door, {"server.baseUrlPath": key}, port)


def _run(
    lifespan: Callable[[st.App], AbstractAsyncContextManager[dict[str, object]]],
    door: Middleware,
    settings: dict[str, object],
    port: int | None,
) -> int:
    """Serve the pages behind a door; return the exit code."""
    if port is not None:
        settings["server.port"] = port
    sys.argv[1:] = []  # the pages have no arguments
    try:
        st.App(PAGES, lifespan=lifespan, middleware=[door]).run(config=settings)
    except KeyboardInterrupt:
        return 0
    except SystemExit as ended:  # by a signal, or for want of the port
        return ended.code if isinstance(ended.code, int) else 1
    return 0


def run() -> NoReturn:
    """Serve, and leave without waiting for a search that does not hear."""
    code = main()
    BOARD.end_all()
    leave(code)


if __name__ == "__main__":
    run()
