"""Files that only this user of the computer can read, in a cache folder, within limits."""

import hashlib
import os
import re
import secrets
import shutil
import stat
import time
from collections.abc import Iterator
from pathlib import Path

from ui.desk.file_owners import TO_MAKE, TO_READ, is_open_to_others, is_ours

MOST_FOLDERS = 100
MOST_BYTES = 1_000_000_000
MOST_BYTES_A_FILE = 12_000_000
KEPT_DAYS, ACTIVE_DAYS = 30, 7
"""Days after its last use until a folder is cleared away, and until it may make room for others."""

SECONDS_BETWEEN_TOUCHES = 60.0
SECONDS_A_DAY = 86_400.0
USED = "used"
"""The empty file in a folder whose time says when the folder was last used."""


class NoRoomError(OSError):
    """A file is too large to keep, or others in use take all the room there is."""


def cache_folder() -> Path:
    """Return the folder for kept work: in ``XDG_CACHE_HOME``, else in ``~/.cache``."""
    named = os.environ.get("XDG_CACHE_HOME", "")
    above = Path(named) if Path(named).is_absolute() else Path.home() / ".cache"
    return above / "hangar-capacity" / "desks"


class PrivateFiles:
    """Folders of small files, each found by a secret that it does not tell.

    A folder is named by a hash of its secret, so that whoever sees the names cannot ask for
    what is in them. Folders of people who are at work are never cleared away for others; where
    these leave no room, nothing new is kept.
    """

    def __init__(self, root: Path) -> None:
        """Keep everything below ``root``, which is made when something is kept."""
        self.root = root
        self._touched: dict[str, float] = {}

    def write(self, secret: str, files: dict[str, bytes]) -> None:
        """Keep these files of a secret, whole or not at all each; raises ``OSError``.

        Files that end in ``.xlsx`` and are not among them are cleared away.
        """
        for name, content in files.items():
            if len(content) > MOST_BYTES_A_FILE:
                raise NoRoomError(f"{name} has more than {MOST_BYTES_A_FILE:,} bytes")
        folder = self._folder(secret)
        if not folder.is_dir():
            self._make_room(sum(map(len, files.values())))
            _own_folder(folder)
        for name, content in files.items():
            if not (name.endswith(".xlsx") and (folder / name).is_file()):  # named by content
                _write(folder / name, content)
        self.touch(secret, at_once=True)

    def keep_only(self, secret: str, names: set[str]) -> None:
        """Clear the other files of a secret away."""
        for path in self._folder(secret).glob("*"):
            if path.name not in names | {USED}:
                path.unlink(missing_ok=True)

    def read(self, secret: str, name: str) -> bytes | None:
        """Return a file of a secret; None where there is none that only we can have written."""
        path = self._folder(secret) / name
        try:
            descriptor = os.open(path, TO_READ)
        except OSError:
            return None
        with os.fdopen(descriptor, "rb") as file:
            told = os.fstat(descriptor)
            if not stat.S_ISREG(told.st_mode) or not is_ours(told):
                return None
            if is_open_to_others(told) or told.st_size > MOST_BYTES_A_FILE:
                return None
            return file.read(MOST_BYTES_A_FILE)

    def touch(self, secret: str, at_once: bool = False) -> None:
        """Note that the folder of a secret is in use."""
        now = time.monotonic()
        last = self._touched.get(secret)
        if not at_once and last is not None and now - last < SECONDS_BETWEEN_TOUCHES:
            return
        self._touched[secret] = now
        folder = self._folder(secret)
        if folder.is_dir():
            _write(folder / USED, b"")

    def forget(self, secret: str) -> None:
        """Clear away all that is kept of a secret."""
        shutil.rmtree(self._folder(secret), ignore_errors=True)

    def clear_old(self) -> None:
        """Clear away what nobody has used for long."""
        for folder, days in self._by_age():
            if days > KEPT_DAYS:
                shutil.rmtree(folder, ignore_errors=True)

    def _folder(self, secret: str) -> Path:
        return self.root / hashlib.sha256(secret.encode()).hexdigest()

    def _by_age(self) -> list[tuple[Path, float]]:
        """Return the folders with the days since their last use, the longest first."""
        now = time.time()
        found = []
        for folder in self._folders():
            try:
                used = (folder / USED).stat().st_mtime
            except OSError:
                used = 0.0
            found.append((folder, (now - used) / SECONDS_A_DAY))
        return sorted(found, key=lambda pair: -pair[1])

    def _folders(self) -> Iterator[Path]:
        if self.root.is_dir():
            named = re.compile("[0-9a-f]{64}")
            yield from (f for f in self.root.iterdir() if named.fullmatch(f.name))

    def _make_room(self, size: int) -> None:
        """Clear old folders away until one more has room; raises ``NoRoomError``."""
        _own_folder(self.root)
        self.clear_old()
        left = self._by_age()
        sizes = {folder: _size(folder) for folder, _ in left}
        while left and (len(left) >= MOST_FOLDERS or sum(sizes.values()) + size > MOST_BYTES):
            folder, days = left.pop(0)
            if days <= ACTIVE_DAYS:
                raise NoRoomError("work of others that is in use takes all the room")
            shutil.rmtree(folder, ignore_errors=True)
            del sizes[folder]


def _own_folder(folder: Path) -> None:
    """Make a folder that only its owner may enter; raises ``OSError`` if it is another's."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    told = folder.lstat()
    if not stat.S_ISDIR(told.st_mode) or not is_ours(told):
        raise PermissionError(f"{folder} is not a folder of this user")
    if is_open_to_others(told):
        folder.chmod(0o700)


def _write(path: Path, content: bytes) -> None:
    temporary = path.with_name(f".{secrets.token_hex(8)}.tmp")
    try:
        with os.fdopen(os.open(temporary, TO_MAKE, 0o600), "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.replace(path)
    finally:
        temporary.unlink(missing_ok=True)


def _size(folder: Path) -> int:
    total = 0
    for path in folder.glob("*"):
        try:
            total += path.stat().st_size
        except OSError:
            continue  # cleared away meanwhile
    return total
