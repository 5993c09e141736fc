"""What can be wrong with a line as it is written."""

from castlang.problems.model import Finding, Severity


def _finding(name: str, says: str, why: str, remedy: str) -> Finding:
    return Finding(
        name=name, severity=Severity.ERROR, says=says, why=why, remedy=remedy, source="the language's rules"
    )


UNKNOWN_WORD = _finding(
    "unknown-word",
    "a line begins with, or holds, a word that the language does not have there",
    "a word that is not understood would be left out of the build",
    "use the near word that the message names",
)
WRONG_PLACE = _finding(
    "wrong-place",
    "a line stands in a block where it means nothing",
    "the same word can mean another thing elsewhere, so it is not guessed",
    "move the line under the block that the message names",
)
NO_UNIT = _finding(
    "no-unit",
    "a number stands without its unit",
    "15 could be minutes, millimetres or bags; a wrong guess scraps a piece",
    "write the unit behind the number, as in 15 min or 3/8 in",
)
NO_NUMBER = _finding(
    "no-number",
    "a number is wanted, and something else stands there",
    "amounts, counts and grits are written in figures",
    "write the number in figures",
)
BAD_NUMBER = _finding(
    "bad-number",
    "a number is written in a way that could be read wrongly",
    "a comma is a decimal mark in one country and a thousands mark in another",
    "write 2400 mm, 1.5 mm, 3/8 in or 1-1/2 in",
)
RANGE_BY_HYPHEN = _finding(
    "range-by-hyphen",
    "a range is written with a hyphen",
    "a hyphen touching figures reads as a fraction or a minus",
    "say the range with `to`, as in 15 min to 40 min",
)
BAD_DATE = _finding(
    "bad-date",
    "a date is not written as a date of the calendar",
    "3/4 is March in one country and April in another",
    "write year, month and day with two figures each, as in 2027-02-01",
)
BAD_TIME = _finding(
    "bad-time",
    "a time of day is not written as hours and minutes",
    "7.30 could be a number of hours, and 7 the morning or the evening",
    "write hours and minutes of the 24-hour clock, as in 07:30 or 16:00",
)
MONEY_SIGN = _finding(
    "money-sign",
    "a currency sign stands where a code is wanted",
    "the same sign is used by several currencies",
    "write the code behind the amount, as in 44 USD/h",
)
LINE_TOO_SHORT = _finding(
    "line-too-short",
    "a line ends before it is whole",
    "what is missing would have to be guessed",
    "add what the message names",
)
LINE_TOO_LONG = _finding(
    "line-too-long",
    "a line is too long for anybody to read",
    "it is most likely not a line of a build at all",
    "write it as several lines of less than 10000 characters",
)
NOT_UNDERSTOOD = _finding(
    "not-understood",
    "a line makes no sense from some place on",
    "it would have to be guessed",
    "write what the message names at that place",
)
OPEN_TEXT = _finding(
    "open-text",
    "a text has no quote at its end",
    "a text runs to the last quote of its line, so that inch marks in it are safe",
    'close the text with "',
)
QUOTE_IN_COMMENT = _finding(
    "quote-in-comment",
    "a quote stands in a comment behind a text",
    "a text runs to the last quote of its line, so the comment would become part of it",
    "put the comment on a line of its own",
)
TWO_TEXTS = _finding(
    "two-texts",
    "two texts stand on one line",
    "a text runs to the last quote of its line, so the two would become one",
    "keep one; under a step, put the other on a `note` line",
)
TAB_INDENT = _finding(
    "tab-indent",
    "a line is indented with a tab",
    "a tab has no fixed width, so nesting could not be seen",
    "indent with spaces, four for each step in",
)
BAD_INDENT = _finding(
    "bad-indent",
    "a line is indented to a depth that no line above has",
    "it could belong to either of two blocks",
    "indent it like its neighbours",
)
NOTHING_UNDER = _finding(
    "nothing-under",
    "a line stands under a line that takes none",
    "it belongs to no block",
    "take the indentation away, or put the line under the block that it belongs to",
)
NOT_TEXT = _finding(
    "not-text",
    "a file holds bytes that are not UTF-8 text",
    "letters would be lost or changed",
    "save the file as UTF-8",
)
MERGE_CONFLICT = _finding(
    "merge-conflict",
    "a merge left two answers to one place, between the marks that git writes",
    "git could not tell which of the two is meant, and neither can be left out unseen",
    "keep what is true of the two, take the marks `<<<<<<<`, `=======` and `>>>>>>>` out, and check again",
)

ALL = (
    UNKNOWN_WORD,
    WRONG_PLACE,
    NO_UNIT,
    NO_NUMBER,
    BAD_NUMBER,
    RANGE_BY_HYPHEN,
    BAD_DATE,
    BAD_TIME,
    MONEY_SIGN,
    LINE_TOO_SHORT,
    LINE_TOO_LONG,
    NOT_UNDERSTOOD,
    OPEN_TEXT,
    QUOTE_IN_COMMENT,
    TWO_TEXTS,
    TAB_INDENT,
    BAD_INDENT,
    NOTHING_UNDER,
    NOT_TEXT,
    MERGE_CONFLICT,
)
