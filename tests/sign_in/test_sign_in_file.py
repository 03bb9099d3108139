"""The file that says how people sign in: everything that is wrong with it is said, no secret is."""

import os
from pathlib import Path

import pytest

from capacity import dashboard
from capacity.errors import CapacityError
from capacity.sign_in import read_sign_in

SECRET = "s" * 40
GOOD = {
    "redirect_uri": "https://planning.example.org/hangar/oauth2callback",
    "cookie_secret": SECRET,
    "client_id": "hangar",
    "client_secret": "hidden",
    "server_metadata_url": "https://id.example.org/.well-known/openid-configuration",
}


def written(tmp_path: Path, *, mode: int = 0o600, **changes: str | None) -> Path:
    path = tmp_path / "sign_in.toml"
    told = {name: value for name, value in {**GOOD, **changes}.items() if value is not None}
    lines = [f'{name} = "{value}"' for name, value in told.items()]
    path.write_text("[auth]\n" + "\n".join(lines) + "\n", encoding="utf-8")
    path.chmod(mode)
    return path


def test_a_good_file_says_where_people_find_the_dashboard(tmp_path: Path) -> None:
    found = read_sign_in(written(tmp_path))
    assert found.address == "https://planning.example.org/hangar"
    assert (found.host, found.base_path) == ("planning.example.org", "hangar")
    here = read_sign_in(written(tmp_path, redirect_uri="http://127.0.0.1:8501/oauth2callback"))
    assert (here.host, here.base_path) == ("127.0.0.1", "")


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"client_id": None, "cookie_secret": None}, "lacks cookie_secret, client_id"),
        ({"cookie_secret": "short"}, "32 letters at least"),
        ({"redirect_uri": "http://planning.example.org/oauth2callback"}, "redirect_uri is no"),
        ({"redirect_uri": "https://planning.example.org/"}, "redirect_uri is no"),
        ({"redirect_uri": "https://[/oauth2callback"}, "redirect_uri is no"),
    ],
)
def test_what_is_wrong_is_said(tmp_path: Path, changes: dict[str, str | None], said: str) -> None:
    with pytest.raises(CapacityError, match=said) as fault:
        read_sign_in(written(tmp_path, **changes))
    assert "hidden" not in str(fault.value)
    assert SECRET not in str(fault.value)


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps no such rights")
def test_a_file_that_others_may_read_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CapacityError, match="others may read it"):
        read_sign_in(written(tmp_path, mode=0o640))


def test_what_cannot_be_read_is_said(tmp_path: Path) -> None:
    with pytest.raises(CapacityError, match="cannot be read"):
        read_sign_in(tmp_path / "none.toml")
    path = tmp_path / "sign_in.toml"
    path.write_text("[auth\n", encoding="utf-8")
    with pytest.raises(CapacityError, match="cannot be read"):
        read_sign_in(path)


def test_without_sign_in_it_listens_on_this_machine_alone() -> None:
    with pytest.raises(CapacityError, match="listens on this machine alone"):
        dashboard.run(listen="0.0.0.0")
