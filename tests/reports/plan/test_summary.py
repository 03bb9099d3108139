"""The plan summary keeps its keys, types and order, whatever came out."""

import json
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest

from capacity.errors import OutputError
from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.outcome import Impossible, OutOfTime, Planned
from capacity.reports import report, summary

NUMBER_OR_NULL = {"type": ["number", "null"]}
TEXT = {"type": "string"}
DAY = {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}


def record(**properties: object) -> dict[str, object]:
    """Return the schema of an object with exactly these keys."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def several(items: dict[str, object]) -> dict[str, object]:
    return {"type": "array", "items": items}


SCHEMA = record(
    outcome={"enum": ["planned", "impossible", "out_of_time"]},
    goals=record(
        days_past_latest_in={"type": ["integer", "null"]},
        overload_hours=NUMBER_OR_NULL,
        money=NUMBER_OR_NULL,
    ),
    bound=NUMBER_OR_NULL,
    gap=NUMBER_OR_NULL,
    seconds={"type": "number"},
    placements=several(
        record(
            check=TEXT,
            bay=TEXT,
            stage_from=TEXT,
            **{"in": DAY, "out": DAY},
            stages=several(record(stage=TEXT, **{"from": DAY, "to": DAY})),
        )
    ),
    not_placed=several(TEXT),
    weeks=several(
        record(
            week={"type": "string", "pattern": r"^\d{4}-W\d{2}$"},
            skill=TEXT,
            demand={"type": "number"},
            regular={"type": "number"},
            overtime={"type": "number"},
            contract={"type": "number"},
            overload={"type": "number"},
        )
    ),
    findings=several(
        record(
            level={"enum": ["error", "warning", "note"]},
            where=TEXT,
            what=TEXT,
            remedy=TEXT,
        )
    ),
    made=record(
        version=TEXT,
        time={"type": "string", "format": "date-time"},
        base=TEXT,
        work_counts_from={"anyOf": [DAY, {"type": "null"}]},
        held=several(TEXT),
        workbook={
            "type": "object",
            "additionalProperties": {
                "type": "object",
                "additionalProperties": {"type": "string", "pattern": "^[0-9a-f]{8}$"},
            },
        },
    ),
)


def test_a_plan_keeps_the_schema(
    planned: Planned, base: Base, messages: tuple[Message, ...]
) -> None:
    told = json.loads(json.dumps(summary(base, planned, messages)))
    jsonschema.validate(told, SCHEMA)
    assert told["outcome"] == "planned"
    assert told["not_placed"] == list(planned.plan.not_placed) != []
    assert [f["where"] for f in told["findings"][:2]] == [f.where for f in messages]


def test_placements_are_in_order_of_in_day(planned: Planned, base: Base) -> None:
    told = summary(base, planned, ())["placements"]
    assert isinstance(told, list)
    days = [placement["in"] for placement in told]
    assert days == sorted(days)
    assert len(days) == len(planned.plan.placements)


def test_a_stage_ends_on_its_last_day_and_the_check_is_out_the_day_after(
    planned: Planned, base: Base
) -> None:
    # V010 is in on Mon 4 Jan 2027 for 1 + 6 days of a six-day week: Mon, then Tue to Sat and
    # the next Monday; out on Tuesday.
    told = summary(base, planned, ())["placements"]
    assert isinstance(told, list)
    (placement,) = (p for p in told if p["check"] == "V010")
    assert placement["in"] == "2027-01-04"
    assert placement["stages"] == [
        {"stage": "Opening up", "from": "2027-01-04", "to": "2027-01-04"},
        {"stage": "Work", "from": "2027-01-05", "to": "2027-01-11"},
    ]
    assert placement["out"] == "2027-01-12"


def test_figures_are_rounded_to_six_decimals(planned: Planned, base: Base) -> None:
    week = replace(planned.audit.weeks[0], demand=1 / 3, overtime=-1e-12)
    audit = replace(planned.audit, weeks=(week,))
    told = summary(base, replace(planned, audit=audit), ())["weeks"]
    assert isinstance(told, list)
    assert told[0]["demand"] == 0.333333
    assert str(told[0]["overtime"]) == "0.0"


@pytest.mark.parametrize(
    ("outcome", "name"),
    [
        (Impossible(("A and B both need bay N1.",), 0.2), "impossible"),
        (OutOfTime(3.0), "out_of_time"),
    ],
)
def test_without_a_plan_every_key_is_there(
    outcome: Impossible | OutOfTime, name: str, base: Base
) -> None:
    told = json.loads(json.dumps(summary(base, outcome, ())))
    jsonschema.validate(told, SCHEMA)
    assert told["outcome"] == name
    assert told["goals"] == {"days_past_latest_in": None, "overload_hours": None, "money": None}
    assert told["placements"] == []


def test_why_a_plan_is_impossible_is_told(base: Base) -> None:
    told = summary(base, Impossible(("A and B both need bay N1.",), 0.2), ())["findings"]
    assert isinstance(told, list)
    assert [(f["level"], f["what"]) for f in told] == [("error", "A and B both need bay N1.")]


def test_the_written_file_is_the_summary(
    planned: Planned, base: Base, messages: tuple[Message, ...], tmp_path: Path
) -> None:
    path = tmp_path / "plan.json"
    report(base, planned, path, messages)
    written = json.loads(path.read_text(encoding="utf-8"))
    told = json.loads(json.dumps(summary(base, planned, messages)))
    for one in (written, told):
        del one["made"]["time"]
    assert written == told


def test_another_ending_is_refused_with_a_remedy(
    planned: Planned, base: Base, tmp_path: Path
) -> None:
    with pytest.raises(OutputError, match=r"\.xlsx for the plan workbook, in \.json"):
        report(base, planned, tmp_path / "plan.pdf")
    assert not list(tmp_path.iterdir())


def test_a_workbook_needs_a_plan(base: Base, tmp_path: Path) -> None:
    with pytest.raises(OutputError, match=r"no plan to write.*\.json"):
        report(base, OutOfTime(1.0), tmp_path / "plan.xlsx")
    assert not list(tmp_path.iterdir())
