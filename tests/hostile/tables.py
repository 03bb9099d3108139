"""The kept corpus of folders of CSV files."""

import csv
from collections.abc import Callable
from pathlib import Path

import openpyxl

from tests.hostile.parts import TINY

Tables = dict[str, bytes]


def valid_tables() -> Tables:
    """Return the tiny sample as CSV files by name."""
    tables = {}
    book = openpyxl.load_workbook(TINY, read_only=True)
    for sheet in book.worksheets:
        lines: list[str] = []
        writer = csv.writer(_Lines(lines))
        for row in sheet.iter_rows(values_only=True):
            writer.writerow([_text(value) for value in row])
        tables[f"{sheet.title}.csv"] = "".join(lines).encode()
    book.close()
    return tables


class _Lines:
    def __init__(self, lines: list[str]) -> None:
        self.write = lines.append


def _text(value: object) -> str:
    text = "" if value is None else str(value)
    return text.removesuffix(" 00:00:00")


def write_tables(tables: Tables, folder: Path) -> Path:
    """Write the files into a new folder and return it."""
    folder.mkdir()
    for name, content in tables.items():
        (folder / name).write_bytes(content)
    return folder


def more(content: bytes, name: str = "Checks.csv") -> Callable[[Tables], Tables]:
    """Return the change that puts more at the end of a file."""
    return lambda tables: {**tables, name: tables[name] + content}


def encoded(encoding: str) -> Callable[[Tables], Tables]:
    """Return the change of all files to another encoding."""
    return lambda tables: {name: text.decode().encode(encoding) for name, text in tables.items()}


def only(content: bytes) -> Callable[[Tables], Tables]:
    """Return the change of all files to the same bytes."""
    return lambda tables: dict.fromkeys(tables, content)


CHANGES: dict[str, Callable[[Tables], Tables]] = {
    "one endless line": more(b"x" * 40_000_000),
    "one endless line of cells": more(b"x," * 20_000_000),
    "one endless quoted cell": more(b'"' + b"x\n" * 20_000_000),
    "quotation marks alone": more(b'"' * 30_000_001),
    "blank lines by the million": more(b"\n" * 30_000_000),
    "empty cells by the million": more((b"," * 15 + b"\n") * 2_000_000),
    "nonsense in every row": more((b"=1+1," * 18 + b"\n") * 15_000),
    "beyond the size": more(b"x,\n" * 17_000_000),
    "nought bytes": more(b"\0" * 1_000_000),
    "escapes of the terminal": more("\x1b]0;x\x07\x1b[2J\u202e\x9b31m,\x1b[31m\r\n".encode() * 9),
    "a number of many digits": more(b"9" * 100_000 + b",", "Skills.csv"),
    "UTF-16": encoded("utf-16"),
    "UTF-7": encoded("utf-7"),
    "EBCDIC": encoded("cp500"),
    "half of a character": more(b"\xf0\x9f"),
    "half of a pair": more(b"\xed\xa0\x80"),
    "all files empty": only(b""),
    "all files of blanks": only(b" \n" * 100_000),
    "a mark of the order of bytes alone": only(b"\xef\xbb\xbf"),
    "files by the thousand": lambda tables: {
        **tables,
        **{f"Checks{n}.csv": b"Check\n" for n in range(3_000)},
    },
    "names that steer the terminal": lambda tables: {
        **tables,
        "\x1b[31mChecks.csv": b"a",
        "\u202eabc.csv": b"a",
    },
    "the same name in other letters": lambda tables: {**tables, "CHECKS.CSV": b"Check\nA\n"},
}


def hostile_tables(name: str, folder: Path) -> Path:
    """Write a folder of the corpus and return its path."""
    return write_tables(CHANGES[name](valid_tables()), folder / "book")
