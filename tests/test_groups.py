"""Groups of tasks that hang together, told without a graph, against a library that has them too."""

import networkx as nx
from hypothesis import example, given
from hypothesis import strategies as st

from castlang.plan.gaps.groups import groups_against

EDGES = st.integers(1, 12).flatmap(
    lambda count: st.tuples(
        st.just(count), st.lists(st.tuples(st.integers(0, count - 1), st.integers(0, count - 1)), max_size=30)
    )
)


def against(count, edges):
    after = [[head for tail, head in edges if tail == node] for node in range(count)]
    return groups_against(count, range(count), after.__getitem__)


@given(EDGES)
@example((0, []))
@example((3, [(2, 1), (1, 0), (0, 0), (2, 1)]))
@example((6, [(0, 1), (1, 2), (2, 0), (3, 4), (4, 3), (2, 4), (5, 0)]))
def test_the_groups_are_those_that_networkx_finds_each_behind_those_that_it_leads_to(told):
    count, edges = told
    graph = nx.DiGraph(edges)
    graph.add_nodes_from(range(count))
    found = against(count, edges)
    place = {node: k for k, group in enumerate(found) for node in group}

    assert sorted(found) == sorted(tuple(sorted(group)) for group in nx.strongly_connected_components(graph))
    assert all(place[tail] >= place[head] for tail, head in edges)


def test_a_chain_or_a_circle_of_a_hundred_thousand_nodes_needs_no_depth_of_calls():
    count = 100_000
    chain = [[node + 1] for node in range(count - 1)]

    assert len(groups_against(count, [0], [*chain, []].__getitem__)) == count
    assert groups_against(count, [0], [*chain, [0]].__getitem__) == [tuple(range(count))]
