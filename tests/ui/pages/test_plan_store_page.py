"""The page Plan store: a plan is saved, agreed, compared, gone back to, and opened again."""

from dataclasses import replace
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from capacity.store.store import PlanStore
from capacity.store.values import Role, Status
from tests.ui.enquiry_plans import commercial_page, field
from tests.ui.ways_through import button, desk_of, labels, said
from ui.desk.desk import Desk
from ui.desk.plan_job import PLAN, Result, result_of
from ui.store.kept import save_shown
from ui.store.opened import open_stored

PAGE = "pages/plans.py"


@pytest.fixture
def store(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> PlanStore:
    """A store of the test's own, in which somebody else is at work too."""
    named = str(tmp_path / "plans.sqlite")
    monkeypatch.setenv("CAPACITY_STORE", named)
    monkeypatch.setattr("ui.store.kept.user_of_this_computer", lambda: "planner")
    return PlanStore(named, "manager")


def page(app: AppTest) -> AppTest:
    app.switch_page(PAGE).run()
    assert not app.exception
    return app


def press(app: AppTest, label: str) -> str:
    button(app, label).click().run()
    assert not app.exception
    ended = "\n".join(str(one.value) for one in app.success)
    return f"{ended}\n{said(app)}".replace("\\", "")


def test_without_a_plan_or_anything_saved_the_page_says_so(app: AppTest, store: PlanStore) -> None:
    text = said(page(app))
    assert "There is no plan to save yet" in text
    assert "Nothing has been saved yet." in text
    assert "You are planner; you may agree." in text


def test_a_plan_is_saved_agreed_and_opened_again(app: AppTest, store: PlanStore) -> None:
    commercial_page(app)  # with a plan of the smallest sample
    shown = result_of(desk_of(app))
    page(app)
    field(app, "text_input", "What others should know of it").set_value("*for* Monday")
    text = press(app, "Save the plan that is shown")
    assert "Saved: plan 1" in text
    (saved,) = store.plans()
    assert (saved.saved_by, saved.status) == ("planner", Status.DRAFT)
    assert [event.text for event in store.history(1)] == ["", "*for* Monday"]
    assert "Agreed: plan 1" in press(app, "Agree this plan")
    assert store.plan(1).status is Status.AGREED
    assert "Its workbook" in labels(app)
    assert store.workbook(1).content == shown.opened.content
    assert "are open on the page Planner" in press(app, "Open it on the page Planner")
    again = result_of(desk_of(app))
    assert again.outcome.plan.placements == shown.outcome.plan.placements
    other = Desk("another one")
    open_stored(other, store, store.plan(1))
    assert result_of(other).number == again.number  # what is worked out of it is shared
    assert result_of(other).outcome is again.outcome
    other.put(PLAN, other.opened, again.news)
    assert result_of(other).number != again.number


def test_nobody_is_agreed_over_and_one_can_go_back(app: AppTest, store: PlanStore) -> None:
    commercial_page(app)
    result = result_of(desk_of(app))
    first = save_shown(store, result, None, "")
    store.agree(first.id)
    hers, his = (save_with(store, result, extra, first.id) for extra in (b" ", b"  "))
    page(app)
    field(app, "selectbox", "Plan").set_value(his).run()
    assert "It takes the place of plan 1." in said(app)
    store.agree(hers)  # while the page is looked at
    text = press(app, "Agree this plan")
    assert "Somebody was quicker: plan 3 was not agreed: plan 2" in text
    assert "was agreed by manager" in text
    assert "It takes the place of plan 2." in text  # now it is seen
    assert "Agreed: plan 3" in press(app, "Agree this plan")
    field(app, "selectbox", "Plan").set_value(first.id).run()
    assert "Agreed: plan 1" in press(app, "Go back to this plan")
    found = {plan.id: plan.status.value for plan in store.plans()}
    assert found == {1: "agreed", 2: "superseded", 3: "superseded"}
    field(app, "selectbox", "Plan").set_value(hers).run()
    assert "Cost and days" in press(app, "Compare")


def test_who_may_only_read_is_offered_nothing_else(app: AppTest, store: PlanStore) -> None:
    commercial_page(app)
    save_shown(store, result_of(desk_of(app)), None, "")
    store.give_role("manager", Role.AGREE)
    text = said(page(app))
    assert "you may read" in text
    assert "saving one needs the role" in text
    assert not has(app, "Agree this plan")
    assert not has(app, "Say it")


def has(app: AppTest, label: str) -> bool:
    return any(one.label == label for one in app.button)


def save_with(store: PlanStore, result: Result, extra: bytes, follows: int) -> int:
    """Save the plan with another workbook, which says the same."""
    opened = replace(result.opened, content=(result.opened.content or b"") + extra)
    return save_shown(store, replace(result, opened=opened), follows, "").id
