"""The calendar feeds of all crews in one archive."""

import io
import zipfile
from datetime import UTC, datetime

from capacity.crews.assign import Staffed
from capacity.facts import Base
from capacity.reports.crews.calendars import crew_calendars


def calendars_archive(staffed: Staffed, base: Base) -> bytes:
    """Return a ``.zip`` with the files that ``capacity crews --calendars`` writes."""
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, feed in crew_calendars(staffed, base, datetime.now(UTC)):
            archive.writestr(name, feed)
    return content.getvalue()
