"""The command that serves the pages: this machine only, nothing sent, uploads bounded."""

import os
import tomllib
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from capacity import dashboard
from capacity.child_process import python_command
from capacity.errors import CapacityError

PAGES = Path(__file__).parents[2] / "ui"


def options() -> dict[str, str]:
    command = dashboard.command(8600)
    begin = python_command("streamlit", "run", str(PAGES / "app.py"))
    assert command[: len(begin)] == begin
    assert all(option.startswith("--") for option in command[len(begin) :])
    return dict(option[2:].split("=", 1) for option in command[len(begin) :])


def test_the_server_is_for_this_machine_and_guarded():
    found = options()
    assert found["server.address"] == "127.0.0.1"
    assert found["server.port"] == "8600"
    assert found["server.enableXsrfProtection"] == "true"
    assert found["server.enableCORS"] == "true"
    assert found["browser.gatherUsageStats"] == "false"
    assert int(found["server.maxUploadSize"]) <= 10
    assert found["server.fileWatcherType"] == "none"
    assert found["client.toolbarMode"] == "minimal"
    assert found["client.disableDataExport"] == "true"
    assert found["client.showErrorDetails"] == "none"
    assert found["client.showErrorLinks"] == "false"
    assert found["server.showEmailPrompt"] == "false"


def test_every_option_is_one_that_the_server_knows():
    from streamlit import config

    known = set(config.get_config_options())
    assert set(options()) <= known
    settings = tomllib.loads((PAGES / ".streamlit" / "config.toml").read_text(encoding="utf-8"))
    assert {f"theme.{name}" for name in settings["theme"] if name not in ("light", "dark")} <= known


def test_without_a_port_the_server_takes_one():
    assert not any("server.port" in option for option in dashboard.command())


def test_the_workbook_is_named_to_the_pages(monkeypatch, tmp_path):
    begun = {}

    class Child:
        def __init__(self, command, env):
            begun.update(command=command, env=env)

        def wait(self):
            return 3

    monkeypatch.setattr(dashboard.subprocess, "Popen", Child)
    monkeypatch.chdir(tmp_path)
    assert dashboard.run(Path("book.xlsx"), 8600) == 3
    assert begun["env"][dashboard.BOOK_VARIABLE] == str(tmp_path / "book.xlsx")
    assert begun["env"]["PATH"] == os.environ["PATH"]


def test_the_workbook_that_is_named_is_open_from_the_start(monkeypatch):
    sample = PAGES.parent / "sample_inputs" / "tiny.xlsx"
    monkeypatch.setenv(dashboard.BOOK_VARIABLE, str(sample))
    app = AppTest.from_file(str(PAGES / "app.py"), default_timeout=30).run()
    assert not app.exception
    assert "It can be planned: 4 checks" in app.text[0].value


def test_ctrl_c_reaches_the_server_and_is_waited_for(monkeypatch):
    signals = []

    class Child:
        def __init__(self, command, env):
            self.waits = 0

        def wait(self):
            self.waits += 1
            if self.waits == 1:
                raise KeyboardInterrupt
            return 0

        def send_signal(self, number):
            signals.append(number)

    monkeypatch.setattr(dashboard.subprocess, "Popen", Child)
    assert dashboard.run() == 0
    assert signals == [dashboard.signal.SIGINT]


def test_missing_libraries_and_pages_are_told(monkeypatch, tmp_path):
    monkeypatch.setattr(dashboard, "PLACES", (tmp_path,))
    with pytest.raises(CapacityError, match="not installed"):
        dashboard.command()
    monkeypatch.setattr(dashboard.importlib.util, "find_spec", lambda name: None)
    with pytest.raises(CapacityError, match="needs the library streamlit"):
        dashboard.command()


def test_pages_in_the_package_come_before_those_in_the_checkout(monkeypatch, tmp_path):
    inside = tmp_path / "capacity" / "ui"
    (inside / ".streamlit").mkdir(parents=True)
    (inside / "app.py").write_text("")
    (inside / ".streamlit" / "config.toml").write_text("[server]\nport = 1\n")
    monkeypatch.setattr(dashboard, "PLACES", (inside, PAGES))
    assert dashboard.command()[-2:] == [str(inside / "app.py"), "--server.port=1"]
