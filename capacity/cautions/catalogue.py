"""The cautions as data: when each is shown, what it says, and where it is from.

Limits are those of the source named, as an example of what is usual; others may hold here.
"""

from capacity.cautions.caution import Caution, SourceStatus

JACKS = Caution(
    "jacks",
    "an aircraft is raised on jacks",
    "Clear workstands from under and near the aircraft before it is raised. Nobody stays in it "
    "while it is raised or lowered, unless the manual requires it. Level floor, protected from "
    "wind, in a hangar if possible, each jack within its capacity.",
    "Aviation maintenance technician handbook, general (AC 65-9A chapter 11, now FAA-H-8083-30)",
    SourceStatus.SEEN,
)
GEAR_SWING = Caution(
    "gear swing",
    "landing gear is swung or retracted",
    "No other work in the area of the gear bays; one person controls it, and it is handed over in "
    "words and writing. In a late check without a prepared handover, an aircraft settled on its "
    "tail when some of its gear was retracted.",
    "Accident report EW/C96/6/5 of 1996, UK air accidents investigation branch (summary)",
    SourceStatus.SEEN,
)
FUEL_TANK = Caution(
    "fuel tank entry",
    "a fuel tank is opened or entered",
    "A tank is a confined space that needs a permit. Hazardous above 10 % of the lower flammable "
    "limit, or with oxygen below 19.5 % or above 23.5 %; test oxygen first, then combustible, "
    "then toxic gases.",
    "29 CFR 1910.146(b)",
    SourceStatus.SEEN,
)
HOT_WORK = Caution(
    "hot work",
    "welding, brazing, grinding and the like",
    "A fire watch where anything combustible is within 35 ft (11 m), kept for at least 30 minutes "
    "afterwards; no hot work beside open tanks or painting.",
    "29 CFR 1910.252(a)(2)(iii)",
    SourceStatus.SEEN,
)
PAINTING = Caution(
    "painting",
    "an aircraft is painted",
    "Segregate and ventilate. Hexavalent chromium: at most 5 ug/m3 over a shift, action from "
    "2.5 ug/m3 on; people are not taken in turns to keep within it.",
    "29 CFR 1910.1026(b), (c), (f)",
    SourceStatus.SEEN,
)
PAINT_REMOVAL = Caution(
    "paint removal",
    "paint is stripped",
    "What eases the limits for painting aircraft (engineering controls to 25 ug/m3 of hexavalent "
    "chromium, respirators beyond) does not cover paint removal.",
    "29 CFR 1910.1026(f)(1)(ii); letter of interpretation of 13 March 2018",
    SourceStatus.SEEN,
)
HEIGHT = Caution(
    "working at height",
    "work from docks, on wings or tails",
    "Fall protection: in the United States from 4 ft (1.2 m) on in general industry; in the "
    "United Kingdom at any height from which a fall could hurt.",
    "29 CFR 1910.28(b)(1)(i); Work at Height Regulations 2005 (from "
    "memory, not checked against the text)",
    SourceStatus.SECONDARY,
)
ENGINE_RUN = Caution(
    "engine run",
    "engines are run",
    "Never inside the hangar; only in approved run areas, guarded.",
    "Local fire and airport codes",
    SourceStatus.SEEN,
)
X_RAY = Caution(
    "radiography",
    "parts are inspected with X-rays",
    "Everybody leaves the controlled area, other bays included where it reaches; local radiation "
    "rules set its size.",
    "common practice",
    SourceStatus.PRACTICE,
)
POWERED_CONTROLS = Caution(
    "powered controls",
    "hydraulic power or flight controls are on",
    "Surfaces move at once and with force: nobody near or in them; warn, post a guard, and tag "
    "the switches.",
    "common practice",
    SourceStatus.PRACTICE,
)
ALONE = Caution(
    "alone",
    "a stage is done alone",
    "Nobody else works on the aircraft while it lasts, on every shift; tell the shifts before and "
    "after.",
    "derived from the cautions on jacks and gear swings",
    SourceStatus.DERIVED,
)
INDEPENDENT_INSPECTION = Caution(
    "independent inspection",
    "a critical task is done",
    "One qualified person does it and another inspects it. That no second one was put on the "
    "shift is no unforeseen circumstance, so nobody may then inspect again what they did.",
    "AMC4 145.A.48(b); 14 CFR 121.371(b), (c)",
    SourceStatus.SEEN,
)
SAME_TASK_TWICE = Caution(
    "same task twice",
    "a critical task is done on two like systems",
    "Not the same person on both, such as on both engines, where it can be helped.",
    "145.A.48(c) and its AMC (read in part)",
    SourceStatus.SEEN,
)
ALERTNESS = Caution(
    "alertness",
    "a critical task may fall into a night shift",
    "Plan critical tasks for hours in which people are likely to be most alert.",
    "AMC 145.A.47(a) paragraph 3; HSG256 of the UK health and safety executive",
    SourceStatus.SEEN,
)
NIGHT_WORK = Caution(
    "night work",
    "crews work nights",
    "Nights, long hours, several shift patterns and overtime tire people: give enough rest "
    "between shifts, avoid changes between day and night, plan longer rest regularly.",
    "UK GM1 145.A.47(b)",
    SourceStatus.SEEN,
)
LONG_SHIFT = Caution(
    "long shift",
    "a shift is longer than 12 hours",
    "Good practice is a scheduled shift of at most 12 hours.",
    "Good-practice limits of UK CAA Paper 2002/06",
    SourceStatus.MEMORY,
)
OVERTIME = Caution(
    "overtime",
    "overtime may be bought",
    "The established shift durations should not be exceeded merely for management convenience, "
    "even when staff are willing to work extended hours.",
    "AMC1 145.A.47(b)",
    SourceStatus.SECONDARY,
)
HANDOVER = Caution(
    "handover",
    "more than one shift works",
    "Leave time for a handover at which both shifts are present; what is open is said and written "
    "down.",
    "145.A.47(c)",
    SourceStatus.SEEN,
)
PLANNING_AID = Caution(
    "planning aid",
    "always",
    "This is a planning aid. It replaces neither approved data nor local rules, nor competent "
    "planners, licensed staff and their release decision.",
    "145.A.45 and 145.A.50",
    SourceStatus.MEMORY,
)

CATALOGUE = (
    PLANNING_AID,
    JACKS,
    GEAR_SWING,
    FUEL_TANK,
    HOT_WORK,
    PAINTING,
    PAINT_REMOVAL,
    HEIGHT,
    ENGINE_RUN,
    X_RAY,
    POWERED_CONTROLS,
    ALONE,
    INDEPENDENT_INSPECTION,
    SAME_TASK_TWICE,
    ALERTNESS,
    NIGHT_WORK,
    LONG_SHIFT,
    OVERTIME,
    HANDOVER,
)
