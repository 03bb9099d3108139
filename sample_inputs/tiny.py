"""The tables of tiny.xlsx: so small that its best plan can be worked out by hand.

Two bays, one skill, four checks. A week has 10 heads x 5 days x 8 h x 75 % = 300 man-hours.
"""

Rows = list[tuple[object, ...]]

TINY: dict[str, Rows] = {
    "Base": [
        ("Setting", "Value"),
        ("Base", "Tinyfield (invented: no real base, operator or aircraft)"),
        ("First day", "2027-01-04"),
        ("Weeks", 3),
        ("Currency", "EUR"),
        ("Working days", "Mon-Fri"),
        ("Holidays", "none"),
        ("Productivity %", 75),
        ("Longest delay days", 7),
        ("Overload cost", 500),
    ],
    "Skills": [
        ("Skill", "Overtime cost", "Overtime cap %", "Contract cost", "Contract cap %"),
        ("Mechanic", 40, 20, 70, 20),
    ],
    "Bays": [
        ("Bay", "Hangar", "Max span m", "Max length m", "Max tail m", "Work", "Changeover days"),
        ("Large bay", "North", 38, 45, 14, "maintenance", 2),
        ("Small bay", "North", 26, 32, 10, "maintenance", 0),
    ],
    "Aircraft types": [
        ("Type", "Span m", "Length m", "Tail m"),
        ("Alder 50", 22.4, 25.7, 7.9),
        ("Linden 180", 34.6, 38.8, 11.9),
    ],
    "Packages": [
        ("Package", "Stage", "After", "Work", "Days", "Findings %"),
        ("Week check", "Open", "-", "maintenance", 1, 0),
        ("Week check", "Repair", "Open", "maintenance", 3, 20),
        ("Week check", "Close", "Repair", "maintenance", 1, 0),
        ("Wash and inspect", "Wash and inspect", "-", "maintenance", 2, 0),
    ],
    "Package hours": [
        ("Package", "Stage", "Skill", "Man-hours"),
        ("Week check", "Open", "Mechanic", 40),
        ("Week check", "Repair", "Mechanic", 100),
        ("Week check", "Close", "Mechanic", 40),
        ("Wash and inspect", "Wash and inspect", "Mechanic", 60),
    ],
    "Checks": [
        ("Check", "Aircraft", "Type", "Package", "Customer", "Third party", "Status",
         "Earliest in", "Latest in", "Agreed out", "Early cost per day", "Late cost per day",
         "Price", "Fixed bay", "Fixed in"),
        ("T1", "Q-TNYA", "Linden 180", "Week check", "Own fleet", "no", "fixed",
         None, None, None, None, None, None, "Large bay", "2027-01-04"),
        ("T2", "Q-TNYB", "Linden 180", "Week check", "Own fleet", "no", "booked",
         "2027-01-04", "2027-01-11", "2027-01-18", 900, 500, None, None, None),
        ("T3", "Q-TNYC", "Alder 50", "Week check", "Own fleet", "no", "booked",
         "2027-01-04", "2027-01-11", "2027-01-18", 900, 500, None, None, None),
        ("T4", "Q-TNYD", "Linden 180", "Wash and inspect", "Kalmora Air", "yes", "option",
         "2027-01-14", "2027-01-18", "2027-01-16", 0, 200, 1500, None, None),
    ],
    "Crews": [
        ("Crew", "Skills", "Heads", "Pattern", "Starts cycle on", "Employment"),
        ("Mechanics", "Mechanic", 10, "days", "2027-01-04", "employed"),
    ],
    "Shift patterns": [("Pattern", "Cycle"), ("days", "D D D D D - -")],
    "Shifts": [("Shift", "Start", "Hours", "Night"), ("D", "07:00", 8, "no")],
}  # fmt: skip
