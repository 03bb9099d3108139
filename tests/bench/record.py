"""The file of measured lines: one JSON object a line, added to as soon as it is measured."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

from tests.bench.result import Found, Line


def as_text(line: Line) -> str:
    """Return a line as it stands in the file."""
    return json.dumps(asdict(line))


def add_line(line: Line, file: Path) -> None:
    """Append a line, after what a run that was interrupted may have left half written."""
    text = as_text(line) + "\n"
    with file.open("a+b") as record:
        if record.tell():
            record.seek(-1, 2)
            if record.read(1) != b"\n":
                text = "\n" + text
        record.write(text.encode())


def read_lines(file: Path) -> list[Line]:
    """Return the last line of each work, seed and limit; none when there is no file.

    Half a line is left out: the run that wrote it was interrupted. A failed line gives way
    to any later one.
    """
    if not file.exists():
        return []
    return list({(x.work, x.seed, x.seconds): x for x in _whole_lines(file)}.values())


def _whole_lines(file: Path) -> Iterator[Line]:
    for text in file.read_text(encoding="utf-8").splitlines():
        try:
            fields = json.loads(text)
        except json.JSONDecodeError:
            continue
        found = fields.pop("found")
        yield Line(**fields, found=Found(**found) if found else None)
