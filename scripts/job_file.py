"""Writes docs/reference/job-file.md from the records that the reader fills: every table and key of a job file.

python scripts/job_file.py            writes the page
python scripts/job_file.py --check    says whether it is as the records are; exit status 1 where it is not
"""

import sys
from dataclasses import is_dataclass
from datetime import datetime
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "scripts")]

import theory  # noqa: E402

from batterboard.job.expand import KINDS  # noqa: E402
from batterboard.job.reading import Key, keys  # noqa: E402
from batterboard.job.schema import BarRun, BoltSet, Job, NameOf, Row, Tabulated, Written  # noqa: E402
from batterboard.quantity import Dimension, dimension_of, show  # noqa: E402

PAGE = ROOT / "docs" / "reference" / "job-file.md"
MADE = "<!-- Made by scripts/job_file.py from the records of the job file: change them, not this page. -->"

INTRODUCTION = """
# The job file

TOML, in UTF-8. `batterboard new gate`, `new sign` and `new "machine pad"` write commented files to begin with; the
JSON Schema for editors is shipped as `batterboard/job/job.schema.json`.

- **Quantities** are texts with their unit, as you write them: `"5 ft 6 1/2 in"`, `'''5'-6 1/2"'''`, `"1690 mm"`,
  `"4000 psi"`, `"110 mph"`. A dimensionless number may stand bare. Lengths are never negative where a direction word
  says which way: `left right ahead back up down along across`.
- **Names** are unique over all tables. Things hang on named things.
- **like** makes a twin: everything of the other, but for the keys written here.
- **row** makes a run of piers; `except` says which members differ, by number. They are called `name.1`, `name.2`, ...
- **[found]** mirrors these tables with what was found. A table there changes only the keys it names, and may use the
  keys marked *found*. `done = ["west"]` lists what is cast.
- A default marked with * is printed in the book, and shown on the page, as an assumption.
"""


def pages() -> dict[Path, str]:
    tables: list[str] = []
    records: list[Any] = []
    for name, key in keys(Job).items():
        if name == "done":
            continue
        kind = KINDS.get(name) or _record_in(key.kind)
        title = f"## [{name}.NAME]" if name in KINDS else f"## [{name}]"
        tables += [title, "", f"{_capital(key.say)}.", "", *_keys_of(kind), ""]
        _gather(kind, records, {*KINDS.values()})
    parts = [MADE, INTRODUCTION, *tables, "# Tables inside tables", ""]
    for record in (*records, Row):
        parts += [f"## {_title(record)}", "", *_keys_of(record), ""]
    return {PAGE: "\n".join(parts)}


def _keys_of(record: Any) -> list[str]:
    """A row a key: name, what may stand there, default, meaning."""
    said = record.__doc__ if record.__doc__ and record.__doc__ != record.__name__ else ""
    lines = [said.strip().partition("\n")[0], ""] if said else []
    lines += ["| key | what stands there | left out | meaning |", "|---|---|---|---|"]
    for key in keys(record).values():
        found = " *found*" if key.found else ""
        lines.append(f"| `{key.name}` | {_what(key.kind)} | {_left_out(key)} | {key.say}{found} |")
    return lines


def _left_out(key: Key) -> str:
    if key.must:
        return "must be written"
    if key.default in (None, "", ()) or not isinstance(key.default, (str, int, float, tuple)):
        return ""
    mark = " *" if key.assume else ""
    if isinstance(key.default, bool):
        return ("yes" if key.default else "no") + mark
    if isinstance(key.default, tuple):
        return " ".join(key.default) + mark
    dimension = _dimension(key.kind)
    return (show(key.default, dimension) if dimension else str(key.default)) + mark


def _what(kind: Any) -> str:
    origin, parts = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return " or ".join(_what(part) for part in parts if part is not NoneType)
    if origin is Annotated:
        return _marked(kind)
    if origin is Literal:
        return " or ".join(f'`"{part}"`' for part in parts if part)
    if origin is tuple:
        if parts[-1] is Ellipsis:
            return f"list of: {_what(parts[0])}"
        return f"[{', '.join(_what(part) for part in parts)}]"
    if origin is dict:
        return f"by number: {_what(parts[1])}"
    if kind in _PLAIN:
        return _PLAIN[kind]
    title = _title(kind)
    return f"[{title}](#{title.lower().replace(' ', '-')})"


_PLAIN: dict[Any, str] = {
    str: "text",
    bool: "`true` or `false`",
    int: "count",
    datetime: "date and time",
    BarRun: 'bars: `"8 #5"`, `"#3 @ 10 in"`',
    BoltSet: 'bolts: `"4 x 3/4 in F1554-36"`',
}


def _marked(kind: Any) -> str:
    for mark in kind.__metadata__:
        if isinstance(mark, NameOf):
            return f"name from {' or '.join(mark.tables)}" + (", or a bolt" if mark.points else "")
        if isinstance(mark, Tabulated):
            return mark.what
        if isinstance(mark, Written):
            return mark.form.replace("_", " ")
    rule = next((mark for mark in kind.__metadata__ if isinstance(mark, str) and mark != "either side"), "")
    return dimension_of(kind).name + (f", {rule}" if rule else "")


def _dimension(kind: Any) -> Dimension | None:
    for part in (kind, *get_args(kind)):
        try:
            return dimension_of(part)
        except TypeError:
            continue
    return None


def _record_in(kind: Any) -> Any:
    """The record that a kind speaks of, if any."""
    if is_dataclass(kind) and kind not in _PLAIN:
        return kind
    return next((found for part in get_args(kind) if (found := _record_in(part))), None)


def _gather(record: Any, known: list[Any], tables: set[Any]) -> None:
    """The records below one, in the order they are met."""
    for key in keys(record).values():
        inner = _record_in(key.kind)
        if inner and inner not in known and inner not in tables:
            known.append(inner)
            _gather(inner, known, tables)


def _title(record: Any) -> str:
    words = "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in record.__name__)
    return _capital(words.strip())


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


if __name__ == "__main__":
    sys.exit(theory.write(pages(), PAGE.parent, "--check" in sys.argv[1:]))
