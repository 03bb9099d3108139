"""A flow at least cost through a small network, in plain Python.

Primal-dual (Ford and Fulkerson 1957; Ahuja, Magnanti and Orlin, Network Flows, 1993, section 9.8 -
both from memory): shortest ways by Dijkstra with potentials, then as much as fits along arcs that
lie on shortest ways, until everything flows.
"""

from collections import deque
from collections.abc import Mapping, Sequence
from heapq import heappop, heappush
from math import inf

TINY = 1e-9


class CheapestFlow:
    """Nodes by number, and arcs between them with the most that they carry and a price.

    What the first nodes send is all taken in by nodes that can take something.
    """

    def __init__(self, nodes: int) -> None:
        """Begin with nodes and no arcs."""
        self._arcs_of: list[list[int]] = [[] for _ in range(nodes + 2)]
        self._head: list[int] = []
        self._room: list[float] = []
        self._price: list[float] = []
        self._start, self._end = nodes, nodes + 1
        self._potential = [0.0] * (nodes + 2)

    def add(self, tail: int, head: int, most: float, price: float) -> int:
        """Add an arc and return its number; the price is not below 0."""
        number = len(self._head)
        self._head += [head, tail]
        self._room += [most, 0.0]
        self._price += [price, -price]
        self._arcs_of[tail].append(number)
        self._arcs_of[head].append(number + 1)
        return number

    def solve(self, sent: Sequence[float], most: Mapping[int, float]) -> None:
        """Send ``sent`` from each of the first nodes to those that take ``most`` each."""
        for node, amount in enumerate(sent):
            self.add(self._start, node, amount, 0.0)
        for node, amount in most.items():
            self.add(node, self._end, amount, 0.0)
        while self._lengthen():
            reached = self._levels()
            while reached[self._end] >= 0:
                tried = [0] * len(self._arcs_of)
                while self._push(reached, tried):
                    pass
                reached = self._levels()

    def on(self, arc: int) -> float:
        """Return what flows along an arc."""
        return self._room[arc + 1]

    @property
    def cost(self) -> float:
        """Return the price of the whole flow."""
        return sum(self._price[arc] * self._room[arc + 1] for arc in range(0, len(self._head), 2))

    def worth(self, node: int) -> float:
        """Return what could be saved if the node could take a little more."""
        return max(0.0, self._potential[self._end] - self._potential[node])

    def _lengthen(self) -> bool:
        """Raise the potentials to the lengths of the shortest ways; False if none leads on."""
        far = [inf] * len(self._arcs_of)
        far[self._start] = 0.0
        waiting = [(0.0, self._start)]
        while waiting:
            length, node = heappop(waiting)
            if length > far[node]:
                continue
            for arc in self._arcs_of[node]:
                if self._room[arc] > TINY:
                    head = self._head[arc]
                    further = length + max(0.0, self._reduced(node, arc))
                    if further < far[head] - TINY:
                        far[head] = further
                        heappush(waiting, (further, head))
        if far[self._end] == inf:
            return False
        # Further than the end need no more: so no potential runs away.
        for node, length in enumerate(far):
            self._potential[node] += min(length, far[self._end])
        return True

    def _reduced(self, tail: int, arc: int) -> float:
        return self._price[arc] + self._potential[tail] - self._potential[self._head[arc]]

    def _levels(self) -> list[int]:
        """Return how many arcs on shortest ways lead from the start to each node, -1 for none."""
        level = [-1] * len(self._arcs_of)
        level[self._start] = 0
        waiting = deque([self._start])
        while waiting:
            node = waiting.popleft()
            for arc in self._arcs_of[node]:
                head = self._head[arc]
                is_short = self._room[arc] > TINY and self._reduced(node, arc) <= TINY
                if is_short and level[head] < 0:
                    level[head] = level[node] + 1
                    waiting.append(head)
        return level

    def _push(self, level: list[int], tried: list[int]) -> bool:
        """Push what fits along one way of the levels; ``tried`` skips arcs that lead nowhere."""
        way: list[int] = []
        node = self._start
        while node != self._end:
            arcs = self._arcs_of[node]
            while tried[node] < len(arcs):
                arc = arcs[tried[node]]
                head = self._head[arc]
                if (
                    level[head] == level[node] + 1
                    and self._room[arc] > TINY
                    and self._reduced(node, arc) <= TINY
                ):
                    break
                tried[node] += 1
            else:
                if not way:
                    return False
                node = self._head[way.pop() ^ 1]
                tried[node] += 1
                continue
            way.append(arc)
            node = head
        amount = min(self._room[arc] for arc in way)
        for arc in way:
            self._room[arc] -= amount
            self._room[arc ^ 1] += amount
        return True
