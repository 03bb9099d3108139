"""People sign in by an OpenID provider; each has a desk of their own, and the store knows them."""

import os
import signal
import socket
import subprocess
from collections.abc import Iterator
from pathlib import Path
from urllib.request import Request, urlopen

import pytest

from capacity.dashboard import command
from capacity.sign_in import FILE_VARIABLE
from capacity.store.store import PlanStore
from capacity.store.values import Role
from tests.browser.driving import begin_plan, click_until_told
from tests.sign_in.provider import CLIENT, SECRET, Provider

pytestmark = [pytest.mark.browser, pytest.mark.long]

SECONDS_TO_START = 60
TINY = Path(__file__).parents[2] / "sample_inputs" / "tiny.xlsx"


@pytest.fixture(scope="module")
def provider() -> Iterator[Provider]:
    served = Provider()
    yield served
    served.end()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the dashboard has its settings, and its store."""
    return tmp_path_factory.mktemp("sign-in")


@pytest.fixture(scope="module")
def address(provider: Provider, folder: Path) -> Iterator[str]:
    """A dashboard whose people sign in with the provider."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    found = f"http://127.0.0.1:{port}/hangar"
    path = folder / "sign_in.toml"
    path.write_text(
        f"""[auth]
redirect_uri = "{found}/oauth2callback"
cookie_secret = "{"c" * 40}"
client_id = "{CLIENT}"
client_secret = "{SECRET}"
server_metadata_url = "{provider.address}/.well-known/openid-configuration"
""",
        encoding="utf-8",
    )
    path.chmod(0o600)
    environment = {
        **os.environ,
        FILE_VARIABLE: str(path),
        "CAPACITY_STORE": str(folder / "plans.sqlite"),
        "XDG_CACHE_HOME": str(folder / "cache"),
        "CAPACITY_DASHBOARD_BOOK": str(TINY),
    }
    running = subprocess.Popen(
        command(port, in_a_browser=False), env=environment, stdin=subprocess.PIPE,
        stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert running.stdout is not None
    for line in running.stdout:
        if "without encryption" in line:
            break
    yield found
    running.send_signal(signal.SIGTERM)
    running.communicate(timeout=SECONDS_TO_START)


def test_people_sign_in_and_have_desks_and_roles_of_their_own(
    browser, expect, provider: Provider, address: str, folder: Path
) -> None:
    with PlanStore(str(folder / "plans.sqlite"), "anna@example.org") as store:
        store.give_role("bert@example.org", Role.READ)

    def signed_in(email: str):
        provider.claims = {"sub": email, "email": email}
        page = browser.new_context().new_page()
        page.goto(address)
        expect(page.get_by_text("Sign in to see the plans of your base.")).to_be_visible()
        expect(page.get_by_text("tiny.xlsx")).to_have_count(0)
        known = page.get_by_text(email, exact=True)
        click_until_told(page.get_by_role("button", name="Sign in"), known, expect, force=False)
        assert "desk=" not in page.url
        return page

    anna, bert = signed_in("anna@example.org"), signed_in("bert@example.org")
    begin_plan(anna, expect)
    expect(anna.get_by_role("button", name="Plan file (.json)")).to_be_visible()
    expect(bert.get_by_role("button", name="Plan file (.json)")).to_have_count(0)
    for page, role in ((anna, "agree"), (bert, "read")):
        email = "anna@example.org" if page is anna else "bert@example.org"
        told = page.get_by_text(f"You are {email}; you may {role}.")
        click_until_told(page.get_by_role("link", name="Plan store"), told, expect, force=False)
    anna.reload()
    expect(anna.get_by_role("button", name="Save the plan that is shown")).to_be_visible()
    left = anna.get_by_text("Sign in to see the plans of your base.")
    click_until_told(anna.get_by_role("button", name="Sign out"), left, expect, force=False)


def test_nobody_else_s_name_or_page_leads_here(address: str) -> None:
    def code(**headers: str) -> int:
        try:
            with urlopen(Request(f"{address}/", headers=headers), timeout=10) as answer:
                return int(answer.status)
        except OSError as fault:
            return int(getattr(fault, "code", 0))

    assert code() == 200
    assert code(Host="planning.example.org") == 403
    assert code(Origin="https://elsewhere.example.org") == 403
