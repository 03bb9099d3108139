"""Habits of one platform are kept out of the sources: dates, encodings, processes, paths.

Only Linux runs these tests; what other systems lack is held by reading the sources here, and by
mypy's knowledge of them below (marked long).
"""

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest

from capacity.child_process import NEW_PROCESS_GROUP, out_of_reach

ROOT = Path(__file__).parents[1]
PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
TOLD, TOOLS = PYPROJECT["project"], PYPROJECT["tool"]
SHIPPED = [path for folder in ("capacity", "ui") for path in sorted((ROOT / folder).rglob("*.py"))]
OURS = [
    *SHIPPED,
    *(
        path
        for folder in ("tests", "sample_inputs")
        for path in sorted((ROOT / folder).rglob("*.py"))
    ),
]
VERSIONS = [(3, minor) for minor in range(11, 15)]
OTHERS = [("win32", "3.12"), ("darwin", "3.13"), ("linux", "3.14")]
"""Each system and each Python once, beside this system with the oldest in every run."""

# Python's documentation of strftime: what these letters come to is up to the system or its
# language, and no flag between per cent and letter is known everywhere.
UP_TO_THE_SYSTEM = frozenset("cxXpDeFgGhklnPrRstTuvVE")
LINUX_ALONE = {"/proc/self/autogroup"}
"""Files that are only looked for on Linux, and not missed where they are not."""

ROOTED = re.compile(r"(/(tmp|dev|proc|var|etc|usr|home)\b|~/|[A-Z]:\\)")
STARTS = {"Popen", "run", "call", "check_call", "check_output"}
PROCESSES = {"fork", "forkpty", "spawnv", "system", "popen", "multiprocessing"}


@cache
def nodes_of(path: Path) -> tuple[ast.AST, ...]:
    return tuple(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))


def calls(path: Path) -> Iterator[tuple[str, ast.Call]]:
    """Yield every call with the last part of its name."""
    for node in nodes_of(path):
        if isinstance(node, ast.Call):
            name = node.func
            yield (name.id if isinstance(name, ast.Name) else getattr(name, "attr", "")), node


def formats(nodes: Iterable[ast.AST]) -> Iterator[str]:
    """Yield what dates are written by: formats of ``strftime``, and those after a colon."""
    for node in nodes:
        if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "strftime":
            yield from (a.value for a in node.args if isinstance(a, ast.Constant))
        elif isinstance(node, ast.FormattedValue) and isinstance(node.format_spec, ast.JoinedStr):
            parts = node.format_spec.values
            spec = "".join(str(p.value) for p in parts if isinstance(p, ast.Constant))
            if re.search("%.", spec):
                yield spec


def directives(text: str) -> list[str]:
    found = re.findall(r"%([-#_^0+]?)([a-zA-Z])", text)
    return [flag + letter for flag, letter in found if flag or letter in UP_TO_THE_SYSTEM]


def test_dates_are_written_alike_on_every_system():
    wrong = {path: found for path in OURS if (found := wrong_dates(nodes_of(path)))}
    assert wrong == {}


def wrong_dates(nodes: Iterable[ast.AST]) -> list[str]:
    return [one for text in formats(nodes) for one in directives(text)]


@pytest.mark.parametrize("source", ["day.strftime('%-d %b')", "f'{day:%a %#d}'", "f'{day:%x}'"])
def test_a_date_that_is_not_is_seen(source):
    assert wrong_dates(ast.walk(ast.parse(source)))


def is_text_without_encoding(name: str, call: ast.Call) -> bool:
    given = {keyword.arg for keyword in call.keywords}
    if name in ("read_text", "write_text"):
        return "encoding" not in given
    of = call.func.value if isinstance(call.func, ast.Attribute) else None
    is_open = name == "fdopen" or (name == "open" and is_of_files(of, call))
    modes = [
        value.value
        for value in (*call.args, *(k.value for k in call.keywords if k.arg == "mode"))
        if isinstance(value, ast.Constant) and isinstance(value.value, str)
    ]
    is_binary = any("b" in mode and set(mode) <= set("rwxab+") for mode in modes)
    return is_open and not is_binary and "encoding" not in given


def is_of_files(of: ast.expr | None, call: ast.Call) -> bool:
    """Return whether ``open`` is that of files, and not of a desk, an archive or a descriptor."""
    if of is None:
        return True
    words = ast.unparse(of)
    is_a_desk = words.startswith(("desk", "desk_of(")) or words.endswith("desk(None)")
    return words not in ("os", "BOARD") and not is_a_desk and not words.endswith("archive")


def test_every_text_file_has_its_encoding_named():
    wrong = [
        f"{path.relative_to(ROOT)}:{call.lineno}"
        for path in OURS
        for name, call in calls(path)
        if is_text_without_encoding(name, call)
    ]
    assert wrong == []


@pytest.mark.parametrize("source", ["path.read_text()", "open('a')", "path.open('w')"])
def test_a_text_file_without_one_is_seen(source):
    call = ast.parse(source).body[0].value
    name = call.func.id if isinstance(call.func, ast.Name) else call.func.attr
    assert is_text_without_encoding(name, call)


POOL = ROOT / "capacity" / "scenarios" / "running.py"
"""Where scenarios have processes of their own, which are spawned on every system."""


def test_the_pool_of_scenarios_spawns_its_processes():
    asked = [ast.unparse(call) for name, call in calls(POOL) if name == "get_context"]
    assert asked == ["multiprocessing.get_context('spawn')"]
    (pool,) = (call for name, call in calls(POOL) if name == "ProcessPoolExecutor")
    assert "mp_context" in {keyword.arg for keyword in pool.keywords}


def test_children_are_started_by_one_command_and_nothing_forks():
    """A fork copies threads' locks and solvers' memory as they are, and Windows has none."""
    wrong = []
    for path in SHIPPED:
        for node in nodes_of(path):
            if path != POOL and isinstance(node, ast.Import | ast.ImportFrom):
                names = {alias.name for alias in node.names} | {getattr(node, "module", None)}
                if "multiprocessing" in names or "ProcessPoolExecutor" in names:
                    wrong.append(f"{path.name}:{node.lineno}")
        for name, call in calls(path):
            if name not in STARTS | PROCESSES:
                continue
            of = ast.unparse(call.func)
            first = ast.unparse(call.args[0]) if call.args else ""
            is_ours = first.startswith(("python_command(", "command("))
            if of in {f"os.{word}" for word in PROCESSES}:
                wrong.append(f"{path.name}:{call.lineno}: {of}")
            if of.startswith("subprocess.") and not is_ours:
                wrong.append(f"{path.name}:{call.lineno}: {of}({first})")
    assert wrong == []


def test_paths_are_no_texts_with_slashes():
    """Paths are put together by ``Path``; none begins at a root that only some systems have."""
    wrong = []
    for path in SHIPPED:
        for node in nodes_of(path):
            name = node.attr if isinstance(node, ast.Attribute) else ""
            if name in ("sep", "join") and ast.unparse(node) in ("os.sep", "os.path.join"):
                wrong.append(f"{path.name}:{node.lineno}")
            text = node.value if isinstance(node, ast.Constant) else None
            if isinstance(text, str) and ROOTED.match(text) and text not in LINUX_ALONE:
                wrong.append(f"{path.name}:{node.lineno}: {text}")
    assert wrong == []


def test_ctrl_c_reaches_the_waiting_process_alone():
    assert out_of_reach("linux") == out_of_reach("darwin") == {"start_new_session": True}
    assert out_of_reach("win32") == {"creationflags": NEW_PROCESS_GROUP}
    # Where it is known: on Windows itself.
    assert getattr(subprocess, "CREATE_NEW_PROCESS_GROUP", NEW_PROCESS_GROUP) == NEW_PROCESS_GROUP


def test_the_oldest_python_reads_every_source():
    for path in OURS:
        ast.parse(path.read_text(encoding="utf-8"), str(path), feature_version=VERSIONS[0])


def test_the_package_states_the_pythons_that_it_is_for():
    assert TOLD["requires-python"] == ">=3.11"
    stated = {f"Programming Language :: Python :: {major}.{minor}" for major, minor in VERSIONS}
    assert stated <= set(TOLD["classifiers"])


@pytest.mark.long
@pytest.mark.parametrize(("system", "version"), OTHERS)
def test_types_hold_on_every_system_and_in_every_python(system, version):
    """Mypy knows which names of the standard library each system and each Python lacks."""
    asked = ["--platform", system, "--python-version", version]
    mypy = [sys.executable, "-m", "mypy", "--strict", *asked, "capacity", "ui"]
    done = subprocess.run(mypy, cwd=ROOT, capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_no_system_and_no_python_is_left_out():
    every_run = TOOLS["mypy"]["python_version"]  # on this system, by tests/test_style.py
    stated = {f"{major}.{minor}" for major, minor in VERSIONS}
    assert {every_run, *(version for _, version in OTHERS)} == stated
    assert {sys.platform, *(system for system, _ in OTHERS)} >= {"linux", "win32", "darwin"}
