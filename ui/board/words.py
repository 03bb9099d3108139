"""The words of the board's own controls; # stands for a number or a name."""

from capacity.reports.plan.blocked_days import FLOOR_TAKEN, WAY_BLOCKED
from capacity.reports.plan.moved_words import EVEN_DEMAND
from capacity.words.marks import AGREED, SQUARE

LIMITS = ("regular hours", "with overtime", "with contract labour")
"""What the lines above the columns are: solid, dashed, dotted."""

WORDS: dict[str, object] = {
    "weekdays": ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"],
    "months": [
        "January", "February", "March", "April", "May", "June", "July", "August", "September",
        "October", "November", "December",
    ],
    "square": SQUARE,
    "agreed": AGREED,
    "late": "late # d",
    "held": "held",
    "moved": "moved",
    "inTime": "in time",
    "risk": "risk",
    "title": "Planning board",
    "help": "Click a check or a week to see what is behind it. Drag a check (a finger rests on it "
    "first), or take it up by M, to try another bay or day. Zoom by the buttons, by Ctrl and the "
    "mouse wheel, or by plus and minus; drag the empty board to pan.",
    "behind": "What is behind #",
    "bay": "Bay",
    "hangar": "Hangar",
    "shelf": "No slot",
    "week": "Week",
    "checks": "Checks",
    "weeks": "Weeks of",
    "search": "Search checks",
    "allCustomers": "All customers",
    "allStatuses": "All statuses",
    "found": "# of ## checks",
    "zoomIn": "Zoom in",
    "zoomOut": "Zoom out",
    "all": "Whole plan",
    "allTold": "Show the whole plan",
    "today": "Today",
    "todayTold": "Go to today",
    "todayLine": "today",
    "begins": "plan begins",
    "showSkill": "Show the hours of #",
    "hoursAWeek": "man-hours a week",
    "shelfGrid": "Checks without a slot. Arrow keys move between them, Enter shows one",
    "bayGrid": "Bays. Arrow keys move between checks, Enter shows one, plus and minus zoom",
    "heatGrid": "Man-hours by skill and week. Arrow keys move between weeks, Enter shows one",
    "in": "in",
    "out": "out",
    "toShelf": "without a slot",
    "there": "there already",
    "takenUp": "# is taken up. Arrow keys move it by a day or a bay, with Shift by a week; Enter "
    "drops it, Escape gives it back.",
    "dropped": "Dropped.",
    "givenBack": "It is where it was.",
    "fixed": "bay and day are fixed",
    "lateOut": "late out, with its days",
    "agreedOut": "Agreed out",
    "noSlot": "no slot, over the days on which it may come in",
    "floorTaken": FLOOR_TAKEN,
    "wayBlocked": WAY_BLOCKED,
    "changeover": "changeover",
    "stages": "stages:",
    "otherWork": "stages: other work",
    "limits": [f"available: {limit}" for limit in LIMITS],
    "even": EVEN_DEMAND,
}  # fmt: skip
