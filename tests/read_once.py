"""A file is read in this process and not in a child; what it said is kept for other tests.

Such a child takes half a second to start. That it reads as this process does, and its limits, are
tested by ``tests/inputs/test_limited.py``, ``tests/hostile`` and whatever runs the command as a
process.
"""

import hashlib
import pickle
import zipfile
from pathlib import Path

import pytest

from capacity.inputs import limited
from capacity.inputs.limited_child import Ended, function_of, how_it_ended

WHEN_SAVED = "docProps/core.xml"
_ANSWERS: dict[object, bytes] = {}


def read_each_file_once(patch: pytest.MonkeyPatch) -> None:
    """Read a file here, and only where the same was not asked of the same bytes before."""

    def ask(still_wanted: limited.Wanted, question: bytes) -> tuple[Ended, object]:
        limits, work, (path, *more) = pickle.loads(question)
        asked = limits, work, path.name, _content(path), pickle.dumps(more)
        if asked not in _ANSWERS:
            answer = how_it_ended(lambda: function_of(work)(path, *more))
            _ANSWERS[asked] = pickle.dumps(answer)
        kept: tuple[Ended, object] = pickle.loads(_ANSWERS[asked])
        return kept

    patch.setattr(limited, "_ask", ask)


def _content(path: Path) -> object:
    """Tell files apart by what they hold; a workbook by its parts, but for when it was saved."""
    if path.is_dir():
        return tuple((file.name, _content(file)) for file in sorted(path.iterdir()))
    if not path.is_file():
        return None
    whole = hashlib.sha256(path.read_bytes()).hexdigest()
    if not zipfile.is_zipfile(path):
        return whole
    try:
        with zipfile.ZipFile(path) as archive:
            names = [name for name in archive.namelist() if name != WHEN_SAVED]
            return tuple((name, hashlib.sha256(archive.read(name)).hexdigest()) for name in names)
    except (OSError, ValueError, zipfile.BadZipFile):
        return whole
