"""The kept corpus of plan files: changes of the plan file of the tiny sample."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from capacity.cli import main
from capacity.commands.exits import Exit
from tests.hostile.parts import TINY

Told = dict[str, Any]


def valid_plan_file(folder: Path) -> Path:
    """Plan the tiny sample and return the path of its plan file."""
    path = folder / "plan.json"
    with pytest.raises(SystemExit) as ended:
        main(["plan", str(TINY), "--seconds", "5", "--plan-out", str(path)])
    assert ended.value.code == Exit.PLANNED
    return path


def text(change: Callable[[str], str]) -> Callable[[Told], bytes]:
    """Return the change of the file's text."""
    return lambda told: change(json.dumps(told)).encode("utf-8", errors="surrogatepass")


def told(change: Callable[[Told], object]) -> Callable[[Told], bytes]:
    """Return the change of what the file says."""

    def changed(plan: Told) -> bytes:
        change(plan)
        return json.dumps(plan).encode()

    return changed


def first(key: str, value: object) -> Callable[[Told], bytes]:
    """Return the change of a value of the first placement."""
    return told(lambda plan: plan["placements"][0].update({key: value}))


CHANGES: dict[str, Callable[[Told], bytes]] = {
    "nested lists": lambda _: b"[" * 100_000,
    "nested lists, closed": lambda _: (
        b'{"placements":' + b"[" * 9_000_000 + b"]" * 9_000_000 + b"}"
    ),
    "nested objects": lambda _: b'{"a":' * 1_000_000 + b"1" + b"}" * 1_000_000,
    "nested inside a stage": first("stages", json.loads("[" * 500 + "]" * 500)),
    "beyond the size": lambda _: b'{"a": "' + b"x" * 25_000_000 + b'"}',
    "an endless text": first("check", "x" * 15_000_000),
    "keys by the million": lambda _: (
        b"{" + b",".join(b'"k%d":1' % n for n in range(1_300_000)) + b"}"
    ),
    "the same key by the million": lambda _: b"{" + b'"placements":[],' * 1_100_000 + b'"a":1}',
    "placements by the thousand": told(
        lambda plan: plan.update(placements=plan["placements"][:1] * 20_000)
    ),
    "stages by the thousand": told(
        lambda plan: plan["placements"][0].update(
            stages=plan["placements"][0]["stages"][:1] * 100_000
        )
    ),
    "empty things by the million": lambda _: (
        b'{"placements":[' + b",".join([b"{}"] * 3_000_000) + b"]}"
    ),
    "nonsense in every placement": told(
        lambda plan: plan.update(
            placements=[dict.fromkeys(plan["placements"][0], "\u001b[31m")] * 40_000
        )
    ),
    "marks by the ten thousand": told(
        lambda plan: plan["made"]["workbook"].update(
            {"Checks": {f"no {n}": "a" for n in range(49_000)}}
        )
    ),
    "marks by the hundred thousand": told(
        lambda plan: plan["made"]["workbook"].update(
            {"Checks": {f"no {n}": "a" for n in range(500_000)}}
        )
    ),
    "names by the ten thousand": told(
        lambda plan: plan.update(not_placed=[f"no {n}" for n in range(50_000)])
    ),
    "names by the hundred thousand": told(
        lambda plan: plan.update(not_placed=[f"no {n}" for n in range(300_000)])
    ),
    "numbers that are none": text(
        lambda plan: plan.replace('"money": 3700.0', '"money": NaN').replace("3700.0", "Infinity")
    ),
    "a number of 5,000 digits": text(lambda plan: plan.replace("3700.0", "9" * 5_000)),
    "the year 9999": first("in", "9999-12-31"),
    "out before in": first("out", "2027-01-01"),
    "years in a bay": first("out", "2109-12-31"),
    "half of a character": text(lambda plan: plan.replace("T1", "\\ud800")),
    "escapes of the terminal": text(
        lambda plan: plan.replace("T1", "\\u001b]0;x\\u0007\\u001b[2J")
    ),
    "nothing": lambda _: b"",
    "UTF-16": lambda plan: json.dumps(plan).encode("utf-16"),
    "nought bytes": lambda _: b"\0" * 1_000_000,
    "a workbook": lambda _: TINY.read_bytes(),
}


def hostile_plan_file(name: str, plan: Path, folder: Path) -> Path:
    """Write a plan file of the corpus, made from a valid one, and return its path."""
    path = folder / "hostile.json"
    path.write_bytes(CHANGES[name](json.loads(plan.read_text(encoding="utf-8"))))
    return path
