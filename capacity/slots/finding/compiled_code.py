"""Functions compiled to machine code, kept on disk where that can be and made anew where not.

Numba refuses to compile at all when it finds no folder in which to keep what it makes, stumbles
over a damaged file, and gives up when the disk is full. A search needs none of that: it compiles
again, which takes some seconds, and goes on.
"""

# mypy: disable-error-code="no-untyped-call"
import hashlib
import pickle
from collections.abc import Callable
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

import numba
from numba.core.caching import FunctionCache, IndexDataCacheFile

Arguments = ParamSpec("Arguments")
Result = TypeVar("Result")
# What a damaged file, a full disk or another version's file can raise is numba's business.
ANYTHING = Exception


class _Trouble:
    """The first reason why code is not kept, told as soon as somebody listens."""

    def __init__(self) -> None:
        self._why: str | None = None
        self._hear: Callable[[str], None] = lambda why: None

    def heard_by(self, hear: Callable[[str], None]) -> None:
        self._hear = hear
        if self._why is not None:
            hear(self._why)

    def add(self, why: str) -> None:
        if self._why is None:
            self._why = why
            self._hear(why)


_TROUBLE = _Trouble()


def compiled(function: Callable[Arguments, Result], **options: Any) -> Callable[Arguments, Result]:
    """Compile a function when it is first called, and keep that if a folder can be written."""
    dispatcher = numba.njit(**options)(function)
    try:
        dispatcher._cache = _KeptCode(function)
    except ANYTHING as fault:
        _TROUBLE.add(str(fault))
    done: Callable[Arguments, Result] = dispatcher
    return done


def tell_trouble_to(hear: Callable[[str], None]) -> None:
    """Have the first reason why code is not kept told, be it known already or still to come."""
    _TROUBLE.heard_by(hear)


class _KeptCode(FunctionCache):
    """Numba's cache of a function, for which a fault means only that there is nothing kept."""

    def __init__(self, function: Callable[..., object]) -> None:
        super().__init__(function)
        plain = self._cache_file
        self._cache_file = _CheckedFiles(
            cache_path=self._cache_path,
            filename_base=self._impl.filename_base,
            source_stamp=plain._source_stamp,
        )

    def load_overload(self, sig: object, target_context: object) -> object:
        try:
            return super().load_overload(sig, target_context)
        except ANYTHING:
            return None

    def save_overload(self, sig: object, data: object) -> None:
        try:
            super().save_overload(sig, data)
        except ANYTHING as fault:
            _TROUBLE.add(str(fault))


class _CheckedFiles(IndexDataCacheFile):
    """The files of a cache, each body behind its SHA-256: code that was cut off is never run."""

    def _load_index(self) -> dict[object, str]:
        try:
            found: dict[object, str] = super()._load_index()
        except ANYTHING:
            return {}
        return found if isinstance(found, dict) else {}

    def _load_data(self, name: str) -> object:
        body = Path(self._data_path(name)).read_bytes()
        digest, body = body[:_LENGTH], body[_LENGTH:]
        if hashlib.sha256(body).digest() != digest:
            return None
        return pickle.loads(body)

    def _save_data(self, name: str, data: object) -> None:
        body = self._dump(data)
        with self._open_for_write(self._data_path(name)) as file:
            file.write(hashlib.sha256(body).digest())
            file.write(body)


_LENGTH = hashlib.sha256().digest_size
