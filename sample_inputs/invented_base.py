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
    ("Overload cost", 500),
    ("Working-time rules", "none"),
]

# The order of the skills is the order of the man-hours in the tables of packages.
SKILLS = [
    ("Skill", "Licence", "Overtime cost", "Overtime cap %", "Contract cost", "Contract cap %"),
    ("Airframe", "B1", 52, 15, 78, 10),
    ("Powerplant", "B1", 55, 15, 84, 10),
    ("Avionics", "B2", 56, 15, 86, 10),
    ("Structures", None, 50, 20, 74, 10),
    ("Cabin", None, 44, 15, 62, 15),
    ("Paint", None, 46, 20, 66, 15),
    ("Inspection", "C", 62, 15, 95, 5),
]

# Metres are those of the free floor and door, a little more than the aircraft need.
BAYS = [
    ("Bay", "Hangar", "Max span m", "Max length m", "Max tail m", "Work", "Docking",
     "Changeover days"),
    ("Bay 11", "Hangar 1", 66, 70, 19.5, "maintenance", "twin-aisle", 2),
    ("Bay 12", "Hangar 1", 66, 70, 19.5, "maintenance", "twin-aisle", 2),
    ("Paint 13", "Hangar 1", 66, 70, 19.5, "paint", None, 1),
    ("Bay 21", "Hangar 2", 39, 48, 14, "maintenance", "single-aisle", 1),
    ("Bay 22", "Hangar 2", 39, 48, 14, "maintenance", "single-aisle", 1),
    ("Bay 23", "Hangar 2", 39, 48, 14, "maintenance", "single-aisle", 1),
    ("Bay 24", "Hangar 2", 39, 48, 14, "maintenance", "single-aisle", 1),
    ("Bay 31", "Hangar 3", 66, 70, 19.5, "maintenance", "twin-aisle", 2),
    ("Bay 32", "Hangar 3", 66, 70, 19.5, "maintenance", "twin-aisle, single-aisle", 2),
    ("Bay 33", "Hangar 3", 27, 33, 10, "maintenance", None, 1),
    ("Bay 34", "Hangar 3", 27, 33, 10, "maintenance", None, 1),
]  # fmt: skip

CLOSURES = [
    ("Bay", "From", "To", "Reason"),
    ("Bay 32", "2027-02-08", "2027-02-14", "door rails renewed"),
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

CREWS = [
    ("Crew", "Skills", "Types", "Heads", "Pattern", "Starts cycle on", "Employment"),
    ("Airframe red", "Airframe", None, 44, "round the clock", "2027-01-04", "employed"),
    ("Airframe blue", "Airframe", None, 44, "round the clock", "2027-01-06", "employed"),
    ("Airframe green", "Airframe", None, 44, "round the clock", "2027-01-08", "employed"),
    ("Airframe amber", "Airframe", None, 44, "round the clock", "2027-01-10", "employed"),
    ("Powerplant early", "Powerplant", None, 29, "early and late", "2027-01-04", "employed"),
    ("Powerplant late", "Powerplant", None, 29, "early and late", "2027-01-11", "employed"),
    ("Avionics red", "Avionics", None, 24, "round the clock", "2027-01-04", "employed"),
    ("Avionics blue", "Avionics", None, 24, "round the clock", "2027-01-06", "employed"),
    ("Avionics green", "Avionics", None, 24, "round the clock", "2027-01-08", "employed"),
    ("Avionics amber", "Avionics", None, 24, "round the clock", "2027-01-10", "employed"),
    ("Structures red", "Structures", None, 37, "round the clock", "2027-01-04", "employed"),
    ("Structures blue", "Structures", None, 37, "round the clock", "2027-01-06", "employed"),
    ("Structures green", "Structures", None, 37, "round the clock", "2027-01-08", "employed"),
    ("Structures amber", "Structures", None, 37, "round the clock", "2027-01-10", "employed"),
    ("Structures guests", "Structures", None, 8, "office week", "2027-01-04", "contract"),
    ("Cabin early", "Cabin", None, 59, "early and late", "2027-01-04", "employed"),
    ("Cabin late", "Cabin", None, 59, "early and late", "2027-01-11", "employed"),
    ("Paint early", "Paint", None, 28, "early and late", "2027-01-04", "employed"),
    ("Paint late", "Paint", None, 28, "early and late", "2027-01-11", "employed"),
    ("Inspection red", "Inspection", None, 17, "round the clock", "2027-01-04", "employed"),
    ("Inspection blue", "Inspection", None, 17, "round the clock", "2027-01-06", "employed"),
    ("Inspection green", "Inspection", None, 17, "round the clock", "2027-01-08", "employed"),
    ("Inspection amber", "Inspection", None, 17, "round the clock", "2027-01-10", "employed"),
]

# Good Friday is 26 March and Easter Monday, a holiday, 29 March 2027.
ABSENCE = [
    ("Crew", "From", "To", "Heads", "Reason"),
    ("Airframe red", "2027-03-22", "2027-04-04", 6, "leave around Easter"),
    ("Airframe blue", "2027-03-22", "2027-04-04", 6, "leave around Easter"),
    ("Airframe green", "2027-03-22", "2027-04-04", 5, "leave around Easter"),
    ("Airframe amber", "2027-03-22", "2027-04-04", 5, "leave around Easter"),
    ("Airframe red", "2027-01-18", "2027-01-24", 4, "human factors training"),
    ("Airframe green", "2027-01-25", "2027-01-31", 4, "human factors training"),
    ("Powerplant early", "2027-03-22", "2027-04-04", 4, "leave around Easter"),
    ("Powerplant late", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Powerplant early", "2027-01-11", "2027-01-15", 4, "borescope training"),
    ("Avionics blue", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Avionics amber", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Avionics red", "2027-02-01", "2027-02-14", 2, "type training"),
    ("Structures red", "2027-02-08", "2027-02-21", 5, "composite repair course"),
    ("Structures blue", "2027-02-08", "2027-02-21", 5, "composite repair course"),
    ("Structures green", "2027-02-15", "2027-02-21", 4, "winter leave"),
    ("Structures amber", "2027-02-15", "2027-02-21", 4, "winter leave"),
    ("Structures red", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Structures amber", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Cabin early", "2027-03-22", "2027-04-04", 7, "leave around Easter"),
    ("Cabin late", "2027-03-22", "2027-04-04", 7, "leave around Easter"),
    ("Paint early", "2027-02-01", "2027-02-05", 6, "respirator training while filters change"),
    ("Paint late", "2027-03-22", "2027-04-04", 3, "leave around Easter"),
    ("Inspection green", "2027-03-22", "2027-04-04", 2, "leave around Easter"),
    ("Inspection blue", "2027-02-15", "2027-02-28", 1, "long sick leave"),
]
