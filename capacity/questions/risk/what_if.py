"""What if the plan keeps something back for findings? The base to make it on.

Either every stage is planned on more findings than the mean, or every check is to be home some
days before it must be.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import timedelta
from math import ceil

from capacity.errors import CapacityError
from capacity.facts import Base, Check, Package, ShopLoop, Stage, Status
from capacity.questions.risk.days import ROUNDING
from capacity.questions.risk.findings import factor_at_quantile, spread_of, spreads_of
from capacity.questions.risk.settings import Keep, RiskSettings
from capacity.questions.risk.values import Risk


def base_with_buffers(base: Base, risk: Risk) -> Base:
    """Return the base with days agreed earlier, by what each check needs for its 80 %.

    That is the calendar days from its planned out day to the day by which it is out in 80 % of
    the draws, delays of the checks before it included. The search then pays for each day that
    a check lacks of its buffer as if it were late, and so puts buffers where they are cheap.
    Judge the plan with ``risk_of`` on the base itself, whose days are the ones agreed, and this
    one as ``made_on``. A check without an agreed day has no buffer.
    """
    buffers = {one.check: one.out_safe - one.planned_out for one in risk.checks}
    return base.replace(
        checks=tuple(
            _agreed_earlier(check, buffers[check.name].days) if check.name in buffers else check
            for check in base.checks
        )
    )


def _agreed_earlier(check: Check, buffer_days: int) -> Check:
    """Return a check agreed to be out so many days earlier, if any; as it is where none is."""
    buffer_days = max(buffer_days, 0)
    if check.agreed_days is not None:
        return replace(check, agreed_days=check.agreed_days - buffer_days)
    if check.agreed_out is None:
        return check
    return replace(check, agreed_out=check.agreed_out - timedelta(days=buffer_days))


def base_at(base: Base, quantile: float, settings: RiskSettings | None = None) -> Base:
    """Return the base with the findings of every stage at a quantile, such as 0.8.

    Each stage has the findings that it does not exceed with that probability, and as many more
    worked days as these ask at the planned man-hours a day, rounded up; ``Shortest days`` and
    ``Longest days`` grow alike. Where stages are independent, all of them at their 80 % is far
    rarer than 20 %, so this is a cautious plan. Fixed checks keep their days, since those stand;
    checks already in keep their findings too, since a share of their work is done. Where the
    treatment or the findings factor asks for it, a package is there several times, named after
    what is different. Plan on this base, but judge the plan with ``risk_of`` on the base itself
    and this one as ``made_on``: its spreads belong to the old findings.

    Raises
    ------
    CapacityError
        When the quantile is not above 0 and below 1, or a triangle cannot have a spread.
    """
    if not 0 < quantile < 1:
        raise CapacityError(f"The quantile is {quantile:g}. Give more than 0 and less than 1.")
    settings = settings or RiskSettings()
    spreads_of(base, settings)
    asked = list(dict.fromkeys(_variant(check, base, settings) for check in base.checks))
    taken = {package.name for package in base.packages}
    names: dict[_Variant, str] = {}
    for variant in asked:
        names[variant] = _name(variant, taken)
        taken.add(names[variant])
    made = [
        _at(base.package(variant.package), name, variant, quantile, settings)
        for variant, name in names.items()
    ]
    used = {package.name for package in made}
    return base.replace(
        packages=(*(p for p in base.packages if p.name not in used), *made),
        checks=tuple(
            replace(check, package=names[_variant(check, base, settings)]) for check in base.checks
        ),
        shop_loops=(
            *(loop for loop in base.shop_loops if loop.package not in used),
            *_loops(base.shop_loops, names),
        ),
    )


@dataclass(frozen=True, slots=True)
class _Variant:
    """A package as some checks need it: its findings grow or not, its days by a factor or not."""

    package: str
    findings_grow: bool
    days_grow_with_factor: float | None


def _variant(check: Check, base: Base, settings: RiskSettings) -> _Variant:
    already_in = base.goes_on_from(check) is not None
    keeps_days = already_in or check.status is Status.FIXED or settings.keep is Keep.DAYS
    return _Variant(check.package, not already_in, None if keeps_days else check.findings_factor)


def _name(variant: _Variant, taken: set[str]) -> str:
    """Return the package's own name for checks with a factor of 1, else one that says why."""
    if variant.findings_grow and variant.days_grow_with_factor == 1:
        return variant.package
    if not variant.findings_grow:
        why = "already in"
    elif variant.days_grow_with_factor is None:
        why = "days as planned"
    else:
        why = f"findings factor {variant.days_grow_with_factor:g}"
    name = f"{variant.package} ({why})"
    while name in taken:
        name += "*"
    return name


def _at(
    package: Package, name: str, variant: _Variant, quantile: float, settings: RiskSettings
) -> Package:
    if not variant.findings_grow:
        return replace(package, name=name)
    stages = (
        _stage_at(stage, variant.days_grow_with_factor, quantile, settings)
        for stage in package.stages
    )
    return Package(name, tuple(stages))


def _stage_at(stage: Stage, factor: float | None, quantile: float, settings: RiskSettings) -> Stage:
    """Put findings at the quantile; days grow as the man-hours of a check with that factor do."""
    spread, _ = spread_of(stage, settings)
    findings = stage.findings * factor_at_quantile(quantile, spread, settings.shape)
    if factor is None:
        return replace(stage, findings=findings)
    growth = (1 + findings * factor) / (1 + stage.findings * factor)
    return replace(
        stage,
        findings=findings,
        days=_grown(stage.days, growth),
        shortest_days=None if stage.shortest_days is None else _grown(stage.shortest_days, growth),
        longest_days=None if stage.longest_days is None else _grown(stage.longest_days, growth),
    )


def _grown(days: int, growth: float) -> int:
    return ceil(days * growth - ROUNDING)


def _loops(loops: Iterable[ShopLoop], names: dict[_Variant, str]) -> list[ShopLoop]:
    """Return the shop loops of the packages made, each for its own."""
    return [
        replace(loop, package=name)
        for loop in loops
        for variant, name in names.items()
        if variant.package == loop.package
    ]
