"""What is left of the stages of a check by its progress, by hand: days, hours, what is begun."""

from dataclasses import replace

import pytest

from capacity.facts import Base, Equipment, Package, Shop, ShopLoop, Stage, Status, WorkProgress
from capacity.plans.stays import StayLayout
from capacity.plans.work_left import goes_on_from, work_left
from capacity.plans.worked_days import WorkedDays
from tests.plans.stories import base, check, day, stage

# 20 + 40 + 30 + 10 = 100 h; inspect and wash run side by side behind open.
HEAVY = Package(
    "Heavy",
    (
        stage("open", 2, hours=20),
        stage("inspect", 4, "open", hours=20, findings=1.0),
        stage("wash", 3, "open", hours=30),
        stage("close", 1, "inspect", "wash", hours=10),
    ),
)


def told(*rows: WorkProgress, heavy: Package = HEAVY, **changes: object) -> Base:
    """C1 came in five days before the first day."""
    in_work = check(
        package="Heavy",
        status=Status.FIXED,
        fixed_bay="B1",
        fixed_in=day(-5),
        earliest_in=day(-5),
        latest_in=day(-5),
    )
    return base(in_work, packages=(heavy,), progress=rows, **changes)


def row(stage: str | None = None, as_of: int = 0, **said: object) -> WorkProgress:
    return WorkProgress("C1", day(as_of), stage, **said)  # type: ignore[arg-type]


def left(*rows: WorkProgress) -> list[tuple[str, int, float]]:
    """Return name, days and hours of what is left."""
    world = told(*rows)
    return [(w.stage, w.days, round(w.total, 6)) for w in work_left(world, world.checks[0])]


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        # Half of inspect: open is done, since inspect waits for it; nothing is said of wash.
        ((row("inspect", done=0.5),), [("inspect", 2, 20), ("wash", 3, 30), ("close", 1, 10)]),
        # 36 % left of 4 days are 1.44, so 2.
        ((row("inspect", done=0.64),), [("inspect", 2, 14.4), ("wash", 3, 30), ("close", 1, 10)]),
        # 60 h to go of 40 planned: half as many days again.
        (
            (row("inspect", hours_to_go=60, hours_booked=5),),
            [("inspect", 6, 60), ("wash", 3, 30), ("close", 1, 10)],
        ),
        # Nobody has begun it: only its estimate has grown.
        (
            (row("inspect", hours_to_go=60),),
            [("open", 2, 20), ("inspect", 6, 60), ("wash", 3, 30), ("close", 1, 10)],
        ),
        # Hours to go count before Done %.
        (
            (row("inspect", done=0.9, hours_to_go=30),),
            [("inspect", 3, 30), ("wash", 3, 30), ("close", 1, 10)],
        ),
        ((row("wash", finished=day(-1)),), [("inspect", 4, 40), ("close", 1, 10)]),
        ((row("wash", hours_to_go=0),), [("inspect", 4, 40), ("close", 1, 10)]),
        ((row("close", done=0.5),), [("close", 1, 5)]),
        ((row(finished=day(-1)),), []),
        # 60 of 100 h done: open and inspect.
        ((row(done=0.6),), [("wash", 3, 30), ("close", 1, 10)]),
        # 70 done: 10 of the 30 of wash.
        ((row(hours_to_go=30),), [("wash", 2, 20), ("close", 1, 10)]),
        # A stage's own row counts before that of the whole.
        (
            (row(done=0.6), row("inspect", done=0.75)),
            [("inspect", 1, 10), ("wash", 3, 30), ("close", 1, 10)],
        ),
        # The whole check grew: every stage by a tenth, days rounded up.
        (
            (row(hours_to_go=110),),
            [("open", 3, 22), ("inspect", 5, 44), ("wash", 4, 33), ("close", 2, 11)],
        ),
        # The latest row of a stage counts, whatever their order.
        (
            (row("open", done=0.5), row("open", as_of=-2, done=0.1)),
            [("open", 1, 10), ("inspect", 4, 40), ("wash", 3, 30), ("close", 1, 10)],
        ),
    ],
)  # fmt: skip
def test_what_is_left(rows, expected):
    assert left(*rows) == expected


def test_what_is_begun_waits_for_no_shop_and_keeps_its_equipment():
    jacked = replace(HEAVY.stages[2], equipment=("jacks",))
    heavy = replace(HEAVY, stages=(*HEAVY.stages[:2], jacked, HEAVY.stages[3]))
    loop = ShopLoop("Heavy", "Shop", 9, "open", "wash")
    facts = {"equipment": (Equipment("jacks", 1),), "shops": (Shop("Shop", 1.0),)}
    world = told(row("wash", done=0.4), heavy=heavy, shop_loops=(loop,), **facts)
    works = {work.stage: work for work in work_left(world, world.checks[0])}
    assert (works["wash"].in_work, works["wash"].errands) == (True, ())
    assert not works["inspect"].in_work
    # Not begun, it waits nine days for its items.
    not_begun = told(row("open", done=0.5), heavy=heavy, shop_loops=(loop,), **facts)
    assert {w.stage: len(w.errands) for w in work_left(not_begun, not_begun.checks[0])}["wash"] == 1


def test_booked_hours_alone_say_that_a_stage_is_begun():
    world = told(row("open", done=0.0, hours_booked=6))
    assert [work.stage for work in work_left(world, world.checks[0]) if work.in_work] == ["open"]


@pytest.mark.parametrize(
    ("as_of", "goes_on"),
    [((-3,), 0), ((0,), 0), ((2,), 2), ((-1, 2), 2)],
)
def test_work_goes_on_from_the_latest_day_told_and_not_before_the_first(as_of, goes_on):
    stages = ("open", "wash")
    rows = (row(name, as_of=n, done=0.5) for name, n in zip(stages, as_of, strict=False))
    world = told(*rows)
    assert goes_on_from(world, world.checks[0]) == day(goes_on)
    assert world.goes_on_from(world.checks[0]) == day(goes_on)


STAGES = ("open", "inspect", "wash", "close")


@pytest.mark.parametrize(
    ("rows", "out"),
    [
        # Told on Thursday: its work was over on Tuesday, so it left on Wednesday.
        ([row(as_of=3, finished=day(1))], 2),
        # On the last day before the plan: out on its first day. Before that too: days are days.
        ([row(as_of=3, finished=day(-1))], 0),
        ([row(as_of=3, finished=day(-3))], -2),
        # Stage by stage: the last of them; with one of them told without a day nobody knows.
        ([row(name, as_of=3, finished=day(n - 3)) for n, name in enumerate(STAGES)], 1),
        ([row(as_of=3, finished=day(0)), row("wash", as_of=3, finished=day(1))], 2),
        ([row(as_of=3, finished=day(0)), row("wash", as_of=3, done=1.0)], 1),
        (
            [
                *[row(name, as_of=3, finished=day(-1)) for name in STAGES[:3]],
                row("close", as_of=3, done=1.0),
            ],
            3,
        ),
        ([row(as_of=3, done=1.0)], 3),
        # The latest row counts.
        ([row(as_of=1, finished=day(-1)), row(as_of=3, finished=day(1))], 2),
    ],
)
def test_a_finished_check_leaves_on_the_day_after_its_last(rows, out):
    world = told(*rows)
    one = world.checks[0]
    assert StayLayout(world, WorkedDays(world)).lay_out(one, "B1", day(-5)).out_day == day(out)
    assert goes_on_from(world, one) == world.goes_on_from(one) == day(out)


def test_with_work_left_on_a_stage_nobody_has_left():
    world = told(row(as_of=3, finished=day(1)), row("close", as_of=3, done=0.5))
    assert goes_on_from(world, world.checks[0]) == world.goes_on_from(world.checks[0]) == day(3)


@pytest.mark.parametrize(("leaves", "out"), [(True, 5), (False, 7)])
def test_a_finished_check_leaves_on_a_worked_day_where_it_must(leaves, out):
    """Work over on Friday 8 January, told on Wednesday the 13th."""
    world = told(row(as_of=9, finished=day(4)), working_weekdays=frozenset(range(5)))
    world = world.replace(leaves_on_days_off=leaves)
    stay = StayLayout(world, WorkedDays(world)).lay_out(world.checks[0], "B1", day(-5))
    assert stay.out_day == day(out)


def test_today_of_a_re_plan_moves_a_share_that_remains_and_no_progress():
    today = told(row("open", as_of=1, done=0.5), work_counts_from=day(3))
    assert goes_on_from(today, today.checks[0]) == day(1)
    share = today.replace(progress=(), checks=(replace(today.checks[0], remaining=0.5),))
    assert goes_on_from(share, share.checks[0]) == day(3)


def test_what_is_left_is_planned_from_then_on():
    world = told(row("inspect", as_of=2, done=0.5))
    layout = StayLayout(world, WorkedDays(world))
    stay = layout.lay_out(world.checks[0], "B1", day(-5))
    assert [(s.work.stage, s.first, s.until) for s in stay.stages] == [
        ("inspect", day(2), day(4)),
        ("wash", day(2), day(5)),
        ("close", day(5), day(6)),
    ]
    assert stay.out_day == day(6)


def test_no_rows_change_nothing():
    world = told()
    assert len(work_left(world, world.checks[0])) == 4
    assert goes_on_from(world, world.checks[0]) is None


def test_a_stage_without_hours_goes_by_its_days():
    heavy = Package("Heavy", (Stage("wait", "maintenance", 4), *HEAVY.stages))
    world = told(row("wait", done=0.5), heavy=heavy)
    assert work_left(world, world.checks[0])[0].days == 2
