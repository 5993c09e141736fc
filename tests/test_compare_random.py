"""Random builds compared: a change is told exactly where two builds do not mean the same, both ways round."""

from collections import Counter

from comparing import compared, follows, sheets
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from random_builds import METRIC, RandomBuild, builds, written

from castlang.compare.changes import changes_of
from castlang.compare.kinds import MIRROR
from castlang.compare.names import meaning, single_copies
from castlang.compare.renames import renamed_blocks
from castlang.documents import read_all
from castlang.source.files import Texts
from castlang.spec.from_syntax import spec_of
from castlang.spec.model import Spec

few = settings(
    max_examples=30,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.generate],  # a whole build shrinks for minutes, and is short as it is
)


def spec(text: str) -> Spec:
    library = Texts(texts={})
    read = read_all("a.pour", text.encode(), library).value
    assert read is not None
    found = spec_of(read.documents, library.read).value
    assert found is not None
    return found


def mixed(one: RandomBuild, other: RandomBuild, taken: list[bool]) -> str:
    """The first build, with some of its blocks as the second has them, where that has one of that name."""
    heads = {str(block[0][0]).split('"')[0].strip(): block for block in other.blocks}
    blocks = [
        heads.get(str(block[0][0]).split('"')[0].strip(), block) if take else block
        for block, take in zip(one.blocks, taken + [False] * len(one.blocks), strict=False)
    ]
    return "\n\n".join(written(block, METRIC) for block in blocks) + "\n"


pairs = st.tuples(builds(most=3), builds(most=3), st.lists(st.booleans(), max_size=24))


@few
@given(builds(most=4), st.randoms(use_true_random=False))
def test_a_build_does_not_differ_from_itself_in_any_order_of_its_blocks(build, chance):
    order = list(range(len(build.blocks)))
    chance.shuffle(order)
    old, new = spec(build.text(METRIC)), spec(build.text(METRIC, order))

    assert changes_of(old, old) == ()
    assert changes_of(old, new) == ()


@few
@given(pairs)
def test_changes_are_told_exactly_where_two_builds_do_not_mean_the_same(drawn):
    one, other, taken = drawn
    old, new = spec(one.text(METRIC)), spec(mixed(one, other, taken))
    assume(not renamed_blocks(old, new))
    once = single_copies(old) & single_copies(new)

    assert (changes_of(old, new) == ()) == (meaning(old, once) == meaning(new, once))


@few
@given(pairs)
def test_two_builds_that_change_places_tell_the_same_changes_the_other_way(drawn):
    one, other, taken = drawn
    old, new = spec(one.text(METRIC)), spec(mixed(one, other, taken))
    forth, back = changes_of(old, new), changes_of(new, old)

    assert Counter(MIRROR.get(c.kind, c.kind) for c in forth) == Counter(c.kind for c in back)


@few
@given(builds(most=3), builds(most=3))
def test_any_two_builds_can_be_compared_in_both_units(one, other):
    old, new = spec(one.text(METRIC)), spec(other.text(METRIC))

    assert len(changes_of(old, new)) == len(changes_of(old, new, "us"))
    assert all(change.says and change.old != change.new for change in changes_of(old, new, "us"))


@settings(few, max_examples=5)
@given(builds(most=2), st.randoms(use_true_random=False))
def test_nothing_follows_from_another_order_of_blocks(build, chance):
    order = list(range(len(build.blocks)))
    chance.shuffle(order)
    told = compared(build.text(METRIC), build.text(METRIC, order))

    assert told.same
    assert follows(told) == ()
    assert sheets(told) == ()
