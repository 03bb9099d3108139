"""One word for one thing on every surface: help, answers, workbooks, feeds, documents, code."""

import ast
import io
import re
import shutil
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import click
import icalendar
import openpyxl
import pytest

import capacity
import ui
from capacity.cli import QUESTIONS, app, main
from capacity.reports.kit.sheet import FOOT_CAUTION
from capacity.words.marks import SQUARE, TRIANGLE, late
from tests.inputs.books import write_workbook
from tests.read_once import read_each_file_once
from tests.ruled_out_words import faults_in
from tests.troubled_workbook import write_troubled

ROOT = Path(capacity.__file__).parent.parent
SAMPLES = ROOT / "sample_inputs"
SHORT = ("--seconds", "1")

NOT_READ = re.compile(r"\b(SELECT|self\.|%Y|datum\.|scale\()|[{}]\s*[;:]|^[\w./-]+$")
"""Literals that no person reads: expressions of charts, styles, names."""

EXCUSED = {
    "placements, #": "where a message is: the key of the plan file",
    "early days": "a key of the figures that two plans are compared by",
    "no place is taken away by a #": "an assertion of the program",
}
"""Literals that keep a ruled-out word, and why."""

NOT_TO_READ = {
    "capacity/slots": "names of rows and reasons that only a log or an exception shows",
    "capacity/crews/model": "names of rows of the model",
    "capacity/questions/frames": "columns of tables for programs",
    "capacity/reports/plan_files": "keys of the plan file, which keep their names",
}
"""Folders whose literals are for programs, and why."""


def texts_of_workbook(content: bytes) -> Iterator[str]:
    """Yield sheet names, cells, comments, headers, footers and the words of charts."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    for sheet in book.worksheets:
        yield sheet.title
        for part in (sheet.oddHeader, sheet.oddFooter):
            yield from (str(side.text) for side in (part.left, part.center, part.right) if side)
        for row in sheet.iter_rows():
            for cell in row:
                if isinstance(cell.value, str):
                    yield cell.value
                if cell.comment is not None:
                    yield cell.comment.text
    with zipfile.ZipFile(io.BytesIO(content)) as parts:
        for name in parts.namelist():
            if name.startswith("xl/charts/"):
                xml = parts.read(name).decode()
                yield from re.findall(r"<(?:a:t|c:v)>([^<]*)<", xml)


def footers_of(content: bytes) -> Iterator[tuple[str, str]]:
    """Yield every sheet with what is printed at its foot."""
    for sheet in openpyxl.load_workbook(io.BytesIO(content)).worksheets:
        foot = sheet.oddFooter
        yield sheet.title, " ".join(str(s.text) for s in (foot.left, foot.center, foot.right))


def literals(source: Path) -> Iterator[str]:
    """Yield the string literals of a file that hold a blank and are no docstrings."""
    tree = ast.parse(source.read_text(encoding="utf-8"))
    skipped: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr):
            skipped.add(id(node.value))
        if isinstance(node, ast.JoinedStr):
            skipped |= {id(part) for part in node.values}
            text = "".join(
                part.value if isinstance(part, ast.Constant) else "#" for part in node.values
            )
            if id(node) not in skipped and " " in text:
                yield text
        if (
            isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and id(node) not in skipped
            and " " in node.value
        ):
            yield node.value


def write_scenarios(path: Path) -> Path:
    """One scenario, in a workbook to ask with: it has no footer."""
    headings = ["Scenario", "Sheet", "Row", "Column", "Change", "Value"]
    row = ["more people", "Crews", "every row", "Heads", "add", 1]
    return write_workbook({"Scenarios": [headings, row]}, path)


def write_network(path: Path) -> Path:
    """Two bases with the same facts, asked about two aircraft, of which one pays too little."""
    shutil.copyfile(SAMPLES / "tiny.xlsx", path.parent / "other.xlsx")
    enquiries = [
        ["Check", "Aircraft", "Type", "Package", "Earliest in", "Latest in", "Price"],
        ["E1", "Q-E1", "Alder 50", "Week check", date(2027, 1, 11), date(2027, 1, 20), 9000],
        ["E2", "Q-E2", "Linden 180", "Week check", date(2027, 1, 4), date(2027, 1, 12), 100],
    ]
    ferries = [["E1", "West", 300], ["E1", "East", 20], ["E2", "West", 10]]
    return write_workbook(
        {
            "Bases": [
                ["Base", "Workbook"],
                ["West", str(SAMPLES / "tiny.xlsx")],
                ["East", "other.xlsx"],
            ],
            "Enquiries": enquiries,
            "Ferry costs": [["Check", "Base", "Ferry cost"], *ferries],
        },
        path,
    )


@dataclass(frozen=True, slots=True)
class Answers:
    """What each command printed, and the folder with what they wrote."""

    printed: dict[str, str]
    folder: Path

    def workbooks(self) -> dict[str, bytes]:
        return {path.name: path.read_bytes() for path in sorted(self.folder.glob("*.xlsx"))}

    def feeds(self) -> list[Path]:
        return sorted(self.folder.rglob("*.ics"))


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> "Answers":
    """Every command asked once about the tiny sample: what it printed and wrote."""
    folder = tmp_path_factory.mktemp("answers")
    (folder / "feeds").mkdir()
    (folder / "rolled").mkdir()
    (folder / "asked").mkdir()
    tiny, plan, again = str(SAMPLES / "tiny.xlsx"), folder / "plan.json", folder / "again.json"
    asked = ("--plan", str(plan), *SHORT)
    kept = ("--store", str(folder / "plans.sqlite"))
    commands = {
        "verify": (tiny,),
        "new": ("new.xlsx", "--bays", "2", "--skills", "2"),
        "plan": (tiny, *SHORT, "--out", "plan.xlsx", "--plan-out", str(plan)),
        "plan again": (tiny, *SHORT, "--calendar", "bays.ics", "--plan-out", str(again)),
        "crews": (tiny, *asked, "--weeks", "2", "--out", "crews.xlsx", "--calendars", "feeds"),
        "overtime": (tiny, *asked, "--out", "overtime.xlsx"),
        "enquiry": (
            *(tiny, *asked, *ENQUIRY, "--out", "enquiry.xlsx", "--book", "anyway"),
            *("--booked-out", "booked.xlsx", "--calendar", "booked.ics"),
        ),
        "replan": (
            *(tiny, *asked, "--today", "2027-01-04", "--freeze-days", "7"),
            *("--out", "replan.xlsx", "--calendar", "replan.ics"),
            *("--aircraft-on-ground", "Alder 50; 2 days; Mechanic 30; latest in 2027-01-20"),
        ),
        "compare": (tiny, "--plan", str(plan), "--plan", str(again), "--out", "compare.xlsx"),
        "risk": (
            tiny,
            *asked,
            "--simulations",
            "100",
            "--what-if",
            "buffers",
            "--out",
            "risk.xlsx",
        ),
        "explain": (tiny, *asked, "--worth", "--out", "why.xlsx"),
        "explain moves": (
            *(tiny, "--plan", str(plan), "--move", "T3; off"),
            *("--move", "T3; Large bay; 2027-01-08"),
        ),
        "roll": (
            *(tiny, "--plan", str(plan), "--first-day", "2027-01-11"),
            *("--out", "rolled/next.xlsx"),  # a workbook to type in, with no footer
        ),
        "learn": (str(SAMPLES / "quarter.xlsx"), "--out", "learnt.xlsx"),
        "scenarios": (
            *(tiny, str(write_scenarios(folder / "asked" / "scenarios.xlsx"))),
            *("--plan", str(plan), *SHORT, "--workers", "1", "--out", "scenarios.xlsx"),
        ),
        "network": (
            *(str(write_network(folder / "asked" / "network.xlsx")), *SHORT),
            *("--out", "network.xlsx", "--plans-out", str(folder / "rolled")),
        ),
        "store": ("save", tiny, "--plan", str(plan), *kept, "--comment", "for Monday"),
        "store agree": ("agree", "1", *kept),
        "store history": ("history", *kept),
        "store show": ("show", "1", *kept),
        "store compare": ("compare", "1", "1", *kept),
        "store comment": ("comment", "1", "the customer agrees", *kept),
        "store people": ("people", *kept),
        "store take": ("take", "1", str(folder / "rolled"), *kept),
        "store copy-out": ("copy-out", str(folder / "copied"), *kept),
        "store upgrade": ("upgrade", *kept),
    }
    return asked_about(folder, commands)


@pytest.fixture(scope="module")
def troubled(tmp_path_factory: pytest.TempPathFactory) -> "Answers":
    """What is said and written of a plan with every mark."""
    folder = tmp_path_factory.mktemp("troubled")
    base, plan = str(write_troubled(folder / "troubled_base.xlsx")), str(folder / "plan.json")
    asked = (base, "--plan", plan, *SHORT)
    commands = {
        "verify": (base,),
        "plan": (base, *SHORT, "--out", "plan.xlsx", "--plan-out", plan),
        "overtime": (*asked, "--out", "overtime.xlsx"),
        "replan": (*asked, "--today", "2027-01-04", "--out", "replan.xlsx"),
        "explain": (*asked, "--out", "why.xlsx"),
    }
    return asked_about(folder, commands)


def asked_about(folder: Path, commands: Mapping[str, Sequence[str]]) -> "Answers":
    with pytest.MonkeyPatch.context() as patch:
        read_each_file_once(patch)
        return Answers(
            {name: printed(folder, name, line) for name, line in commands.items()}, folder
        )


def printed(folder: Path, name: str, arguments: Sequence[str]) -> str:
    """Run a command that writes into the folder, and return what it printed."""
    placed = [
        str(folder / one) if one.endswith((".xlsx", ".ics")) or one == "feeds" else one
        for one in arguments
    ]
    heard = io.StringIO()
    with redirect_stdout(heard), redirect_stderr(heard), pytest.raises(SystemExit) as end:
        main([name.split()[0], *placed])
    assert end.value.code in (0, None), f"{name}: {heard.getvalue()}"
    return heard.getvalue()


ENQUIRY = (
    "--type", "Alder 50", "--package", "Week check", "--earliest", "2027-01-04",
    "--latest", "2027-01-20", "--price", "5000",
)  # fmt: skip


@pytest.mark.parametrize("name", QUESTIONS)
def test_the_help_of_every_command(name: str):
    command = app.get_command(click.Context(app), name)
    assert command is not None
    help_text = command.get_help(click.Context(command, info_name=f"capacity {name}"))
    assert len(help_text) > 100
    assert faults_in([help_text]) == []


def test_every_command_is_asked(answers: Answers):
    """But the dashboard, whose pages have their own (tests/ui), and one that copies files."""
    asked = {name.split()[0] for name in answers.printed}
    assert asked == set(QUESTIONS) - {"dashboard", "samples"}


def test_what_every_command_prints(answers: Answers):
    assert all(answers.printed.values())
    assert faults_in(answers.printed.values()) == []


def test_every_sheet_of_every_workbook(answers: Answers):
    workbooks = answers.workbooks()
    assert len(workbooks) == 13
    faults = {name: faults_in(texts_of_workbook(content)) for name, content in workbooks.items()}
    assert {name: found for name, found in faults.items() if found} == {}


def test_a_plan_with_every_mark(troubled: Answers):
    """The sentences are asserted to be there, so that none is let off for not being said."""
    printed = "\n".join(troubled.printed.values())
    for said in (
        "days past Latest in", "NO SLOT: ", "Options not taken: T4", "late out", "not covered",
        "overload ",
    ):  # fmt: skip
        assert said in printed, said
    workbooks = troubled.workbooks()
    drawn = "\n".join(texts_of_workbook(workbooks["plan.xlsx"]))
    for said in (
        "No slot: ", "not taken", "3P", "third party", f"{SQUARE}", f"{TRIANGLE} ", late(6),
        "closed: door rails", "agreed", "option",
    ):  # fmt: skip
        assert said in drawn, said
    assert faults_in(troubled.printed.values()) == []
    for name, content in workbooks.items():
        assert faults_in(texts_of_workbook(content)) == [], name


def test_every_sheet_that_may_be_printed_alone_has_the_caution_at_its_foot(answers: Answers):
    for name, content in answers.workbooks().items():
        for sheet, foot in footers_of(content):
            assert FOOT_CAUTION in foot, (name, sheet)


def test_every_calendar_feed(answers: Answers):
    feeds = answers.feeds()
    assert len(feeds) > 1
    for path in feeds:
        events = icalendar.Calendar.from_ical(path.read_text(encoding="utf-8")).walk("VEVENT")
        assert events
        texts = (
            str(event.get(part, "")) for event in events for part in ("SUMMARY", "DESCRIPTION")
        )
        assert faults_in(texts) == [], path.name


@pytest.mark.parametrize("path", ["README.md", "sample_inputs/WORKBOOK.md"])
def test_the_documents(path: str):
    """The keys of the plan file, set as code, keep their names: ``money`` is one."""
    text = (ROOT / path).read_text(encoding="utf-8")
    without_keys = re.sub(r"`[^`\n]*\bmoney\b[^`]*`", "", text)
    assert faults_in([without_keys]) == []


@pytest.mark.parametrize("name", ["tiny.xlsx", "quarter.xlsx", "broken.xlsx"])
def test_the_sample_workbooks(name: str):
    assert faults_in(texts_of_workbook((SAMPLES / name).read_bytes())) == []


def test_every_literal_that_a_person_may_read():
    """A walk over the code reaches the sentences that no small base brings out."""
    faults = {}
    for package in (capacity, ui):
        for source in sorted(Path(package.__file__).parent.rglob("*.py")):
            name = source.relative_to(ROOT).as_posix()
            if name.startswith(tuple(NOT_TO_READ)):
                continue
            texts = (
                text
                for text in literals(source)
                if not NOT_READ.search(text) and text not in EXCUSED
            )
            if found := faults_in(texts, with_per_cent=False):
                faults[name] = found
    assert faults == {}


def test_a_ruled_out_word_would_be_found():
    assert faults_in(["3 checks are not placed: no money is left"])
    assert faults_in(["Placements", "a gap of 3%"])
    assert not faults_in(["Findings factor", "a set of working-time rules", "4.1 %", "no slot"])
