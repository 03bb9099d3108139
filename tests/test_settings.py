"""Settings that make no sense are refused where they are given, with what may be given."""

import ast
import builtins
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest

import capacity
from capacity import (
    CrewSearchSettings,
    CrewSettings,
    MoveCosts,
    OwnStaffShare,
    RiskSettings,
    Settings,
)


@pytest.mark.parametrize(
    ("kind", "given", "told"),
    [
        (Settings, {"seconds": -5}, "seconds is -5. Give 0 or more."),
        (Settings, {"seconds": float("nan")}, "seconds is nan. Give 0 or more."),
        (Settings, {"seconds": float("inf")}, "seconds is inf. Give 0 or more."),
        (Settings, {"seconds": "60"}, "seconds is '60'. Give 0 or more."),
        (CrewSearchSettings, {"hours_share": 1.5}, "hours_share is 1.5. Give 0 to 1."),
        (CrewSettings, {"search": None}, "search is None. Give CrewSearchSettings."),
        (Settings, {"seed": -1}, "seed is -1. Give a whole number, 0 or more."),
        (Settings, {"seed": 1.5}, "seed is 1.5. Give a whole number, 0 or more."),
        (Settings, {"seed": 2**31}, "seed is 2147483648. Give a whole number, 0 or more."),
        (Settings, {"seed": True}, "seed is True. Give a whole number, 0 or more."),
        (Settings, {"workers": 1}, "workers is 1. Give a whole number, 2 to 64."),
        (Settings, {"workers": 65}, "workers is 65. Give a whole number, 2 to 64."),
        (Settings, {"workers": 2.5}, "workers is 2.5. Give a whole number, 2 to 64."),
        (Settings, {"gap": -0.01}, "gap is -0.01. Give 0 or more."),
        (CrewSettings, {"weeks": 0}, "weeks is 0. Give a whole number, 1 or more."),
        (CrewSettings, {"seconds": -1.0}, "seconds is -1.0. Give 0 or more."),
        (CrewSettings, {"workers": 0}, "workers is 0. Give a whole number, 1 or more."),
        (CrewSettings, {"parts": 0}, "parts is 0. Give a whole number, 1 or more."),
        (CrewSettings, {"overtime_hours": 25}, "overtime_hours is 25. Give 0 to 24."),
        (CrewSettings, {"call_in": 1}, "call_in is 1. Give True or False."),
        (
            CrewSettings,
            {"own_staff_share": "rulee"},
            "own_staff_share is 'rulee'. Choose off or warn or hold.",
        ),
        (CrewSettings, {"first_day": "2027-01-04"}, "first_day is '2027-01-04'. Give a date"),
        (
            CrewSettings,
            {"first_day": datetime(2027, 1, 4)},
            "first_day is datetime.datetime(2027, 1, 4, 0, 0). Give a date",
        ),
        (RiskSettings, {"draws": 0}, "draws is 0. Give a whole number, 1 to 20,000."),
        (RiskSettings, {"default_spread": 11}, "default_spread is 11. Give 0 to 10."),
        (RiskSettings, {"together": 1.1}, "together is 1.1. Give 0 to 1."),
        (RiskSettings, {"shape": "square"}, "shape is 'square'. Choose log-normal or triangular."),
        (RiskSettings, {"keep": "all"}, "keep is 'all'. Choose daily-hours or days."),
        (MoveCosts, {"bay": -300.0}, "bay is -300.0. Give 0 or more."),
    ],
)
def test_what_makes_no_sense_is_refused_with_what_may_be_given(kind, given, told):
    with pytest.raises(capacity.SettingsError) as caught:
        kind(**given)
    assert told in str(caught.value)


def test_what_makes_sense_is_taken():
    assert Settings(seconds=0, seed=np.int64(3), gap=0).seed == 3
    assert CrewSettings(own_staff_share="hold").own_staff_share is OwnStaffShare.HOLD
    assert RiskSettings(draws=1, default_spread=None).draws == 1


def test_every_exception_of_the_package_is_of_one_family():
    raised = [name for name in capacity.__all__ if name.endswith("Error")]
    assert len(raised) > 5
    for name in raised:
        assert issubclass(getattr(capacity, name), capacity.CapacityError)
    assert issubclass(capacity.SettingsError, ValueError)


def test_no_other_exception_leaves_the_place_where_it_is_raised():
    """Two are not of the family: one ends the command line, one becomes a message."""
    root = Path(capacity.__file__).parent
    texts = {
        path.relative_to(root).as_posix(): path.read_text(encoding="utf-8")
        for path in root.rglob("*.py")
    }
    found = {}
    for text in texts.values():
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.ClassDef):
                bases = [getattr(builtins, ast.unparse(base), None) for base in node.bases]
                if any(
                    isinstance(base, type) and issubclass(base, BaseException) for base in bases
                ):
                    found[node.name] = {other for other, said in texts.items() if node.name in said}
    assert set(found) == {"CapacityError", "SettingsError", "Ended", "UnreadableError"}
    assert all(name.startswith("inputs/reading/") for name in found["UnreadableError"])
    assert "raise Ended" not in "".join(
        text for name, text in texts.items() if not name.startswith("commands/")
    )
