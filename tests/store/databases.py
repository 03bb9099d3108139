"""A PostgreSQL server of the tests' own, on loopback, from the programs that Debian packages."""

import os
import shutil
import signal
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
from psycopg import sql

SERVER_USER = "postgres"
"""Who runs the server where the tests are run by root: the server itself refuses root."""


def server_programs() -> Path | None:
    """Return the folder of ``initdb`` and ``postgres``; None where they are not installed."""
    found = shutil.which("initdb")
    folders = [Path(found).resolve().parent] if found else []
    folders += sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    return next((one for one in folders if (one / "postgres").exists()), None)


@contextmanager
def server(programs: Path) -> Iterator[str]:
    """Run a server until the end of the ``with``; yields its URL without a database."""
    is_root = hasattr(os, "getuid") and os.getuid() == 0
    user = {"user": SERVER_USER, "group": SERVER_USER, "extra_groups": []} if is_root else {}
    with tempfile.TemporaryDirectory(prefix="server-") as folder:
        if is_root:
            shutil.chown(folder, SERVER_USER, SERVER_USER)
        data = Path(folder) / "data"
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "cwd": folder}
        made = [programs / "initdb", "-D", data, "-U", "tests", "-A", "trust", "--no-sync"]
        subprocess.run([*made, "-E", "UTF8"], check=True, **quiet, **user)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        options = ["-D", data, "-p", str(port), "-h", "127.0.0.1", "-k", folder, "-F"]
        running = subprocess.Popen([programs / "postgres", *options], **quiet, **user)
        try:
            _wait(port, running)
            yield f"postgresql://tests@127.0.0.1:{port}"
        finally:
            running.send_signal(signal.SIGINT)  # without waiting for anybody connected
            running.wait(30)


def _wait(port: int, running: "subprocess.Popen[bytes]") -> None:
    """Wait until the server answers."""
    for _ in range(600):
        assert running.poll() is None, "the server has ended"
        try:
            psycopg.connect(f"postgresql://tests@127.0.0.1:{port}/postgres").close()
        except psycopg.OperationalError:
            # Nothing tells when it listens but trying.
            try:
                running.wait(0.05)
            except subprocess.TimeoutExpired:
                continue
        else:
            return
    raise AssertionError("the server does not answer")


def new_database(url: str, name: str) -> str:
    """Make an empty database; return its URL."""
    with psycopg.connect(f"{url}/postgres", autocommit=True) as connection:
        connection.execute(sql.SQL("CREATE DATABASE {}").format(sql.Identifier(name)))
    return f"{url}/{name}"
