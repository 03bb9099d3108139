"""Invented packages with all that a hangar has to share: jacks, docks, shops, paint bays."""

from dataclasses import replace

from capacity.facts import Package, ShopLoop, Stage
from tests.bench.invented_parts import PACKAGES, STAGES, package_of

PAINT = "paint"
# type: days of strip and repaint, man-hours of it
REPAINT = {"Plover 70": (5, 320.0), "Heron 180": (7, 560.0), "Albatross 300": (9, 1150.0)}
REPAINTED_INSIDE = ("Heron 180", "Albatross 300")
# type: wheels and brakes, composite parts that leave the aircraft
WHEELS = {"Plover 70": 4, "Heron 180": 6, "Albatross 300": 12}
COMPOSITES = {"Heron 180": 2, "Albatross 300": 4}
# The one package that can be run faster or slower: shortest and longest days by stage.
PACED = "Heron structural check"
PACES = {"rectification": (6, 10), "closing up": (3, 4)}


def hangar_packages() -> tuple[Package, ...]:
    """Return each package of a quarter with a gear swing, and the base checks repainted."""
    plain = [_with_gear_swing(package_of(name)) for name in PACKAGES]
    repainted = []
    for package in plain:
        size = PACKAGES[package.name][0]
        if is_base_check(package.name):
            repainted.append(_repainted_last(package, size))
            if size in REPAINTED_INSIDE:
                repainted.append(_repainted_inside(package, size))
    return (*plain, *repainted)


def hangar_loops() -> tuple[ShopLoop, ...]:
    """Return what leaves for the shops; a check repainted inside sends nothing."""
    loops = []
    for package in hangar_packages():
        name, size = _plain_name(package.name), PACKAGES[_plain_name(package.name)][0]
        if package.name == inside(name):
            continue
        loops.append(ShopLoop(package.name, "wheels", WHEELS[size], "opening up", "closing up"))
        if size in COMPOSITES:
            items = COMPOSITES[size] * (1 if is_base_check(name) else 2)
            loops.append(ShopLoop(package.name, "composites", items, "inspection", "closing up"))
    return tuple(loops)


def is_base_check(package: str) -> bool:
    """Return whether it is one of the short packages, not repainted."""
    return package.endswith("base check")


def structural(base_check: str) -> str:
    """Name the structural check of the same type."""
    return base_check.replace("base", "structural")


def beside(stage: Stage) -> bool:
    """Return whether a stage runs beside others and so adds nothing to the stay."""
    return stage.name == "cabin refresh"


def last(package: str) -> str:
    """Name the package with a repaint as its end."""
    return f"{package}, repainted last"


def inside(package: str) -> str:
    """Name the package with a repaint in its midst."""
    return f"{package}, repainted inside"


def _plain_name(package: str) -> str:
    return package.split(",")[0]


def _with_gear_swing(package: Package) -> Package:
    """Add a functional test on jacks, with nobody else on the aircraft, before the release.

    Structural checks also refresh the cabin beside the other work.
    """
    stages = {stage.name: stage for stage in package.stages}
    size, is_base = PACKAGES[package.name][0], is_base_check(package.name)
    half = {skill: hours / 2 for skill, hours in stages["release"].man_hours.items()}
    swing = Stage(
        "functional test",
        work="maintenance",
        days=1 if is_base else 2,
        man_hours=half,
        after=("closing up",),
        equipment=("jack set",),
        alone=True,
    )
    before_release: tuple[str, ...] = (swing.name,)
    if size != "Plover 70":
        docked = "inspection" if is_base else "rectification"
        stages[docked] = replace(stages[docked], equipment=("tail dock",))
    if package.name == PACED:
        for name, (shortest, longest) in PACES.items():
            stages[name] = replace(stages[name], shortest_days=shortest, longest_days=longest)
    more = [swing]
    if not is_base:
        more.insert(0, _cabin_refresh(stages))
        before_release = (swing.name, more[0].name)
    release = replace(stages["release"], man_hours=half, after=before_release)
    return Package(package.name, (*(stages[name] for name in STAGES[:-1]), *more, release))


def _cabin_refresh(stages: dict[str, Stage]) -> Stage:
    """Run beside inspection, rectification and closing up, one day shorter than them."""
    beside = ("inspection", "rectification", "closing up")
    hours = sum(stages["closing up"].man_hours.values())
    return Stage(
        "cabin refresh",
        work="maintenance",
        days=sum(stages[name].days for name in beside) - 1,
        man_hours={"cabin": hours / 2},
        after=("opening up",),
    )


def _repaint(size: str, after: str) -> Stage:
    days, hours = REPAINT[size]
    return Stage("strip and repaint", PAINT, days, {PAINT: hours}, (after,), findings=0.1)


def _repainted_last(package: Package, size: str) -> Package:
    return Package(last(package.name), (*package.stages, _repaint(size, "release")))


def _repainted_inside(package: Package, size: str) -> Package:
    """Paint between rectification and closing up, then go back into a maintenance bay."""
    stages = []
    for stage in package.stages:
        if stage.name == "closing up":
            stages.append(_repaint(size, "rectification"))
            stage = replace(stage, after=("strip and repaint",))
        stages.append(stage)
    return Package(inside(package.name), tuple(stages))
