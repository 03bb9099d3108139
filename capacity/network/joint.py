"""The programs of all bases as one linear program: first prices, and small networks to the end."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from threading import Event

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import block_diag, coo_array, csc_array, vstack

from capacity.facts import Base
from capacity.labour.available import available_hours
from capacity.labour.calendar import calendar_of
from capacity.search_settings import SearchSettings
from capacity.settings import Settings
from capacity.slots.candidates import days_apart, lay_out_checks, scope_for
from capacity.slots.engines.posting import LinearModel, best_and_bound, priced
from capacity.slots.line.heed import Heed
from capacity.slots.program.build import Built
from capacity.slots.program.choice import Choice
from capacity.slots.program.dominated_columns import undominated
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.linear_form import LinearForm, money_form
from capacity.slots.program.program import Restricted
from capacity.slots.search.large_search import Large

Posted = tuple[Restricted, LinearForm]


def built_whole(base: Base, settings: Settings, heed: Heed) -> Built | None:
    """Return the whole program of a base; None where it is too large to be looked at together."""
    calendar, apart = calendar_of(base), days_apart(base, settings)
    laid = lay_out_checks(base, calendar, heed, {}, days_apart=apart)
    scope = scope_for(laid, settings)
    large = Large(base, available_hours(base, calendar), laid, scope, apart)
    return large.ground(0, {}, heed) if large.is_whole else None


@dataclass(frozen=True)
class Relaxation:
    """The optimum of the relaxation: its ``value``, and the price of each shared enquiry.

    ``shares`` are how much of an enquiry each base has there, by base and enquiry.
    """

    value: float
    prices: Mapping[str, float]
    shares: Mapping[tuple[str, str], float]


class JointProgram:
    """Minimise the cost of all bases; ``built`` may lack bases that are too large.

    Each base's program as it is, days past ``Latest in`` within ``days``, and for every enquiry
    that n > 1 of the bases are asked a row over its being left out::

        sum over these bases of (left out there)  >=  n - 1
    """

    def __init__(
        self,
        built: Mapping[str, Built],
        days: Mapping[str, int],
        shared: Sequence[str],
        timing: SearchSettings,
    ) -> None:
        """Begin without the rows that seldom bind."""
        self._rows = {name: LazyRows(one.program, timing) for name, one in built.items()}
        self._days, self._shared = days, shared
        self._posted = {name: self._post(name) for name in built}

    @property
    def size(self) -> int:
        """How many columns there are."""
        return sum(restricted.program.size for restricted, _ in self._posted.values())

    def relaxed(self, seconds: float, stop: Event) -> Relaxation | None:
        """Return the optimum of the relaxation; None when there is none in so many ``seconds``.

        The duals of the rows of enquiries are prices at which the bases, each by itself, want
        each of them about once.
        """
        while True:
            model, coupled = self._model()
            if (found := priced(model, seconds, stop)) is None:
                return None
            parts, is_broken = self._parts(found.columns), False
            for name, entries in parts.items():
                restricted = self._posted[name][0]
                weights = entries[: restricted.program.size]
                if self._rows[name].broken_by_weights(restricted.number, weights):
                    self._posted[name] = self._post(name)
                    is_broken = True
            if not is_broken:
                break
        worth = found.prices[len(found.prices) - len(coupled) :]
        return Relaxation(
            found.value,
            {one: max(0.0, float(price)) for one, price in zip(coupled, worth, strict=True)},
            {
                (name, check): 1.0 - float(parts[name][place])
                for name in parts
                for check, place in self._left_out(name).items()
            },
        )

    def solved(
        self, seconds: float, gap: float, stop: Event
    ) -> tuple[Mapping[str, Choice] | None, float | None]:
        """Return the best choices of all bases and the bound that branch-and-cut comes to.

        Choices may break rows that seldom bind; then they are worth nothing, and the bound holds.
        """
        model, _ = self._model()
        values, bound = best_and_bound(model, seconds, gap, stop)
        if values is None:
            return None, bound
        chosen = {}
        for name, entries in self._parts(values).items():
            restricted, form = self._posted[name]
            chosen[name] = restricted.to_whole(form.chosen_of(entries))
            if self._rows[name].broken_by(chosen[name]):
                return None, bound
        return chosen, bound

    def _post(self, name: str) -> Posted:
        rows = self._rows[name]
        restricted = undominated(rows.within(self._days[name]), rows.program.size)
        return restricted, money_form(restricted.program)

    def _left_out(self, name: str) -> dict[str, int]:
        """Return the entry of each shared enquiry's being left out, of the form of a base."""
        program = self._posted[name][0].program
        return {
            check: program.size + number
            for number, check in enumerate(program.checks)
            if check in self._shared
        }

    def _parts(self, values: NDArray[np.float64]) -> dict[str, NDArray[np.float64]]:
        ends = np.cumsum([len(form.cost) for _, form in self._posted.values()])
        return dict(zip(self._posted, np.split(values, ends[:-1]), strict=True))

    def _model(self) -> tuple[LinearModel, list[str]]:
        """Return the model, and the enquiries whose rows are its last."""
        forms = [form for _, form in self._posted.values()]
        first = np.cumsum([0, *(len(form.cost) for form in forms)])
        places: dict[str, list[int]] = {check: [] for check in self._shared}
        for name, begin in zip(self._posted, first[:-1], strict=True):
            for check, place in self._left_out(name).items():
                places[check].append(int(begin) + place)
        coupled = [check for check in self._shared if len(places[check]) > 1]
        entries = [(row, place) for row, check in enumerate(coupled) for place in places[check]]
        row, column = (
            (np.array(each, dtype=np.int64) for each in zip(*entries, strict=True))
            if entries
            else (np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64))
        )
        coupling = coo_array((np.ones(len(row)), (row, column)), shape=(len(coupled), first[-1]))
        fewest = np.array([len(places[check]) - 1.0 for check in coupled])
        matrix = vstack([block_diag([form.matrix for form in forms]), coupling])
        whole = [np.arange(len(form.cost)) < form.integers for form in forms]
        model = LinearModel(
            matrix=csc_array(matrix),
            row_lower=np.concatenate([*(form.row_lower for form in forms), fewest]),
            row_upper=np.concatenate(
                [*(form.row_upper for form in forms), np.full(len(coupled), np.inf)]
            ),
            lower=np.zeros(first[-1]),
            upper=np.concatenate([form.upper for form in forms]),
            cost=np.concatenate([form.cost for form in forms]),
            is_whole=np.concatenate(whole),
            offset=sum(form.offset for form in forms),
        )
        return model, coupled
