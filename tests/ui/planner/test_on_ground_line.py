"""The form of an aircraft on ground comes to the line that the command reads."""

from datetime import date

from capacity.inputs.aircraft_on_ground import aircraft_on_ground
from tests.ui.plans import base
from ui.planner.on_ground_line import OnGroundForm, line_of


def test_a_form_that_is_filled_in_is_read_back_as_it_was():
    form = OnGroundForm(
        type="T30",
        days=12,
        hours={"mechanic": 1_250_000.5 / 10},
        name="R-77",
        aircraft="Q-Z",
        customer="Aero; East".replace(";", ""),
        work="maintenance",
        max_heads=12,
        latest_in=date(2027, 1, 8),
        agreed_out=date(2027, 2, 1),
        late_cost=500.0,
    )
    (found,) = aircraft_on_ground([line_of(form)], base(), date(2027, 1, 6))
    check, (stage,) = found.check, found.package.stages
    assert (check.name, check.aircraft, check.customer) == ("R-77", "Q-Z", "Aero East")
    assert (check.latest_in, check.agreed_out) == (form.latest_in, form.agreed_out)
    assert (check.late_cost_per_day, stage.max_heads) == (500.0, 12)
    assert (stage.days, dict(stage.man_hours)) == (12, {"mechanic": 125_000.05})


def test_what_is_left_empty_is_not_in_the_line():
    form = OnGroundForm("T30", 1, {"mechanic": 40.0, "other": 0.0}, name=" ")
    assert line_of(form) == "T30; 1 day; mechanic 40"
