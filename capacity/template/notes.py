"""Notes on headings and settings: what a column means, and its unit.

Under ``Base`` stand the two headings of that sheet, and every setting by its name.
"""

NOTES = {
    ("Base", "Setting"): "One setting a row. Those that may be left out have a default.",
    (
        "Base",
        "Value",
    ): "What the setting is. A blank one has the default that is named in its note.",
    ("Base", "Base"): "Name of the base; it stands on every sheet of a plan.",
    ("Base", "First day"): "First day on which a check can come in.",
    ("Base", "Weeks"): "Weeks in which checks may come in; a quarter is 13.",
    ("Base", "Currency"): "A label for all costs and prices; blank is EUR.",
    (
        "Base",
        "Working days",
    ): "Days on which the base works, such as Mon-Fri or Mon-Thu, Sat; blank is Mon-Sun.",
    ("Base", "Holidays"): "Country code of ISO 3166, such as DE, or with a subdivision, such as "
    "GB-SCT: its holidays are not worked. Blank or none: no holidays.",
    (
        "Base",
        "Productivity %",
    ): "Share of attended hours that become booked man-hours; blank is 75.",
    ("Base", "Longest delay days"): "Days past its Latest in by which a check may still come in "
    "before it counts as without a slot; blank is 28.",
    (
        "Base",
        "Moves on days off",
    ): "no: aircraft come in, move and leave on days that the base works "
    "only, and keep their bay over days off. Blank is yes.",
    ("Base", "Longest wait days"): "Days that an aircraft may wait for its next bay or for a shop, "
    "at most 14; blank is 3.",
    (
        "Base",
        "Overload cost",
    ): "Cost of a man-hour of overload, beyond overtime and contract labour: so "
    "expensive that it is a last resort. Blank is 500.",
    ("Base", "Labour rate"): "Cost of a regular man-hour. It changes no plan, since crews are paid "
    "in any case; with it the contribution of an enquiry counts its labour. It may be blank.",
    ("Base", "Daily peak %"): "The most man-hours of one skill on a worked day of a stage, in per "
    "cent of an even share, 100 to 400; blank is 100, evenly. A stage of its own may differ.",
    ("Base", "Into float"): "yes: hours of a stage may also lie in its free float; blank is no.",
    (
        "Base",
        "Man-hours counted by",
    ): "week: the days of a week are one pool of man-hours. day: hours "
    "of a crew are there on the days of its roster only, and what those lack is bought. Blank is "
    "week.",
    ("Base", "Working-time rules"): "A set of rules that the tool ships, or none. Local law and "
    "agreements go before them.",
    (
        "Base",
        "Working-time mode",
    ): "off, warn (say which limits are exceeded) or hold (the crew plan "
    "keeps overtime within them); blank is warn.",
    ("Base", "Man-hour plan name"): "What your organisation calls its man-hour plan.",
    ("Base", "Plan date"): "Day as of which the man-hour plan is issued; it may be blank.",
    ("Base", "Own-staff share rule"): "warn or off: whether it is said where more than half of a "
    "shift are contract people; blank is warn.",
    ("Skills", "Skill"): "A trade of your people, such as airframe or avionics.",
    ("Skills", "Licence"): "Part-66 category A, B1, B2 or C; blank where none is needed.",
    ("Skills", "Overtime cost"): "Cost per man-hour.",
    ("Skills", "Overtime cap %"): "Share of the week's regular man-hours in this skill.",
    ("Skills", "Contract cost"): "Cost per man-hour.",
    ("Skills", "Contract cap %"): "Share of the week's regular man-hours in this skill; hours of "
    "contract crews come on top.",
    ("Bays", "Bay"): "Name of the bay, as people say it.",
    ("Bays", "Hangar"): "Hangar in which the bay is; it may be blank.",
    ("Bays", "Max span m"): "Metres; the widest aircraft that fits.",
    ("Bays", "Max length m"): "Metres; the longest aircraft that fits.",
    ("Bays", "Max tail m"): "Metres; the highest tail that fits.",
    ("Bays", "Work"): "Kinds of work done here, separated by commas.",
    ("Bays", "Docking"): "Kinds of docking in this bay, separated by commas. Blank fits all.",
    (
        "Bays",
        "Reached through",
    ): "Bay that must be clear on the days on which an aircraft comes into "
    "or leaves this one; blank where it has a way of its own.",
    ("Bays", "Shares floor with"): "Bays that are never occupied on the same day as this one, "
    "separated by commas.",
    ("Bays", "Changeover days"): "Calendar days between one aircraft's out day and the next in "
    "day.",
    ("Bay closures", "Bay"): "The bay that is closed.",
    ("Bay closures", "Reason"): "Why; it stands in the plan.",
    ("Bay closures", "From"): "First closed day.",
    ("Bay closures", "To"): "Last closed day.",
    ("Aircraft types", "Type"): "An aircraft type, or one version of it.",
    ("Aircraft types", "Span m"): "Metres.",
    ("Aircraft types", "Length m"): "Metres.",
    ("Aircraft types", "Tail m"): "Metres.",
    ("Aircraft types", "Docking"): "Docking that the type needs; blank needs none.",
    ("Packages", "Package"): "Name of the work package; it stands in a row for each of its stages.",
    ("Packages", "Stage"): "A stage of the package, one a row, in the order of the work.",
    ("Packages", "After"): "Stages that must be finished before, separated by commas. Blank: the "
    "row above. A hyphen: none.",
    ("Packages", "Work"): "Kind of bay that the stage needs.",
    ("Packages", "Days"): "Days that the base works. Days off lengthen the stay, not the work.",
    ("Packages", "Shortest days"): "Fewest days in which the stage can be done; blank is Days.",
    ("Packages", "Longest days"): "Most days over which the stage may be drawn out; blank is Days.",
    ("Packages", "Equipment"): "Pools of the sheet Equipment, separated by commas; the stage holds "
    "one piece of each from its first day to its last.",
    ("Packages", "Max heads"): "People on the aircraft at once in any shift; blank sets no limit.",
    ("Packages", "Alone"): "yes: nobody else works on the aircraft during it; blank is no.",
    ("Packages", "Daily peak %"): "The most man-hours of one skill on one of its worked days, in "
    "per cent of an even share, 100 to 400; blank is the setting of that name.",
    ("Packages", "Into float"): "yes: hours may also lie on worked days after its last normal day "
    "while no stage waits for it; blank is the setting of that name.",
    ("Packages", "Findings %"): "Non-routine man-hours as a share of the routine ones.",
    (
        "Packages",
        "Findings spread %",
    ): "Standard deviation as a share of the findings, for the risk.",
    (
        "Packages",
        "Critical",
    ): "yes: done by one qualified person and inspected by another; blank is no.",
    ("Packages", "By night"): "Whether the stage may go on at night; blank is yes.",
    (
        "Packages",
        "Types",
    ): "Aircraft types that the package is for, separated by commas, on any of its rows; blank is "
    "all.",
    (
        "Packages",
        "Material cost",
    ): "Cost of the package's material each time, in its first row; for the contribution alone.",
    ("Package hours", "Package"): "A package of the sheet Packages.",
    ("Package hours", "Stage"): "A stage of that package.",
    ("Package hours", "Skill"): "A skill of the sheet Skills; a row for each that the stage needs.",
    ("Package hours", "Man-hours"): "Routine man-hours; findings come on top.",
    ("Checks", "Check"): "Name of the aircraft's visit; it stands once.",
    ("Checks", "Aircraft"): "Registration of the aircraft.",
    ("Checks", "Type"): "A type of the sheet Aircraft types.",
    ("Checks", "Package"): "A package of the sheet Packages.",
    ("Checks", "Customer"): "Whose aircraft it is; it may be blank.",
    ("Checks", "Third party"): "yes or no.",
    (
        "Checks",
        "Status",
    ): "fixed: in its bay on its day. booked: must get a slot. option: taken only "
    "when it is worth it.",
    ("Checks", "Earliest in"): "First day on which the aircraft can come in.",
    ("Checks", "Latest in"): "Last day on which the check may lawfully start.",
    (
        "Checks",
        "Wanted in",
    ): "Day on which the customer would like to come in; it carries no cost unless one is given.",
    ("Checks", "Cost per day from Wanted in"): "Cost of each day that the in day lies before or "
    "after Wanted in; blank is none.",
    ("Checks", "Agreed days"): "Calendar days from the in day to the day on which it is agreed to "
    "be out; in place of Agreed out.",
    ("Checks", "Agreed out"): "Day on which it is to be out; its bay is free on that day.",
    ("Checks", "Early cost per day"): "Cost of each day that the in day lies before Latest in.",
    ("Checks", "Late cost per day"): "Cost of each day that the out day lies after Agreed out.",
    ("Checks", "Price"): "Amount earned when an option is taken.",
    ("Checks", "Findings factor"): "Multiplies the findings of the package; blank is 1.",
    (
        "Checks",
        "Held",
    ): "in day, bay or both: it keeps to Fixed in, Fixed bay or both without being "
    "fixed. Blank: not held.",
    ("Checks", "Decide by"): "Of an option: after this day it lapses and is not taken.",
    ("Checks", "Fixed bay"): "Of a fixed check, or of one that is held in it.",
    ("Checks", "Fixed in"): "Of a fixed check; may lie before the first day.",
    ("Checks", "Remaining %"): "Share of the man-hours still to do on an aircraft already in.",
    ("Progress", "Check"): "A check in work: in on the day As of, or before.",
    ("Progress", "Stage"): "A stage of its package; blank is the check as a whole.",
    ("Progress", "As of"): "The state at the start of this day; what is left counts from it.",
    ("Progress", "Done %"): "Share of its man-hours that is done.",
    ("Progress", "Hours booked"): "Man-hours spent so far, over all skills.",
    ("Progress", "Hours to go"): "Man-hours still to do, over all skills; goes before Done %.",
    ("Progress", "Finished"): "Last day of its work.",
    ("Extra work", "Check"): "A check of the sheet Checks; no other one gets these hours.",
    ("Extra work", "Stage"): "A stage of its package, or the name of a new one.",
    ("Extra work", "After"): "Of a new stage: the stages it waits for, separated by commas; blank "
    "is the last stage of the package, a hyphen none.",
    ("Extra work", "Work"): "Of a new stage: the kind of bay that it needs.",
    ("Extra work", "Days"): "Of a new stage: days that the base works on it.",
    ("Extra work", "Skill"): "A skill of the sheet Skills.",
    ("Extra work", "Man-hours"): "Added as they are; no findings come on top.",
    ("Extra work", "Reason"): "modification, airworthiness directive, deferred defect, customer "
    "request or grown finding.",
    ("Ready dates", "Check"): "A check of the sheet Checks.",
    ("Ready dates", "Stage"): "A stage of its package that waits.",
    ("Ready dates", "Not before"): "The stage does not start before this day.",
    ("Ready dates", "Reason"): "What it waits for: part, tool, customer's approval, shop.",
    ("Checks", "Planned in"): "In day of the plan with which the check came in. capacity roll "
    "writes it, and takes it on to the sheet Delivered.",
    ("Checks", "Planned out"): "Out day of the plan with which the check came in. capacity roll "
    "writes it, and takes it on to the sheet Delivered.",
    ("Crews", "Crew"): "Name of the crew: people who work the same pattern.",
    ("Crews", "Skills"): "What each of its people can do, separated by commas; the first is the "
    "crew's own.",
    ("Crews", "Types"): "Aircraft types that the crew may work on; blank is all.",
    ("Crews", "Heads"): "People in the crew, absent ones too.",
    ("Crews", "Pattern"): "A pattern of the sheet Shift patterns.",
    ("Crews", "Starts cycle on"): "A date on which the first day of the pattern falls.",
    ("Crews", "Employment"): "employed or contract.",
    ("Crews", "Area"): "Hangar or workshop in which the crew works; blank is not told.",
    (
        "Crews",
        "Guaranteed hours a week",
    ): "Of a contract crew: man-hours a week that are paid "
    "at contract cost, used or not; blank is none.",
    ("Crews", "From"): "First day on which the crew is there; blank: always.",
    ("Crews", "To"): "Last day on which the crew is there; blank: always.",
    ("Shift patterns", "Pattern"): "Name of the pattern.",
    ("Shift patterns", "Cycle"): "Shifts day by day, separated by blanks; a hyphen is a day off. "
    "The cycle repeats.",
    ("Shifts", "Shift"): "Name of the shift, one word such as D or Late.",
    ("Shifts", "Start"): "Time of day.",
    ("Shifts", "Hours"): "Attended hours without the unpaid break.",
    ("Shifts", "Night"): "yes or no.",
    ("Absence", "Crew"): "The crew whose people are away.",
    ("Absence", "Reason"): "Leave, training or the like.",
    ("Absence", "From"): "First day away.",
    ("Absence", "To"): "Last day away.",
    ("Absence", "Heads"): "People away on each of these days.",
    ("Licences", "Crew"): "A crew of the sheet Crews.",
    (
        "Licences",
        "Skill or type",
    ): "The skill or aircraft type that they lose.",
    ("Licences", "People"): "How many people of the crew.",
    ("Licences", "Until"): "Last day on which they have it.",
    ("Base calendar", "From"): "First of these days.",
    ("Base calendar", "To"): "Last of these days.",
    (
        "Base calendar",
        "Worked",
    ): "no: the base is closed. yes: it works, also on days that would be off. Blank: as usual.",
    ("Base calendar", "Hours %"): "Share of each shift's hours that crews attend on shortened "
    "days; blank is all.",
    ("Base calendar", "Reason"): "Why, such as a shutdown or an audit day.",
    ("Equipment", "Equipment"): "Name of a pool of like pieces, such as jack sets.",
    ("Equipment", "Number"): "Pieces that there are, those out of use too.",
    ("Equipment outages", "Equipment"): "The pool whose pieces are out of use.",
    ("Equipment outages", "Reason"): "Why, such as calibration.",
    ("Equipment outages", "From"): "First day out of use.",
    ("Equipment outages", "To"): "Last day out of use.",
    ("Equipment outages", "Number"): "Pieces out of use on each of these days.",
    ("Shops", "Shop"): "Name of a shop through which items of aircraft go.",
    ("Shops", "Items per day"): "Items that the shop turns round on a day that the base works, for "
    "all aircraft together.",
    ("Shop loops", "Package"): "The package whose items go to the shop.",
    ("Shop loops", "Shop"): "A shop of the sheet Shops.",
    ("Shop loops", "Items"): "Items of one aircraft.",
    ("Shop loops", "Leave at"): "Stage at whose end the items go to the shop.",
    ("Shop loops", "Back for"): "Stage that cannot start before the last item is back.",
    ("Functions", "Function"): "plan, perform, supervise, inspect or monitor quality.",
    ("Functions", "Skill"): "Crews whose own skill it is serve the function.",
    ("Functions", "Heads"): "People off the roster who serve the function.",
    ("Functions", "Hours per head and month"): "Man-hours that each of these heads gives.",
    ("Functions", "Needed per 100 man-hours"): "Man-hours of the function that 100 man-hours "
    "performed need.",
    ("Function absence", "Function"): "The function whose people are away.",
    ("Function absence", "Reason"): "Leave, training or the like.",
    ("Function absence", "From"): "First day away.",
    ("Function absence", "To"): "Last day away.",
    ("Function absence", "Heads"): "People off the roster away on each of these days.",
    ("Delivered", "Check"): "A check that has left. capacity roll writes these rows; what nobody "
    "reported stays blank.",
    ("Delivered", "Aircraft"): "Registration.",
    ("Delivered", "Type"): "Aircraft type.",
    ("Delivered", "Package"): "Work package, as in the sheet Packages.",
    ("Delivered", "Customer"): "Whose aircraft it is.",
    ("Delivered", "Findings factor"): "That of the check: what is learnt is for a factor of 1; "
    "blank is 1.",
    ("Delivered", "Latest in"): "Last day on which it could lawfully start.",
    ("Delivered", "Agreed out"): "Day promised to the customer.",
    ("Delivered", "Planned in"): "In day of the plan with which it came in.",
    ("Delivered", "Actual in"): "Day on which it came in; blank where nobody said.",
    ("Delivered", "Planned out"): "Out day of the plan with which it came in.",
    ("Delivered", "Actual out"): "First day on which it was no longer there; blank where nobody "
    "said.",
    ("Delivered", "Stage"): "Stage of the package; blank is the check as a whole.",
    ("Delivered", "Planned days"): "Days of the package for the stage, days that the base works.",
    ("Delivered", "Actual days"): "Days that the base worked from when the stages before were "
    "finished until this one was.",
    ("Delivered", "Routine man-hours"): "Routine man-hours of the stage, all skills.",
    ("Delivered", "Planned man-hours"): "Routine ones with planned findings and extra work.",
    ("Delivered", "Extra man-hours"): "Extra work among the planned ones; blank is none.",
    ("Delivered", "Actual man-hours"): "Man-hours booked by the end; blank where nobody said.",
}

SKILL_COLUMN = "Routine man-hours of the stage in this skill; blank is none. Findings come on top."


def note_of(sheet: str, heading: str) -> str | None:
    """Return the note on a heading or a setting; None where there is none."""
    if sheet == "Package hours" and (sheet, heading) not in NOTES:
        return SKILL_COLUMN
    return NOTES.get((sheet, heading))
