"""The command as a person starts it, in a folder and a home full of somebody else's settings."""

import os
import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path

from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from websockets.exceptions import InvalidStatus
from websockets.sync.client import ClientConnection, connect

ROOT = Path(__file__).parents[2]
SECONDS_TO_WAIT = 60.0

SETTINGS = """
[server]
baseUrlPath = "elsewhere"
enableStaticServing = true
allowedHosts = ["*"]
enableCORS = false
[client]
allowedOrigins = ["https://settings.example"]
[theme]
base = "settings.toml"
"""
"""Each of these would be obeyed in a file that Streamlit reads."""

WATCH = """
import os, sys
OUTWARD = ("socket.getaddrinfo", "socket.gethostbyname", "socket.connect", "socket.sendto")
def told(event, values):
    if event in OUTWARD:
        with open(os.environ["CALLS"], "a") as calls:
            calls.write(f"{event} {values!r}" + chr(10))
sys.addaudithook(told)
with open(os.environ["CALLS"], "a") as calls:
    calls.write(f"127.0.0.1 is where {os.getpid()} is watched" + chr(10))
"""


class Dashboard:
    """``capacity dashboard`` with a workbook; ``key`` is the one in the address it printed."""

    def __init__(self, folder: Path, book: Path) -> None:
        """Start it in a folder, which becomes its home too, and wait for the address."""
        self.calls, self.log = folder / "calls", folder / "log"
        self.calls.touch()
        (folder / ".streamlit").mkdir()
        (folder / ".streamlit" / "config.toml").write_text(SETTINGS, encoding="utf-8")
        (folder / "sitecustomize.py").write_text(WATCH, encoding="utf-8")
        home = folder / "home"
        home.mkdir()
        (home / ".streamlit").symlink_to(folder / ".streamlit")
        environment = {
            **os.environ,
            "HOME": str(home),
            "PYTHONPATH": str(folder),
            "CALLS": str(self.calls),
            "STREAMLIT_SERVER_BASE_URL_PATH": "elsewhere",
            "STREAMLIT_CLIENT_ALLOWED_ORIGINS": "https://settings.example",
        }
        environment.pop("XDG_CACHE_HOME", None)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        code = f"import sys; sys.path.append({str(ROOT)!r}); import capacity.cli as c; c.main()"
        arguments = ["dashboard", str(book), "--no-browser", "--port", str(self.port)]
        with self.log.open("wb") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-P", "-c", code, *arguments],
                cwd=folder, env=environment, stdout=log, stderr=log,
            )  # fmt: skip
        wait_until(self._is_told, f"no address: {self.log.read_text(encoding='utf-8')}")
        self.server = children(self.process.pid)[0]

    def _is_told(self) -> bool:
        told = re.search(
            rf"http://127.0.0.1:{self.port}/(\S+)/$", self.log.read_text(encoding="utf-8"), re.M
        )
        self.key = told[1] if told else ""
        return told is not None

    def answer(self, path: str, method: str = "GET", **headers: str) -> tuple[HTTPResponse, str]:
        """Return the server's answer to one request, and its text."""
        line = HTTPConnection("127.0.0.1", self.port, timeout=SECONDS_TO_WAIT)
        try:
            line.request(method, path, headers=headers)
            answer = line.getresponse()
            return answer, answer.read().decode(errors="replace")
        finally:
            line.close()

    @contextmanager
    def connection(self, key: str, host: str = "", origin: str = "") -> Iterator[ClientConnection]:
        """Give the connection of a page.

        ``host`` is the name by which the browser asks, ``origin`` whose page asks.
        """
        asked = host or f"127.0.0.1:{self.port}"
        with connect(
            f"ws://{asked}{f'/{key}' if key else ''}/_stcore/stream",
            sock=socket.create_connection(("127.0.0.1", self.port)),
            origin=origin or f"http://{asked}",
            max_size=None,
        ) as page:
            yield page

    def refusal(self, key: str, host: str = "", origin: str = "") -> int | None:
        """Return the status with which a connection is refused; None when it is not."""
        try:
            with self.connection(key, host, origin):
                return None
        except InvalidStatus as refused:
            return refused.response.status_code

    def end(self, number: signal.Signals = signal.SIGTERM) -> int:
        """Send the command a signal; return its exit code."""
        self.process.send_signal(number)
        return self.process.wait(SECONDS_TO_WAIT)


def children(process: int) -> list[int]:
    """Return the processes that a process has begun."""
    found = subprocess.run(
        ["pgrep", "-P", str(process)], capture_output=True, text=True, check=False
    )
    return [int(number) for number in found.stdout.split()]


def is_gone(process: int) -> bool:
    """Return whether a process has ended; one that nobody has waited for yet has, too."""
    try:
        state = (
            Path(f"/proc/{process}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0]
        )
    except FileNotFoundError:
        return True
    return state == "Z"


def wait_until(holds, otherwise: str) -> None:
    """Wait for something; fail after a while."""
    give_up = time.monotonic() + SECONDS_TO_WAIT
    while not holds():
        assert time.monotonic() < give_up, otherwise
        time.sleep(0.05)


def messages_until(page: ClientConnection, is_last) -> list[ForwardMsg]:
    """Return what a page is sent, up to the first message for which ``is_last`` holds."""
    found = []
    while True:
        found.append(ForwardMsg.FromString(page.recv(timeout=SECONDS_TO_WAIT)))
        if is_last(found[-1]):
            return found
