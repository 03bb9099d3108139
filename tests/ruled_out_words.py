"""Words that nobody is to read any more, each with the word that is used, and how they are found.

The patterns are narrow: a word that is right in another sense is matched only in the sense that
is ruled out (*findings* are non-routine work; a *set* of working-time rules is a set).
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RuledOut:
    """A pattern and what is said instead."""

    pattern: re.Pattern[str]
    instead: str


def _ruled_out(pattern: str, instead: str, flags: re.RegexFlag = re.IGNORECASE) -> RuledOut:
    return RuledOut(re.compile(pattern, flags), instead)


EXACT = re.RegexFlag(0)

RULED_OUT: tuple[RuledOut, ...] = (
    _ruled_out(r"(?<![\w-])--(from|summary|accept)\b", "--plan, --plan-out, --first-day"),
    _ruled_out(r"\bcapacity (check|offer)\b", "capacity verify, capacity enquiry"),
    _ruled_out(r"\bfindings (on|about) (the )?(input|workbook|plan)\b", "messages"),
    _ruled_out(r"\bthe findings (say|tell|name)\b", "the messages"),
    _ruled_out(r"\bplacements?\b", "slot"),
    _ruled_out(r"\bnot placed\b|\bnowhere\b", "no slot"),
    _ruled_out(r"\bno place\b(?! to save)|\bfound no room\b", "no slot"),
    _ruled_out(r"\boptions? (is |are )?(refused|given up)\b|\bGIVEN UP\b", "not taken"),
    _ruled_out(r"\b(it|that|this) pays from\b|\blowest price that pays\b", "break-even price"),
    _ruled_out(r"\b(DOES NOT PAY|PAYS|PAYS IF)\b", "worth it", EXACT),
    _ruled_out(r"\bdoes not pay\b|\bpays? (alone|together)\b", "not worth it"),
    _ruled_out(r"\b(best|next) sets?\b|\bsets by gain\b|\bno set but\b", "combination"),
    _ruled_out(r"(?<!save )\bmoney\b", "cost"),
    _ruled_out(r"\bnobody (is |was )?there\b|\bhours not met\b", "overload; not covered"),
    _ruled_out(r"\bOVER\b", "overload", EXACT),
    _ruled_out(r"\bwithout a crew\b.*\bhours\b|\brun short\b", "overload"),
    _ruled_out(r"\basked by the checks\b|\bnothing asked\b|\basked in (all|these)\b", "demand"),
    _ruled_out(r"\bcould be carried\b|\bto be had\b", "available"),
    _ruled_out(r"\b(goes|go|went|gone) home\b|\bhome by\b", "out"),
    _ruled_out(r"\bpast (its |their )?agreed out\b", "days late out"),
    _ruled_out(r"\bin too late\b", "days past Latest in"),
    _ruled_out(r"\bearly days\b", "unused interval"),
    _ruled_out(r"\bbay days\b", "bay occupancy"),
    _ruled_out(r"\blevers?\b", "measures"),
    _ruled_out(r"\bhalf employed\b", "own-staff share"),
    _ruled_out(r"\bcrews per aircraft\b|\bunevenness\b", "crew-aircraft pairs, levelling index"),
    _ruled_out(r"\bdear(er|est)?\b", "expensive"),
    _ruled_out(r"\bin the mean\b|\bmean of the draws\b", "on average"),
    _ruled_out(r"\b(of|of the|[\d,]+|all) draws\b", "simulations"),
    _ruled_out(r"\bstands? (otherwise|elsewhere|together)\b", "differ; conflict"),
    _ruled_out(r"\bsay above\b|\blook through the plan\b|\bhangs on it\b", "plain sentences"),
    _ruled_out(r"\bnot in the book\b|\bgains nothing and costs nothing\b", "plain sentences"),
    _ruled_out(r"\bfirst come\b", "first draft"),
)

PER_CENT = _ruled_out(r"\d%(?![\w;\"'])", "a blank before the sign: 4.1 %")
"""Held where a text is shown; a style sheet has its own way to write it."""


def ruled_out_in(text: str, also: tuple[RuledOut, ...] = ()) -> Iterator[str]:
    """Yield what is ruled out in a text, with what to say instead."""
    for rule in (*RULED_OUT, *also):
        for found in rule.pattern.finditer(text):
            around = text[max(0, found.start() - 30) : found.end() + 30].replace("\n", " ")
            yield f"'{found.group()}' in '{around}': {rule.instead}"


def faults_in(texts: Iterable[str], *, with_per_cent: bool = True) -> list[str]:
    """Return what of the texts is ruled out, each fault once."""
    also = (PER_CENT,) if with_per_cent else ()
    return sorted({fault for text in texts for fault in ruled_out_in(text, also)})
