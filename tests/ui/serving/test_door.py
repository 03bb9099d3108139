"""Who comes in: a real server, asked by its owner, by neighbours and by pages from elsewhere.

The rules for names and origins are those of the WebSocket protocol (RFC 6455, 10.2, from memory)
and of the advice against DNS rebinding: trust a request by its ``Host``, not by where it came from.
"""

import asyncio
import os
import signal
from concurrent.futures import ThreadPoolExecutor

import pytest
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from streamlit.testing.v1 import AppTest

from tests.ui.dashboard_process import (
    ROOT,
    Dashboard,
    children,
    is_gone,
    messages_until,
    wait_until,
)
from ui.serving.door import Door

TINY, QUARTER = (ROOT / "sample_inputs" / name for name in ("tiny.xlsx", "quarter.xlsx"))
ROUTES = (
    "/", "/base_manager", "/_stcore/health", "/_stcore/host-config", "/_stcore/metrics",
    "/_stcore/script-health-check", "/_stcore/stream", "/_stcore/agent/schema",
    "/_stcore/agent/mcp", "/_stcore/bidi-components/a/b", "/_stcore/upload_file/a/b",
    "/media/0.xlsx", "/component/a/index.html", "/app/static/a", "/static/js/a.js",
    "/auth/login", "/auth/logout", "/oauth2callback", "/elsewhere/_stcore/health",
)  # fmt: skip
"""Every route of Streamlit 1.67 (``create_streamlit_routes``), as it would be without a key."""


@pytest.fixture(scope="module")
def dashboard(tmp_path_factory):
    started = Dashboard(tmp_path_factory.mktemp("dashboard"), TINY)
    yield started
    started.end()
    assert is_gone(started.server)


def drawn(page, query: str = "") -> tuple[str, str, list[ForwardMsg]]:
    """Return what a page shows after it was drawn, the query of its address, and all messages."""
    ask = BackMsg()
    ask.rerun_script.query_string = query
    page.send(ask.SerializeToString())
    told = messages_until(page, lambda message: message.HasField("script_finished"))
    asked = [m.page_info_changed.query_string for m in told if m.HasField("page_info_changed")]
    return str(told), asked[-1] if asked else query, told


def test_with_the_key_the_workbook_is_there_and_hostile_settings_count_for_nothing(dashboard):
    with dashboard.connection(dashboard.key) as page:
        shown, query, _ = drawn(page)
    assert "tiny.xlsx" in shown
    assert query.startswith("desk=")
    answer, text = dashboard.answer(f"/{dashboard.key}/_stcore/host-config")
    assert answer.status == 200
    assert "settings.example" not in text
    assert answer.headers["Referrer-Policy"] == "same-origin"
    # Static files of the application's folder would be served with the settings that lie about.
    answer, text = dashboard.answer(f"/{dashboard.key}/app/static/none")
    assert "<html" in text


@pytest.mark.parametrize("key", ["", "/" + "A" * 43, "/elsewhere"])
def test_without_the_key_every_route_says_only_how_to_get_in(dashboard, key):
    for route in ROUTES:
        for method in ("GET", "PUT", "POST", "OPTIONS", "DELETE"):
            answer, text = dashboard.answer(key + route, method)
            assert answer.status == 403, (method, route)
            assert "copy the whole address" in text
            assert "tiny" not in text
            assert dashboard.key not in text + str(answer.headers)
            assert "set-cookie" not in answer.headers
    assert dashboard.refusal(key.strip("/")) == 403


def test_a_name_led_here_and_a_page_from_elsewhere_are_refused_even_with_the_key(dashboard):
    there, port = f"/{dashboard.key}/", dashboard.port
    evil = f"evil.example:{port}"
    assert dashboard.refusal(dashboard.key, host=evil, origin=f"http://{evil}") == 403
    for host in (evil, "127.0.0.1.evil.example", "evil.example#127.0.0.1", "a@127.0.0.1", ""):
        answer, text = dashboard.answer(there, Host=host)
        assert answer.status in (400, 403), host
        assert "stcore" not in text
    for origin in ("http://foreign.example", "null", f"http://{evil}", f"http://localhost:{port}"):
        assert dashboard.refusal(dashboard.key, origin=origin) == 403
        answer, _ = dashboard.answer(there, Origin=origin)
        assert answer.status == 403
    assert dashboard.answer(there, Host=f"localhost:{port}")[0].status == 200


def test_200_visits_without_the_key_take_nobodys_desk_away(dashboard):
    with dashboard.connection(dashboard.key) as page:
        _, mine, _ = drawn(page)
    for _ in range(210):
        assert dashboard.answer("/")[0].status == 403
        assert dashboard.refusal("") == 403
    with dashboard.connection(dashboard.key) as page:
        _, again, _ = drawn(page, mine)
    assert again == mine


def test_no_name_outside_was_looked_up_and_nothing_called(dashboard):
    # The server has by now answered its owner, neighbours, and pages from elsewhere.
    assert dashboard.refusal(dashboard.key, origin="http://foreign.example") == 403
    calls = dashboard.calls.read_text(encoding="utf-8")
    assert f"where {dashboard.server} is watched" in calls
    assert [call for call in calls.splitlines() if "127.0.0.1" not in call] == []


@pytest.mark.long
@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP", "SIGKILL"])
def test_server_and_search_end_with_the_command_however_that_ends(name, tmp_path):
    started = Dashboard(tmp_path, QUARTER if name == "SIGKILL" else TINY)
    with started.connection(started.key) as page:  # a browser that stays
        sides = begun_search(started, page) if name == "SIGKILL" else []
        code = started.end(signal.Signals[name])
        assert code == (-signal.SIGKILL if name == "SIGKILL" else 0)
        wait_until(lambda: is_gone(started.server), "the server goes on")
        wait_until(lambda: all(map(is_gone, sides)), "the search goes on")
    log = started.log.read_text(encoding="utf-8")
    assert "Traceback" not in log
    assert "terminate called" not in log


def begun_search(started: Dashboard, page) -> list[int]:
    """Make the plan as a person does by a click; return the processes that search."""
    _, query, told = drawn(page)
    buttons = [message.delta.new_element.button for message in told]
    button = next(button for button in buttons if button.label == "Make the plan")
    click = BackMsg()
    click.rerun_script.query_string = query
    click.rerun_script.widget_states.widgets.add(id=button.id, trigger_value=True)
    page.send(click.SerializeToString())
    wait_until(lambda: len(searching(started.server)) > 2, "no search begins")
    return searching(started.server)


def searching(server: int) -> list[int]:
    """Return the process that plans for the server, and the sides of its search."""
    apart = children(server)
    return [*apart, *(side for process in apart for side in children(process))]


def test_a_server_that_is_killed_is_told(tmp_path):
    started = Dashboard(tmp_path, TINY)
    os.kill(started.server, signal.SIGKILL)
    assert started.process.wait(20) == 1
    assert "error the dashboard's server was ended by signal 9" in started.log.read_text(
        encoding="utf-8"
    )


def asked(door: Door, path: str, query: str = "", host: str = "127.0.0.1:8501") -> list[dict]:
    """Return what a door sends in answer to one request for a page."""
    sent: list[dict] = []

    async def receive():
        return {"type": "http.request"}

    async def send(message):
        sent.append(message)

    scope = {
        "type": "http", "method": "GET", "path": path, "query_string": query.encode(),
        "headers": [(b"host", host.encode())],
    }  # fmt: skip
    # On a thread of its own: a browser test before this one leaves an event loop on the main one.
    with ThreadPoolExecutor(1) as threads:
        threads.submit(lambda: asyncio.run(door(scope, receive, send))).result()
    return sent


def test_kept_work_is_found_again_by_its_own_address_after_a_new_start():
    async def behind(scope, receive, send):
        raise AssertionError("nobody has come in")

    door = Door(behind, "k" * 43, lambda desk: desk == "kept work")
    begin = asked(door, "/" + "o" * 43 + "/base_manager", "desk=kept%20work")[0]
    assert begin["status"] == 303
    assert (b"location", f"/{'k' * 43}/?desk=kept%20work".encode()) in begin["headers"]
    assert asked(door, "/", "desk=unknown")[0]["status"] == 403
    assert asked(door, "/", "desk=kept%20work", host="evil.example")[0]["status"] == 403


def test_the_key_is_compared_in_a_time_that_tells_nothing(monkeypatch):
    compared = []

    def compare(told: bytes, key: bytes) -> bool:
        compared.append((told, key))
        return False

    async def behind(scope, receive, send):
        raise AssertionError("nobody has come in")

    monkeypatch.setattr("ui.serving.door.secrets.compare_digest", compare)
    door = Door(behind, "key", lambda desk: False)
    asked(door, "/kez/x\u00e9")
    assert compared == [(b"kez", b"key")]


def test_pages_that_are_served_without_the_door_show_nothing(monkeypatch):
    monkeypatch.setattr(Door, "is_there", False)
    monkeypatch.setattr("ui.desk.session._is_served", lambda: True)
    page = AppTest.from_file(str(ROOT / "ui" / "app.py"), default_timeout=30).run()
    assert "Start the dashboard by `capacity dashboard`" in page.error[0].value
    assert not page.title
    assert not page.main.get("file_uploader")
