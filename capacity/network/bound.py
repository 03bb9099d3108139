"""What is proven of all bases together, and the prices at which they are planned apart.

With c[b](x) the cost of a plan x of base b, and t[b, j](x) 1 where it takes the enquiry j, all
bases together are::

    z = least sum over b of c[b](x[b])   with, for each j, sum over b of t[b, j](x[b]) <= 1

For any prices p[j] >= 0 that a base pays for what it takes, planned apart from the others::

    L(p) = sum over b of min over x of (c[b](x) + sum over j of p[j] t[b, j](x))  -  sum of p[j]

and L(p) <= z: the plans of z are among those looked at, and cost there
z + sum over j of p[j] (sum over b of t[b, j] - 1), which is no more than z, since no bracket
is above 0. A lower bound of each minimum in its place makes L(p) no larger. This is Lagrangian
relaxation (Geoffrion 1974; Fisher 1981; Wolsey, Integer Programming, ch. 10; from memory).
"""

from collections.abc import Iterable, Mapping
from math import fsum

# Of the step that would close the distance if L were linear.
STEP = 0.5


def lagrangian_bound(bounds: Iterable[float | None], prices: Mapping[str, float]) -> float | None:
    """Return what the bounds of bases planned at prices prove of all; None where one is missing."""
    told = list(bounds)
    known = [one for one in told if one is not None]
    return fsum(known) - fsum(prices.values()) if len(known) == len(told) else None


def moved_prices(
    prices: Mapping[str, float], taken: Mapping[str, int], bound: float, cost: float
) -> Mapping[str, float]:
    """Return prices a step on: higher for what several bases took, lower for what none did.

    ``taken`` is how many took each enquiry at these prices, where the bound is L(p); z is no more
    than ``cost``. With g[j] = taken[j] - 1 the step is STEP (cost - bound) / |g|^2 along g, cut off
    at 0 (Polyak 1969; Held, Wolfe and Crowder 1974; from memory).
    """
    wanted = {name: taken[name] - 1 for name in prices}
    steps = {name: g for name, g in wanted.items() if g > 0 or (g < 0 and prices[name] > 0)}
    norm = sum(g * g for g in steps.values())
    if not norm:
        return prices
    step = STEP * max(0.0, cost - bound) / norm
    return {name: max(0.0, price + step * steps.get(name, 0)) for name, price in prices.items()}
