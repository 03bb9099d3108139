"""An invented base: bays, types, skills, shifts and crews. No real base, operator or aircraft."""

BASE = [
    ("Setting", "Value"),
    ("Base", "Stonemere heavy maintenance (invented: no real base, operator or aircraft)"),
    ("First day", "2027-01-04"),
    ("Weeks", 13),
    ("Currency", "EUR"),
    ("Working days", "Mon-Sun"),
    ("Holidays", "IE"),
    ("Productivity %", 75),
    ("Longest delay days", 28),
    ("Longest wait days", 3),
    ("Moves on days off", "yes"),
    ("Overload cost", 500),
    ("Labour rate", None),
    ("Daily peak %", 100),
    ("Into float", "no"),
    ("Man-hours counted by", "week"),
    ("Working-time rules", "working-time-directive"),
    ("Working-time mode", "warn"),
    ("Man-hour plan name", "Man-hour plan"),
    ("Plan date", "2026-12-14"),
    ("Own-staff share rule", "warn"),
]

# The order of the skills is the order of the man-hours in the tables of packages. Cabin hands on
# call are hired for a little less than overtime costs.
SKILLS = [
    ("Skill", "Licence", "Overtime cost", "Overtime cap %", "Contract cost", "Contract cap %"),
    ("Airframe", "B1", 52, 12, 78, 15),
    ("Powerplant", "B1", 55, 15, 84, 10),
    ("Avionics", "B2", 56, 15, 86, 10),
    ("Structures", None, 50, 10, 74, 10),
    ("Cabin", None, 44, 15, 42, 15),
    ("Paint", None, 46, 20, 66, 15),
    ("Inspection", "C", 62, 15, 95, 5),
]

# Metres are those of the free floor and door, a little more than the aircraft need. Bay 32 is
# one wide position or two narrow ones on the same floor; Bay 35 has no door of its own.
BAYS = [
    ("Bay", "Hangar", "Max span m", "Max length m", "Max tail m", "Work", "Docking",
     "Reached through", "Shares floor with", "Changeover days"),
    ("Bay 11", "Hangar 1", 66, 70, 19.5, "maintenance", "twin-aisle", None, None, 2),
    ("Bay 12", "Hangar 1", 66, 70, 19.5, "maintenance", "twin-aisle", None, None, 2),
    ("Paint 13", "Hangar 1", 66, 70, 19.5, "paint", None, None, None, 1),
    ("Bay 21", "Hangar 2", 39, 48, 14, "maintenance", "single-aisle", None, None, 1),
    ("Bay 22", "Hangar 2", 39, 48, 14, "maintenance", "single-aisle", None, None, 1),
    ("Bay 23", "Hangar 2", 39, 48, 14, "maintenance", "single-aisle", None, None, 1),
    ("Bay 24", "Hangar 2", 39, 48, 14, "maintenance", "single-aisle", None, None, 1),
    ("Bay 31", "Hangar 3", 66, 70, 19.5, "maintenance", "twin-aisle", None, None, 2),
    ("Bay 32", "Hangar 3", 78, 70, 19.5, "maintenance", "twin-aisle", None,
     "Bay 32 left, Bay 32 right", 2),
    ("Bay 32 left", "Hangar 3", 39, 48, 14, "maintenance", "single-aisle", None, "Bay 32", 1),
    ("Bay 32 right", "Hangar 3", 39, 48, 14, "maintenance", "single-aisle", None, "Bay 32", 1),
    ("Bay 33", "Hangar 3", 27, 33, 10, "maintenance", None, None, None, 1),
    ("Bay 34", "Hangar 3", 27, 33, 10, "maintenance", None, None, None, 1),
    ("Bay 35", "Hangar 3", 27, 33, 10, "maintenance", None, "Bay 34", None, 1),
]  # fmt: skip

CLOSURES = [
    ("Bay", "From", "To", "Reason"),
    ("Bay 32", "2027-01-04", "2027-01-08", "door rails renewed"),
    ("Bay 32 left", "2027-01-04", "2027-01-08", "door rails renewed"),
    ("Bay 32 right", "2027-01-04", "2027-01-08", "door rails renewed"),
    ("Bay 22", "2027-02-16", "2027-02-19", "docking inspected and load-tested"),
    ("Paint 13", "2027-02-01", "2027-02-04", "exhaust filters changed"),
    ("Bay 34", "2027-02-02", "2027-02-04", "floor coating repaired"),
]

# Spans lie in the bands of ICAO code letters B (Alder), C (Linden) and E (Redwood).
TYPES = [
    ("Type", "Span m", "Length m", "Tail m", "Docking"),
    ("Alder 50", 22.4, 25.7, 7.9, "regional"),
    ("Linden 180", 34.6, 38.8, 11.9, "single-aisle"),
    ("Linden 220", 35.4, 44.1, 12.0, "single-aisle"),
    ("Redwood 290", 59.8, 58.6, 17.1, "twin-aisle"),
    ("Redwood 340", 63.9, 66.2, 17.6, "twin-aisle"),
]

# Attended hours, without the unpaid break.
SHIFTS = [
    ("Shift", "Start", "Hours", "Night"),
    ("D", "06:30", 11, "no"),
    ("N", "18:30", 11, "yes"),
    ("E", "06:00", 7.5, "no"),
    ("L", "14:00", 7.5, "no"),
    ("O", "07:30", 8, "no"),
]

# Four crews on "round the clock", two days apart, cover all 24 hours of every day.
PATTERNS = [
    ("Pattern", "Cycle"),
    ("round the clock", "D D N N - - - -"),
    ("early and late", "E E E E E - - L L L L L - -"),
    ("office week", "O O O O O - -"),
]

# Types on which a crew without authorisation for the smallest may work.
LARGE = "Linden 180, Linden 220, Redwood 290, Redwood 340"

CREWS = [
    ("Crew", "Skills", "Types", "Heads", "Pattern", "Starts cycle on", "Employment", "Area"),
    ("Airframe red", "Airframe", None, 48, "round the clock", "2027-01-04", "employed", None),
    ("Airframe blue", "Airframe", None, 48, "round the clock", "2027-01-06", "employed", None),
    ("Airframe green", "Airframe", None, 48, "round the clock", "2027-01-08", "employed", None),
    ("Airframe amber", "Airframe", None, 48, "round the clock", "2027-01-10", "employed", None),
    ("Powerplant early", "Powerplant", None, 31, "early and late", "2027-01-04", "employed", None),
    ("Powerplant late", "Powerplant", None, 31, "early and late", "2027-01-14", "employed", None),
    ("Avionics red", "Avionics", None, 26, "round the clock", "2027-01-04", "employed", None),
    ("Avionics blue", "Avionics", None, 26, "round the clock", "2027-01-06", "employed", None),
    ("Avionics green", "Avionics", None, 26, "round the clock", "2027-01-08", "employed", None),
    ("Avionics amber", "Avionics", LARGE, 26, "round the clock", "2027-01-10", "employed", None),
    ("Structures red", "Structures", None, 40, "round the clock", "2027-01-04", "employed", None),
    ("Structures blue", "Structures", None, 40, "round the clock", "2027-01-06", "employed", None),
    ("Structures green", "Structures", None, 40, "round the clock", "2027-01-08", "employed", None),
    ("Structures amber", "Structures", None, 40, "round the clock", "2027-01-10", "employed", None),
    ("Cabin guests", "Cabin", None, 8, "office week", "2027-01-04", "contract", None),
    ("Paint guests", "Paint", None, 6, "office week", "2027-05-10", "contract", None),
    ("Systems", "Avionics, Powerplant", None, 8, "office week", "2027-01-04", "employed", None),
    ("Interiors", "Cabin, Structures", None, 8, "office week", "2027-01-04", "employed", None),
    ("Cabin early", "Cabin", None, 64, "early and late", "2027-01-04", "employed", None),
    ("Cabin late", "Cabin", None, 64, "early and late", "2027-01-14", "employed", None),
    ("Paint early", "Paint", None, 33, "early and late", "2027-01-04", "employed", "Hangar 1"),
    ("Paint late", "Paint", None, 33, "early and late", "2027-01-14", "employed", "Hangar 1"),
    ("Inspection red", "Inspection", None, 20, "round the clock", "2027-01-04", "employed", None),
    ("Inspection blue", "Inspection", None, 20, "round the clock", "2027-01-06", "employed", None),
    ("Inspection green", "Inspection", None, 20, "round the clock", "2027-01-08", "employed", None),
    ("Inspection amber", "Inspection", None, 20, "round the clock", "2027-01-10", "employed", None),
]  # fmt: skip

# Hired until the last aircraft of the quarter is out, and for the summer after it: the first and
# last day, and the man-hours a week that are paid in any case.
THERE = {
    "Cabin guests": ("2027-01-04", "2027-05-02", None),
    "Paint guests": ("2027-05-10", "2027-07-30", 120),
}

# Both end after the quarter, so that they take no hours from its plan.
LICENCES = [
    ("Crew", "Skill or type", "People", "Until"),
    ("Inspection green", "Inspection", 1, "2027-06-30"),
    ("Avionics blue", "Avionics", 2, "2027-09-15"),
]

# Days that are not like the others.
CALENDAR = [
    ("From", "To", "Worked", "Hours %", "Reason"),
    ("2027-03-12", "2027-03-12", None, 80, "families' afternoon"),
    ("2027-04-30", "2027-04-30", "no", None, "stocktaking"),
]

# Good Friday is 26 March and Easter Monday, a holiday, 29 March 2027.
ABSENCE = [
    ("Crew", "From", "To", "Heads", "Reason"),
    ("Airframe red", "2027-03-22", "2027-04-04", 6, "leave around Easter"),
    ("Airframe blue", "2027-03-22", "2027-04-04", 6, "leave around Easter"),
    ("Airframe green", "2027-03-22", "2027-04-04", 5, "leave around Easter"),
    ("Airframe amber", "2027-03-22", "2027-04-04", 5, "leave around Easter"),
    ("Airframe red", "2027-01-04", "2027-01-10", 9, "leave after New Year"),
    ("Airframe green", "2027-01-04", "2027-01-10", 9, "leave after New Year"),
    ("Airframe amber", "2027-01-04", "2027-01-10", 8, "leave after New Year"),
    ("Cabin early", "2027-01-04", "2027-01-10", 9, "leave after New Year"),
    ("Cabin late", "2027-01-04", "2027-01-10", 12, "leave after New Year"),
    ("Cabin early", "2027-01-11", "2027-01-17", 13, "human factors training"),
    ("Cabin late", "2027-01-11", "2027-01-17", 13, "human factors training"),
    ("Structures amber", "2027-01-04", "2027-01-10", 10, "leave after New Year"),
    ("Structures blue", "2027-01-04", "2027-01-10", 8, "leave after New Year"),
    ("Airframe red", "2027-01-11", "2027-01-17", 14, "human factors training"),
    ("Airframe blue", "2027-01-11", "2027-01-17", 12, "human factors training"),
    ("Airframe amber", "2027-01-11", "2027-01-17", 6, "human factors training"),
    ("Airframe green", "2027-02-01", "2027-02-07", 8, "human factors training"),
    ("Powerplant early", "2027-03-22", "2027-04-04", 4, "leave around Easter"),
    ("Powerplant late", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Powerplant early", "2027-01-11", "2027-01-15", 4, "borescope training"),
    ("Avionics blue", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Avionics amber", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Avionics red", "2027-02-01", "2027-02-14", 2, "type training"),
    ("Structures green", "2027-01-25", "2027-01-31", 14, "riveting course"),
    ("Structures red", "2027-01-18", "2027-01-24", 12, "riveting course"),
    ("Structures red", "2027-02-08", "2027-02-21", 5, "composite repair course"),
    ("Structures blue", "2027-02-08", "2027-02-21", 5, "composite repair course"),
    ("Structures green", "2027-02-15", "2027-02-21", 4, "winter leave"),
    ("Structures amber", "2027-02-15", "2027-02-21", 4, "winter leave"),
    ("Structures red", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Structures amber", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Cabin early", "2027-03-22", "2027-04-04", 12, "leave around Easter"),
    ("Cabin late", "2027-03-22", "2027-04-04", 12, "leave around Easter"),
    ("Paint early", "2027-02-01", "2027-02-05", 6, "respirator training while filters change"),
    ("Paint late", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Inspection green", "2027-03-22", "2027-04-04", 2, "leave around Easter"),
    ("Inspection blue", "2027-02-15", "2027-02-28", 1, "long sick leave"),
]
