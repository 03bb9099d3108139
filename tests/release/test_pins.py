"""Pins, their hashes, and the table of licences: they speak of the same packages."""

import importlib.metadata
import re

import pytest

from tests.release.bill_of_materials import (
    CONSTRAINTS,
    PURPOSES,
    ROOT,
    UNCLEAR,
    direct,
    licence_of,
    name_of,
    pins,
    written_rows,
)

HASHES = ROOT / "constraints-hashes.txt"
INSTALLED = {name_of(one.metadata["Name"]): one for one in importlib.metadata.distributions()}
ROWS = {row[0]: row for row in written_rows()}


def test_every_pin_has_hashes_and_no_other_file_has_any():
    assert pins(HASHES) == pins()
    text = HASHES.read_text(encoding="utf-8")
    blocks = re.split(r"^(?=[\w.-]+==)", text, flags=re.MULTILINE)[1:]
    assert len(blocks) == len(pins())
    for block in blocks:
        assert re.search(r"--hash=sha256:[0-9a-f]{64}\b", block), block
    assert "--hash" not in CONSTRAINTS.read_text(encoding="utf-8")  # pip would refuse the project


@pytest.mark.parametrize("path", [CONSTRAINTS, HASHES], ids=lambda path: path.name)
def test_pins_name_no_registry(path):
    lines = path.read_text(encoding="utf-8").splitlines()
    pinned = r"[\w.-]+==[^\s;]+( ; [\w.' !=<>]+)?( \\)?|    --hash=sha256:[0-9a-f]{64}( \\)?|#.*"
    assert [line for line in lines if not re.fullmatch(pinned, line)] == []


def test_all_that_the_project_asks_for_is_pinned_and_has_a_purpose():
    assert direct() <= set(pins())
    assert direct() == set(PURPOSES)


def test_the_table_of_licences_has_the_pinned_packages():
    assert {name: row[1] for name, row in ROWS.items()} == pins()
    assert len(ROWS) == len(written_rows())


@pytest.mark.parametrize("name", sorted(set(ROWS) & set(INSTALLED)))
def test_a_licence_is_the_one_that_the_installed_package_states(name):
    if INSTALLED[name].version != pins()[name]:
        pytest.skip("another version is installed")
    assert ROWS[name][2] == licence_of(INSTALLED[name].metadata)


def test_no_licence_is_left_open():
    assert [name for name, row in ROWS.items() if row[2] in ("", UNCLEAR)] == []
