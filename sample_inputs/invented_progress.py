"""How far an invented check in work is, what some stages wait for, and what was agreed apart."""

PROGRESS = [
    ("Check", "Stage", "As of", "Done %", "Hours booked", "Hours to go", "Finished"),
    ("W-01", None, "2027-01-04", 70, None, None, None),
    ("N-02", "Induction", "2027-01-04", None, 104, None, "2026-12-30"),
    ("N-02", "Opening up", "2027-01-04", None, 432, None, "2027-01-02"),
    # An extra finding: more hours to go than the share done would leave.
    ("N-02", "Inspection", "2027-01-04", 26, 245, 680, None),
    ("N-02", "Engine change", "2027-01-04", 34, 112, None, None),
    ("N-02", "Cabin", "2027-01-04", 13, 80, None, None),
    ("N-02", "Avionics updates", "2027-01-04", 17, 54, None, None),
]

# In weeks with people to spare. The second is a stage of its own.
EXTRA_WORK = [
    ("Check", "Stage", "After", "Work", "Days", "Skill", "Man-hours", "Reason"),
    ("N-09", "Avionics updates", None, None, None, "Avionics", 24, "modification"),
    ("W-06", "Leading edge repair", "Opening up", "maintenance", 3, "Structures", 60,
     "deferred defect"),
]  # fmt: skip

READY_DATES = [
    ("Check", "Stage", "Not before", "Reason"),
    ("W-05", "Seats and monuments in", "2027-03-08", "galley monuments on order"),
    ("W-10", "Engine change", "2027-03-22", "engine back from its shop visit"),
    ("R-07", "Structure repair", "2027-03-10", "repair scheme to be approved"),
]

# Columns that few checks use: check, then heading and what stands there instead.
OF_CHECKS: dict[str, dict[str, object]] = {
    "N-10": {"Agreed out": None, "Agreed days": 14},
    "N-14": {"Cost per day from Wanted in": 150},
    "P-05": {"Decide by": "2027-02-12"},
    "W-11": {"Decide by": "2027-02-26"},
    # Kept to the one paint bay, whatever else may learn to paint.
    "P-06": {"Fixed bay": "Paint 13", "Held": "bay"},
}
COLUMNS_OF_CHECKS = ("Cost per day from Wanted in", "Agreed days", "Held", "Decide by")
