"""The parts of the benchmarks on tiny quarters: what they measure must be what it says."""

import os
import re
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from capacity.facts import Employment, Status
from capacity.planning import plan
from capacity.plans.audit import Auditor
from capacity.plans.levelled import spread_evenly
from capacity.settings import Settings
from capacity.slots.program.first_come import first_come
from tests.bench import __main__ as command
from tests.bench import figures
from tests.bench.between_marks import BEGIN, END, put_between_marks, write_pages
from tests.bench.columns_of_base import built
from tests.bench.comparing import Pair
from tests.bench.families import families_of
from tests.bench.first_come_peer import first_come_alone
from tests.bench.invented import invented_quarter, invented_year
from tests.bench.invented_hangar import invented_hangar
from tests.bench.job_shop_peer import Weights, job_shop
from tests.bench.levelled import beside_each_other, levelled
from tests.bench.measuring import ROOT, measure
from tests.bench.memory import tree_gib
from tests.bench.mip_peer import mip_alone
from tests.bench.one_cp_sat_model import levelled_cp_sat_model, one_cp_sat_model
from tests.bench.our_plan import our_plan, with_another_seed
from tests.bench.plain_levelling import levelled_plan
from tests.bench.plain_stays import assert_plain, plain_stays
from tests.bench.record import add_line, as_text, read_lines
from tests.bench.reduced import reduced
from tests.bench.result import Found, Line, checked_bound
from tests.bench.summary import summary
from tests.bench.tables import every_run, not_measured, tables
from tests.bench.works import WORKS

# More than enough: these quarters are solved to the end.
SECONDS = 60.0
CENT = 0.005
PLANNED = Found(10.0, "proof", 2, 1000.0, days_bound=2, bound=990.0, first_seconds=0.5)


@pytest.fixture(scope="module")
def tiny():
    """Three bays and six checks, soon solved to the end by all."""
    return invented_quarter(4, bays=3, checks=6)


@pytest.fixture(scope="module")
def ours(tiny):
    return our_plan(tiny, SECONDS, seed=1)


def line(work="open", seed=1, found=PLANNED, **changes):
    return replace(Line(work, seed, 60.0, found, sources="abc", cores=2), **changes)


# Invented bases


def test_the_quarter_of_the_published_figures_is_still_the_same():
    base = invented_quarter(1)
    first, last = base.checks[0], base.checks[-1]
    assert (first.type, first.package) == ("Heron 180", "Heron base check")
    assert (first.latest_in.isoformat(), first.late_cost_per_day) == ("2027-01-14", 4250.0)
    assert (last.latest_in.isoformat(), last.early_cost_per_day) == ("2027-02-15", 250.0)
    assert [crew.heads for crew in base.crews[::2]] == [157, 49, 62, 59, 32, 28]


def test_lanes_put_every_second_bay_behind_another():
    bays = invented_quarter(1, lanes=True).bays
    assert [bay.reached_through for bay in bays[:4]] == [None, "Bay 1", None, "Bay 3"]


def test_a_year_is_a_longer_quarter():
    base = invented_year(2)
    assert (base.weeks, len(base.bays), len(base.checks)) == (52, 14, 220)


def test_the_hangar_has_everything_to_share():
    base = invented_hangar(1)
    assert (len(base.bays), len(base.checks), base.longest_wait_days) == (14, 60, 3)
    assert Counter(frozenset(bay.work) for bay in base.bays)[frozenset({"paint"})] == 1
    assert sum(bay.reached_through is not None for bay in base.bays) == 1
    assert sum(bool(bay.shares_floor_with) for bay in base.bays) == 2
    assert Counter(check.status for check in base.checks)[Status.OPTION] == 4
    assert all(check.price > 0 for check in base.checks if check.status is Status.OPTION)
    assert any(len(crew.skills) > 1 for crew in base.crews)
    assert any(crew.types for crew in base.crews)
    assert sum(crew.employment is Employment.CONTRACT for crew in base.crews) == 1
    asked = {check.package for check in base.checks}
    stages = [
        stage for package in base.packages if package.name in asked for stage in package.stages
    ]
    assert any(stage.alone for stage in stages)
    assert any(stage.shortest_days is not None for stage in stages)
    assert {name for stage in stages for name in stage.equipment} == {
        outage.equipment for outage in base.equipment_outages
    }
    assert {loop.shop for loop in base.shop_loops if loop.package in asked} == {
        shop.name for shop in base.shops
    }
    works = {"".join(stage.work[0] for stage in p.stages) for p in base.packages if p.name in asked}
    assert any(work.rstrip("p") != work for work in works), "nothing is painted last"
    assert any("pm" in work for work in works), "nothing comes back from paint"


def test_first_come_places_nearly_all_of_the_hangar():
    # Without the shops, whose many rows take seconds to make.
    both = built(invented_hangar(1).replace(shops=(), shop_loops=()))
    plan = both.plan(first_come(both.program, both.slots))
    assert len(plan.not_placed) <= 5


# Peers


@pytest.mark.parametrize("peer", [first_come_alone, mip_alone, one_cp_sat_model])
def test_no_peer_is_cheaper_than_our_proven_bound(peer, tiny, ours):
    found = peer(tiny, SECONDS, 1)
    assert found.days_past >= ours.days_bound
    if found.days_past == ours.days_past:
        assert found.money >= ours.bound - CENT


@pytest.mark.parametrize("peer", [mip_alone, one_cp_sat_model])
def test_the_exact_peers_confirm_our_optimum_and_bound_it(peer, tiny, ours):
    found = peer(tiny, SECONDS, 1)
    assert found.goals == pytest.approx(ours.goals)
    assert found.days_bound == ours.days_bound
    assert found.bound <= ours.money + CENT
    # Whole hours cost the CP-SAT model a little of its bound, no more.
    assert found.bound >= 0.95 * ours.money


@pytest.fixture(scope="module")
def tiny_levelled(tiny):
    """The same with a daily peak of 150 % for all stages."""
    return levelled(tiny)


@pytest.fixture(scope="module")
def ours_levelled(tiny_levelled):
    return our_plan(tiny_levelled, SECONDS, seed=1)


@pytest.mark.parametrize("peer", [mip_alone, levelled_cp_sat_model])
def test_the_exact_peers_confirm_our_levelled_optimum_and_bound_it(
    peer, tiny_levelled, ours_levelled, ours
):
    found = peer(tiny_levelled, SECONDS, 1)
    assert found.goals == pytest.approx(ours_levelled.goals)
    assert found.days_bound == ours_levelled.days_bound
    assert 0.95 * ours_levelled.money <= found.bound <= ours_levelled.money + CENT
    assert found.money < 0.8 * ours.money, "with even hours it would cost more"


def test_with_a_peak_of_the_even_share_the_levelled_model_is_the_even_one(tiny, ours):
    assert levelled_cp_sat_model(tiny, SECONDS, 1).goals == pytest.approx(ours.goals)


def test_in_the_same_slots_a_plain_linear_program_levels_at_the_same_cost(tiny_levelled):
    outcome = plan(tiny_levelled, Settings(seconds=SECONDS))
    auditor = Auditor(tiny_levelled)
    again = auditor.audit(levelled_plan(spread_evenly(outcome.plan), tiny_levelled))
    assert again.broken == ()
    assert again.goals.money == pytest.approx(outcome.audit.goals.money, abs=CENT)


def test_another_seed_of_the_search_ends_at_the_same_optimum(tiny_levelled, ours_levelled):
    found = with_another_seed(tiny_levelled, SECONDS, 1)
    assert found.goals == pytest.approx(ours_levelled.goals)


def test_the_levelled_model_refuses_what_it_was_not_taught():
    base = levelled(beside_each_other(invented_quarter(1, bays=3, checks=6)))
    with pytest.raises(AssertionError, match="stages beside each other"):
        levelled_cp_sat_model(base, SECONDS, 1)


def test_the_job_shop_confirms_our_optimum_on_bays_and_dates():
    pytest.importorskip("pyjobshop", reason="PyJobShop comes with the extra bench")
    base = reduced(invented_quarter(9, bays=3, checks=6))
    found, ours = job_shop(base, SECONDS, 1), our_plan(base, SECONDS, 1)
    assert found.goals == ours.goals
    assert found.days_past > 0
    assert found.bound == pytest.approx(found.money)


def test_nobody_buys_hours_on_a_reduced_quarter():
    base = reduced(invented_quarter(2, bays=3, checks=6, lanes=True))
    both = built(base)
    audit = Auditor(base).audit(both.plan(first_come(both.program, both.slots)))
    assert audit.overtime_money == audit.contract_money == audit.overload_money == 0
    assert_plain(base)


def test_peers_refuse_what_they_were_not_taught():
    with pytest.raises(AssertionError, match="a bay behind a bay"):
        one_cp_sat_model(invented_quarter(1, bays=3, checks=6, lanes=True), SECONDS, 1)
    with pytest.raises(AssertionError, match="equipment"):
        assert_plain(invented_hangar(1))


def test_the_job_shops_weights_are_twice_the_cost_of_a_stay():
    weights = Weights(unit=50, past=3000)
    stay = plain_stays(invented_quarter(9, bays=3, checks=6))[0]
    for in_day in range(stay.first_in, stay.last_in + 1):
        end = in_day + stay.days
        jobs = sum(weight * abs(end - due) for weight, due in weights.jobs(stay))
        cost = stay.money(in_day) / weights.unit + weights.past * stay.past(in_day)
        assert jobs - weights.constant(stay) == 2 * cost


def test_a_bound_above_the_money_is_a_fault():
    assert checked_bound(float("-inf"), 100.0) is None
    assert checked_bound(100.00001, 100.0) == 100.0
    with pytest.raises(AssertionError, match="bound 101"):
        checked_bound(101.0, 100.0)


# Measuring


def test_a_measurement_runs_apart_and_tells_its_memory():
    measured = measure("first-come", 1, 1.0)
    assert measured.failed == ""
    assert measured.found == first_come_alone_but_for_time(measured.found)
    assert measured.cores == os.cpu_count()
    if Path("/proc/self/smaps_rollup").exists():
        assert 0.01 < measured.peak_gib < 4


def first_come_alone_but_for_time(timed):
    again = first_come_alone(invented_quarter(1), 1.0, 1)
    return replace(again, seconds=timed.seconds, first_seconds=timed.first_seconds)


def test_a_measurement_that_breaks_down_says_why():
    measured = measure("no such work", 1, 1.0)
    assert measured.found is None
    assert measured.failed == "KeyError: 'no such work'"


@pytest.mark.skipif(
    not Path("/proc/self/smaps_rollup").exists(), reason="memory is read from Linux's /proc"
)
def test_memory_of_a_tree_holds_at_least_this_process():
    assert tree_gib(os.getpid()) > 0.01
    assert tree_gib(2**22 + 1) is None  # one more than there can be processes


# The record and going on


def test_lines_come_back_as_they_were(tmp_path):
    file = tmp_path / "lines.jsonl"
    lines = [line(seed=1), line(seed=2, found=None, failed="broke", peak_gib=1.5)]
    for one in lines:
        add_line(one, file)
    assert read_lines(file) == lines


def test_half_a_line_is_left_out_and_the_next_one_whole(tmp_path):
    file = tmp_path / "lines.jsonl"
    file.write_text(as_text(line(seed=1)) + "\n" + as_text(line(seed=2))[:40], encoding="utf-8")
    assert [one.seed for one in read_lines(file)] == [1]
    add_line(line(seed=3), file)
    assert [one.seed for one in read_lines(file)] == [1, 3]


def test_going_on_measures_only_what_is_missing_or_failed(tmp_path):
    file = tmp_path / "lines.jsonl"
    wanted = list(command.runs(["open", "first-come"], [1, 2], 60.0))
    assert command.not_yet_measured(wanted, file) == wanted
    add_line(line("open", 1), file)
    add_line(line("open", 2, found=None, failed="broke"), file)
    add_line(line("first-come", 1, seconds=30.0), file)
    assert command.not_yet_measured(wanted, file) == [
        ("open", 2, 60.0),
        ("first-come", 1, 60.0),
        ("first-come", 2, 60.0),
    ]
    add_line(line("open", 2), file)
    assert command.not_yet_measured(wanted, file)[0] == ("first-come", 1, 60.0)


def test_the_command_measures_ours_with_a_peer_and_goes_on(tmp_path, monkeypatch, capsys):
    file = tmp_path / "lines.jsonl"
    add_line(line("open", 1), file)
    asked = []

    def measured(work, seed, seconds):
        asked.append((work, seed, seconds))
        return line(work, seed, seconds=seconds)

    monkeypatch.setattr(command, "measure", measured)
    monkeypatch.setattr(
        "sys.argv", ["bench", "--work", "mip", "--seeds", "1", "2", "--resume", str(file)]
    )
    command.main()
    assert asked == [("open", 2, 60.0), ("mip", 1, 60.0), ("mip", 2, 60.0)]
    assert tables(read_lines(file)) in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--resume", str(ROOT / "lines.jsonl")], "lies in the repository"),
        (["--table", "/no/such/lines.jsonl"], "holds no measured lines"),
    ],
)
def test_the_command_refuses(arguments, words, monkeypatch, capsys):
    monkeypatch.setattr("sys.argv", ["bench", *arguments])
    with pytest.raises(SystemExit):
        command.main()
    assert words in capsys.readouterr().err


# Tables


def test_the_target_is_for_the_median_gap():
    # Gaps of 1 %, 1 % and 50 %: the median keeps to the target of 1 %.
    lines = [line(seed=1), line(seed=2), line(seed=3, found=replace(PLANNED, bound=500.0))]
    row = summary(families_of(lines)).splitlines()[-1]
    assert "| median proven gap at most 1 % |" in row
    assert "1.00 % (1.00 % - 50.00 %) over seeds 1-3; days past proven least on 3 of 3" in row
    assert row.endswith("| yes |")


def test_a_run_without_a_bound_or_a_failed_one_is_not_passed_over():
    unproven = replace(PLANNED, bound=None, days_bound=None)
    rows = summary(families_of([line(found=unproven)]))
    assert "none proven" in rows
    assert rows.endswith("| no |")
    rows = summary(families_of([line(seed=1), line(seed=2, found=None, failed="broke")]))
    assert "; 1 failed" in rows
    assert rows.endswith("| no |")


def test_the_year_has_a_target_for_memory():
    lines = [line("year", 1, peak_gib=3.0), line("year", 2, peak_gib=4.5)]
    rows = summary(families_of(lines)).splitlines()
    assert "3.75 GiB (3.00 GiB - 4.50 GiB)" in rows[-1]
    assert rows[-1].endswith("| no |")


@pytest.mark.parametrize(
    ("peer", "ours", "verdict", "saved"),
    [
        ((2, 1000.0), (2, 900.0), "better", 0.1),
        ((2, 1000.0), (2, 1000.004), "equal", pytest.approx(0.0, abs=1e-5)),
        ((2, 1000.0), (2, 1100.0), "worse", -0.1),
        ((2, 1000.0), (1, 9000.0), "better", -8.0),
        ((2, 1000.0), (1, 400.0), "better", 0.6),
        ((2, 1000.0), (3, 1.0), "worse", None),
        ((None, None), (3, 1.0), "better", None),
        ((2, 1000.0), (None, None), "worse", None),
        ((None, None), (None, None), "equal", None),
    ],
)
def test_days_past_come_before_money(peer, ours, verdict, saved):
    pair = Pair(Found(1.0, "time", *peer), Found(1.0, "time", *ours))
    assert (pair.verdict, pair.saved) == (verdict, saved)


def test_a_peer_is_set_against_ours_seed_by_seed_at_the_same_limit():
    dearer = replace(PLANNED, money=2000.0)
    lines = [line("open", 1), line("open", 2), line("open", 3, seconds=5.0)]
    lines += [line("mip", seed, found=dearer) for seed in (1, 2, 3)]
    row = summary(families_of(lines)).splitlines()[-1]
    assert "ours better on 2, equal on 0, worse on 0 of seeds 1-2" in row
    assert "we save 50.00 % (50.00 % - 50.00 %) on the 2 with no more days past" in row
    assert row.endswith("| no |"), "seed 3 was not compared"
    text = tables(lines)
    assert "| 2, 1,000 | better | 50.00 % |" in text
    assert "| not measured | - | - |" in text


def test_the_gap_of_a_hangar_is_of_what_is_bought_and_earned_where_that_is_more():
    # 1,000 - 800 = 200, of 4,000; of 1,000 where less is bought and earned.
    found = replace(PLANNED, bound=800.0, turnover=4000.0)
    lines = [line("hangar-levelled", 1, found=found, seconds=120.0)]
    lines += [line("hangar-levelled", 2, found=replace(found, turnover=50.0), seconds=120.0)]
    row = summary(families_of(lines)).splitlines()[-1]
    assert "12.50 % (5.00 % - 20.00 %)" in row
    assert row.endswith("| no |")
    text = tables(lines)
    assert "| 1,000 | 800 | 5.00 % |" in text
    assert "| 1,000 | 800 | 20.00 % |" in text
    unknown = [line("hangar-levelled", 1, found=replace(found, turnover=None), seconds=120.0)]
    assert "none proven" in summary(families_of(unknown))


def test_turnover_is_labour_bought_and_prices_earned():
    base = invented_quarter(4, bays=3, checks=6)
    found = our_plan(base, SECONDS, 1)
    audit = Auditor(base).audit(plan(base, Settings(seconds=SECONDS)).plan)
    early_and_late = sum(a.early_money + a.late_money for a in audit.accounts)
    assert found.turnover == pytest.approx(found.money - early_and_late)


def test_two_runs_are_told_apart_by_the_better_cost():
    costs = {1: 1000.0, 2: 1015.0, 3: 950.0}
    lines = [line("open-levelled", seed) for seed in costs]
    lines += [
        line("open-levelled-again", seed, found=replace(PLANNED, money=money, bound=900.0))
        for seed, money in costs.items()
    ]
    row = summary(families_of(lines)).splitlines()[-1]
    assert "| costs of two runs at most 2 % apart on 9 of 10 bases |" in row
    assert "1.50 % (0.00 % - 5.26 %); at most 2 % on 2 of 3" in row
    assert row.endswith("| no |")
    text = tables(lines)
    assert "| days past, money of the other run | apart, of the better one |" in text
    assert "| 2, 1,000 | 5.26 % |" in text
    assert summary(families_of(lines[:5])).endswith("| yes |")


def test_two_runs_with_other_days_past_are_not_close():
    lines = [line("lanes-levelled", seed) for seed in (1, 2)]
    lines += [line("lanes-levelled-again", 1, found=replace(PLANNED, days_past=3))]
    lines += [line("lanes-levelled-again", 2)]
    row = summary(families_of(lines)).splitlines()[-1]
    assert "at most 2 % on 1 of 2; other days past on 1" in row
    assert row.endswith("| no |")
    assert "| 2, 1,000 | other days past |" in tables(lines)


def test_a_second_run_without_a_first_is_not_measured():
    rows = tables([line("hangar-levelled-again", 1, seconds=120.0)])
    assert "| not measured | not known |" in rows
    assert "| not measured | - |" in rows


def test_levelled_plans_are_set_beside_even_ones_of_the_same_seed():
    cheap = replace(PLANNED, money=700.0, bound=690.0)
    lines = [line("open", seed) for seed in (1, 2)]
    lines += [line("open-levelled", seed, found=cheap) for seed in (1, 2)]
    gap, cheaper = summary(families_of(lines)).splitlines()[-2:]
    assert "median proven gap at most 3 %" in gap
    assert "30.00 % (30.00 % - 30.00 %); dearer on 0 of 2 | yes |" in cheaper
    lines[-1] = line("open-levelled", 2, found=replace(PLANNED, money=1200.0))
    assert "dearer on 1 of 2 | no |" in summary(families_of(lines)).splitlines()[-1]
    alone = summary(families_of(lines[2:])).splitlines()[-1]
    assert alone.endswith("| not measured | not known |")


def test_what_was_not_measured_is_said_with_its_targets():
    text = tables([line("open", 1), line("open-levelled", 1)])
    missing = [row for row in text.splitlines() if row.endswith("| not measured |")]
    named = {row.split("|")[1].split(",")[0].strip() for row in missing}
    assert named == WORKS.keys() - {"open", "open-levelled"}
    year = [row for row in missing if row.startswith("| year-levelled, 600 s |")]
    assert [row.split("|")[3].strip() for row in year] == [
        "median proven gap at most 4 %",
        "memory at most 4 GiB",
    ]


def test_nothing_is_said_to_be_missing_where_all_is_measured():
    assert not_measured(WORKS.keys()) == ""


def test_tables_name_seeds_limits_and_what_they_were_measured_on():
    lines = [line(seed=7), line("year", 1, seconds=600.0, sources="def")]
    lines.append(line(seed=8, found=None, failed="Error: a | b"))
    text = tables(lines)
    assert "| 7 | 0.5 s | 2 (2) | 1,000 | 990 | 1.00 % | 10.0 s | proof | - |" in text
    assert "| 8 | failed: Error: a / b |" in text
    assert f"**year**: {WORKS['year'].title}; 600 s" in text
    assert "State of the sources: abc, def (measured with more than one)." in text


def test_seeds_are_written_as_runs():
    assert figures.seeds([3, 1, 2, 7, 9, 10]) == "seeds 1-3, 7, 9-10"
    assert figures.seeds([4]) == "seed 4"


def test_tables_go_between_the_marks_only(tmp_path):
    page = tmp_path / "page.md"
    page.write_text(f"above\n{BEGIN}\nold\n{END}\nbelow\n", encoding="utf-8")
    assert put_between_marks("new", page) == f"above\n{BEGIN}\nnew\n{END}\nbelow\n"
    page.write_text("no marks", encoding="utf-8")
    with pytest.raises(ValueError, match="has no"):
        put_between_marks("new", page)


@pytest.fixture
def pages(tmp_path):
    """README.md and RESULTS.md of a project of its own, with old tables."""
    readme, results = tmp_path / "README.md", tmp_path / "tests" / "bench" / "RESULTS.md"
    results.parent.mkdir(parents=True)
    for page in (readme, results):
        page.write_text(f"{page.name}\n{BEGIN}\nold\n{END}\nbelow\n", encoding="utf-8")
    return readme, results


def test_readme_gets_the_summary_and_results_every_run(
    pages, tmp_path, tmp_path_factory, monkeypatch
):
    readme, results = pages
    file = tmp_path_factory.mktemp("measured") / "lines.jsonl"
    add_line(line(), file)
    monkeypatch.setattr(command, "ROOT", tmp_path)
    monkeypatch.setattr("sys.argv", ["bench", "--table", str(file), "--write"])
    command.main()
    lines = read_lines(file)
    short, whole = summary(families_of(lines)), every_run(lines)
    assert readme.read_text(encoding="utf-8") == f"README.md\n{BEGIN}\n{short}\n{END}\nbelow\n"
    assert results.read_text(encoding="utf-8") == f"RESULTS.md\n{BEGIN}\n{whole}\n{END}\nbelow\n"
    assert "| seed |" in whole
    assert "| seed |" not in short


def test_neither_page_is_written_when_one_has_no_marks(pages, tmp_path):
    readme, results = pages
    results.write_text("no marks", encoding="utf-8")
    before = readme.read_text(encoding="utf-8")
    with pytest.raises(ValueError, match=r"RESULTS\.md has no"):
        write_pages([line()], tmp_path)
    assert readme.read_text(encoding="utf-8") == before


def test_every_work_of_the_projects_summary_has_its_runs_beside_it():
    readme, results = (
        page.read_text(encoding="utf-8").partition(BEGIN)[2].partition(END)[0]
        for page in (ROOT / "README.md", ROOT / "tests" / "bench" / "RESULTS.md")
    )
    works = [row.split("|")[1].split(",")[0].strip() for row in readme.strip().splitlines()[2:]]
    assert works
    assert list(dict.fromkeys(works)) == re.findall(r"^\*\*(.+)\*\*: ", results, re.MULTILINE)
