"""``capacity samples``: the sample workbooks and the reference, into a folder of one's own."""

import os
import secrets
import shutil
from pathlib import Path

import click

from capacity.commands.exits import Exit
from capacity.commands.option_types import FILE
from capacity.errors import OutputError
from capacity.reports.kit.whole_file import could_not_be_written
from capacity.samples import QUARTER, sample_files


@click.command()
@click.argument("folder", type=FILE)
def samples(folder: Path) -> Exit:
    """Write the invented sample workbooks and WORKBOOK.md, their reference, into FOLDER.

    FOLDER is made if it is not there. Nothing in it is replaced: where a file of such a name is
    there already, nothing is written, and the command ends with code 73.
    """
    for path in write_samples(folder):
        click.echo(f"written: {path}")
    click.echo(f"Try: capacity plan {folder / QUARTER} --out plan.xlsx --plan-out plan.json")
    return Exit.PLANNED


def write_samples(folder: Path) -> tuple[Path, ...]:
    """Copy all samples into a folder, or none; return the files.

    They are copied to a hidden folder first, which is then the folder itself, or from which they
    are moved into it.

    Raises
    ------
    OutputError
        When one of the files is there already, or they cannot be written. Nothing is left.
    """
    files = sample_files()
    targets = tuple(folder / file.name for file in files)
    if there := [target.name for target in targets if os.path.lexists(target)]:
        raise OutputError(
            f"{folder} has {', '.join(there)} already, and nothing is replaced. "
            "Name another folder, or move what is there."
        )
    is_new = not os.path.lexists(folder)
    hidden = (folder.parent if is_new else folder) / f".{secrets.token_hex(8)}.tmp"
    moved: list[Path] = []
    try:
        hidden.mkdir()
        for file in files:
            shutil.copyfile(file, hidden / file.name)
        if is_new:
            hidden.rename(folder)
            return targets
        for target in targets:
            (hidden / target.name).rename(target)
            moved.append(target)
    except BaseException as problem:
        for target in moved:
            target.unlink(missing_ok=True)
        if isinstance(problem, OSError | UnicodeEncodeError):
            raise could_not_be_written(folder, problem) from problem
        raise
    finally:
        shutil.rmtree(hidden, ignore_errors=True)
    return targets
