"""The lines of a build's files that a told value stands on."""

import re
from collections.abc import Mapping

from castlang.source.model import Span
from castlang.spec.model import NOWHERE


def line_at(texts: Mapping[str, str], span: Span, keyword: str, nth: int = 0) -> tuple[Span, str]:
    """The line at `span`, or the nth (from 0) that begins with `keyword` in the block that begins there; its
    place and its text. NOWHERE and "" where there is none."""
    lines = texts.get(span.file, "").splitlines()
    if not 0 < span.line <= len(lines):
        return NOWHERE, ""
    if not keyword:
        return span, " ".join(lines[span.line - 1].split())
    for number in range(span.line, len(lines)):
        line = lines[number]
        if line.strip() and not line.startswith((" ", "\t", "#")):
            break
        if line.split()[:1] != [keyword]:
            continue
        if nth == 0:
            column = len(line) - len(line.lstrip()) + 1
            place = Span(file=span.file, line=number + 1, column=column, end=len(line) + 1)
            return place, " ".join(line.split())
        nth -= 1
    return NOWHERE, ""


def sizes_in(texts: Mapping[str, str], text: str) -> tuple[str, ...]:
    """The `size` lines that `text` names, and those that they name, each once."""
    known = {
        words[1]: " ".join(line.partition('"')[0].partition("#")[0].split())
        for file in texts.values()
        for line in file.splitlines()
        if len(words := line.split()) > 2 and words[0] == "size"
    }
    found: dict[str, str] = {}
    waiting = [text.partition('"')[0]]
    while waiting:
        for word in re.findall(r"[^\W\d_][\w-]*", waiting.pop(0)):
            if word in known and word not in found:
                found[word] = known[word]
                waiting.append(known[word])
    return tuple(found.values())
