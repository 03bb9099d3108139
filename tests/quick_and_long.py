"""Tests of many examples: some of them in every run, all of them among the long tests.

What a test says is held by every run; ``-m long`` holds it to more examples, as ``.ci/run`` does.
"""

from collections.abc import Callable, Iterable
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis.strategies import SearchStrategy

# Without shrinking: what comes out of a random base is as large, and takes minutes to find.
AS_THEY_COME = settings(deadline=None, phases=(Phase.explicit, Phase.reuse, Phase.generate))


def some_of(values: Iterable[Any], quick: int) -> list[Any]:
    """Return the values for a test to be tried with, all but the first few marked ``long``."""
    given_ = list(values)
    assert 0 < quick < len(given_)
    return [
        *given_[:quick],
        *(pytest.param(value, marks=pytest.mark.long) for value in given_[quick:]),
    ]


def holds_for(
    quick: int, long: int, **drawn: SearchStrategy[Any]
) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Try a function on ``quick`` drawn examples in every run, on ``long`` among the long tests."""
    assert 0 < quick < long

    def as_test(check: Callable[..., None]) -> Callable[..., None]:
        tried = {
            count: settings(AS_THEY_COME, max_examples=count)(given(**drawn)(check))
            for count in (quick, long)
        }

        @pytest.mark.parametrize("examples", [quick, pytest.param(long, marks=pytest.mark.long)])
        def test(examples: int) -> None:
            tried[examples]()

        test.__name__, test.__doc__, test.__module__ = (
            check.__name__,
            check.__doc__,
            check.__module__,
        )
        return test

    return as_test
