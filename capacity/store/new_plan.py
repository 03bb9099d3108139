"""A workbook and a plan file of a person, audited, as they are saved."""

import io
import zipfile
from datetime import timedelta
from pathlib import Path

from capacity.errors import AuditError, InputError
from capacity.facts import Base
from capacity.messages import Level, Message
from capacity.plans.audit import audit
from capacity.reports.kit.issue import plan_number
from capacity.reports.plan_files.asked_plan import AskedPlan, read_plan
from capacity.reports.plan_files.written import read_plan_file
from capacity.store.values import Figures, NewPlan, WorkbookFile

MOST_BYTES = 50_000_000
"""Of a workbook or a plan file in the store; a year of 300 checks has some 300,000."""

A_MOMENT = (1980, 1, 1, 0, 0, 0)
"""The time of every file in a packed folder, so that the same files are the same bytes."""


def workbook_file(path: Path) -> WorkbookFile:
    """Return a workbook byte for byte; a folder of CSV files as a ZIP file of them.

    Raises
    ------
    InputError
        When it cannot be read, or is too large.
    """
    try:
        if not path.is_dir():
            return WorkbookFile(path.name, _not_too_large(path.read_bytes(), path))
        packed = io.BytesIO()
        with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as folder:
            for file in sorted(path.glob("*.csv")):
                folder.writestr(zipfile.ZipInfo(file.name, A_MOMENT), file.read_bytes())
    except OSError as fault:
        what, remedy = f"it cannot be read ({fault.strerror}).", "Name a file that is there."
        raise InputError([Message(Level.ERROR, str(path), what, remedy)]) from fault
    return WorkbookFile(f"{path.name}.zip", _not_too_large(packed.getvalue(), path))


def new_plan(
    base: Base,
    workbook: WorkbookFile,
    plan_file: bytes,
    follows: int | None = None,
    source: Path | None = None,
) -> tuple[NewPlan, AskedPlan]:
    """Return a plan as it is saved, and what is to be said of its file.

    ``base`` is that of the workbook; ``source`` is where the plan file lies, for messages. The plan
    is one of that base, its figures are those that it comes to, and the audit lets it stand.

    Raises
    ------
    InputError
        When the plan file cannot be read, or is of another workbook.
    AuditError
        When the plan breaks a rule.
    """
    asked = read_plan(base, source or plan_file.decode("utf-8"))
    found = audit(asked.base, asked.plan)
    if found.broken:
        raise AuditError(found.broken)
    made = read_plan_file(plan_file.decode("utf-8")).made
    settings = {}
    if made is not None:
        settings = {"version": made.version, "made": made.time.isoformat()}
        if made.work_counts_from is not None:
            settings["today"] = made.work_counts_from.isoformat()
    new = NewPlan(
        base=base.name,
        first_day=base.first_day,
        until=base.first_day + timedelta(weeks=base.weeks),
        plan_number=plan_number(asked.plan),
        workbook_name=workbook.name,
        workbook=workbook.content,
        plan_file=plan_file,
        figures=Figures(
            found.goals.days_past_latest_in, found.goals.money, found.goals.overload_hours
        ),
        currency=base.currency,
        settings=settings,
        follows=follows,
    )
    return new, asked


def _not_too_large(content: bytes, path: Path) -> bytes:
    if len(content) > MOST_BYTES:
        what = f"it has more than {MOST_BYTES:,} bytes."
        remedy = "Take out pictures and sheets that are not needed."
        raise InputError([Message(Level.ERROR, str(path), what, remedy)])
    return content
