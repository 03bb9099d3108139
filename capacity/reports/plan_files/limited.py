"""A plan file of a person, read in a child process of bounded time and memory."""

from pathlib import Path
from typing import cast

from capacity.inputs.limited import Wanted, always, within_limits
from capacity.reports.plan_files.written import PlanFile

_READ = "capacity.reports.plan_files.written:read_plan_file"


def read_plan_file_within_limits(path: Path, still_wanted: Wanted = always) -> PlanFile:
    """Return what ``read_plan_file`` returns; the limits of the child are messages too.

    Raises
    ------
    InputError
        When the file cannot be read as one of a plan, or not within the limits.
    NoLongerWantedError
        When ``still_wanted`` says no meanwhile.
    """
    return cast(PlanFile, within_limits(_READ, path, still_wanted))
