"""What can be wrong with what a build means."""

from castlang.problems.model import Finding, Severity


def _finding(name: str, says: str, why: str, remedy: str, severity: Severity = Severity.ERROR) -> Finding:
    return Finding(
        name=name, severity=severity, says=says, why=why, remedy=remedy, source="the language's rules"
    )


UNKNOWN_UNIT = _finding(
    "unknown-unit",
    "the word behind a number is not a unit",
    "a unit is never guessed: 5 M could be metres or millions",
    "use a unit of the language reference, such as mm, in, kg, lb, L, gal, min, h, degC, degF",
)
WRONG_UNIT = _finding(
    "wrong-unit",
    "an amount measures something else than what is wanted",
    "15 min of thickness is a slip, and the piece would be made from it",
    "write the amount in a unit of the kind that the message names",
)
TWO_AMOUNTS = _finding(
    "two-amounts",
    "two amounts stand side by side that do not add up to one",
    "only ft in, lb oz, gal qt, days h and h min are said together",
    "write one amount, or put the missing word between the two",
)
BAD_VALUE = _finding(
    "bad-value",
    "a value lies outside what can be meant",
    "such a value is almost surely a slip of the pen",
    "write the value within the limits that the message names",
)
BAD_RANGE = _finding(
    "bad-range",
    "the longest of a range is less than its least",
    "nothing could lie between the two",
    "write the smaller amount first",
)
NO_SUCH_DAY = _finding(
    "no-such-day",
    "a date or time is not one of the calendar or the clock",
    "no step could be planned on it",
    "write a day of the calendar, as in 2027-02-28, and a time up to 24:00",
)
UNKNOWN_HOLIDAYS = _finding(
    "unknown-holidays",
    "public holidays are asked for of a country, or a part of one, that is not known",
    "the shop would be planned to work on days on which it is closed",
    "write the two letters of the country by ISO 3166, as in `holidays DE` or `holidays DE-BY`",
)
HOLIDAYS_EXTRA = _finding(
    "holidays-extra",
    "public holidays are asked for, and what tells them is not installed",
    "they need a library that a plain install leaves out",
    'pip install "castlang[holidays]", or write the days as `closed` lines',
)
UNKNOWN_NAME = _finding(
    "unknown-name",
    "a name is used that nothing bears",
    "what it should be would have to be guessed",
    "define it, or write the near name",
)
WRONG_KIND = _finding(
    "wrong-kind",
    "a name is used for another kind of thing than it is",
    "a station cannot be poured, and a mix cannot be taken",
    "use a name of the kind that the message names",
)
NAME_TWICE = _finding(
    "name-twice",
    "two things bear the same name",
    "a line that uses the name could mean either",
    "rename one of them",
)
UNIT_AS_NAME = _finding(
    "unit-as-name",
    "a unit is used as a name",
    "the word behind a number is its unit, so a unit cannot be a name",
    "choose another name",
)
TWO_MEANINGS = _finding(
    "two-meanings",
    "a short name could mean two things",
    "either could be meant, and they are not the same",
    "write the longer name, with the piece in front",
)
SAID_TWICE = _finding(
    "said-twice",
    "the same thing is said twice, with one place for it",
    "after a merge or a copy the two can differ, and only one can count",
    "take one of the two out",
)
NOT_SAID = _finding(
    "not-said",
    "something that must be said is not",
    "it changes the piece, so no value is assumed",
    "add the line or the words that the message names",
)
OUT_OF_PLACE = _finding(
    "out-of-place",
    "a word stands on a line where it means nothing",
    "it would be dropped in silence",
    "take the word out, or move it to the line that it belongs to",
)
CIRCLE = _finding(
    "names-in-circle",
    "names lead round in a circle",
    "none of them can be worked out",
    "break the circle at one of the lines named",
)
NO_BUILD = _finding(
    "no-build",
    "the files hold no `build` block",
    "without it there is no start, no hours and no crew",
    "add a `build` block with start, hours, air and crew",
)
UNKNOWN_SHAPE = _finding(
    "unknown-shape",
    "a shape is named that the language does not have",
    "its sizes could not be understood",
    "use one of the shapes that the message names, or a mesh file",
)
SHAPE_SIZES = _finding(
    "shape-sizes",
    "a shape lacks a size, or has one that it does not take",
    "the volume and the areas could not be worked out",
    "write each size that the message names, once",
)
UNKNOWN_FACE = _finding(
    "unknown-face",
    "a face is named that the piece does not have",
    "the area could not be worked out",
    "use a face that the message names, or name a group with `face`",
)
NO_FILE = _finding(
    "no-file",
    "a file that is named cannot be read",
    "what stands in it is missing from the build",
    "check the path; it is counted from the file that names it",
)
LOGGER_UNREAD = _finding(
    "logger-unread",
    "the file of a temperature logger cannot be used as it stands",
    "a cure would be counted by temperatures that nobody measured",
    "export it as two columns, a time of the shop's clock such as 2027-02-01T07:30 and a temperature, under "
    "a heading that ends with degC or degF",
)
LOGGER_PAUSE = _finding(
    "logger-pause",
    "a temperature logger has no reading for more than three hours",
    "in these hours waits are counted by the `air` and `night` lines instead",
    "see to the logger, and that `air` and `night` tell these hours rightly",
    Severity.WARNING,
)
LOGGER_IDLE = _finding(
    "logger-idle",
    "a temperature logger has no reading from the days of the build",
    "all its waits are counted by the `air` and `night` lines, as if there were no logger",
    "name the table that covers these days, or take the line out",
    Severity.WARNING,
)
FILE_OUTSIDE = _finding(
    "file-outside",
    "a file lies outside the project's folder, or behind a link",
    "a build must be whole in its own folder, so that git keeps all of it",
    "copy the file into the folder, or mark the folder above with an empty file named .castlang",
)
BAD_RECIPE = _finding(
    "bad-recipe",
    "a line of a mix makes no sense with the others",
    "the batch could not be weighed out",
    "write the mix as the message says",
)
NO_SUCH_COPY = _finding(
    "no-such-copy",
    "a copy is named that is not made",
    "the step would wait for something that never happens",
    "use a number within `make`",
)
NOT_YET = _finding(
    "not-computed-yet",
    "something is said that is carried but not yet worked out",
    "it is printed where it belongs, and does not change the plan or the figures",
    "nothing need be done; the binder's cover says the same",
    Severity.NOTE,
)
EMPTY_BLOCK = _finding(
    "empty-block",
    "a block has no line in it",
    "nothing can be made of it",
    "add its lines, or take it out",
)

ALL = (
    UNKNOWN_UNIT,
    WRONG_UNIT,
    TWO_AMOUNTS,
    BAD_VALUE,
    BAD_RANGE,
    NO_SUCH_DAY,
    UNKNOWN_HOLIDAYS,
    HOLIDAYS_EXTRA,
    UNKNOWN_NAME,
    WRONG_KIND,
    NAME_TWICE,
    UNIT_AS_NAME,
    TWO_MEANINGS,
    SAID_TWICE,
    NOT_SAID,
    OUT_OF_PLACE,
    CIRCLE,
    NO_BUILD,
    UNKNOWN_SHAPE,
    SHAPE_SIZES,
    UNKNOWN_FACE,
    NO_FILE,
    LOGGER_UNREAD,
    LOGGER_PAUSE,
    LOGGER_IDLE,
    FILE_OUTSIDE,
    BAD_RECIPE,
    NO_SUCH_COPY,
    NOT_YET,
    EMPTY_BLOCK,
)
