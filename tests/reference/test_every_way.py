"""No way to place a check is left out unless another is at least as good in everything.

Source: all courses of a check, enumerated in plain dates (``courses.py``), from the facts and
the contract alone. What counts for a plan is compared course by course: bays and days, spans of
stages, equipment, items at shops, man-hours by week, days past ``Latest in`` and money.
"""

from dataclasses import replace
from datetime import date
from random import Random

import pytest

from capacity.facts import Base, Check, Status
from capacity.labour.calendar import calendar_of
from capacity.slots.candidates import Candidates, Slots, find_slots, ways
from tests.quick_and_long import some_of
from tests.reference.courses import Course, Span, courses_of
from tests.reference.every_rule_bases import every_rule_base
from tests.reference.news_bases import with_news
from tests.reference.plain_dates import is_worked

Visits = tuple[tuple[int, date, date], ...]
Key = tuple[Visits, frozenset[Span]]
"""Visits as bay group, in and out day; spans of the stages."""

SEEDS = (0, 9, 12, 15, 16, 31, 37, 41, 52, 81, 84, 105, 129, 254)


def open_base(seed: int, behind: bool, news: bool = False) -> Base:
    """A base without fixed checks that stand in others' way; with bays behind bays, or none.

    With ``news`` checks have extra work and Ready dates.
    """
    rng = Random(seed)
    base = every_rule_base(rng)
    base = with_news(rng, base) if news else base
    bays = base.bays
    if not behind:
        bays = tuple(replace(bay, reached_through=None) for bay in bays)
    checks = tuple(check for check in base.checks if check.status is not Status.FIXED)
    return base.replace(bays=bays, checks=checks)


def ours(candidates: Candidates, slots: Slots) -> set[Key]:
    """Return the candidates of a check in the words of the enumeration."""
    stays, day = candidates.courses.stays, slots.calendar.date
    found = set()
    for course, groups in zip(candidates.course, candidates.groups, strict=True):
        edges = [day(edge) for edge in stays.edges[course]]
        visits: list[tuple[int, date, date]] = []
        for group, first, until in zip(groups, edges[:-1], edges[1:], strict=True):
            if visits and visits[-1][0] == group:
                visits[-1] = (int(group), visits[-1][1], until)
            else:
                visits.append((int(group), first, until))
        spans = frozenset(
            Span(stage.name, day(first), day(until))
            for stage, first, until in zip(
                candidates.courses.work, stays.starts[course], stays.ends[course], strict=True
            )
        )
        found.add((tuple(visits), spans))
    return found


def every_way(base: Base, check: Check, slots: Slots) -> dict[Key, Course]:
    """Return the enumerated courses by the same words."""
    group = {bay: n for n, one in enumerate(slots.groups) for bay in one.bays}
    return {
        (
            tuple((group[v.name], v.first, v.until) for v in course.visits),
            frozenset(course.spans),
        ): course
        for course in courses_of(base, check)
    }


def is_as_good(better: Course, worse: Course, base: Base) -> bool:
    """Say whether one course can take the other's place in any plan, at no more cost."""
    items = sorted((s.shop, s.items, s.back) for s in worse.sent)
    return (
        better.past <= worse.past
        and better.money <= worse.money + 1e-9
        and better.man_hours == worse.man_hours
        and len(better.visits) == len(worse.visits)
        and all(
            (b.name, b.until) == (w.name, w.until) and w.first <= b.first
            for b, w in zip(better.visits, worse.visits, strict=True)
        )
        and all(better.held[key] <= worse.held[key] for key in better.held)
        and sorted((s.shop, s.items, s.back) for s in better.sent) == items
        and all(
            not any(is_worked(base, d) for d in Span("", w.leave, b.leave).days())
            for b, w in zip(better.sent, worse.sent, strict=True)
        )
    )


@pytest.mark.parametrize("behind", [False, True], ids=["side by side", "behind each other"])
@pytest.mark.parametrize("seed", some_of(SEEDS, quick=6))
def test_every_way_is_a_candidate_or_another_is_as_good(
    seed: int, behind: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ways, "MOST_WAYS", 1000)
    assert_every_way(open_base(seed, behind))


@pytest.mark.parametrize("seed", [9, 37, 105])
def test_so_it_is_with_extra_work_and_ready_dates(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ways, "MOST_WAYS", 1000)
    base = open_base(seed, behind=False, news=True)
    names = {check.name for check in base.checks}
    assert names & {row.check for row in base.ready_dates}
    assert names & {row.check for row in base.extra_work}
    assert_every_way(base)


def assert_every_way(base: Base) -> None:
    """Compare all candidates with all courses, one by one."""
    slots = find_slots(base, calendar_of(base))
    assert not ways.partly_tried(base)
    for candidates in slots.candidates:
        check = candidates.courses.check
        mine, every = ours(candidates, slots), every_way(base, check, slots)
        assert mine <= every.keys()
        kept = [every[key] for key in mine]
        by_out: dict[date, list[Course]] = {}
        for course in kept:
            by_out.setdefault(course.visits[-1].until, []).append(course)
        for key in every.keys() - mine:
            left_out = every[key]
            assert not is_worked(base, left_out.visits[0].first)
            rivals = by_out.get(left_out.visits[-1].until, [])
            assert any(is_as_good(course, left_out, base) for course in rivals), left_out
