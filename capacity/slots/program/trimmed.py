"""Large programs without the columns that a good plan has no use for."""

from dataclasses import dataclass

import numpy as np

from capacity.search_settings import SearchSettings
from capacity.slots.line.reports import DaysBound, FoundChoice, MoneyBound, Report
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program, Restricted


@dataclass(frozen=True)
class Part:
    """The part of a program that is searched, with ``most_days`` past a column at the most.

    A plan with no more days past in all than that has only such columns. So what is proven
    about plans with so few days holds whatever else the program has.
    """

    restricted: Restricted
    most_days: float

    def to_part(self, chosen: Choice) -> Choice:
        """Return a choice in the part's numbers; checks whose column is not in it are out."""
        there = np.where(np.isin(chosen, self.restricted.number), chosen, -1)
        mine = np.full_like(there, -1)
        mine[there >= 0] = np.searchsorted(self.restricted.number, there[there >= 0])
        return mine

    def to_whole(self, word: Report) -> Report | None:
        """Return what a word about the part says about the whole; None when it says nothing."""
        match word:
            case FoundChoice(chosen, source):
                return FoundChoice(self.restricted.to_whole(chosen), source)
            case DaysBound(days):
                return DaysBound(int(min(days, self.most_days + 1)))
            case MoneyBound(days):
                return word if days <= self.most_days else None
        return word

    def suffices(self, days: int) -> bool:
        """Return whether plans with no more than so many days past are all in the part."""
        return days <= self.most_days


def parts_of(program: Program, settings: SearchSettings) -> list[Part]:
    """Return the parts to search one after the other while they do not suffice."""
    whole = Part(Restricted(program, np.arange(program.size)), np.inf)
    most_days = settings.most_days_at_first
    is_small = program.size <= settings.most_columns_searched_whole
    if is_small or not (program.past > most_days).any():
        return [whole]
    return [Part(program.restricted_to(program.past <= most_days), most_days), whole]
