"""What the page Commercial says in sentences."""

from math import ceil

from capacity.facts import Base, Check
from capacity.questions.asking.contribution import Contribution
from capacity.questions.enquiries.values import CombinationAnswer
from capacity.reports.enquiries.wording import named, set_in_words
from capacity.words import LEAST_MONEY, counted, day, days, money
from ui.commercial.enquiry_job import Question, Told

NO_PROMISE = (
    "An answer is no promise. Have the plan with the aircraft in it checked before you name a "
    "date or a price: overload is work that is done late, or by tired people."
)
NOTHING_ASKED = (
    "Nothing has been asked of this plan yet. Describe the aircraft above, then press Ask."
)
ASK_AGAIN = (
    "The plan has been made again since the last enquiry, so its answers are gone. Ask again."
)
STOPPED = (
    "It was stopped: what moving others saves, and which combination is best, may have been "
    "searched less far than you allowed."
)
COMBINATIONS_TOO_SHORT = (
    "One aircraft alone gains more than the best combination that was found: the time for "
    "combinations was too short. "
    "Allow more seconds, or let fewer checks move, and ask again."
)
NO_SLOT = "no slot unless others move"
COPY_ONLY = (
    "This is a copy. The plan on the page Planner stays as it is. To go on with it, book it above."
)


def enquiry_in_words(check: Check, base: Base) -> str:
    """Return what is asked about, in a line."""
    said = [
        f"{check.name}: {check.type}, {check.package}",
        f"in from {day(check.earliest_in)} to {day(check.latest_in)}",
    ]
    if check.agreed_out is not None:
        said.append(f"Agreed out {day(check.agreed_out)}")
    if check.agreed_days is not None:
        said.append(f"out {days(check.agreed_days)} after it comes in")
    said.append(f"price {money(check.price, base)}" if check.price else "no price offered")
    if check.late_cost_per_day:
        said.append(f"{money(check.late_cost_per_day, base)} per day late out")
    return "; ".join(said) + "."


def question_in_words(question: Question) -> str:
    """Return who may move and what else was asked for."""
    if question.may_move is None:
        who = "All checks may move"
    elif question.may_move:
        who = f"{named(question.may_move)} may move"
    else:
        who = "No check may move"
    only = "; only slots that keep Agreed out" if question.on_time_only else ""
    return f"{who}{only}."


def asked_in_words(told: Told) -> str:
    """Return how long it took to answer what."""
    enquiries = counted(len(told.answers), "enquiry")
    return f"{enquiries}, answered in {told.seconds:.0f} s. {question_in_words(told.question)}"


def best_combination_in_words(found: CombinationAnswer, base: Base) -> str:
    """Return which enquiries to accept together, what that gains, and what is proven."""
    return f"Best combination: {set_in_words(found.best, 1, base)}."


def does_not_cover(found: Contribution, base: Base) -> str:
    """Return by how much a price is too low once regular labour and material are counted."""
    short = money(ceil(-found.money), base)
    return f"With regular labour and material counted the price is {short} too low."


def is_searched_too_shortly(found: CombinationAnswer) -> bool:
    """Return whether an enquiry alone gains more than the combination that was found to be best."""
    alone = [one.gain for one in found.alone if one.gain is not None]
    return max(alone, default=0.0) > found.best.gain + LEAST_MONEY
