"""The server of the dashboard; started by ``capacity dashboard``, with ``ui`` on the path."""

import argparse
import os
import sys
from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from pathlib import Path
from typing import NoReturn

from capacity.escaped import escaped_streams
from ui.serving.ending import end_by_signals, end_with, leave
from ui.serving.pinned import pin_settings

pin_settings()  # before streamlit reads any

import streamlit as st  # noqa: E402
from starlette.middleware import Middleware  # noqa: E402
from streamlit import config  # noqa: E402

from capacity.dashboard import KEY_VARIABLE  # noqa: E402
from ui.desk.board import BOARD  # noqa: E402
from ui.serving.door import HOSTS, Door, new_key  # noqa: E402
from ui.serving.shown_address import shown_address  # noqa: E402

PAGES = Path(__file__).parents[1] / "app.py"


def main(arguments: Sequence[str] | None = None) -> int:
    """Serve until a signal or the end of the command that began this; return the exit code."""
    wanted = argparse.ArgumentParser("server")
    wanted.add_argument("--port", type=int)
    wanted.add_argument("--no-browser", action="store_true")
    wanted.add_argument("--end-with-input", action="store_true")
    told = wanted.parse_args(arguments)
    end_by_signals()
    if told.end_with_input:
        end_with(sys.stdin.fileno())
    with escaped_streams():
        return serve(told.port, not told.no_browser)


def serve(port: int | None, in_a_browser: bool) -> int:
    """Serve on a port of this machine, or on the first free one from 8501 on."""
    key = os.environ.pop(KEY_VARIABLE, None) or new_key()

    @asynccontextmanager
    async def shown(app: st.App) -> AsyncIterator[dict[str, object]]:
        address = f"http://{HOSTS[0]}:{config.get_option('server.port')}/{key}/"
        with shown_address(address, in_a_browser):
            yield {}

    door = Middleware(Door, key=key, knows_desk=BOARD.keeps)
    settings: dict[str, object] = {"server.baseUrlPath": key}
    if port is not None:
        settings["server.port"] = port
    sys.argv[1:] = []  # the pages have no arguments
    try:
        st.App(PAGES, lifespan=shown, middleware=[door]).run(config=settings)
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
