"""The door to networkx: the network as a graph, what comes before what, and groups that hang together."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from castlang.plan.model import Network, Why
from castlang.plan.ties import Ties, name_key, ties_of

if TYPE_CHECKING:
    import networkx as nx


def graph_of(network: Network) -> "nx.MultiDiGraph[str]":
    """The network as a graph: a node a task (attribute `task`), an edge a gap (attributes `gap`, `least`,
    `longest` in minutes, `why`), from the task before to the task after."""
    import networkx as nx

    graph: nx.MultiDiGraph[str] = nx.MultiDiGraph()
    for task in sorted(network.tasks, key=lambda t: name_key(t.name)):
        graph.add_node(task.name, task=task)
    for arc in ties_of(network).arcs:
        if arc.gap is not None and not arc.longest:
            gap = arc.gap
            graph.add_edge(gap.before, gap.after, gap=gap, least=gap.least, longest=gap.longest, why=gap.why)
    return graph


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


def topological(network: Network) -> tuple[str, ...]:
    """The tasks so that each stands behind those that the gaps put before it, ties by name. Tasks on a
    circle stand together."""
    ties = ties_of(network)
    edges = [(a.tail, a.head) for a in ties.arcs if not a.longest and a.gap is not None and a.weight >= 0]
    return tuple(ties.tasks[k].name for group in groups_in_order(len(ties.tasks), edges) for k in group)


def in_order(members: Sequence[int], edges: Iterable[tuple[int, int]]) -> tuple[int, ...]:
    """`members` along `edges` among them; the earlier in `members` goes first where nothing orders two."""
    place = {node: k for k, node in enumerate(members)}
    inner = [(place[a], place[b]) for a, b in edges if a in place and b in place and a != b]
    return tuple(members[k] for group in groups_in_order(len(members), inner) for k in group)
