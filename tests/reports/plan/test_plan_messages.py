"""What is told about the plan itself, and where."""

from dataclasses import replace
from datetime import date

from capacity.facts import Base
from capacity.messages import Level, Message
from capacity.plans.outcome import Impossible, OutOfTime, Planned
from capacity.reports import summary
from capacity.reports.plan.messages import plan_messages
from capacity.reports.plan.view import view_of


def cell(sheet: str, name: str, column: str) -> str:
    return f"{sheet}/{name}/{column}"


def about(messages: tuple[Message, ...], where: str) -> Message:
    """Return the only message at a place."""
    (found,) = (message for message in messages if message.where == where)
    return found


def test_a_check_without_a_slot_is_a_warning_at_its_row(planned: Planned, base: Base) -> None:
    (name,) = planned.plan.not_placed
    found = about(plan_messages(planned, base, cell), f"Checks/{name}/Check")
    assert found.level is Level.WARNING
    # The longest delay of the base is its default, 28 days; not placed counts one more.
    assert found.what == f"the check '{name}' has no slot; it counts as 29 days past Latest in."
    assert found.remedy


def test_a_check_in_too_late_is_a_warning_at_its_latest_in(planned: Planned, base: Base) -> None:
    first, *others = planned.audit.accounts
    late = replace(first, in_day=date(2027, 1, 12), days_past_latest_in=1)
    in_time = [replace(account, days_past_latest_in=0) for account in others]
    audit = replace(planned.audit, accounts=(late, *in_time))
    told = plan_messages(replace(planned, audit=audit), base, cell)
    (found,) = (message for message in told if message.where.endswith("/Latest in"))
    assert found.where == f"Checks/{first.check}/Latest in"
    assert found.level is Level.WARNING
    assert found.what == (
        f"the check '{first.check}' comes in on Tue 12 Jan 2027, 1 day past its Latest in."
    )


def test_a_refused_option_is_a_note_at_its_price(planned: Planned, base: Base) -> None:
    assert planned.plan.refused
    for name in planned.plan.refused:
        found = about(plan_messages(planned, base, cell), f"Checks/{name}/Price")
        assert found.level is Level.NOTE
        assert f"the option '{name}' is not taken" in found.what


def test_each_overloaded_week_and_skill_is_a_warning(planned: Planned, base: Base) -> None:
    told = [f for f in plan_messages(planned, base, cell) if f.where.startswith("Skills/")]
    over = [load for load in planned.audit.weeks if load.overload >= 0.05]
    assert len(told) == len(over) > 1
    for message, load in zip(told, over, strict=True):
        assert message.level is Level.WARNING
        assert message.where == f"Skills/{load.skill}/Skill"
        assert f"in {load.week}, from Mon " in message.what
        assert f"of {load.skill} are not covered, even with overtime" in message.what


def test_a_rounding_remainder_is_no_overload(planned: Planned, base: Base) -> None:
    weeks = tuple(replace(load, overload=0.04) for load in planned.audit.weeks)
    audit = replace(planned.audit, weeks=weeks)
    told = plan_messages(replace(planned, audit=audit), base)
    assert not [message for message in told if message.where == "Skills"]


def test_without_cells_a_message_stands_at_its_sheet(planned: Planned, base: Base) -> None:
    told = {f.where for f in plan_messages(planned, base)}
    assert {"Checks", "Skills"} <= told <= {"Checks", "Skills", "Functions", "Packages", "Crews"}


def test_why_there_is_no_plan_is_an_error_and_out_of_time_tells_nothing(base: Base) -> None:
    (found,) = plan_messages(Impossible(("A and B collide.",), 0.1), base, cell)
    assert (found.level, found.where, found.what) == (Level.ERROR, "Checks", "A and B collide.")
    assert plan_messages(OutOfTime(1.0), base, cell) == ()


def test_summary_and_workbook_tell_the_same_messages(
    planned: Planned, base: Base, messages: tuple[Message, ...]
) -> None:
    expected = (*messages, *plan_messages(planned, base, cell))
    assert view_of(base, planned, messages, cell).messages == expected
    told = summary(base, planned, messages, cell)["findings"]
    assert isinstance(told, list)
    assert [(f["where"], f["what"]) for f in told] == [(f.where, f.what) for f in expected]
