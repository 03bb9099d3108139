"""Cross checks of percentages that are figures of another kind, most likely."""

from collections.abc import Iterator

from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import SHEETS, SkillRow
from capacity.messages import Level, Message

ONE_PERCENT = 0.01
ALL = 1.0


def percents_are_no_shares(sheets: Sheets) -> Iterator[Message]:
    """Warn, once a column, of a percentage below 1: 0.75 was likely meant as 75 %."""
    settings = sheets.settings
    if settings and settings.productivity < ONE_PERCENT:
        yield _too_small(
            sheets.at_setting("productivity"),
            settings.heading("productivity"),
            settings.productivity,
        )
    for model in SHEETS:
        for heading, field in model.headings().items():
            if not heading.endswith("%"):
                continue
            shares = ((row, getattr(row, field)) for row in sheets[model].rows)
            small = next(
                ((r, share) for r, share in shares if 0 < (share or 0) < ONE_PERCENT), None
            )
            if small is not None:
                yield _too_small(sheets.at(small[0], field), heading, small[1])


def _too_small(where: str, heading: str, share: float) -> Message:
    meant = f"{100 * 100 * share:g}"
    return Message(
        Level.WARNING,
        where,
        f"{heading} is {100 * share:g}, less than one per cent.",
        f"Type {meant} if {meant} % is meant.",
    )


def overtime_is_less_than_regular(sheets: Sheets) -> Iterator[Message]:
    """Warn of an overtime cap by which people work more than twice their hours."""
    for row in sheets[SkillRow].rows:
        if row.overtime_cap > ALL:
            yield Message(
                Level.WARNING,
                sheets.at(row, "overtime_cap"),
                f"the skill '{row.skill}' may have more overtime, {100 * row.overtime_cap:g} %, "
                "than regular man-hours.",
                "Correct it if it is a slip.",
            )
