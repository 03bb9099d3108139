"""Texts of the workbook stay texts where a page reads Markdown."""

import string

from hypothesis import given
from hypothesis import strategies as st

from ui.plain import plain


def test_marks_are_escaped():
    assert plain("**b** <i> [x](y) $a$ :red[z]") == (r"\*\*b\*\* \<i\> \[x\]\(y\) \$a\$ \:red\[z\]")


def test_lines_cannot_begin_a_heading_or_a_list():
    assert plain("a\n# b\n\n- c") == r"a \# b \- c"


@given(st.text())
def test_every_mark_has_a_backslash_and_nothing_else_changes(text):
    escaped = plain(text)
    parts = iter(escaped)
    seen = ""
    for mark in parts:
        if mark == "\\":
            mark = next(parts)
            assert mark in string.punctuation
        else:
            assert mark not in string.punctuation
        seen += mark
    assert seen == " ".join(text.split())
