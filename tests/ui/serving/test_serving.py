"""The command that serves the pages: this machine only, nothing sent, uploads bounded."""

import io
import os
import signal
import stat
import sys
import tomllib
from collections.abc import Mapping
from pathlib import Path
from threading import Event
from urllib.parse import urlsplit

import pytest
from streamlit.testing.v1 import AppTest

from capacity import dashboard, giving_way
from capacity.child_process import python_command
from capacity.errors import CapacityError
from ui.serving.door import HOSTS
from ui.serving.pinned import OWN_FILE
from ui.serving.shown_address import shown_address

PAGES = Path(__file__).parents[3] / "ui"


class Begun:
    """What stands in for a server's process."""

    def __enter__(self):
        return self

    def __exit__(self, *why):
        return None


def settings(table: Mapping[str, object] | None = None, above: str = "") -> dict[str, object]:
    """Return the settings of the dashboard by their dotted names."""
    if table is None:
        table = tomllib.loads(OWN_FILE.read_text(encoding="utf-8"))
    found: dict[str, object] = {}
    for name, value in table.items():
        inside = isinstance(value, Mapping)
        found |= settings(value, f"{above}{name}.") if inside else {above + name: value}
    return found


def test_the_server_is_for_this_machine_and_guarded():
    found = settings()
    assert found["server.address"] == "127.0.0.1"
    assert found["server.allowedHosts"] == list(HOSTS) == ["127.0.0.1", "localhost"]
    assert found["server.enableXsrfProtection"] is True
    assert found["server.enableCORS"] is True
    assert found["browser.gatherUsageStats"] is False
    assert found["server.maxUploadSize"] <= 10
    assert found["server.fileWatcherType"] == "none"
    assert found["client.toolbarMode"] == "minimal"
    assert found["client.disableDataExport"] is True
    assert found["client.showErrorDetails"] == "none"
    assert found["client.showErrorLinks"] is False
    assert found["server.showEmailPrompt"] is False
    assert found["runner.postScriptGC"] is False


def test_every_option_is_one_that_the_server_knows():
    from streamlit import config

    assert set(settings()) <= set(config.get_config_options())


def test_the_command_runs_the_installed_server_with_what_was_asked():
    above = PAGES.parent
    assert dashboard.command() == python_command(
        "ui.serving.server", "--end-with-input", above=above
    )
    asked = ("--end-with-input", "--port=8600", "--no-browser")
    assert dashboard.command(8600, False) == python_command(
        "ui.serving.server", *asked, above=above
    )


def test_searches_that_pages_begin_are_told_to_give_way(monkeypatch):
    from ui.serving import server

    monkeypatch.setenv(giving_way.VARIABLE, "")
    monkeypatch.delenv(giving_way.VARIABLE)
    monkeypatch.setattr(server, "end_by_signals", lambda: None)
    monkeypatch.setattr(server, "serve", lambda *asked: 0)
    assert server.main([]) == 0
    assert os.environ[giving_way.VARIABLE] == giving_way.BEHIND_THE_PAGES


def test_the_workbook_is_named_to_the_pages(monkeypatch, tmp_path):
    begun = {}

    class Child(Begun):
        def __init__(self, command, env, stdin):
            begun.update(command=command, env=env)

        def wait(self, seconds=None):
            return 3

    monkeypatch.setattr(dashboard.subprocess, "Popen", Child)
    monkeypatch.chdir(tmp_path)
    assert dashboard.run(Path("book.xlsx"), 8600, workers=3) == 3
    assert begun["env"][dashboard.WORKERS_VARIABLE] == "3"
    assert begun["env"][dashboard.BOOK_VARIABLE] == str(tmp_path / "book.xlsx")
    assert begun["env"]["PATH"] == os.environ["PATH"]


def test_the_workbook_that_is_named_is_open_from_the_start(monkeypatch):
    sample = PAGES.parent / "sample_inputs" / "tiny.xlsx"
    monkeypatch.setenv(dashboard.BOOK_VARIABLE, str(sample))
    app = AppTest.from_file(str(PAGES / "app.py"), default_timeout=30).run()
    assert not app.exception
    assert "It can be planned: 4 checks" in app.text[0].value


@pytest.mark.parametrize("times", [1, 2])
def test_ctrl_c_ends_the_server_in_peace_and_a_second_one_at_once(monkeypatch, times):
    done = []

    class Child(Begun):
        stdin = io.BytesIO()

        def __init__(self, command, env, stdin):
            self.waits = 0

        def wait(self, seconds=None):
            self.waits += 1
            if self.waits <= times:
                raise KeyboardInterrupt
            done.append(("pipe closed", self.stdin.closed))
            return 0

        def kill(self):
            done.append("killed")

    monkeypatch.setattr(dashboard.subprocess, "Popen", Child)
    before = signal.getsignal(signal.SIGTERM)
    assert dashboard.run() == 0
    assert signal.getsignal(signal.SIGTERM) is before
    assert done == ["killed"] * (times - 1) + [("pipe closed", True)]


@pytest.mark.parametrize("key", ["", "short", "a" * 31, "a" * 31 + "/", "a" * 201, "\u00e9" * 32])
def test_a_key_that_can_be_guessed_is_refused(monkeypatch, key):
    monkeypatch.setenv(dashboard.KEY_VARIABLE, key)
    with pytest.raises(CapacityError, match="drawn at random"):
        dashboard.run()


def test_the_browser_is_given_a_file_that_only_this_user_can_read(monkeypatch, capsys):
    shown = Event()
    opened: list[str] = []

    def show(address: str) -> None:
        opened.append(address)
        shown.set()

    monkeypatch.setattr("ui.serving.shown_address.webbrowser.open", show)
    monkeypatch.setenv("DISPLAY", ":0")
    with shown_address("http://127.0.0.1:1/secret/", in_a_browser=True):
        assert shown.wait(10)
        page = Path(urlsplit(opened[0]).path)
        assert "secret" not in opened[0]
        assert stat.S_IMODE(page.stat().st_mode) == 0o600
        assert stat.S_IMODE(page.parent.stat().st_mode) == 0o700
        assert 'url=http://127.0.0.1:1/secret/"' in page.read_text(encoding="utf-8")
    assert not page.parent.exists()
    assert "  http://127.0.0.1:1/secret/\n" in capsys.readouterr().out
    monkeypatch.delenv("DISPLAY")
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    for wanted in (True, False):
        with shown_address("http://127.0.0.1:1/secret/", in_a_browser=wanted):
            pass
    assert len(opened) == 1


def test_missing_libraries_and_pages_are_told(monkeypatch, tmp_path):
    monkeypatch.setattr(dashboard, "PLACES", (tmp_path,))
    with pytest.raises(CapacityError, match="not installed"):
        dashboard.command()
    monkeypatch.setattr(dashboard.importlib.util, "find_spec", lambda name: None)
    with pytest.raises(CapacityError, match="needs the library streamlit"):
        dashboard.command()


def test_pages_in_the_package_come_before_those_in_the_checkout(monkeypatch, tmp_path):
    inside = tmp_path / "capacity" / "ui"
    inside.mkdir(parents=True)
    (inside / "app.py").write_text("", encoding="utf-8")
    monkeypatch.setattr(dashboard, "PLACES", (inside, PAGES))
    assert str(inside.parent) in dashboard.command()
