"""What may an editor offer and refuse while a job file is written? A JSON Schema made from the same records.

    job.schema.json             what is shipped, written by `python -m batterboard.job.json_schema`
    $defs/Pier                  as planned: nothing that can only be found, what must be written is required
    $defs/Pier, a twin          the same with nothing required: a table with `like`, an exception of a row
    $defs/Pier, found           with the facts that can only be found, nothing required

It is looser than the reader: which keys go together, and whether names exist, only the reader can say.
"""

import json
from dataclasses import is_dataclass
from datetime import datetime
from pathlib import Path as FilePath
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from batterboard.job import shorthand
from batterboard.job.expand import FOUND_SINGLE
from batterboard.job.expand import KINDS as TABLE_KINDS
from batterboard.job.reading import Key, keys
from batterboard.job.schema import BarRun, BoltSet, Job, NameOf, Pier, Row, Tabulated, Written
from batterboard.quantity import Dimension

Schema = dict[str, Any]
Form = Literal["planned", "twin", "found"]

SHIPPED = FilePath(__file__).with_name("job.schema.json")
_QUANTITY = r"[0-9½⅓⅔¼¾⅛⅜⅝⅞⅙⅚⅕⅖⅗⅘].*[^-0-9.,/⁄\s½⅓⅔¼¾⅛⅜⅝⅞⅙⅚⅕⅖⅗⅘]"  # a number, then something of a unit
_BY_NUMBER = "^[1-9][0-9]{0,3}$"
_SUFFIX = {"planned": "", "twin": ", a twin", "found": ", found"}


def json_schema() -> Schema:
    """The schema of a job file, JSON Schema 2020-12."""
    definitions: dict[str, Schema] = {}
    properties: dict[str, Schema] = {}
    for name, key in keys(Job).items():
        if name != "done":
            properties[name] = _table(name, key, definitions)
    properties["found"] = _found(definitions)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A Batterboard job",
        "description": "One description of a small concrete job, from which everything else follows.",
        "type": "object",
        "properties": properties,
        "required": ["job"],
        "additionalProperties": False,
        "$defs": {name: definitions[name] for name in sorted(definitions)},
    }


def as_text() -> str:
    return json.dumps(json_schema(), indent=1, ensure_ascii=False) + "\n"


# ---- the tables of the file ----


def _table(name: str, key: Key, definitions: dict[str, Schema]) -> Schema:
    if name not in TABLE_KINDS:
        return {"description": key.say} | _kind(key.kind, "planned", definitions)
    kind = TABLE_KINDS[name]
    planned, twin = _refer(kind, "planned", definitions), _refer(kind, "twin", definitions)
    thing: Schema = {"if": {"required": ["like"]}, "then": twin, "else": planned}
    return {"description": key.say, "type": "object", "additionalProperties": thing}


def _found(definitions: dict[str, Schema]) -> Schema:
    job = keys(Job)
    properties: dict[str, Schema] = {"done": {"description": job["done"].say} | _kind(job["done"].kind, "found", {})}
    for name in FOUND_SINGLE:
        properties[name] = _refer(job[name].kind, "found", definitions)
    for name, kind in TABLE_KINDS.items():
        thing = _refer(kind, "found", definitions)
        if kind is Pier:  # a row's name holds its members by number
            row = {"type": "object", "patternProperties": {_BY_NUMBER: thing}, "additionalProperties": False}
            thing = {"anyOf": [thing, row]}
        properties[name] = {"type": "object", "additionalProperties": thing}
    return {
        "description": "what was found to be otherwise; it mirrors the job's tables",
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
    }


def _refer(kind: type, form: Form, definitions: dict[str, Schema]) -> Schema:
    name = kind.__name__ + _SUFFIX[form]
    if name not in definitions:
        definitions[name] = {}  # held while it is being made
        definitions[name] = _record(kind, form, definitions)
    return {"$ref": f"#/$defs/{name}"}


def _record(kind: type, form: Form, definitions: dict[str, Schema]) -> Schema:
    table = {name: key for name, key in keys(kind).items() if form == "found" or not key.found}
    properties = {name: {"description": key.say} | _kind(key.kind, form, definitions) for name, key in table.items()}
    if kind in TABLE_KINDS.values() and form != "found":
        properties["like"] = {
            "type": "string",
            "description": "the name of the one it is like but for what is said here",
        }
    required = [name for name, key in table.items() if key.must] if form == "planned" else []
    if kind is Pier and form != "found":
        row = _refer(Row, "planned", definitions)
        twin = _refer(Pier, "twin", definitions)
        properties["row"] = {"description": "a run of them along a line"} | row
        exceptions: Schema = {
            "description": "members of the row that differ, by number",
            "type": "object",
            "patternProperties": {_BY_NUMBER: twin},
            "additionalProperties": False,
        }
        properties["except"] = exceptions
    schema: Schema = {"type": "object", "properties": properties, "additionalProperties": False}
    if kind.__doc__ and kind.__doc__ != kind.__name__:
        schema["description"] = kind.__doc__.split("\n")[0]
    return schema | ({"required": required} if required else {})


# ---- what stands behind a key ----


def _kind(kind: Any, form: Form, definitions: dict[str, Schema]) -> Schema:
    origin, parts = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        kinds = [_kind(part, form, definitions) for part in parts if part is not NoneType]
        return kinds[0] if len(kinds) == 1 else {"anyOf": kinds}
    if origin is Annotated:
        return _annotated(kind)
    if origin is Literal:
        return {"enum": list(parts)}
    if origin is tuple:
        return _list(parts, form, definitions)
    if origin is dict:
        member = _refer(parts[1], form, definitions)
        return {"type": "object", "patternProperties": {_BY_NUMBER: member}, "additionalProperties": False}
    if is_dataclass(kind) and kind not in _PLAIN:
        return _refer(kind, form, definitions)  # type: ignore[arg-type]
    return dict(_PLAIN[kind])


_PLAIN: dict[Any, Schema] = {
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer", "minimum": 1, "maximum": 1000},
    datetime: {"type": "string", "format": "date-time"},
    BarRun: {"type": "string", "pattern": "[#øØ⌀∅] ?[0-9]", "examples": ["8 #5", "#3 @ 10 in"]},
    BoltSet: {"type": "string", "pattern": "^ *[0-9]+ *[x×]", "examples": [shorthand.BOLT_FORM.split('"')[1]]},
}


def _annotated(kind: Any) -> Schema:
    for mark in kind.__metadata__:
        if isinstance(mark, NameOf):
            point = ", or a bolt: west.bolt.1" if mark.points else ""
            return {"type": "string", "$comment": f"a name from {' or '.join(mark.tables)}{point}"}
        if isinstance(mark, Tabulated):
            return {"type": "string", "examples": _tabulated_names(mark)}
        if isinstance(mark, Written):
            return {"type": "string", "$comment": mark.form.replace("_", " ")}
        if isinstance(mark, Dimension):
            if mark.name == "number":
                return {"anyOf": [{"type": "number"}, {"type": "string", "pattern": "[0-9½¼¾]"}]}
            return {"type": "string", "pattern": _QUANTITY, "$comment": mark.name}
    raise TypeError(f"the schema uses {kind}, which has no form in JSON")


def _tabulated_names(mark: Tabulated) -> list[str]:
    from batterboard.standards import tables

    return [name for table in mark.tables for name in getattr(tables, table).names()]


def _list(parts: tuple[Any, ...], form: Form, definitions: dict[str, Schema]) -> Schema:
    if parts[-1] is not Ellipsis:
        members = [_kind(part, form, definitions) for part in parts]
        return {"type": "array", "prefixItems": members, "items": False, "minItems": len(members)}
    member = _kind(parts[0], form, definitions)
    if form == "planned":
        return {"type": "array", "items": member}
    whole = {"type": "array", "items": _kind(parts[0], "found" if form == "found" else "planned", definitions)}
    if not (is_dataclass(parts[0]) and parts[0] not in _PLAIN):
        return whole
    by_number = {"type": "object", "patternProperties": {_BY_NUMBER: member}, "additionalProperties": False}
    return {"anyOf": [whole, by_number]}  # members of a list may be changed by number


if __name__ == "__main__":
    SHIPPED.write_text(as_text(), "utf-8")
