"""The simplex method of the audit against HiGHS, on programs drawn at random and on hard ones."""

from random import Random

import pytest
from scipy.optimize import linprog

from capacity.errors import EngineError
from capacity.plans.simplex import Simplex

Row = tuple[list[tuple[int, float]], float]


def drawn(random: Random) -> tuple[list[float], list[Row]]:
    """Draw prices and rows ``sum <= side``; a row over all columns keeps the cost bounded."""
    columns = random.randint(1, 12)
    prices = [random.choice([-3.0, -1.0, 0.0, 0.5, 2.0, 40.0]) for _ in range(columns)]
    rows: list[Row] = [([(column, 1.0) for column in range(columns)], random.uniform(0.0, 50.0))]
    for _ in range(random.randint(0, 10)):
        some = random.sample(range(columns), random.randint(1, columns))
        # Sides of 0 make vertices coincide.
        side = random.choice([0.0, 0.0, 7.5, random.uniform(0.0, 20.0)])
        rows.append(([(column, random.choice([-1.0, 1.0, 1.0, 2.5])) for column in some], side))
    return prices, rows


def optimum(prices: list[float], rows: list[Row]) -> float:
    """Return the least cost that HiGHS finds."""
    matrix = [[dict(terms).get(column, 0.0) for column in range(len(prices))] for terms, _ in rows]
    return float(linprog(prices, A_ub=matrix, b_ub=[side for _, side in rows]).fun)


def solved(prices: list[float], rows: list[Row], vertex: Simplex | None = None) -> list[float]:
    """Return the columns at a vertex of least cost, which must keep all rows."""
    if vertex is None:
        vertex = Simplex(len(prices))
        for terms, side in rows:
            vertex.add(terms, side)
    vertex.minimise(dict(enumerate(prices)))
    values = [vertex.now(column) for column in range(len(prices))]
    assert min(values) >= 0.0
    for terms, side in rows:
        assert sum(factor * values[column] for column, factor in terms) <= side + 1e-9
    return values


def cost(prices: list[float], values: list[float]) -> float:
    return sum(price * value for price, value in zip(prices, values, strict=True))


@pytest.mark.parametrize("seed", range(60))
def test_it_comes_to_the_least_cost(seed: int) -> None:
    prices, rows = drawn(Random(seed))
    assert cost(prices, solved(prices, rows)) == pytest.approx(optimum(prices, rows), abs=1e-7)


@pytest.mark.parametrize("seed", range(60))
def test_rows_and_prices_that_come_later_begin_where_it_stands(seed: int) -> None:
    """The first cost is held to its least, and another one made least beside that."""
    random = Random(seed)
    prices, rows = drawn(random)
    vertex = Simplex(len(prices))
    for terms, side in rows:
        vertex.add(terms, side)
    values = solved(prices, rows, vertex)
    held = ([(column, price) for column, price in enumerate(prices)], cost(prices, values))
    vertex.add(*held)
    others = [random.choice([-2.0, -0.25, 0.0, 1.0]) for _ in prices]
    again = solved(others, [*rows, held], vertex)
    slack = ([*held[0]], held[1] + 1e-9)
    assert cost(others, again) == pytest.approx(optimum(others, [*rows, slack]), abs=1e-5)


def test_a_column_of_its_own_is_what_the_row_leaves() -> None:
    """``x + y = 5`` with y at 3 a piece and x, at 1, no more than 2."""
    vertex = Simplex(2)
    vertex.add([(0, 1.0)], 5.0, own=1)
    vertex.add([(0, 1.0)], 2.0)
    vertex.minimise({0: 1.0, 1: 3.0})
    assert (vertex.now(0), vertex.now(1)) == (2.0, 3.0)


def test_it_comes_to_an_end_where_vertices_coincide() -> None:
    """Beale's example (1955; from memory), on which the plain method goes round for ever."""
    prices = [-0.75, 150.0, -0.02, 6.0]
    rows: list[Row] = [
        ([(0, 0.25), (1, -60.0), (2, -0.04), (3, 9.0)], 0.0),
        ([(0, 0.5), (1, -90.0), (2, -0.02), (3, 3.0)], 0.0),
        ([(2, 1.0)], 1.0),
    ]
    assert cost(prices, solved(prices, rows)) == pytest.approx(-0.05)


def test_a_cost_without_a_least_is_told() -> None:
    vertex = Simplex(1)
    with pytest.raises(EngineError, match="no least cost"):
        vertex.minimise({0: -1.0})


def test_a_row_that_the_vertex_breaks_is_refused() -> None:
    with pytest.raises(ValueError, match="less than 0"):
        Simplex(1).add([(0, 1.0)], -1.0)
