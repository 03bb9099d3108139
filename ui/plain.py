"""Texts from the workbook, made plain before they reach an element that reads Markdown."""

import re
import string

_MEANS_SOMETHING = re.compile(f"[{re.escape(string.punctuation)}]")


def plain(text: str) -> str:
    """Return the text on one line with every mark escaped, so that it is shown as it stands.

    A backslash before any ASCII punctuation stands for the mark itself (CommonMark 0.31.2,
    section 2.4, from memory); that covers HTML, links, directives and formulas too.
    """
    one_line = " ".join(text.split())
    return _MEANS_SOMETHING.sub(lambda mark: "\\" + mark.group(), one_line)
