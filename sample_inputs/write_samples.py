"""Write quarter.xlsx, tiny.xlsx and broken.xlsx beside this script, or into a folder given.

Run it as ``python sample_inputs/write_samples.py [FOLDER]``. Everything in the workbooks is
invented. The tables stand in the other files here; this one only puts them together.
"""

import sys
from pathlib import Path

from broken import broken
from invented_quarter import quarter
from look import write_book
from tiny import TINY

SAMPLES = {
    "quarter.xlsx": quarter(),
    "tiny.xlsx": TINY,
    "broken.xlsx": broken(quarter()),
}


def write_samples(folder: Path) -> None:
    """Write every sample workbook into the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, tables in SAMPLES.items():
        write_book(tables, folder / name)
        print(folder / name)


if __name__ == "__main__":
    write_samples(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent)
