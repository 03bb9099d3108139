"""A real server and a real browser; without one these tests are skipped, but fail in CI."""

import os
import re
import shutil
import socket
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from capacity.dashboard import command

SECONDS_TO_START = 60.0
SECONDS_TO_WAIT = 60.0
SECONDS_UNTIL_GONE = "2"
LAUNCH = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--disable-quic",
          "--no-first-run", "--disable-background-networking", "--disable-component-update",
          "--disable-sync"]  # fmt: skip


def missing(what: str) -> None:
    """Skip on a user's machine; fail where the tests must run."""
    reason = f"{what} is not there, so the pages cannot be driven"
    if os.environ.get("CI"):
        pytest.fail(reason)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def browser() -> Iterator:
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        missing("playwright")
    with sync_playwright() as driver:
        program = shutil.which("chromium") or driver.chromium.executable_path
        if not Path(program).exists():
            missing("a chromium browser")
        opened = driver.chromium.launch(executable_path=program, headless=True, args=LAUNCH)
        yield opened
        opened.close()


@pytest.fixture
def expect(browser):
    """The waiting assertions of the driver, patient enough for a busy machine."""
    from playwright.sync_api import expect

    expect.set_options(timeout=SECONDS_TO_WAIT * 1000)
    return expect


def without_a_browser(port: int) -> list[str]:
    """Return the command that serves on a port and leaves opening pages to the tests."""
    return command(port, in_a_browser=False)


class Server:
    """The dashboard as a process; its log is shown when a page fails."""

    def __init__(self, folder: Path, command_at: Callable[[int], list[str]]) -> None:
        """Begin to serve on a free port, with a home of its own.

        ``command_at`` gives the command that serves on a port.
        """
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.address = ""
        self.log = folder / "server.log"
        environment = {
            **os.environ,
            "HOME": str(folder),
            "CAPACITY_DASHBOARD_SECONDS_UNTIL_GONE": SECONDS_UNTIL_GONE,
        }
        environment.pop("CAPACITY_DASHBOARD_BOOK", None)
        environment.setdefault("CAPACITY_NICENESS", "0")  # other tests may run beside it
        environment.pop("XDG_CACHE_HOME", None)
        self._command = command_at(self.port)
        self._environment = environment
        self.start()

    def start(self) -> None:
        """Begin to serve."""
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(
                self._command,
                env=self._environment,
                stdin=subprocess.PIPE,  # it ends when this is closed
                stdout=log,
                stderr=log,
            )

    def restart(self) -> None:
        """End the server as a person does who starts it again, and serve anew."""
        self.end()
        self.start()
        self.wait()

    def end(self) -> None:
        """End the server."""
        self.process.terminate()
        self.process.wait(20)
        self.process.stdin.close()

    def wait(self) -> None:
        """Wait for the address that the server prints when it is there."""
        give_up = time.monotonic() + SECONDS_TO_START
        while time.monotonic() < give_up and self.process.poll() is None:
            told = re.findall(
                rf"http://127.0.0.1:{self.port}/\S+/$", self.log.read_text(encoding="utf-8"), re.M
            )
            if told and told[-1] != self.address:
                self.address = told[-1]
                return
            time.sleep(0.1)
        pytest.fail(f"the server did not start: {self.log.read_text(encoding='utf-8')}")

    def sides(self) -> int:
        """Return how many child processes of a search are at work."""
        sides, seen = 0, [self.process.pid]
        for pid in seen:  # a plan is worked out in a child, of which the sides are children
            children = _found(["pgrep", "-P", str(pid)])
            sides += len(_found(["pgrep", "-P", str(pid), "-f", "capacity.slots.search.side"]))
            seen += children
        return sides


def _found(command: list[str]) -> list[int]:
    found = subprocess.run(command, capture_output=True, text=True, check=False)
    return [int(pid) for pid in found.stdout.split()]


@pytest.fixture(scope="session")
def serve(browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator:
    """Return a function that starts a server by a command; all end with the tests."""
    servers: list[Server] = []

    def serve_one(command_at: Callable[[int], list[str]] = without_a_browser) -> Server:
        servers.append(Server(tmp_path_factory.mktemp("server"), command_at))
        servers[-1].wait()
        return servers[-1]

    try:
        yield serve_one
    finally:
        for started in servers:
            started.end()


@pytest.fixture(scope="session")
def server(serve) -> Server:
    return serve()


@pytest.fixture
def open_page(browser, server) -> Iterator:
    """Return a function that opens the dashboard as a person of its own."""
    contexts, outside, broken = [], [], []

    def open_one(**options):
        context = browser.new_context(viewport={"width": 1400, "height": 1100}, **options)
        context.set_default_timeout(SECONDS_TO_WAIT * 1000)
        page = context.new_page()
        page.on("request", lambda r: None if _is_ours(r.url, server) else outside.append(r.url))
        page.on("pageerror", lambda error: broken.append(str(error)))
        page.goto(server.address)
        page.get_by_role("heading", name="Planner", exact=True).wait_for()
        contexts.append(context)
        return page

    yield open_one
    faults = [
        element.inner_text()
        for context in contexts
        for page in context.pages
        for element in page.get_by_test_id("stException").all()
    ]
    for context in contexts:
        context.close()
    assert not faults, f"{faults}\n{server.log.read_text(encoding='utf-8')}"
    assert not outside, "something was asked for outside this machine"
    assert not broken


def _is_ours(url: str, server: Server) -> bool:
    return url.startswith((server.address, "data:", "blob:"))
