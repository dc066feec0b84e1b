"""Is the text TOML, and where is it not?

`tomllib` reads it and stops at the first fault. A fault within the value of one line is set aside, so that the other
faults of the file are told in the same run; any other ends the reading.
"""

import re
import tomllib
from typing import Any

from batterboard.job.errors import JobError, Mark, Problem
from batterboard.job.reading import UNREADABLE

# Twenty names in one key: refused before tomllib, whose time grows with the square of their number.
_DOTTED = re.compile(r"""^[ \t]*\[{0,2}[ \t]*(?:(?:[\w-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){20}""", re.MULTILINE)
# Compiled only where something is wrong.
_ONE_LINE_VALUE = r"""([ \t]*(?:[\w-]+|"[^"\n]*"|'[^'\n]*')(?:[ \t]*\.[ \t]*[\w-]+)*[ \t]*=)(.*)"""
_AT = r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$"

LONG = 1_000_000  # characters in all that are read again and again for further faults
QUOTES = 'write quantities in quotes, inches within them as in: height = "40 in"'


def parsed(text: str, name: str) -> tuple[dict[str, Any], str, list[Problem]]:
    """The raw tables, the text they were read from, and what is no TOML."""
    deep = _DOTTED.search(text)
    if deep:
        line, column = text.count("\n", 0, deep.start()) + 1, 1
        raise JobError(
            [Problem(Mark(name, line, column), "", "too many names in one key", "two or three levels are enough")]
        )
    problems: list[Problem] = []
    lines = text.split("\n")
    while True:
        try:
            read = "\n".join(lines)
            return tomllib.loads(read), read, problems
        except ValueError as wrong:
            line, column, problem, remedy = _syntax(str(wrong), lines)
            problems.append(Problem(Mark(name, line, column), "", problem, remedy))
            if len(problems) * len(text) > LONG or not _set_aside(lines, line - 1, problem):
                raise JobError(problems) from None


def _set_aside(lines: list[str], at: int, problem: str) -> bool:
    """Replace a bad value that begins and ends on its line. False where that cannot be done safely."""
    found = re.fullmatch(_ONE_LINE_VALUE, lines[at])
    if found is None or UNREADABLE in lines[at] or re.search(r'"""|\'\'\'|[\[{]\s*(#.*)?$', found[2]):
        return False
    lines[at] = "" if problem.startswith("written twice") else f'{found[1]} "{UNREADABLE}"'
    return True


def _syntax(message: str, lines: list[str]) -> tuple[int, int, str, str]:
    """tomllib's complaint in our words, with its place."""
    at = re.search(_AT, message)
    what = re.sub(_AT, "", message)
    line, column = (int(at[1]), int(at[2])) if at and at[1] else (len(lines), len(lines[-1]) + 1)
    if at is None:  # a whole number of more digits than Python will turn into one
        number = next((n for n, text in enumerate(lines) if re.search(r"\d{4000}", text.replace("_", ""))), 0)
        return number + 1, 1, "a number of too many digits", "write a quantity in quotes"
    starts_line = what.startswith(("Invalid statement", "Invalid initial"))
    if line > 1 and column == 1 and not starts_line:  # the fault ended the line before
        line, column = line - 1, len(lines[line - 2]) + 1
    if "overwrite" in what or "twice" in what or "mutate" in what or "already" in what or "redefine" in what.lower():
        return line, column, "written twice", "keep one of them"
    for start, problem, remedy in _SYNTAX:
        if what.startswith(start):
            return line, column, problem, remedy
    return line, column, what[:1].lower() + what[1:], "see how the lines around it are written"


_SYNTAX = (
    ("Invalid value", "this value cannot be read", QUOTES),
    ("Expected newline or end of document", "there is something left behind the value", QUOTES),
    ("Expected '='", "an equals sign is missing behind the key", 'write it like height = "40 in"'),
    (
        "Invalid initial character for a key part",
        "this is no name of a key",
        "letters, digits, _ and - only, or quotes around it",
    ),
    (
        "Invalid statement",
        "this is no line of a job file",
        'write a table like [piers.west] or a key like height = "40 in"',
    ),
    (
        "Expected ']' at the end of a table declaration",
        "the bracket of this table is not closed",
        "write it like [piers.west]",
    ),
    ("Expected ']]'", "the brackets of this table are not closed", "write it like [piers.west]"),
    ("Unterminated string", "the quotes are not closed", QUOTES),
    ("Illegal character", "the quotes are not closed on their line, or a character that no text may hold", QUOTES),
    ("Unclosed array", "the bracket of this list is not closed", "end the list with ]"),
    ("Unclosed inline table", "the brace of this table is not closed", "end it with }, on the same line"),
    ("Invalid date or datetime", "there is no such day or hour", "write it like 2027-04-12T09:00:00"),
    ("Unescaped '\\'", "a backslash stands alone in this text", "write it twice, or use single quotes around the text"),
)
