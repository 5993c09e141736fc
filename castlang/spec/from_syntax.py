"""Documents to a spec: every name resolved, every amount in SI, and all that is wrong told at once."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from castlang.problems.model import Outcome
from castlang.source.model import Span
from castlang.spec import findings
from castlang.spec.block import STEP_LINES, Block, text_of, word_of
from castlang.spec.builds import build_of
from castlang.spec.crews import ANYBODY
from castlang.spec.ledger import Ledger
from castlang.spec.mixes import mixes_of
from castlang.spec.model import Build, Item, Job, Piece, Spec
from castlang.spec.molds import made_of, mold_of, with_steps
from castlang.spec.names import Named, Names, names_of, near_remedy
from castlang.spec.pieces import Body, body_of
from castlang.spec.records import defaults_of, done_of, measured_of, waivers_of
from castlang.spec.references import Owner, Scope
from castlang.spec.sequences import Shop, names_in, sequence_of
from castlang.spec.shapes import Bytes
from castlang.spec.sizes import sizes_of
from castlang.spec.stocks import fitting_of, station_of, stock_of
from castlang.spec.unsaid import list_unsaid
from castlang.syntax.model import Document, Part, Statement, Word


def spec_of(documents: Sequence[Document], read: Bytes) -> Outcome[Spec]:
    """The spec that the documents tell together; the first is the main file.

    read: gives the bytes of a mesh or logger file named in one of them. The value is None only when there is
    no build.
    """
    ledger = Ledger(
        unread=frozenset().union(*(d.unread for d in documents)),
        lost=frozenset().union(*(d.lost for d in documents)),
    )
    statements = [s for d in documents for s in d.statements]
    _doubled(ledger, statements)
    names = names_of(ledger, statements)
    sizes = sizes_of(ledger, statements)
    builds = [s for s in statements if s.kind == "build"]
    shops = [s for s in statements if s.kind == "shop"]
    stocks = {n.name: stock_of(ledger, n.statement, sizes, names) for n in _kind(names, "stock")}
    fittings = {n.name: fitting_of(ledger, n.statement) for n in _kind(names, "fitting")}
    stations = {n.name: station_of(ledger, n.statement) for n in _kind(names, "station")}
    mixes = mixes_of(ledger, names)
    bodies = {n.name: body_of(ledger, n.statement, sizes, read) for n in _kind(names, "piece")}
    defaults = defaults_of(ledger, statements)
    first = (
        Span(file=documents[0].file, line=1, column=1, end=2)
        if documents
        else Span(file="", line=1, column=1, end=2)
    )
    unread_build = "build" in ledger.lost and not builds
    build = Build(name="") if unread_build else build_of(ledger, builds, shops, first, read)
    scope = Scope(ledger=ledger, names=names, owners=_owners(ledger, names, bodies), sizes=sizes)
    molds = {
        n.name: mold_of(replace(scope, own=scope.owners[n.name]), n.statement, sizes)
        for n in _kind(names, "mold", "temp")
    }
    shop = Shop(mixes=mixes, molds=molds, defaults=defaults)
    molds = {
        name: with_steps(mold, _sequence(scope, names[name].statement, shop)) for name, mold in molds.items()
    }
    pieces = {
        name: replace(body.piece, sequence=_sequence(scope, names[name].statement, shop))
        for name, body in bodies.items()
    }
    jobs = {n.name: _job(scope, n.statement, shop) for n in _kind(names, "job")}
    _roles(ledger, build, statements)
    waivers = waivers_of(scope, statements)
    spec = Spec(
        build=replace(build, units=build.units or ("us" if ledger.us > ledger.metric else "metric")),
        stocks=stocks,
        mixes=mixes,
        molds=molds,
        stations=stations,
        fittings=fittings,
        pieces=pieces,
        jobs=jobs,
        waivers=waivers,
        measured=measured_of(scope, statements),
        done=done_of(scope, statements),
        defaults=defaults,
    )
    list_unsaid(ledger, spec, told_units=bool(build.units))
    whole = replace(spec, assumptions=tuple(ledger.assumptions))
    return Outcome(
        value=whole if builds else None, problems=tuple(ledger.problems), assumptions=whole.assumptions
    )


def _kind(names: Names, *kinds: str) -> list[Named]:
    return [names[name] for name in sorted(names) if names[name].kind in kinds]


def _owners(ledger: Ledger, names: Names, bodies: Mapping[str, Body]) -> dict[str, Owner]:
    """What dotted names can reach, for every piece, job, mold and temp."""
    owners: dict[str, Owner] = {}
    for named in _kind(names, "piece", "job", "mold", "temp"):
        statement = named.statement
        quiet = Ledger()  # what is wrong with the copies is told where the block itself is read
        plain, mirrored = made_of(quiet, Block(quiet, statement))
        faces: tuple[str, ...] = ()
        cavities: tuple[str, ...] = ()
        if named.kind == "piece":
            body = bodies[named.name]
            faces = body.faces
            cavities = tuple(part.name for part in body.piece.parts if not part.plus)
        owners[named.name] = Owner(
            name=named.name,
            kind=named.kind,
            plain=plain,
            mirrored=mirrored,
            steps=names_in(statement, names),
            faces=faces,
            cavities=cavities,
            whole=statement.lacks(*STEP_LINES - {"wait", "within", "dry", "after"}),
            counted=statement.lacks("make")
            and all(p.finding is not findings.BAD_VALUE for p in quiet.problems),
            shaped=named.kind != "piece" or _shaped(bodies[named.name].piece),
        )
    return owners


def _shaped(piece: Piece) -> bool:
    return piece.shape is not None or piece.mesh is not None


def _sequence(scope: Scope, statement: Statement, shop: Shop) -> tuple[Item, ...]:
    own = scope.owners[word_of(statement.body, "name") or ""]
    return sequence_of(replace(scope, own=own), statement, shop)


def _job(scope: Scope, statement: Statement, shop: Shop) -> Job:
    block = Block(scope.ledger, statement)
    if not statement.under and not statement.broken:
        name = word_of(statement.body, "name")
        scope.ledger.say(findings.EMPTY_BLOCK, f"the job `{name}` has no line in it", statement.span)
    return Job(
        name=word_of(statement.body, "name") or "",
        label=text_of(statement.body),
        sequence=_sequence(scope, statement, shop),
        notes=block.notes(),
        span=statement.span,
    )


def _doubled(ledger: Ledger, statements: Sequence[Statement]) -> None:
    """A member that stands twice in one list is told: one of the two was meant to be another."""
    for statement in statements:
        for part in _lists(statement.body):
            for index, member in enumerate(part.children):
                if member in part.children[:index]:
                    words = (member,) if isinstance(member, Word) else member.children
                    text = " to ".join(word.text for word in words if isinstance(word, Word))
                    ledger.say(findings.SAID_TWICE, f"`{text}` stands twice in one list", member.span)
        _doubled(ledger, statement.under)


def _lists(part: Part) -> Iterator[Part]:
    """Every list of names, things or grits in a line."""
    for child in part.children:
        if isinstance(child, Part):
            if child.label in ("names", "things", "grit"):
                yield child
            yield from _lists(child)


def _roles_told(statements: Sequence[Statement]) -> set[str]:
    """Roles that a `crew` line names, be its count a mistake: that is told with the crew."""
    blocks = (s for s in statements if s.kind in ("build", "shop"))
    lines = (line for block in blocks for line in block.under if line.kind == "crew")
    words = (gang.word("role") for line in lines for gang in line.body.parts("gang"))
    return {word.text for word in words if word is not None}


def _roles(ledger: Ledger, build: Build, statements: Sequence[Statement]) -> None:
    """A role that a line wants must be in the crew; one that is not is told where it stands first."""
    known = sorted({g.role for g in build.crew if g.role is not None} | _roles_told(statements))
    if not build.crew:
        return
    missing: dict[str, list[Span]] = {}
    for line in (line for s in statements if s.kind not in ("build", "shop") for line in (s, *s.under)):
        for gang in (gang for clause in line.clauses() for gang in clause.parts("gang")):
            role = gang.word("role")
            if role is not None and role.text not in (*known, *ANYBODY):
                missing.setdefault(role.text, []).append(role.span)
    for text, spans in missing.items():
        more = f", which {len(spans)} lines want" if len(spans) > 1 else ""
        ledger.say(
            findings.UNKNOWN_NAME,
            f"the crew has no `{text}`{more}",
            spans[0],
            near_remedy(text, known) or "add the role to `crew`, or take the word out",
        )
