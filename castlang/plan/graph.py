"""The door to networkx: what comes before what, and groups that hang together."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from castlang.plan.model import Network, Why
from castlang.plan.ties import Ties, ties_of

if TYPE_CHECKING:
    pass


def groups_in_order(count: int, edges: Iterable[tuple[int, int]]) -> tuple[tuple[int, ...], ...]:
    """Nodes 0 to count - 1 in groups that lie on a common circle of `edges`, each group sorted, groups
    ordered along the edges and else by their least member."""
    import networkx as nx

    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(range(count))
    graph.add_edges_from(edges)
    groups = [tuple(sorted(group)) for group in nx.strongly_connected_components(graph)]
    groups.sort()
    group_of = {node: k for k, group in enumerate(groups) for node in group}
    folded: nx.DiGraph[int] = nx.DiGraph()
    folded.add_nodes_from(range(len(groups)))
    for tail, head in graph.edges:
        if group_of[tail] != group_of[head]:
            folded.add_edge(group_of[tail], group_of[head])
    return tuple(groups[k] for k in nx.lexicographical_topological_sort(folded))


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """Which tasks the gaps put before which. reach[i]: a bit for each task that starts when task i has
    ended, or later."""

    index: dict[str, int]
    reach: tuple[int, ...]

    def precedes(self, first: str, then: str) -> bool:
        """Whether `then` cannot start before `first` has ended."""
        return bool(self.reach[self.index[first]] >> self.index[then] & 1)

    def ordered(self, one: str, other: str) -> bool:
        """Whether the gaps put one of the two before the other, whichever it is."""
        return self.precedes(one, other) or self.precedes(other, one)


def order_of(network: Network) -> Order:
    """The order of work that the gaps with a least time of 0 or more give, and lines in sequence even where
    one may overlap the other."""
    ties = ties_of(network)
    return Order(index=ties.index, reach=tuple(reach_of(ties)))


def reach_of(ties: Ties) -> list[int]:
    """For each task the tasks that start when it has ended or later, one bit each.

    Points are numbered: task i starts at point 2 i and ends at point 2 i + 1.
    """
    count = len(ties.tasks)
    edges = [(2 * k, 2 * k + 1) for k in range(count)]
    for arc in ties.arcs:
        if not arc.longest and arc.gap is not None and (arc.weight >= 0 or arc.gap.why is Why.SEQUENCE):
            edges.append((2 * arc.tail + arc.tail_end, 2 * arc.head + arc.head_end))
    after: list[list[int]] = [[] for _ in range(2 * count)]
    for tail, head in edges:
        after[tail].append(head)
    reach = [0] * (2 * count)
    for group in reversed(groups_in_order(2 * count, edges)):
        bits = 0
        for point in group:
            for head in after[point]:
                bits |= reach[head] | (0 if head % 2 else 1 << (head // 2))
        for point in group:
            reach[point] = bits
    return [reach[2 * k + 1] for k in range(count)]
