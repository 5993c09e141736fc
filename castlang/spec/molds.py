"""Mold and temp blocks."""

from dataclasses import replace

from castlang.spec import findings
from castlang.spec.amounts import count_of, positive, quantity_of
from castlang.spec.block import Block, text_of, word_of
from castlang.spec.clauses import clauses_of
from castlang.spec.faces import face_refs
from castlang.spec.ledger import Ledger
from castlang.spec.model import Edge, Item, Mold, Panel, Step, StepKind
from castlang.spec.names import Names, one_of
from castlang.spec.packages import sides_of
from castlang.spec.quantity import Dimension
from castlang.spec.references import Scope
from castlang.spec.sizes import Sizes, length_of
from castlang.spec.steps import material_of, method_of
from castlang.spec.tails import tail_of
from castlang.syntax.model import Statement


def made_of(ledger: Ledger, block: Block) -> tuple[int, int]:
    """How many plain and mirrored copies the `make` lines tell; without one, one plain."""
    counts: dict[bool, int] = {}
    lines: dict[bool, Statement] = {}
    for line in block.all("make"):
        mirrored = line.body.part("mirrored") is not None
        part = line.body.part("count")
        count = count_of(ledger, part, most=1000) if part is not None else None
        if mirrored in lines:
            ledger.say(
                findings.SAID_TWICE,
                f"`make` is told twice for {'mirrored' if mirrored else 'plain'} copies",
                line.span,
                related=((lines[mirrored].span, "the first one"),),
            )
            continue
        lines[mirrored] = line
        counts[mirrored] = count or 1
    if not counts:
        return 1, 0
    return counts.get(False, 0), counts.get(True, 0)


def mold_of(scope: Scope, statement: Statement, sizes: Sizes) -> Mold:
    """A mold or temp block, without the steps that make it."""
    ledger = scope.ledger
    block = Block(ledger, statement, frozenset({"make", "panel", "edge"}))
    plain, mirrored = made_of(ledger, block)
    board = block.one("board")
    word = board.body.word("thing") if board is not None else None
    stock = one_of(ledger, scope.names, word.text, word.span, ("stock",)) if word is not None else None
    temporary = statement.kind == "temp"
    mold = Mold(
        name=word_of(statement.body, "name") or "",
        label=text_of(statement.body),
        temporary=temporary,
        count=plain,
        mirrored=mirrored,
        fits=_fits(ledger, block, scope.names),
        board=stock.name if stock is not None else None,
        panels=_panels(ledger, block, scope.names, sizes, stock is not None or board is not None),
        edges=_edges(ledger, block, sizes),
        release=_release(scope, block),
        lasts=_lasts(ledger, block),
        hazards=block.names("hazard"),
        notes=block.notes(),
        span=statement.span,
    )
    if not temporary and block.one("fits") is None and statement.lacks("fits"):
        ledger.say(
            findings.NOT_SAID,
            f"the mold `{mold.name}` does not say which piece it fits",
            statement.span,
            "add a line such as `fits shell`",
        )
    return mold


def _fits(ledger: Ledger, block: Block, names: Names) -> tuple[str, ...]:
    line = block.one("fits")
    part = line.body.part("names") if line is not None else None
    found = [one_of(ledger, names, w.text, w.span, ("piece",)) for w in (part.words("thing") if part else ())]
    return tuple(named.name for named in found if named is not None)


def _panels(ledger: Ledger, block: Block, names: Names, sizes: Sizes, has_board: bool) -> tuple[Panel, ...]:
    panels: list[Panel] = []
    for line in block.all("panel"):
        rectangle = line.body.part("rectangle")
        sides = sides_of(ledger, rectangle, sizes) if rectangle is not None else None
        make = line.body.part("make")
        count = make.part("count") if make is not None else None
        of = line.body.word("thing")
        stock = one_of(ledger, names, of.text, of.span, ("stock",)) if of is not None else None
        if of is None and not has_board and block.statement.lacks("board"):
            ledger.say(
                findings.NOT_SAID,
                "the panel does not say of what it is cut",
                line.span,
                "add `of ply-18`, or a `board` line to the block",
            )
        if sides is None:
            continue
        panels.append(
            Panel(
                name=word_of(line.body, "name") or "",
                long=sides[0],
                wide=sides[1],
                count=(count_of(ledger, count) if count is not None else 1) or 1,
                stock=stock.name if stock is not None else None,
                span=line.span,
            )
        )
    return tuple(panels)


def _edges(ledger: Ledger, block: Block, sizes: Sizes) -> tuple[Edge, ...]:
    edges: list[Edge] = []
    for line in block.all("edge"):
        size = length_of(ledger, line.body, sizes)
        if size is not None:
            edges.append(Edge(kind=word_of(line.body, "word") or "", size=size))
    return tuple(edges)


def _lasts(ledger: Ledger, block: Block) -> int | None:
    part = block.amount("lasts")
    found = quantity_of(ledger, part, Dimension.COUNT) if part is not None else None
    if part is None or positive(ledger, found, part) is None or found is None:
        return None
    if found.word != "castings" or found.si.denominator != 1:
        ledger.say(
            findings.WRONG_UNIT,
            f"`{found.written}`: a mold lasts a whole number of castings",
            part.span,
            f"write `{max(1, round(found.si))} castings`",
        )
        return None
    return int(found.si)


def _release(scope: Scope, block: Block) -> Step | None:
    line = block.one("release")
    if line is None or scope.own is None:
        return None
    clauses = clauses_of(scope, line)
    tail = tail_of(scope, line, clauses)
    on = clauses.get("on")
    return Step(
        kind=StepKind.RELEASE,
        owner=scope.own.name,
        name="release",
        span=line.span,
        **tail,
        method=method_of(scope, line, clauses, required=False),
        on=face_refs(scope, on.part("things")) if on is not None else (),
        material=material_of(scope, line, "mix", "stock"),
    )


def with_steps(mold: Mold, sequence: tuple[Item, ...]) -> Mold:
    """The mold with the steps that make it."""
    return replace(mold, sequence=sequence)
