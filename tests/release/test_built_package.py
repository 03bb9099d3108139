"""The built package where it is hardest: read-only, no home, foreign files, a legacy code page.

A minute, most of it to install its dependencies anew.
"""

import json
import os
import shutil
import stat
import subprocess
import sys
import tempfile
import venv
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from capacity.samples import NAMES

ROOT = Path(__file__).parents[2]
NOBODY = 65_534
FOREIGN = ("random", "numpy", "capacity", "streamlit", "zipfile", "sitecustomize", "runpy")
RAN = "a foreign file ran"

pytestmark = [
    pytest.mark.long,
    pytest.mark.timeout(1200),
    pytest.mark.skipif(os.name != "posix", reason="folders are made read-only by their modes"),
]


@pytest.fixture(scope="module")
def place() -> Iterator[Path]:
    """A folder that another user may enter, unlike those that pytest makes."""
    folder = Path(tempfile.mkdtemp(prefix="release-"))
    folder.chmod(0o755)
    yield folder
    _set_modes(folder, 0o700)
    shutil.rmtree(folder)


@pytest.fixture(scope="module")
def wheel(place) -> Path:
    """The package, built from what is in the checkout."""
    source = place / "source"
    kept = shutil.ignore_patterns(".*", "__pycache__", "tests", "dist", "build")
    shutil.copytree(ROOT, source, ignore=kept)
    shutil.copytree(ROOT / "ui", source / "ui", dirs_exist_ok=True)  # with its .streamlit
    built = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(place)]
    subprocess.run([*built, str(source)], check=True)
    (path,) = place.glob("hangar_capacity-*.whl")
    return path


@pytest.fixture(scope="module")
def command(place, wheel) -> Path:
    """The command of a fresh environment into which nobody may write."""
    environment = place / "environment"
    venv.create(environment, with_pip=True)
    pip = [str(environment / "bin" / "python"), "-m", "pip", "install", "-q", "--no-compile"]
    subprocess.run([*pip, "-c", str(ROOT / "constraints.txt"), str(wheel)], check=True)
    _set_modes(environment, ~0o222)
    return environment / "bin" / "capacity"


def _set_modes(folder: Path, mode: int) -> None:
    """Give rights to all below a folder, or take them where the mode is negative."""
    for path in [folder, *folder.rglob("*")]:
        if not path.is_symlink():
            now = stat.S_IMODE(path.stat().st_mode)
            path.chmod(now & mode if mode < 0 else now | mode)


def _is_open_to_nobody(command: Path) -> bool:
    """Return whether this user may become nobody, and nobody may start this Python."""
    if os.getuid() != 0:
        return False
    python = [str(command.with_name("python")), "-c", ""]
    try:
        return subprocess.run(python, user=NOBODY, group=NOBODY, check=False).returncode == 0
    except PermissionError:
        return False


def run(command: Path, folder: Path, *arguments: str) -> subprocess.CompletedProcess[bytes]:
    """Run the command in a folder, as nobody where that can be, without a home."""
    as_nobody = _is_open_to_nobody(command)
    if as_nobody:
        os.chown(folder, NOBODY, NOBODY)
    environment = {
        "PATH": os.defpath,
        "LC_ALL": "C",
        "PYTHONUTF8": "0",
        "PYTHONCOERCECLOCALE": "0",
        "PYTHONIOENCODING": "cp1252",
        "TMPDIR": str(folder),
    }
    return subprocess.run(
        [str(command), *arguments],
        cwd=folder,
        env=environment,
        user=NOBODY if as_nobody else None,
        group=NOBODY if as_nobody else None,
        extra_groups=[] if as_nobody else None,
        capture_output=True,
        check=False,
    )


@pytest.fixture
def strangers(place) -> Path:
    """A folder with a workbook, and with files beside it that would say that they ran."""
    folder = Path(tempfile.mkdtemp(dir=place))
    shutil.copy(ROOT / "sample_inputs" / "tiny.xlsx", folder / "tiny \u0141.xlsx")
    for name in FOREIGN:
        (folder / f"{name}.py").write_text(f"open({RAN!r}, 'w')\n", encoding="utf-8")
    return folder


def test_the_pages_of_the_dashboard_are_in_the_package(wheel):
    with zipfile.ZipFile(wheel) as archive:
        names = set(archive.namelist())
    pages = [path.relative_to(ROOT) for path in (ROOT / "ui").rglob("*.py")]
    assert {f"capacity/{page.as_posix()}" for page in pages} <= names
    assert "capacity/ui/.streamlit/config.toml" in names
    board = ("board.js", "carrier.js", "board.css")
    assert {f"capacity/ui/board/{name}" for name in board} <= names
    assert not [name for name in names if "test" in name]


def test_the_built_package_plans_where_nothing_can_be_written_and_files_lie_about(
    command, strangers
):
    outputs = ("--out", "plan \u0141.xlsx", "--plan-out", "plan.json", "--seconds", "60")
    done = run(command, strangers, "plan", "tiny \u0141.xlsx", *outputs)
    told = done.stdout.decode("cp1252") + done.stderr.decode("cp1252")
    assert done.returncode == 0, told
    assert "Traceback" not in told
    assert "\\udcc5\\udc81" in told  # the name's bytes, which this locale does not understand
    summary = json.loads((strangers / "plan.json").read_text(encoding="utf-8"))
    assert summary["goals"]["money"] == 3_700.0  # WORKBOOK.md, the tiny example
    with zipfile.ZipFile(strangers / "plan \u0141.xlsx") as archive:
        assert archive.testzip() is None
    asked = {"plan \u0141.xlsx", "plan.json", "tiny \u0141.xlsx"}
    assert {path.name for path in strangers.iterdir()} == asked | {f"{n}.py" for n in FOREIGN}


def test_the_built_package_writes_its_samples_and_plans_one_of_them(command, place):
    folder = Path(tempfile.mkdtemp(dir=place))
    done = run(command, folder, "samples", "first steps")
    assert done.returncode == 0, done.stderr
    samples = {path.name: path for path in (folder / "first steps").iterdir()}
    assert samples.keys() == {*NAMES}
    for name, path in samples.items():
        assert path.read_bytes() == (ROOT / "sample_inputs" / name).read_bytes()
    assert run(command, folder, "samples", "first steps").returncode == 73
    book = str(Path("first steps") / "tiny.xlsx")
    done = run(command, folder, "plan", book, "--plan-out", "plan.json", "--seconds", "60")
    assert done.returncode == 0, done.stderr


OPEN_A_SAMPLE = """
import sys
from pathlib import Path
import capacity
pages = Path(capacity.__file__).parent / "ui"
sys.path[:0] = [str(pages), str(pages.parent)]
from streamlit.testing.v1 import AppTest
app = AppTest.from_file(str(pages / "app.py"), default_timeout=120).run()
(choice,) = [box for box in app.selectbox if box.key == "sample"]
print(list(choice.options))
choice.set_value("tiny.xlsx").run()
(button,) = [one for one in app.button if one.label == "Open the sample"]
button.click().run()
assert not app.exception, app.exception
assert any("It can be planned: 4 checks" in one.value for one in app.text)
"""


def test_the_installed_dashboard_opens_a_sample(command, place):
    folder = Path(tempfile.mkdtemp(dir=place))
    done = run(command.with_name("python"), folder, "-c", OPEN_A_SAMPLE)
    assert done.returncode == 0, done.stderr
    assert b"['quarter.xlsx', 'tiny.xlsx', 'broken.xlsx']" in done.stdout


def test_the_built_package_has_its_dashboard(command, strangers):
    done = run(command, strangers, "dashboard", "--help")
    assert done.returncode == 0, done.stderr
    assert not (strangers / RAN).exists()


def test_the_files_would_tell_that_they_ran(command, strangers):
    """Else the tests above could not fail: ``python -m`` looks in the working folder first."""
    python = command.with_name("python")
    run(python, strangers, "-m", "capacity", "--help")
    assert (strangers / RAN).exists()
