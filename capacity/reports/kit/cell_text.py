"""Texts from the input, made harmless before they reach a cell or a terminal."""

RISKY_STARTS = (*"=+-@\t\r\n\0", *"\uff1d\uff0b\uff0d\uff20")
"""First characters after which a spreadsheet program may take a text for a formula.

The last four are the full-width forms of the first four.
"""

LONGEST_CELL = 32_767
"""Characters that a cell can hold."""


def inert(text: str) -> str:
    """Return the text so that no spreadsheet program takes it for a formula.

    In the workbook every text is stored as text and could not be run; the apostrophe in front
    keeps it so when the sheet is saved as CSV and opened again. Leading blanks do not help an
    attacker: some programs drop them.
    """
    text = text.encode("utf-8", errors="replace").decode("utf-8")
    risky = text.startswith(RISKY_STARTS) or text.lstrip().startswith(RISKY_STARTS)
    text = f"'{text}" if risky else text
    return text if len(text) <= LONGEST_CELL else text[: LONGEST_CELL - 1] + "…"


def printable(text: str) -> str:
    """Return the text on one line, without characters that would steer a terminal."""
    return "".join(c if c.isprintable() else " " for c in text)
