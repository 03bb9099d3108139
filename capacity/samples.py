"""The sample workbooks and the reference of the workbook, wherever the package is installed."""

from pathlib import Path

import capacity
from capacity.errors import CapacityError

PACKAGE = Path(capacity.__file__).parent
PLACES = (PACKAGE / "sample_inputs", PACKAGE.parent / "sample_inputs")
"""Where the samples are: in the installed package, or beside it in the checkout."""

QUARTER = "quarter.xlsx"
NAMES = (QUARTER, "tiny.xlsx", "broken.xlsx", "WORKBOOK.md", "quarter_plan.png")
"""The sample quarter, the example worked by hand, one full of slips, the reference, a picture."""


def sample_files() -> tuple[Path, ...]:
    """Return the files, in the order in which a person would open them.

    Raises
    ------
    CapacityError
        When they are not installed.
    """
    for place in PLACES:
        files = tuple(place / name for name in NAMES)
        if all(file.is_file() for file in files):
            return files
    raise CapacityError("The samples are not installed; install the package again.")


def sample_workbooks() -> tuple[Path, ...]:
    """Return the sample workbooks alone; empty where they are not installed."""
    try:
        return tuple(file for file in sample_files() if file.suffix == ".xlsx")
    except CapacityError:
        return ()
