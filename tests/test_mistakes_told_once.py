"""One slip is one message, whatever follows from it."""

from compiled_text import compiled

from castlang.rules.examples import BASE, CAST


def test_a_file_that_is_missing_is_told_alone_of_all_that_it_would_have_defined() -> None:
    text = 'use "stores.pour"\n' + BASE.replace('station mixer "Pan mixer"\n    holds     20 L\n', "") + CAST
    found = compiled(text)
    whole = compiled(text.partition("\n")[2])

    assert [p.finding.name for p in whole.problems] == ["unknown-name"]
    assert [p.finding.name for p in found.problems] == ["no-file"]


def test_a_role_that_the_crew_lacks_is_told_once() -> None:
    text = (BASE + CAST).replace("crew      2", "crew      2 casters").replace("by 2", "by 2 caster")
    found = compiled(text)

    assert [(p.finding.name, p.message, p.remedy) for p in found.problems] == [
        ("unknown-name", "the crew has no `caster`, which 2 lines want", "did you mean `casters`?")
    ]
