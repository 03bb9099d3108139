"""What kind of work a stage is, from what the workbook says and what its names suggest.

The words are those of the trade in English, common practice, no source. A name is not more
than a hint: a stage that is not recognised may be as dangerous.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from capacity.facts import Stage


class Activity(StrEnum):
    """Kinds of work that call for care; the value reads in a sentence."""

    JACKS = "the aircraft on jacks"
    GEAR_SWING = "a gear swing"
    GEAR_WELLS = "work in the gear wells"
    FUEL_TANK = "an open fuel tank"
    HOT_WORK = "hot work"
    POWER_ON = "electrical power on"
    POWERED_CONTROLS = "hydraulic or flight-control power"
    SURFACES = "hands in control surfaces"
    HEAVY_REMOVAL = "removal of a heavy component"
    WING_DOCK = "work on the wings from docks"
    HEIGHT = "work from docks"
    PAINT = "painting"
    PAINT_REMOVAL = "paint removal"
    X_RAY = "radiography"
    ENGINE_RUN = "an engine run"


WORDS: Mapping[Activity, tuple[str, ...]] = {
    Activity.JACKS: ("jack", "jacks", "jacking", "jacked"),
    Activity.GEAR_SWING: (
        "gear swing",
        "gear swings",
        "gear retraction",
        "gear extension",
        "retraction test",
        "retraction tests",
    ),
    Activity.GEAR_WELLS: (
        "landing gear",
        "gear bay",
        "gear bays",
        "gear change",
        "gear well",
        "gear wells",
        "wheel well",
        "wheel wells",
    ),
    Activity.FUEL_TANK: (
        "fuel cell",
        "fuel tank",
        "fuel tanks",
        "open tank",
        "open tanks",
        "tank entry",
        "tank open",
        "tanks open",
    ),
    Activity.HOT_WORK: ("hot work", "welding", "brazing", "grinding"),
    Activity.POWER_ON: (
        "electrical power",
        "electrical test",
        "electrical tests",
        "functional test",
        "functional tests",
        "power on",
        "power up",
    ),
    Activity.POWERED_CONTROLS: (
        "flight control test",
        "flight control tests",
        "functional test",
        "functional tests",
        "hydraulic power",
        "hydraulic test",
        "hydraulic tests",
        "hydraulics on",
        "rigging",
    ),
    Activity.SURFACES: (
        "aileron",
        "ailerons",
        "control surface",
        "control surfaces",
        "elevator",
        "elevators",
        "flap",
        "flaps",
        "flight control",
        "flight controls",
        "rudder",
        "slat",
        "slats",
        "spoiler",
        "spoilers",
    ),
    Activity.HEAVY_REMOVAL: (
        "engine change",
        "engine installation",
        "engine removal",
        "fin removal",
        "gear change",
        "gear removal",
        "heavy component",
        "heavy components",
        "pylon removal",
        "stabiliser removal",
        "stabilizer removal",
    ),
    Activity.WING_DOCK: ("wing dock", "wing docks", "wing docking", "work on wings"),
    Activity.HEIGHT: (
        "boom lift",
        "dock",
        "docking",
        "docks",
        "high access",
        "scaffold",
        "scaffolding",
    ),
    Activity.PAINT: ("paint", "painting", "repaint", "repainting"),
    Activity.PAINT_REMOVAL: (
        "paint removal",
        "paint strip",
        "paint stripping",
        "strip and paint",
        "strip and repaint",
    ),
    Activity.X_RAY: ("radiographic", "radiography", "x ray", "x rays", "xray"),
    Activity.ENGINE_RUN: ("engine run", "engine runs", "ground run", "ground runs"),
}
"""Words, or words one after the other, in lower case; a hyphen counts as a blank."""

WORDS_WITHIN_PAINT_WORK = ("strip", "stripping")
"""Elsewhere a cabin may be stripped; of a stage whose work is painting it is the paint."""

_NOT_A_WORD = re.compile(r"[\W_]+")

SUGGESTS = "the stage's name or equipment suggests"
SAYS = "the workbook says"


@dataclass(frozen=True, slots=True)
class Sign:
    """Why a stage is taken for an activity; ``is_guess`` where only a name suggests it."""

    activity: Activity
    why: str
    is_guess: bool


def signs_of(stage: Stage) -> tuple[Sign, ...]:
    """Return one sign, the surest, for each activity that the stage is taken for.

    The kind of work (column ``Work``) is what the workbook says; the names of stage and
    equipment only suggest.
    """
    return _signs_of(stage.name, stage.work, stage.equipment)


@lru_cache(maxsize=10_000)
def _signs_of(stage: str, work: str, equipment: tuple[str, ...]) -> tuple[Sign, ...]:
    """Return the signs in the words of a stage: a plan has each stage of a package many times."""
    names = [("stage", stage), *(("equipment", name) for name in equipment)]
    signs = (_sign(activity, work, names) for activity in Activity)
    return tuple(sign for sign in signs if sign is not None)


def _sign(activity: Activity, work: str, names: Sequence[tuple[str, str]]) -> Sign | None:
    if word := found_in(work, WORDS[activity]):
        return Sign(activity, f"{SAYS}: Work is '{work}' ('{word}')", is_guess=False)
    words = WORDS[activity]
    if activity is Activity.PAINT_REMOVAL and found_in(work, WORDS[Activity.PAINT]):
        words += WORDS_WITHIN_PAINT_WORK
    for what, name in names:
        if word := found_in(name, words):
            return Sign(activity, f"{SUGGESTS} it: '{word}' in the {what} '{name}'", is_guess=True)
    return None


def found_in(name: str, words: Iterable[str]) -> str | None:
    """Return the first of the words that stands in a name as a whole word."""
    spaced = f" {' '.join(_NOT_A_WORD.sub(' ', name.casefold()).split())} "
    return next((word for word in words if f" {word} " in spaced), None)
