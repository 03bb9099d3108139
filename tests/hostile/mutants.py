"""Valid files damaged at random, the same way for the same seed."""

import json
import random
import re
from pathlib import Path
from typing import Any

from tests.hostile.parts import CHECKS, Parts, parts_of, write_parts
from tests.hostile.tables import Tables, valid_tables, write_tables

NASTY = (
    "", " ", "-1", "0", "1", "1e308", "-1e999", "nan", "inf", "9" * 400, "2000000000", "A1",
    "XFD1048576", "ZZZ0", "true", "#REF!", "=1+1", "\u202e", "\ud83d\ude00" * 90, "x" * 40_000,
    "2027-02-30", "9999-12-31", "0001-01-01", "24:60", "None", "-", ",", "D D D D", "%", "\u00a0",
    "../../../etc/passwd", "T1", "Large bay", "T1, T1, T1", "&amp;" * 50,
)  # fmt: skip
ROW = re.compile(rb"<row .*?</row>", re.DOTALL)
ATTRIBUTE = re.compile(rb'(?<=[\w:]=")[^"]*(?=")')
VALUE = re.compile(rb"(?<=<v>)[^<]*(?=</v>)|(?<=<t>)[^<]*(?=</t>)")
NAME = re.compile(rb"(?<=</)\w+|(?<=<)\w+")


def mutant_workbook(seed: str, folder: Path) -> Path:
    """Write a damaged copy of the tiny workbook and return its path."""
    chance = random.Random(seed)
    parts = parts_of()
    for _ in range(chance.choice((1, 1, 2, 5))):
        chance.choice((_bytes_of_a_part, _places_of_a_part, _swap, _drop, _rows))(parts, chance)
    path = write_parts(parts, folder / "mutant.xlsx")
    if chance.random() < 0.25:
        path.write_bytes(bytes_changed(path.read_bytes(), chance))
    return path


def mutant_tables(seed: str, folder: Path) -> Path:
    """Write damaged copies of the tiny sample's tables and return their folder."""
    chance = random.Random(seed)
    tables = valid_tables()
    for _ in range(chance.choice((1, 2, 5))):
        chance.choice((_cell, _lines, _bytes_of_a_table))(tables, chance)
    return write_tables(tables, folder / "mutant")


def mutant_plan_file(seed: str, plan: Path, folder: Path) -> Path:
    """Write a damaged copy of a plan file and return its path."""
    chance = random.Random(seed)
    told = json.loads(plan.read_text(encoding="utf-8"))
    for _ in range(chance.choice((1, 1, 2, 5))):
        _value_of(told, chance)
    content = json.dumps(told).encode()
    if chance.random() < 0.3:
        content = bytes_changed(content, chance)
    path = folder / "mutant.json"
    path.write_bytes(content)
    return path


def bytes_changed(content: bytes, chance: random.Random) -> bytes:
    """Flip some bytes, or cut a piece out, or put one there twice."""
    changed = bytearray(content)
    if not changed:
        return b"\0"
    kind = chance.randrange(3)
    if kind == 0:
        for _ in range(chance.choice((1, 3, 20))):
            changed[chance.randrange(len(changed))] ^= 1 << chance.randrange(8)
        return bytes(changed)
    begin = chance.randrange(len(changed))
    end = min(len(changed), begin + chance.choice((1, 10, 1_000, 100_000)))
    changed[begin:end] = changed[begin:end] * 2 if kind == 1 else b""
    return bytes(changed)


def _any_part(parts: Parts, chance: random.Random) -> str:
    """Return a part's name: often of the checks, else of any."""
    if CHECKS in parts and chance.random() < 0.4:
        return CHECKS
    return chance.choice(sorted(parts))


def _bytes_of_a_part(parts: Parts, chance: random.Random) -> None:
    name = _any_part(parts, chance)
    parts[name] = bytes_changed(parts[name], chance)


def _places_of_a_part(parts: Parts, chance: random.Random) -> None:
    """Put something nasty into an attribute, a value or a name."""
    name = _any_part(parts, chance)
    places = list(chance.choice((ATTRIBUTE, VALUE, VALUE, NAME)).finditer(parts[name]))
    if places:
        begin, end = chance.choice(places).span()
        nasty = chance.choice(NASTY).encode("utf-8", errors="surrogatepass")
        parts[name] = parts[name][:begin] + nasty + parts[name][end:]


def _swap(parts: Parts, chance: random.Random) -> None:
    one, other = chance.sample(sorted(parts), 2)
    parts[one], parts[other] = parts[other], parts[one]


def _drop(parts: Parts, chance: random.Random) -> None:
    if len(parts) > 2:
        del parts[chance.choice(sorted(parts))]


def _rows(parts: Parts, chance: random.Random) -> None:
    """Swap two rows of a sheet, or put one of them there once more."""
    name = _any_part(parts, chance)
    rows = ROW.findall(parts[name])
    if len(rows) > 1:
        one, other = chance.sample(rows, 2)
        new = other + one if chance.random() < 0.5 else one + one
        parts[name] = parts[name].replace(one, new, 1)


def _cell(tables: Tables, chance: random.Random) -> None:
    name = chance.choice(sorted(tables))
    cells = re.split(rb"(,|\r\n)", tables[name])
    cells[chance.randrange(len(cells))] = chance.choice(NASTY).encode(errors="surrogatepass")
    tables[name] = b"".join(cells)


def _lines(tables: Tables, chance: random.Random) -> None:
    name = chance.choice(sorted(tables))
    lines = tables[name].splitlines(keepends=True)
    chance.shuffle(lines)
    tables[name] = b"".join(lines[: chance.randrange(len(lines) + 1)])


def _bytes_of_a_table(tables: Tables, chance: random.Random) -> None:
    name = chance.choice(sorted(tables))
    tables[name] = bytes_changed(tables[name], chance)


def _value_of(told: Any, chance: random.Random) -> None:
    """Change one value somewhere inside, take it out, or put another in its place."""
    while True:
        keys = sorted(told) if isinstance(told, dict) else list(range(len(told)))
        if not keys:
            return
        key = chance.choice(keys)
        if isinstance(told[key], dict | list) and told[key] and chance.random() < 0.85:
            told = told[key]
            continue
        kind = chance.randrange(4)
        if kind == 0:
            del told[key]
        elif kind == 1:
            told[key] = told[chance.choice(keys)]
        elif kind == 2:
            told[key] = chance.choice(NASTY)
        else:
            told[key] = chance.choice((None, True, [], {}, -1, 10**30, 1e308, [[[[]]]], {"a": 1}))
        return
