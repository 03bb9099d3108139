"""The page Base manager to print: figures of the audit, every overload week, empty states."""

from dataclasses import replace
from datetime import date, time

import pytest

from capacity.facts import Absence, Crew, Shift
from capacity.questions.overtime.measures import Figures, How, Measure, Measures
from capacity.reports.plan.view import view_of
from capacity.reports.plan.wording import CAUTION, is_over
from capacity.words import week_dates
from capacity.words.palette import OVERLOAD
from capacity.working_time.rule_sets import RULE_SETS
from tests.ui.plans import base, stay, view
from tests.ui.printed_page import ALLOWED, FORBIDDEN, PrintedPage, read
from tests.ui.ways_through import desk_of, labels, make_plan, upload
from tests.ui.year_plan import year_base, year_outcome
from ui.desk.plan_job import result_of
from ui.manager.labour_view import labour_of
from ui.manager.labour_words import (
    BOUGHT,
    FOR_REVIEW,
    MEASURES_TRIED,
    MONTHS,
    NOTHING_TAKEN_AWAY,
    OVERTIME,
    RULES,
    WEEKS,
)
from ui.manager.measures_job import MEASURES
from ui.printing.labour import (
    BY_WEEK_AND_CREW,
    CAUTIONS,
    NO_MEASURES_YET,
    NOTHING_FOR_REVIEW,
    labour_page,
)
from ui.words import OUTDATED

EVIL = "</td><script>alert('x')</script>\"<img src=x onerror=alert(1)>&amp;"
NOW = Figures(60, 75, 325, 172_850.0, 0, 172_850.0)
LESS = Figures(20, 0, 0, 800.0, 0, 800.0)
HEADS = Measure(
    "heads", "one more head", How.SEARCHED_ANEW, LESS, 40.0, 172_050.0, 800.0, 12.0, ("C2",)
)
DEAR = replace(HEADS, what="move C1", how=How.SLOTS_KEPT, saves=-500.0, overtime_less=12.0,
               worth=None, proven=None, moved=())  # fmt: skip


def printed(of=None, measures: Measures | None = None, notes=()) -> PrintedPage:
    return read(labour_page(labour_of(of or view()), measures, notes))


def quiet():
    """The plan with so many people that no hours are bought."""
    return view(base(crews=(Crew("red", ("mechanic",), 100, "days", date(2027, 1, 4)),)))


def test_the_figures_are_those_of_the_audit():
    audit = view().outcome.audit
    page = printed()
    amounts = {row["On top of regular hours"]: row for row in page.table_under("")}
    of_kind = {
        "Overtime": (sum(w.overtime for w in audit.weeks), audit.overtime_money),
        "Contract labour": (sum(w.contract for w in audit.weeks), audit.contract_money),
        "Overload": (sum(w.overload for w in audit.weeks), audit.overload_money),
    }
    assert set(amounts) == set(of_kind)
    for kind, (man_hours, money) in of_kind.items():
        assert amounts[kind]["Man-hours"] == f"{man_hours:,.0f} h"
        assert amounts[kind]["Cost"] == f"{money:,.0f} EUR"


def test_overtime_of_crews_adds_up_to_the_overtime_of_the_audit():
    page = printed()
    in_all = page.table_under(OVERTIME)
    by_week = page.table_under(BY_WEEK_AND_CREW)
    audit = view().outcome.audit
    for rows in (in_all, by_week):
        assert sum(number(row["Overtime (man-hours)"]) for row in rows) == 60
        assert sum(number(row["Cost (EUR)"]) for row in rows) == audit.overtime_money == 3600


def number(text: str) -> float:
    return float(text.replace(",", ""))


def test_every_overload_week_of_a_year_is_there_with_its_skill_its_hours_and_a_sign():
    outcome = year_outcome()
    page = printed(view_of(year_base(), year_outcome(), ()))
    weeks = {row["Week"]: row for row in page.table_under(WEEKS)}
    bought = {(row["Week"], row["Skill"]): row for row in page.table_under(BOUGHT)}
    over = [load for load in outcome.audit.weeks if is_over(load)]
    assert len(over) > 50
    for load in over:
        assert weeks[load.week][load.skill] == f"▲ {load.overload:,.0f} h"
        row = bought[load.week, load.skill]
        assert row[""] == "▲"
        assert number(row["Overload (man-hours)"]) == pytest.approx(load.overload, abs=0.05)
        money = load.overload * year_base().overload_cost
        assert number(row["Overload (EUR)"]) == pytest.approx(money, abs=0.5)
    signs = [text for row in weeks.values() for text in row.values() if text.startswith("▲")]
    assert len(signs) == len(over) == sum(row[""] == "▲" for row in bought.values())


def test_every_week_of_the_year_stands_with_its_monday():
    rows = printed(view_of(year_base(), year_outcome(), ())).table_under(WEEKS)
    assert [row["Week"] for row in rows] == list(
        dict.fromkeys(load.week for load in year_outcome().audit.weeks)
    )
    monday = week_dates("2027-W30")[0]
    (week,) = (row for row in rows if row["Week"] == "2027-W30")
    assert week["From"] == f"Mon {monday.day} {monday:%b %Y}"


def test_measures_are_ranked_with_what_they_do_and_how_sure_that_is():
    page = printed(measures=Measures(NOW, NOW, (HEADS, DEAR), ("a team: no week",)))
    first, second = page.table_under(MEASURES_TRIED)
    assert (first["Rank"], first["Measure"], first["Saves (EUR)"]) == (
        "1",
        "one more head",
        "172,050",
    )
    assert first["In all"] == "saves 172,050 EUR, 40 h less overtime"
    assert first["Proven"] == "proven: no plan with it costs less"
    assert (second["Rank"], second["Checks moved"]) == ("2", "")
    assert second["In all"] == "costs 500 EUR, 12 h less overtime"
    assert "a team: no week" in page.texts["p"]
    assert NO_MEASURES_YET not in page.texts["p"]


def test_the_working_time_rules_that_bind_are_told_with_their_source():
    name, rules = next(iter(RULE_SETS.items()))
    of = view(base(working_time_rules=name, shifts=(Shift("D", time(7), 14.0),)))
    page = printed(of)
    limits = labour_of(of).review.limits
    assert limits
    rows = page.table_under(RULES)
    assert [(row["Crew"], row["Limit exceeded"], row["Rule"]) for row in rows] == [
        (limit.crew, limit.what, limit.source) for limit in limits
    ]
    assert any(text.startswith(rules.title) for text in page.texts["p"])


def test_rules_that_are_switched_off_are_not_told_as_kept():
    name = next(iter(RULE_SETS))
    page = printed(view(base(working_time_rules=name, working_time_mode="off")))
    assert any("are off" in text for text in page.texts["p"])


def test_a_month_with_more_than_a_quarter_away_is_marked_and_told():
    away = Absence("red", date(2027, 1, 4), date(2027, 1, 31), 4, "training")
    page = printed(view(base(absences=(away,))))
    (month,) = page.table_under(MONTHS)
    # Four of ten people are away all the time: 40 % of 1,200 h.
    assert (month["Planned available (h)"], month["Planned absence (h)"]) == ("1,200.0", "480.0")
    assert month["Shortfall (% of planned available)"] == "40.0"
    assert "for review: more than 25 % below planned" in month["Remarks"]
    found = page.table_under(FOR_REVIEW)
    assert any("40.00 % fewer" in row["What"] for row in found)


def test_cautions_are_told_once_with_what_they_concern():
    rows = printed().table_under(CAUTIONS)
    of = {row["When"]: row for row in rows}
    assert of["always"]["Concerns"] == "the base"
    # The stage "repair" of both checks is worked alone.
    assert of["a stage is done alone"]["Concerns"] == "2 checks, 2 stages"
    assert len(rows) == len(of)
    assert all(row["Source"] for row in rows)


def test_without_hours_bought_rules_and_measures_the_page_says_so():
    page = printed(quiet())
    told = page.texts["p"]
    assert any(text.startswith("No week has overload") for text in told)
    assert "No crew works overtime in this plan." in told
    assert any("names no working-time rules" in text for text in told)
    assert NO_MEASURES_YET in told
    assert "▲" not in "".join(text for row in page.rows for text in row)
    assert BOUGHT not in page.texts["h2"]


def test_months_that_give_no_cause_to_look_are_told_too():
    labour = labour_of(quiet())
    months = replace(labour.months, untold=())
    told = read(labour_page(replace(labour, months=months), None)).texts["p"]
    assert NOTHING_FOR_REVIEW in told


def test_no_measure_that_helps_is_told():
    page = printed(measures=Measures(NOW, NOW, (), ()))
    assert NOTHING_TAKEN_AWAY in page.texts["p"]


def test_a_plan_of_an_earlier_workbook_says_so_at_the_top():
    told = printed(notes=[OUTDATED]).texts["p"]
    assert told[2:4] == [CAUTION, OUTDATED]
    assert OUTDATED not in printed().texts["p"]


def test_weeks_stand_in_the_colours_of_the_palette_and_in_words():
    html = labour_page(labour_of(view()), None).decode()
    assert f".overload {{ background: {OVERLOAD.fill};" in html
    assert '<td class="overload number marked short">▲ 325 h</td>' in html


def test_hostile_texts_of_the_workbook_stay_texts():
    of = view(hostile_base(), stay(EVIL, EVIL, 0))
    measures = Measures(NOW, NOW, (replace(HEADS, what=EVIL, moved=(EVIL,)),), (EVIL,))
    page = printed(of, measures)
    assert set(page.tags) == ALLOWED
    assert not [name for name, _ in page.attributes if name in FORBIDDEN]
    assert page.texts["p"][0] == EVIL
    week, *_ = page.table_under(WEEKS)
    assert week[EVIL].startswith("▲")
    assert page.table_under(OVERTIME)[0]["Crew"] == EVIL
    assert page.table_under(MEASURES_TRIED)[0]["Checks moved"] == EVIL
    assert EVIL in page.texts["p"][1:]


def hostile_base():
    """Return the base with a hostile name for all that has one of its own."""
    facts = base()
    package = replace(
        facts.packages[0],
        name=EVIL,
        stages=tuple(replace(s, man_hours={EVIL: 1000.0}) for s in facts.packages[0].stages),
    )
    check = replace(
        facts.checks[0], name=EVIL, aircraft=EVIL, package=EVIL, customer=EVIL, fixed_bay=EVIL
    )
    return replace(
        facts,
        name=EVIL,
        currency=EVIL,
        skills=(replace(facts.skills[0], name=EVIL),),
        bays=(replace(facts.bays[0], name=EVIL),),
        packages=(package,),
        checks=(check,),
        crews=(replace(facts.crews[0], name=EVIL, skills=(EVIL,)),),
        closures=(),
        man_hour_plan_name=EVIL,
    )


def test_the_page_has_the_button_with_a_plan_and_not_without(app):
    app.switch_page("pages/base_manager.py").run()
    assert "This page to print (.html)" not in labels(app)
    make_plan(upload(app.switch_page("pages/planner.py").run(), "tiny.xlsx"))
    app.switch_page("pages/base_manager.py").run()
    assert not app.exception
    assert labels(app)[0] == "This page to print (.html)"


def test_measures_that_were_tried_are_handed_to_the_print(app, monkeypatch):
    shown = []
    monkeypatch.setattr(
        "ui.parts.labour.partial", lambda make, *parts: shown.append(parts) or (lambda: b"")
    )
    make_plan(upload(app, "tiny.xlsx"))
    desk, found = desk_of(app), Measures(NOW, NOW, (HEADS,), ())
    app.switch_page("pages/base_manager.py").run()
    desk.start(MEASURES, (result_of(desk), None), lambda tell, stop: found, 60.0).join(30)
    app.run()
    assert not app.exception
    assert [measures for _, measures, _ in shown] == [None, found]
