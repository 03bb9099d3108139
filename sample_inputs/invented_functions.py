"""Invented staff of the man-hour plan: who plans, performs, supervises, inspects and monitors."""

FUNCTIONS = [
    ("Function", "Skill", "Heads", "Hours per head and month", "Needed per 100 man-hours"),
    ("perform", "Airframe", None, None, None),
    ("perform", "Powerplant", None, None, None),
    ("perform", "Avionics", None, None, None),
    ("perform", "Structures", None, None, None),
    ("perform", "Cabin", None, None, None),
    ("perform", "Paint", None, None, None),
    ("inspect", "Inspection", None, None, None),
    ("supervise", None, 32, 130, 6),
    ("plan", None, 16, 135, 4),
    ("monitor quality", None, 5, 130, 1),
]

FUNCTION_ABSENCE = [
    ("Function", "From", "To", "Heads", "Reason"),
    ("plan", "2027-02-15", "2027-02-26", 2, "winter leave"),
    ("supervise", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
]
