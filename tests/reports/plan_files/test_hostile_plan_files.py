"""Every key of a plan file is given values that do not belong there: a message, never a fault."""

import copy
import json
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import capacity
from capacity.errors import InputError
from capacity.inputs import read_book
from capacity.plans.plan import Plan
from capacity.reports.plan_files.asked_plan import read_plan
from capacity.reports.plan_files.json_reader import MOST_BYTES
from capacity.reports.plan_files.plan_from_file import plan_as_written, plan_from_file

SAMPLES = Path(capacity.__file__).parents[1] / "sample_inputs"
BASE = read_book(SAMPLES / "tiny.xlsx").base


def stay(check: str, bay: str, first: str, last: str, out: str) -> dict[str, object]:
    stages = [{"stage": "Work", "from": first, "to": last}]
    return {
        "check": check,
        "bay": bay,
        "stage_from": "Work",
        "in": first,
        "out": out,
        "stages": stages,
    }


PLAN = {
    "outcome": "planned",
    "goals": {"days_past_latest_in": 0, "overload_hours": 0.0, "money": 1.0},
    "bound": 1.0,
    "gap": 0.0,
    "seconds": 1.0,
    "placements": [
        stay("T1", "A", "2027-01-04", "2027-01-10", "2027-01-11"),
        stay("T2", "B", "2027-01-11", "2027-01-17", "2027-01-18"),
    ],
    "not_placed": ["T3"],
    "weeks": [{"week": "2027-W01", "skill": "Mechanic", "demand": 1.0}],
    "findings": [],
    "made": {
        "version": "0.1.0",
        "time": "2027-01-01T08:00:00Z",
        "base": BASE.name,
        "work_counts_from": "2027-01-05",
        "held": ["T1"],
        "workbook": {"Checks": {"T1": "0123abcd"}},
        "work_done": [
            {
                "check": "T1",
                "stage": "Open",
                "from": "2027-01-04",
                "before": "2027-01-05",
                "hours": [{"week": "2027-W01", "skill": "Mechanic", "hours": 8.0}],
            }
        ],
    },
}
HOSTILE = [
    *(None, True, 0, -1, 1e300, float("nan"), float("inf"), 10**4000, "", " ", "x" * 5000),
    *("\ud800", "\x1b[31m", "a\nb", "9999-12-31", "0001-01-01", "2027-02-30", "2027-W01-1"),
    *("1990-01-01", "2110-12-31", [], {}, [[]], [{}], {"": 0}, [None], ["T1"] * 3),
]


def paths(value: object, above: tuple[object, ...] = ()) -> list[tuple[object, ...]]:
    inside = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    return [above, *(path for key, one in inside for path in paths(one, (*above, key)))]


def changed(path: tuple[object, ...], value: object) -> object:
    plan = copy.deepcopy(PLAN)
    if not path:
        return value
    place = plan
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return plan


def is_told(text: str | Path) -> bool:
    """Return whether a plan is refused with messages that can be printed."""
    messages = None
    for reads in (plan_from_file, read_plan):
        try:
            plan = plan_as_written(text)
            assert isinstance(plan, Plan)
            reads(BASE, text)
        except InputError as refused:
            messages = refused.messages
    assert messages != ()
    return messages is not None and all(str(message).isprintable() for message in messages)


@pytest.mark.parametrize("value", HOSTILE, ids=lambda value: repr(value)[:20])
def test_every_key_meets_every_hostile_value(value, tmp_path):
    file = tmp_path / "plan.json"
    for path in paths(PLAN):
        file.write_text(json.dumps(changed(path, value)), encoding="utf-8")
        told = is_told(file)
        assert told, "the plan names stages that this base does not have"


@settings(max_examples=60)
@given(
    st.sampled_from(paths(PLAN)),
    st.recursive(
        st.one_of(
            st.none(), st.booleans(), st.integers(), st.floats(), st.text(), st.dates().map(str)
        ),
        lambda inside: st.one_of(st.lists(inside), st.dictionaries(st.text(), inside)),
        max_leaves=8,
    ),
    st.sampled_from(paths(PLAN)),
)
def test_any_mutation_is_a_plan_or_messages(path, value, other):
    mutant = changed(path, value)
    if other and isinstance(mutant, dict) and other[0] in mutant:
        del mutant[other[0]]
    text = json.dumps(mutant)
    assert is_told(text if text.startswith("{") else f"{{{text}")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('{"outcome": ' + "[" * 100_000, "nested too deeply"),
        ('{"seconds": ' + "9" * 5000 + "}", "a number too long"),
        ('{"outcome": "planned", "placements": [], "not_placed": ["\\ud800"]}', "on one line"),
        ('{"outcome": "planned"' * 3, "not JSON"),
        ("{", "not JSON"),
    ],
)
def test_what_no_reader_takes_is_said(text, words):
    with pytest.raises(InputError, match=words):
        plan_as_written(text)


def test_a_file_without_end_is_not_read_to_its_end(tmp_path):
    long = tmp_path / "long.json"
    with long.open("wb") as file:
        file.truncate(50 * MOST_BYTES)  # no bytes on the disk
    began = time.process_time()
    with pytest.raises(InputError, match="20 MB"):
        plan_as_written(long)
    assert time.process_time() - began < 5


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"not_placed": ["a"] * 50_001}, "a list of at most 50,000 entries"),
        ({"placements": [{}] * 50_001}, "a list of at most 50,000 entries"),
        ({"goals": {str(n): 1 for n in range(50_001)}}, "an object of at most 50,000 entries"),
    ],
)
def test_lists_and_objects_have_their_bounds(change, words):
    with pytest.raises(InputError, match=words) as refused:
        plan_as_written(json.dumps({**PLAN, **change}))
    assert len(refused.value.messages) < 5


def test_very_many_faults_are_counted():
    with pytest.raises(InputError) as refused:
        plan_as_written(json.dumps({**PLAN, "not_placed": [1] * 1_500}))
    *told, last = refused.value.messages
    assert len(told) == 1_000
    assert last.what == "500 more faults like those before."
