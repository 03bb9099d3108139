"""Texts of the input that would be formulas stay texts, also through CSV.

The characters, the apostrophe in front and that it is wanted in workbooks as well as in CSV:
OWASP ASVS 5.0, requirement 1.2.10 (read in a copy). Carriage return, line feed and the
full-width forms: from memory of the OWASP page on CSV injection.
"""

import io
import re
import zipfile
from dataclasses import replace

import openpyxl
import pytest

from capacity.facts import Base
from capacity.messages import Level, Message
from capacity.plans.outcome import Planned
from capacity.reports.kit.cell_text import LONGEST_CELL, inert
from capacity.reports.plan.workbook import plan_workbook

EVIL = '=HYPERLINK("http://x")'
STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\0", "\uff1d", "\uff0b", "\uff0d", "\uff20")


@pytest.mark.parametrize("start", STARTS)
def test_a_risky_start_gets_an_apostrophe(start: str) -> None:
    assert inert(f"{start}1+1") == f"'{start}1+1"


@pytest.mark.parametrize("start", ["=", "+", "-", "@"])
def test_blanks_in_front_do_not_hide_a_risky_start(start: str) -> None:
    assert inert(f"  {start}1+1") == f"'  {start}1+1"


@pytest.mark.parametrize("text", ["V001", "1+1", "a=b", "'quoted", "", "ZZ-AB1", "Łódź 3-4"])
def test_other_texts_stay_as_they_are(text: str) -> None:
    assert inert(text) == text


def test_a_text_too_long_for_a_cell_is_cut_visibly() -> None:
    assert len(inert("x" * 40_000)) == LONGEST_CELL
    assert inert("x" * 40_000).endswith("…")


def test_half_a_character_does_not_stop_the_writing() -> None:
    assert inert("a\ud800b") == "a?b"


@pytest.fixture(scope="module")
def hostile(base: Base, planned: Planned) -> bytes:
    """The plan with a formula for every name, as the bytes of a workbook."""
    old = "V010"
    evil_skills = {base.skills[0].name: "=Sheet!A1", base.skills[1].name: "Sheet!A1"}
    checks = tuple(
        replace(c, name=EVIL, aircraft=EVIL, customer="@SUM(A1)") if c.name == old else c
        for c in base.checks
    )
    bays = tuple(replace(b, hangar="+" + b.hangar) for b in base.bays)
    evil_base = base.replace(
        name=EVIL,
        currency="=1+1",
        checks=checks,
        bays=bays,
        skills=tuple(replace(s, name=evil_skills.get(s.name, s.name)) for s in base.skills),
        closures=tuple(replace(c, reason="-1") for c in base.closures),
    )
    plan = replace(
        planned.plan,
        placements=tuple(
            replace(p, check=EVIL) if p.check == old else p for p in planned.plan.placements
        ),
    )
    audit = replace(
        planned.audit,
        accounts=tuple(
            replace(a, check=EVIL) if a.check == old else a for a in planned.audit.accounts
        ),
        weeks=tuple(
            replace(w, skill=evil_skills.get(w.skill, w.skill)) for w in planned.audit.weeks
        ),
    )
    outcome = replace(planned, plan=plan, audit=audit, versions={"=x": "{=SUM(A1)}"})
    messages = (Message(Level.NOTE, "@A1", "=cmd", "http://x"),)
    return plan_workbook(evil_base, outcome, messages)


def test_no_part_of_the_workbook_holds_a_formula_or_a_link(hostile: bytes) -> None:
    with zipfile.ZipFile(io.BytesIO(hostile)) as parts:
        for name in parts.namelist():
            text = parts.read(name).decode("utf-8")
            if name.startswith("xl/worksheets/"):
                assert "<f>" not in text
                assert "<f " not in text
                assert "hyperlink" not in text
            if name.startswith("xl/charts/"):
                references = re.findall(r"<c:f>(.*?)</c:f>", text)
                assert references
                assert all(reference.startswith("'Man-hours'!") for reference in references)


def test_the_name_is_a_plain_text_wherever_it_stands(hostile: bytes) -> None:
    book = openpyxl.load_workbook(io.BytesIO(hostile))
    found = set()
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if isinstance(cell.value, str):
                    assert cell.data_type == "s"
                    assert cell.hyperlink is None
                    assert not cell.value.startswith(("=", "+", "-", "@"))
                    if cell.value.startswith("'" + EVIL):
                        found.add(sheet.title)
    assert {"Slots", "Stages", "Bay occupancy", "Settings"} <= found
