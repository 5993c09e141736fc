"""Groups of nodes that hang together on circles, told without a graph: only where edges lead.

R. Tarjan, Depth-first search and linear graph algorithms, SIAM J. Comput. 1 (1972) 146-160, with a list in
place of the calls (from memory). Networkx, which orders the steps (`graph`), has it too, but to make its
graph of 100,000 gaps takes longer than all that is done with them here; a test holds the two against each
other.
"""

from collections.abc import Callable, Iterable


def groups_against(
    count: int, roots: Iterable[int], after: Callable[[int], Iterable[int]]
) -> list[tuple[int, ...]]:
    """Those of the nodes 0 to count - 1 that edges lead to from `roots`, in groups, each sorted, and behind
    those that it leads to. after: where the edges from a node lead."""
    # low of a node: the least number of a node that it leads back to; numbers are given in the order in which
    # nodes are met, and a node whose group is told has the greatest.
    found: list[tuple[int, ...]] = []
    told = count
    number = [-1] * count
    low = [0] * count
    met = 0
    open_nodes: list[int] = []
    for root in roots:
        if number[root] >= 0:
            continue
        path = [(root, iter(after(root)))]
        number[root] = low[root] = met
        met += 1
        open_nodes.append(root)
        while path:
            node, heads = path[-1]
            for head in heads:
                if number[head] < 0:
                    number[head] = low[head] = met
                    met += 1
                    open_nodes.append(head)
                    path.append((head, iter(after(head))))
                    break
                low[node] = min(low[node], low[head])
            else:
                path.pop()
                if path:
                    low[path[-1][0]] = min(low[path[-1][0]], low[node])
                if low[node] == number[node]:
                    group: list[int] = []
                    while not group or group[-1] != node:
                        group.append(open_nodes.pop())
                        low[group[-1]] = told
                    found.append(tuple(sorted(group)))
    return found
