"""What a remedy names of the command line, as the page calls it."""

ON_THE_PAGE = (
    (
        "Re-plan with --today (give --today to verify and learn too), or put First day ",
        "Set Today of Re-plan, or Today of Messages as of a day, or put First day ",
    ),
    ("or give the right --today", "or set the right day as Today"),
    (
        "Plan again (plan or replan, with --plan), and ask about that plan.",
        "Make the plan again, or Re-plan from this one, and ask about that plan.",
    ),
    (
        "capacity explain --ready-dates says what that costs.",
        "Click the check and ask why it is here: the answer says what that costs.",
    ),
    (
        "capacity explain --check says what helps.",
        "click it and ask why it is here to see what helps.",
    ),
    ("--book: ", "Options to book: "),
    ("--drop: ", "Options to take out: "),
    ("--not-in: ", "Checks that did not come: "),
    ("(--seconds)", "(Seconds to search at most)"),
)
"""Words that name an option of a command, and what they are on the page."""


def as_on_the_page(text: str) -> str:
    """Return a text in which options of commands are the fields and buttons of the page."""
    for command, page in ON_THE_PAGE:
        text = text.replace(command, page)
    return text
