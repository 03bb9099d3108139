"""Measure one work on one seed in a process of its own, watching its memory."""

import hashlib
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import IO

from tests.bench.memory import tree_gib
from tests.bench.result import Found, Line

ROOT = Path(__file__).parents[2]
LOOK_EVERY_SECONDS = 0.25
# Time for a child that was interrupted too to end its own children.
LAST_WORDS_SECONDS = 10.0


def measure(work: str, seed: int, seconds: float) -> Line:
    """Return the line of one measurement; one that broke down says why.

    A process of its own, so that neither memory nor a fault of one is left to the next.
    """
    found, failed, peak = watched(
        [sys.executable, "-m", "tests.bench.one_run", work, str(seed), str(seconds)]
    )
    return Line(
        work=work,
        seed=seed,
        seconds=seconds,
        found=found,
        failed=failed,
        peak_gib=peak,
        sources=state_of_sources(),
        cores=os.cpu_count(),
    )


def watched(command: list[str]) -> tuple[Found | None, str, float | None]:
    """Return what a command found and wrote, why it broke down, and its most memory in GiB."""
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as errors:
        child = subprocess.Popen(command, cwd=ROOT, stdout=out, stderr=errors)
        try:
            peak = _watch(child)
        except BaseException:
            _end(child)
            raise
        failed = "" if child.returncode == 0 else _last_line(errors) or f"ended {child.returncode}"
        out.seek(0)
        found = None if failed else Found(**json.loads(out.read()))
    return found, failed, peak


def state_of_sources() -> str:
    """Return a short digest of the package and of what measures it."""
    digest = hashlib.sha256()
    for folder in ("capacity", "tests/bench"):
        for source in sorted((ROOT / folder).rglob("*.py")):
            digest.update(source.read_bytes())
    return digest.hexdigest()[:8]


def _watch(child: "subprocess.Popen[bytes]") -> float | None:
    """Wait for the child to end; return the most memory seen, in GiB."""
    seen = []
    while child.poll() is None:
        seen.append(tree_gib(child.pid))
        try:
            child.wait(timeout=LOOK_EVERY_SECONDS)
        except subprocess.TimeoutExpired:
            continue
    return max((gib for gib in seen if gib is not None), default=None)


def _end(child: "subprocess.Popen[bytes]") -> None:
    try:
        child.wait(timeout=LAST_WORDS_SECONDS)
    except subprocess.TimeoutExpired:
        child.kill()
        child.wait()


def _last_line(errors: IO[bytes]) -> str:
    errors.seek(0)
    lines = errors.read().decode(errors="replace").strip().splitlines()
    return lines[-1] if lines else ""
