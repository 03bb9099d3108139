"""A scenario as it is handed to a process, and what comes back."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from enum import StrEnum

from capacity.inputs.reading.edited_copy import SheetEdit


@dataclass(frozen=True, slots=True)
class Standing:
    """What all scenarios begin with: a workbook and a plan file of it, byte for byte.

    ``workbook`` is the content of an ``.xlsx`` file, or of each CSV file of a folder by its name.
    """

    name: str
    workbook: bytes | Mapping[str, bytes]
    plan_file: str


@dataclass(frozen=True, slots=True)
class Task:
    """One scenario to plan in about so many ``seconds``, in any process, on any machine."""

    name: str
    edits: tuple[SheetEdit, ...]
    words: tuple[str, ...]
    seconds: float
    seed: int

    def key(self, standing: Standing, version: str) -> str:
        """Return what its answer is found by again: the SHA-256 of all that it depends on."""
        workbook = standing.workbook
        files = {"": workbook} if isinstance(workbook, bytes) else workbook
        told = {
            "version": version,
            "files": {name: hashlib.sha256(files[name]).hexdigest() for name in sorted(files)},
            "plan": hashlib.sha256(standing.plan_file.encode()).hexdigest(),
            "edits": [
                [edit.sheet, sorted(edit.changed.items()), list(edit.added)] for edit in self.edits
            ],
            "seconds": self.seconds,
            "seed": self.seed,
        }
        return hashlib.sha256(json.dumps(told, default=str).encode()).hexdigest()


class Ended(StrEnum):
    """What became of a scenario."""

    PLANNED = "planned"
    IMPOSSIBLE = "impossible"
    OUT_OF_TIME = "no plan in the time"
    WRONG = "errors in the workbook"
    FAILED = "could not be worked out"


@dataclass(frozen=True, slots=True)
class Figures:
    """What of a plan is compared: in days, in money of the base, in man-hours, and in checks.

    ``bound`` is proven: no plan of the scenario with as few days past costs less; None where
    nothing was searched for.
    """

    days_past: int
    cost: float
    bound: float | None
    overload_hours: float
    bought_hours: float
    late_days: int
    without_slot: tuple[str, ...]
    options_taken: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ScenarioAnswer:
    """What a scenario comes to; ``figures`` only where it was planned.

    ``moved`` are the checks whose slots are others than in the standing plan, ``said`` what keeps
    it from being planned.
    """

    name: str
    words: tuple[str, ...]
    ended: Ended
    figures: Figures | None = None
    moved: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    seconds: float = 0.0

    def as_json(self) -> str:
        """Return it as text to be kept."""
        return json.dumps(asdict(self))

    @classmethod
    def from_json(cls, text: str) -> "ScenarioAnswer":
        """Return what ``as_json`` told."""
        told = json.loads(text)
        figures = told["figures"]
        if figures is not None:
            names = ("without_slot", "options_taken")
            figures = Figures(**{**figures, **{name: tuple(figures[name]) for name in names}})
        return cls(
            name=told["name"],
            words=tuple(told["words"]),
            ended=Ended(told["ended"]),
            figures=figures,
            moved=tuple(told["moved"]),
            said=tuple(told["said"]),
            seconds=told["seconds"],
        )
