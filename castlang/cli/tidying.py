"""`castlang tidy`: files set in the one style, and written only when they mean what they meant."""

import sys
from argparse import Namespace
from pathlib import Path

from castlang.cli.builds import STDIN
from castlang.cli.terminal import bold
from castlang.cli.trouble import Trouble
from castlang.cli.writing import write_whole
from castlang.documents import Read, read_all
from castlang.problems.as_text import in_order, problem_text, tally
from castlang.source.files import Disk, Library, main_text, read_whole
from castlang.source.model import SourceFile
from castlang.syntax.findings import NOT_TEXT
from castlang.tidy.from_source import tidied
from castlang.tidy.meaning import meaning
from castlang.tidy.model import MeaningNotKept


def tidy(words: Namespace) -> int:
    """`castlang tidy FILE...`: 1 when a line cannot be read, or, with --check, when a file would change."""
    status = 0
    for file in words.files:
        try:
            status = max(status, _piped(words.check) if file == "-" else _in_place(Path(file), words.check))
        except Trouble as trouble:
            print(f"castlang: {trouble}", file=sys.stderr)
            status = 2
    return status


def _in_place(path: Path, check: bool) -> int:
    data = main_text(path)
    if isinstance(data, str):
        raise Trouble(f"{path} {data}")
    text = _tidied(str(path), data, Disk(main=path))
    if text is None:
        return 1
    if text.encode("utf-8") == data:
        return 0
    if check:
        print(f"{path}: not tidy")
        return 1
    try:
        write_whole(path, text.encode("utf-8"))
    except OSError as error:
        raise Trouble(f"{path} cannot be written ({error.strerror})") from None
    print(f"{path}: tidied")
    return 0


def _piped(check: bool) -> int:
    """Standard input to standard output; what cannot be tidied comes out as it went in."""
    data = read_whole(sys.stdin.buffer)
    if isinstance(data, str):
        raise Trouble(f"{STDIN} {data}")
    text = _tidied(STDIN, data, Disk(main=Path("stdin.pour")))
    if check:
        if text is not None and text.encode("utf-8") != data:
            print(f"{STDIN}: not tidy")
        return 0 if text is not None and text.encode("utf-8") == data else 1
    sys.stdout.buffer.write(data if text is None else text.encode("utf-8"))
    return 1 if text is None else 0


def _tidied(name: str, data: bytes, library: Library) -> str | None:
    """The text in the style; None, with what is wrong told, when it cannot be read."""
    outcome = read_all(name, data, library)
    read = outcome.value or Read(documents=(), texts={})
    problems = tuple(p for p in outcome.problems if p.span.file == name and p.finding is NOT_TEXT)
    if not problems:
        made = tidied(SourceFile(name=name, text=read.texts[name]))
        problems = made.problems
        if made.value is not None:
            _hold(name, read, made.value, library)
            return made.value
    for problem in in_order(problems, (name,)):
        print(problem_text(problem, read.texts, bold=bold(sys.stderr)), file=sys.stderr)
    print(f"{tally(problems)}: {name} is left as it is", file=sys.stderr)
    return None


def _hold(name: str, before: Read, text: str, library: Library) -> None:
    """Raise MeaningNotKept unless the tidied text makes the same build."""
    after = read_all(name, text.encode("utf-8"), library).value
    documents = after.documents if after is not None else ()
    if meaning(documents, library.read) != meaning(before.documents, library.read):
        raise MeaningNotKept(f"{name} would mean something else when tidied")
