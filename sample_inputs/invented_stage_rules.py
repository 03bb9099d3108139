"""What the stages of the invented packages need besides days and people, and what they forbid.

Stages are told by their names; a name that stands in several packages means the same in each.
"""

# Work of the paint bay; an aircraft that needs maintenance too moves there and back.
PAINT = (
    "Wash and mask",
    "Strip",
    "Flight controls painted and balanced",
    "Surface preparation",
    "Prime",
    "Top coat and livery",
    "Markings and unmask",
)

# Work that may not be done at night: what is spoken and seen must be beyond doubt, and the
# neighbours of the apron hear the engines.
BY_DAY = ("Gear swing", "Functional tests")

# Doors and legs of the gear move: nobody else is on or below the aircraft.
ALONE = ("Gear swing",)

# Done by one qualified person and inspected by another.
CRITICAL = (
    "Engine change",
    "Flight controls painted and balanced",
    "Flight controls fitted and rigged",
)

# People on the aircraft at once: in and around tanks, round the jacks, on the paint platforms.
MAX_HEADS = {"Fuel tank work": 16, "Gear swing": 20, "Top coat and livery": 24}

# Man-hours that stay evenly on the days of the stage, also when the base lets others be levelled:
# coats dry between the days, and in a tank nobody can help out.
EVENLY = ("Fuel tank work", "Prime", "Top coat and livery")

# Man-hours that may be put into the weeks in which people are there: on a worked day up to
# LEVELLED_PEAK per cent of the even share, and as long as no other stage waits for them. Work in
# many places of the aircraft, where some more people one week and fewer the next do no harm.
LEVELLED = (
    "Cabin",
    "Cabin out",
    "Cabin in",
    "Cabin restoration",
    "Seats and monuments out",
    "Seats and monuments in",
    "Cabin floor out",
    "Cabin floor in",
    "Galleys and monuments",
    "Linings and lights",
    "Avionics updates",
    "Wiring for the new seats",
    "Wiring below the floor",
    "Pipes and ducts below the floor",
    "Inspection",
    "Deep inspection",
    "Rectification",
    "Structure repair",
    "Fuselage repair",
    "Floor beams repaired",
    "Engines",
    "Engines and propellers",
    "Engine borescope",
    "Records audit",
)
LEVELLED_PEAK = 125

# Package and stage: shortest and longest days.
FLEXIBLE = {
    ("Twin-aisle premium cabin refit", "Wiring for the new seats"): (7, 11),
    ("Twin-aisle cabin floor renewal", "Floor beams repaired"): (10, 14),
}

# Held from the first day of the stage to its last.
EQUIPMENT_OF = {
    "Gear swing": "Jack set",
    "Fuel tank work": "Tank ventilation set, Rescue kit",
    "Wing and tail repair": "Tail dock",
}
EQUIPMENT_IN = {("Twin-aisle C-check", "Structure repair"): "Tail dock"}

# Standard deviation in percent of the findings; where nothing stands here, the usual one.
USUAL_SPREAD = 25
SPREAD = {
    "Deep inspection": 35,
    "Fuel tank work": 40,
    "Rectification": 35,
    "Structure repair": 50,
    "Fuselage repair": 50,
    "Wing and tail repair": 50,
    "Floor beams repaired": 55,
}
