"""Problems as JSON, for other programs."""

import json
from collections.abc import Sequence
from typing import Any

from castlang.problems.model import Assumption, Problem
from castlang.source.model import Span


def problems_json(problems: Sequence[Problem], assumptions: Sequence[Assumption] = ()) -> str:
    """`{"problems": [...], "assumptions": [...]}`, keys sorted, two spaces."""
    whole = {
        "problems": [_problem(p) for p in problems],
        "assumptions": [
            {"subject": a.subject, "says": a.says, "source": a.source, "line": a.line} for a in assumptions
        ],
    }
    return json.dumps(whole, indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def _problem(problem: Problem) -> dict[str, Any]:
    return {
        "name": problem.finding.name,
        "severity": str(problem.finding.severity),
        "message": problem.message,
        "remedy": problem.remedy or problem.finding.remedy,
        "about": list(problem.about),
        "related": [{**_span(span), "says": says} for span, says in problem.related],
        **_span(problem.span),
    }


def _span(span: Span) -> dict[str, Any]:
    return {"file": span.file, "line": span.line, "column": span.column, "end": span.end}
