"""The packages that this one needs, with their licences, as a table for DEVELOPERS.md.

    pip download --require-hashes -d FOLDER -r constraints-hashes.txt
    python -m tests.release.bill_of_materials FOLDER

What is told comes from each package's own metadata, in the files that were downloaded; those for
other systems, which are not there, are told in ``ELSEWHERE``.
"""

import re
import sys
import tomllib
import zipfile
from collections.abc import Iterable, Mapping
from email.message import Message
from email.parser import Parser
from pathlib import Path

ROOT = Path(__file__).parents[2]
CONSTRAINTS = ROOT / "constraints.txt"
DEVELOPERS = ROOT / "DEVELOPERS.md"
BEGIN, END = "<!-- licences:begin -->\n", "<!-- licences:end -->\n"
UNCLEAR = "not stated"
LONGEST_LICENCE = 120  # longer ones are the text itself

PURPOSES = {
    "alembic": "plan store: from one form to the next",
    "authlib": "sign-in to the dashboard (an extra; tests)",
    "altair": "charts of the dashboard",
    "click": "the command line",
    "distributed": "scenarios on a cluster (an extra; tests)",
    "editables": "builds the package",
    "hatchling": "builds the package",
    "highspy": "linear and integer programs: the proving side",
    "holidays": "days off by country",
    "httpx": "sign-in to the dashboard (an extra; tests)",
    "hypothesis": "tests: random examples",
    "icalendar": "calendar feeds",
    "jsonschema": "tests: the plan file's form",
    "mypy": "tests: types",
    "numba": "compiles the rounds of the search",
    "numpy": "arrays",
    "openpyxl": "reads workbooks",
    "ortools": "CP-SAT: neighbourhoods, crew plans",
    "pandas": "data frames of answers, tables of the dashboard",
    "pandas-stubs": "tests: types",
    "playwright": "tests: a browser",
    "psycopg": "plan store in PostgreSQL (an extra; tests)",
    "pydantic": "checks rows of the workbook",
    "pytest": "tests",
    "pytest-timeout": "tests",
    "pytest-xdist": "tests: several at a time",
    "rich": "the progress line",
    "ruff": "tests: formatting and lint",
    "scipy": "sharing of hours, statistics",
    "scipy-stubs": "tests: types",
    "sqlalchemy": "plan store",
    "streamlit": "the dashboard",
    "types-openpyxl": "tests: types",
    "xlsxwriter": "writes workbooks",
}
"""What each direct dependency is for."""

ELSEWHERE = {"colorama": ("BSD-3-Clause", "for click, on Windows")}
"""Licence, as its project states it, and purpose of what is installed on other systems only."""


def name_of(requirement: str) -> str:
    """Return the normal name in a requirement."""
    found = re.match(r"[\w.-]+", requirement)
    assert found
    return re.sub(r"[-_.]+", "-", found[0]).lower()


def pins(path: Path = CONSTRAINTS) -> dict[str, str]:
    """Return the pinned versions by name."""
    text = path.read_text(encoding="utf-8")
    found = re.findall(r"^([\w.-]+)==([^\s;\\]+)", text, re.MULTILINE)
    return {name_of(name): version for name, version in found}


def direct() -> set[str]:
    """Return the names of what the project itself asks for, tests and build included."""
    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    project = told["project"]
    asked = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    return {name_of(one) for one in [*asked, *told["dependency-groups"]["build"]]}


def licence_of(metadata: Message) -> str:
    """Return what a package says of its licence: an expression, a name, or its classifiers."""
    for told in (metadata.get("License-Expression"), metadata.get("License")):
        if told and "\n" not in told.strip() and len(told) <= LONGEST_LICENCE:
            return told.strip()
    classifiers = [
        one.rpartition(" :: ")[2]
        for one in metadata.get_all("Classifier", [])
        if one.startswith("License ::")
    ]
    return ", ".join(classifiers) or UNCLEAR


def needed_by(packages: Mapping[str, Message]) -> dict[str, set[str]]:
    """Return who asks for each package, extras left out."""
    found: dict[str, set[str]] = {}
    for name, metadata in packages.items():
        for requirement in metadata.get_all("Requires-Dist", []):
            if "extra ==" not in requirement:
                found.setdefault(name_of(requirement), set()).add(name)
    return found


def metadata_in(folder: Path) -> dict[str, Message]:
    """Return the metadata of all wheels in a folder by name."""
    found = {}
    for path in folder.glob("*.whl"):
        with zipfile.ZipFile(path) as archive:
            name = next(
                name
                for name in archive.namelist()
                if re.fullmatch(r"[^/]+\.dist-info/METADATA", name)
            )
            metadata = Parser().parsestr(archive.read(name).decode("utf-8"))
        found[name_of(metadata["Name"])] = metadata
    return found


def table(packages: Mapping[str, Message]) -> list[str]:
    """Return the lines of the table, a pinned package each."""
    asking = needed_by(packages)
    lines = ["| package | version | licence | what for |", "|---|---|---|---|"]
    for name, version in sorted(pins().items()):
        if name in packages:
            licence = licence_of(packages[name])
            by = ", ".join(sorted(asking.get(name, set())))
            purpose = PURPOSES.get(name) or f"for {by or 'an extra of another package'}"
        else:
            licence, purpose = ELSEWHERE[name]
        lines.append(f"| {name} | {version} | {licence} | {purpose} |")
    return lines


def written_rows() -> list[list[str]]:
    """Return the cells of the table in DEVELOPERS.md, without its heading."""
    text = DEVELOPERS.read_text(encoding="utf-8")
    lines = text.partition(BEGIN)[2].partition(END)[0].splitlines()
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


def write(lines: Iterable[str]) -> None:
    """Put the table into DEVELOPERS.md."""
    before, begin, rest = DEVELOPERS.read_text(encoding="utf-8").partition(BEGIN)
    assert begin
    after = rest.partition(END)[2]
    text = before + BEGIN + "\n".join(lines) + "\n" + END + after
    DEVELOPERS.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write(table(metadata_in(Path(sys.argv[1]))))
