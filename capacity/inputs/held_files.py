"""Files that are held in memory, read as if they lay on a disk: none is left behind there."""

import io
import stat
from collections.abc import Iterator, Mapping
from os import stat_result
from pathlib import Path, PurePosixPath
from typing import IO, Any, cast

from capacity.inputs.book import Book
from capacity.inputs.read_input import read_book
from capacity.inputs.reading.as_of import AsOf


def read_held(name: Path, content: bytes | Mapping[str, bytes], as_of: AsOf | None = None) -> Book:
    """Return what a workbook, or the files of a folder by name, says; as ``read_book`` does."""
    return read_book(cast(Path, _held(name.name, content)), as_of)


class _Held(PurePosixPath):
    """What reading asks of a path, of a file or a folder that is not on a disk."""

    content: bytes | Mapping[str, bytes]

    def is_dir(self) -> bool:
        """Whether it is a folder."""
        return not isinstance(self.content, bytes)

    def is_file(self) -> bool:
        """Whether it is a file."""
        return isinstance(self.content, bytes)

    def exists(self) -> bool:
        """Whether it is there: yes."""
        return True

    def iterdir(self) -> "Iterator[_Held]":
        """Yield the files of a folder."""
        assert not isinstance(self.content, bytes)
        return (_held(name, content) for name, content in self.content.items())

    def stat(self) -> stat_result:
        """Return its size; nothing else is known."""
        size = len(self.content)
        return stat_result((stat.S_IFREG, 0, 0, 0, 0, 0, size, 0, 0, 0))

    def open(
        self, mode: str = "r", encoding: str | None = None, newline: str | None = None
    ) -> IO[Any]:
        """Open a file to be read."""
        assert isinstance(self.content, bytes)
        stream = io.BytesIO(self.content)
        if "b" in mode:
            return stream
        return io.TextIOWrapper(stream, encoding=encoding, newline=newline)


def _held(name: str, content: bytes | Mapping[str, bytes]) -> _Held:
    held = _Held(name)
    held.content = content
    return held
