"""A ``match`` in the rooms that know the rules names every case, so that types tell a new one.

mypy refuses ``assert_never`` of what some case has not taken; a plain ``case _`` would hide it.
"""

import ast
from pathlib import Path

import capacity

ROOT = Path(capacity.__file__).parent
ROOMS = ("slots/rules", "questions/conflicts", "questions/why", "questions/worth")


def ends_in_assert_never(match: ast.Match) -> bool:
    last = match.cases[-1]
    is_rest = isinstance(last.pattern, ast.MatchAs) and last.pattern.pattern is None
    (statement,) = last.body if len(last.body) == 1 else (None,)
    call = statement.value if isinstance(statement, ast.Expr) else None
    is_never = isinstance(call, ast.Call) and ast.unparse(call.func) == "assert_never"
    return is_rest and is_never and ast.unparse(call.args[0]) == ast.unparse(match.subject)


def test_every_match_over_kinds_takes_them_all() -> None:
    found = {
        f"{source.relative_to(ROOT)}:{node.lineno}": ends_in_assert_never(node)
        for room in ROOMS
        for source in sorted((ROOT / room).glob("*.py"))
        for node in ast.walk(ast.parse(source.read_text(encoding="utf-8")))
        if isinstance(node, ast.Match)
    }
    assert found
    assert [place for place, ends in found.items() if not ends] == []


def test_a_match_that_lets_the_rest_pass_is_seen() -> None:
    (match,) = ast.parse("match a:\n    case 1:\n        pass\n    case _:\n        pass\n").body
    assert isinstance(match, ast.Match)
    assert not ends_in_assert_never(match)
