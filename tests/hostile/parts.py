"""A valid workbook as its parts by name, and parts as a workbook again."""

import zipfile
from pathlib import Path

SAMPLES = Path(__file__).parents[2] / "sample_inputs"
TINY = SAMPLES / "tiny.xlsx"

Parts = dict[str, bytes]

BOOK = "xl/workbook.xml"
CHECKS = "xl/worksheets/sheet7.xml"
CONTENTS = "[Content_Types].xml"
STYLES = "xl/styles.xml"
TEXTS = "xl/sharedStrings.xml"
MAIN = b"http://schemas.openxmlformats.org/spreadsheetml/2006/main"


def parts_of(path: Path = TINY) -> Parts:
    """Return the parts of a workbook."""
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def write_parts(parts: Parts, path: Path) -> Path:
    """Write parts as a workbook and return its path."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return path


def put(parts: Parts, name: str, before: bytes, more: bytes) -> None:
    """Put more bytes in front of the first place where some stand in a part."""
    assert before in parts[name]
    parts[name] = parts[name].replace(before, more + before, 1)
