"""What is measured: each kind of work with its bases, its limit, and what it should come to."""

from collections.abc import Callable
from dataclasses import dataclass

from capacity.facts import Base
from tests.bench.first_come_peer import first_come_alone
from tests.bench.invented import invented_quarter, invented_year
from tests.bench.invented_hangar import invented_hangar
from tests.bench.job_shop_peer import job_shop
from tests.bench.levelled import beside_each_other, levelled
from tests.bench.mip_peer import mip_alone
from tests.bench.one_cp_sat_model import levelled_cp_sat_model, one_cp_sat_model
from tests.bench.our_plan import our_plan, until_4_percent, with_another_seed
from tests.bench.reduced import reduced
from tests.bench.result import Found

# A base, a limit in seconds and a seed of the search give what was found.
Way = Callable[[Base, float, int], Found]


@dataclass(frozen=True)
class Work:
    """One family of measurements.

    ``base`` makes a base from a seed, which also seeds the search. ``against`` names our own
    work on the same bases and limit that a peer is set against. Targets are for the median
    share of the peer's money that we save, for the median proven gap and for the largest
    peak of memory in GiB; None sets none. With ``gap_of_turnover`` the gap is relative to the
    larger of money and turnover: labour bought + prices earned. A work with ``apart_target`` is no
    peer but a second run of ours: its costs lie apart from those of ``against`` by at most this
    share of the better one, on nine of ten bases. With ``cheaper_target`` our plan is also set
    against our own of the work ``evenly``, whose hours lie evenly: never dearer, and in the median
    cheaper by this share.
    """

    title: str
    base: Callable[[int], Base]
    way: Way
    seconds: float = 60.0
    seeds: tuple[int, ...] = tuple(range(1, 11))
    against: str | None = None
    saved_target: float | None = None
    gap_target: float | None = None
    gib_target: float | None = None
    apart_target: float | None = None
    gap_of_turnover: bool = False
    evenly: str | None = None
    cheaper_target: float | None = None


def _lanes(seed: int) -> Base:
    return invented_quarter(seed, lanes=True)


def _open_levelled(seed: int) -> Base:
    return levelled(invented_quarter(seed))


def _open_float(seed: int) -> Base:
    return levelled(beside_each_other(invented_quarter(seed)), into_float=True)


def _lanes_levelled(seed: int) -> Base:
    return levelled(_lanes(seed))


def _hangar_levelled(seed: int) -> Base:
    return levelled(invented_hangar(seed))


def _year_levelled(seed: int) -> Base:
    return levelled(invented_year(seed))


def _reduced_quarter(seed: int) -> Base:
    return reduced(invented_quarter(seed))


WORKS = {
    "open": Work("open quarter: 10 bays, 38 checks", invented_quarter, our_plan, gap_target=0.01),
    "lanes": Work(
        "the same with every second bay behind another", _lanes, our_plan, gap_target=0.03
    ),
    "hangar": Work(
        "hangar: 14 bays, one of them for paint, 60 checks; jacks, docks, shops, mixed crews",
        invented_hangar,
        our_plan,
        seconds=120.0,
        gap_target=0.03,
    ),
    "year": Work(
        "year: 14 bays, 220 checks, 52 weeks",
        invented_year,
        our_plan,
        seconds=600.0,
        gap_target=0.05,
        gib_target=4.0,
    ),
    "open-levelled": Work(
        "open quarter, hours levelled: daily peak 150 %",
        _open_levelled,
        our_plan,
        gap_target=0.03,
        evenly="open",
        cheaper_target=0.20,
    ),
    "open-float": Work(
        "open quarter, stages beside each other, daily peak 150 %, into float",
        _open_float,
        our_plan,
    ),
    "lanes-levelled": Work(
        "every second bay behind another, daily peak 150 %",
        _lanes_levelled,
        our_plan,
        gap_target=0.08,
    ),
    "hangar-levelled": Work(
        "hangar, daily peak 150 %; gap of the larger of money and labour bought + prices earned",
        _hangar_levelled,
        our_plan,
        seconds=120.0,
        gap_target=0.10,
        gap_of_turnover=True,
    ),
    "year-levelled": Work(
        "year, daily peak 150 %; a run ends once 4 % are proven",
        _year_levelled,
        until_4_percent,
        seconds=600.0,
        gap_target=0.04,
        gib_target=4.0,
    ),
    "open-levelled-again": Work(
        "open quarter, daily peak 150 %, with another seed of the search",
        _open_levelled,
        with_another_seed,
        against="open-levelled",
        apart_target=0.02,
    ),
    "lanes-levelled-again": Work(
        "every second bay behind another, daily peak 150 %, with another seed of the search",
        _lanes_levelled,
        with_another_seed,
        against="lanes-levelled",
        apart_target=0.02,
    ),
    "hangar-levelled-again": Work(
        "hangar, daily peak 150 %, with another seed of the search",
        _hangar_levelled,
        with_another_seed,
        seconds=120.0,
        against="hangar-levelled",
        apart_target=0.02,
    ),
    "cp-sat-levelled": Work(
        "open quarter, daily peak 150 %, by one CP-SAT model with the same freedom, 8 workers",
        _open_levelled,
        levelled_cp_sat_model,
        against="open-levelled",
        saved_target=0.10,
    ),
    "mip-levelled": Work(
        "open quarter, daily peak 150 %, by HiGHS alone on the same program, one thread",
        _open_levelled,
        mip_alone,
        against="open-levelled",
    ),
    "cp-sat": Work(
        "open quarter by one CP-SAT model of the whole, 8 workers",
        invented_quarter,
        one_cp_sat_model,
        against="open",
        saved_target=0.20,
    ),
    "mip": Work(
        "open quarter by HiGHS alone on the same program, one thread",
        invented_quarter,
        mip_alone,
        against="open",
    ),
    "first-come": Work(
        "open quarter first come, first served, by Latest in",
        invented_quarter,
        first_come_alone,
        against="open",
        saved_target=0.40,
    ),
    "reduced": Work(
        "open quarter with bays and dates only, hours never binding", _reduced_quarter, our_plan
    ),
    "pyjobshop": Work(
        "open quarter with bays and dates only by PyJobShop, 2 workers",
        _reduced_quarter,
        job_shop,
        against="reduced",
    ),
}
