"""Notes on the headings of the sheets: what a column means, and its unit."""

NOTES = {
    ("Base", "Setting"): "One setting a row. Those that may be left out have a default.",
    ("Skills", "Licence"): "Part-66 category A, B1, B2 or C; blank where none is needed.",
    ("Skills", "Overtime cost"): "Cost per man-hour.",
    ("Skills", "Overtime cap %"): "Share of the week's regular man-hours in this skill.",
    ("Skills", "Contract cost"): "Cost per man-hour.",
    ("Skills", "Contract cap %"): "Share of the week's regular man-hours in this skill; hours of "
    "contract crews come on top.",
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
    ("Bay closures", "From"): "First closed day.",
    ("Bay closures", "To"): "Last closed day.",
    ("Aircraft types", "Span m"): "Metres.",
    ("Aircraft types", "Length m"): "Metres.",
    ("Aircraft types", "Tail m"): "Metres.",
    ("Aircraft types", "Docking"): "Docking that the type needs; blank needs none.",
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
    ("Package hours", "Man-hours"): "Routine man-hours; findings come on top.",
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
    ): "Day on which the customer would like to come in; it carries no cost.",
    ("Checks", "Agreed out"): "Day on which it is to be out; its bay is free on that day.",
    ("Checks", "Early cost per day"): "Cost of each day that the in day lies before Latest in.",
    ("Checks", "Late cost per day"): "Cost of each day that the out day lies after Agreed out.",
    ("Checks", "Price"): "Amount earned when an option is taken.",
    ("Checks", "Findings factor"): "Multiplies the findings of the package; blank is 1.",
    ("Checks", "Fixed bay"): "Of a fixed check.",
    ("Checks", "Fixed in"): "Of a fixed check; may lie before the first day.",
    ("Checks", "Remaining %"): "Share of the man-hours still to do on an aircraft already in.",
    ("Crews", "Skills"): "What each of its people can do, separated by commas; the first is the "
    "crew's own.",
    ("Crews", "Types"): "Aircraft types that the crew may work on; blank is all.",
    ("Crews", "Heads"): "People in the crew, absent ones too.",
    ("Crews", "Pattern"): "A pattern of the sheet Shift patterns.",
    ("Crews", "Starts cycle on"): "A date on which the first day of the pattern falls.",
    ("Crews", "Employment"): "employed or contract.",
    ("Crews", "Area"): "Hangar or workshop in which the crew works; blank is not told.",
    ("Crews", "From"): "First day on which the crew is there; blank: always.",
    ("Crews", "To"): "Last day on which the crew is there; blank: always.",
    ("Shift patterns", "Cycle"): "Shifts day by day, separated by blanks; a hyphen is a day off. "
    "The cycle repeats.",
    ("Shifts", "Start"): "Time of day.",
    ("Shifts", "Hours"): "Attended hours without the unpaid break.",
    ("Shifts", "Night"): "yes or no.",
    ("Absence", "From"): "First day away.",
    ("Absence", "To"): "Last day away.",
    ("Absence", "Heads"): "People away on each of these days.",
    ("Base calendar", "From"): "First of these days.",
    ("Base calendar", "To"): "Last of these days.",
    (
        "Base calendar",
        "Worked",
    ): "no: the base is closed. yes: it works, also on days that would be off. Blank: as usual.",
    ("Base calendar", "Hours %"): "Share of each shift's hours that crews attend on shortened "
    "days; blank is all.",
    ("Equipment", "Number"): "Pieces that there are, those out of use too.",
    ("Equipment outages", "From"): "First day out of use.",
    ("Equipment outages", "To"): "Last day out of use.",
    ("Equipment outages", "Number"): "Pieces out of use on each of these days.",
    ("Shops", "Items per day"): "Items that the shop turns round on a day that the base works, for "
    "all aircraft together.",
    ("Shop loops", "Items"): "Items of one aircraft.",
    ("Shop loops", "Leave at"): "Stage at whose end the items go to the shop.",
    ("Shop loops", "Back for"): "Stage that cannot start before the last item is back.",
    ("Functions", "Function"): "plan, perform, supervise, inspect or monitor quality.",
    ("Functions", "Skill"): "Crews whose own skill it is serve the function.",
    ("Functions", "Heads"): "People off the roster who serve the function.",
    ("Functions", "Hours per head and month"): "Man-hours that each of these heads gives.",
    ("Functions", "Needed per 100 man-hours"): "Man-hours of the function that 100 man-hours "
    "performed need.",
    ("Function absence", "From"): "First day away.",
    ("Function absence", "To"): "Last day away.",
    ("Function absence", "Heads"): "People off the roster away on each of these days.",
}

CHOICES = {
    ("Skills", "Licence"): ["A", "B1", "B2", "C"],
    ("Packages", "Alone"): ["yes", "no"],
    ("Packages", "Into float"): ["yes", "no"],
    ("Packages", "Critical"): ["yes", "no"],
    ("Packages", "By night"): ["yes", "no"],
    ("Checks", "Third party"): ["yes", "no"],
    ("Checks", "Status"): ["fixed", "booked", "option"],
    ("Crews", "Employment"): ["employed", "contract"],
    ("Shifts", "Night"): ["yes", "no"],
    ("Base calendar", "Worked"): ["yes", "no"],
    ("Functions", "Function"): ["plan", "perform", "supervise", "inspect", "monitor quality"],
    ("Function absence", "Function"): [
        "plan",
        "perform",
        "supervise",
        "inspect",
        "monitor quality",
    ],
}
