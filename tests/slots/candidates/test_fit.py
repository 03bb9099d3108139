from dataclasses import replace

import pytest

from capacity.facts import AircraftType, Bay
from capacity.slots.candidates import fits

BAY = Bay("B1", "North", 36.0, 40.0, 13.0, frozenset({"maintenance", "wash"}))
TWIN = AircraftType("Twin", span_m=36.0, length_m=40.0, tail_m=13.0)


def test_an_aircraft_may_be_as_large_as_the_bay() -> None:
    assert fits(BAY, TWIN)


@pytest.mark.parametrize("larger", [{"span_m": 36.1}, {"length_m": 40.1}, {"tail_m": 13.1}])
def test_it_may_be_larger_in_no_direction(larger: dict[str, float]) -> None:
    assert not fits(BAY, replace(TWIN, **larger))


@pytest.mark.parametrize(
    ("there", "needed", "fit"),
    [
        (set(), None, True),
        (set(), "tail dock", True),
        ({"tail dock"}, None, True),
        ({"tail dock", "wing dock"}, "tail dock", True),
        ({"wing dock"}, "tail dock", False),
    ],
)
def test_a_bay_without_docking_fits_all_and_an_aircraft_without_a_need_fits_all(
    there: set[str], needed: str | None, fit: bool
) -> None:
    assert fits(replace(BAY, docking=frozenset(there)), replace(TWIN, docking=needed)) is fit
