"""What can be wrong with the records of what was done."""

from castlang.problems.model import Finding, Severity

_RULES = "the language's rules"

WINDOW_NOT_KEPT = Finding(
    name="window-not-kept",
    severity=Severity.WARNING,
    says="what was done did not keep a wait or a window of the build",
    why="a layer that came too late may not bond, one that came too soon may slump, crack or stain",
    remedy="look at the piece, and waive the finding with what was found there",
    source="the build's own lines, and what was recorded",
)
WINDOW_PASSED = Finding(
    name="window-passed",
    severity=Severity.WARNING,
    says="a window that a done step opened closes before the step behind it can be done",
    why="that one was forgotten, or done and not written down, or the shop is closed until it is too late",
    remedy="write its `done` line; if it was not done, look at the piece and waive the finding",
    source="the build's own lines, and what was recorded",
    dated=True,
)
DONE_AT_ONCE = Finding(
    name="done-at-once",
    severity=Severity.WARNING,
    says="more was at work or in use at once, by the records, than there is",
    why="a time, a copy or a number of people is written wrong, or somebody and something came to help",
    remedy="mend the time or the copy, say `by` and how many it was; or waive it with what really happened",
    source="the build's own lines, and what was recorded",
)
TAKEN_AS_DONE = Finding(
    name="taken-as-done",
    severity=Severity.NOTE,
    says="a step is not told done, and one that must come after it is",
    why="the later one could not have been done without it, so it is not planned again",
    remedy="write a `done` line for it, so that its time, people and lots are on record",
    source=_RULES,
)
DONE_BEFORE_START = Finding(
    name="done-before-start",
    severity=Severity.ERROR,
    says="a step is told done before the first day of the build",
    why="the plan counts from that day on",
    remedy="write an earlier `start`, or mend the date of the record",
    source=_RULES,
)
DONE_NO_STEP = Finding(
    name="done-no-step",
    severity=Severity.ERROR,
    says="a `done` line names no step that is worked",
    why="it would be kept and would change nothing",
    remedy="name a step, as in `done stool.3.hone`, or a part of one",
    source=_RULES,
)
FINDINGS = (WINDOW_NOT_KEPT, WINDOW_PASSED, DONE_AT_ONCE, TAKEN_AS_DONE, DONE_BEFORE_START, DONE_NO_STEP)
