"""What do `like`, `row` and `[found.…]` stand for, before anything is read?

    raw     : the file as tomllib read it; never changed
    whole   : the same with twins filled up and rows laid out:   piers.bollard -> piers.bollard.1 … piers.bollard.12
    origins : path in the whole -> path in the file              so that an error points at what was written

A table given again changes only the keys it names, lists are replaced whole; a key that says the same in another way
takes the place of the inherited one. A found table is laid over the whole in the same manner.
"""

from collections.abc import Iterable
from types import UnionType
from typing import Any, Union, get_args, get_origin

from batterboard.job import fill
from batterboard.job.errors import nearest, shown
from batterboard.job.reading import FAILED, UNREADABLE, Path, Reading, keys
from batterboard.job.rules import let_go
from batterboard.job.schema import TABLES, Job, Pier, Row, Step
from batterboard.record import is_record

Raw = dict[str, Any]
Origins = dict[Path, Path]

OWN_KEYS = ("like", "row", "except")  # what the expansion reads itself
FOUND_SINGLE = ("site", "ground", "pour")  # tables without names that may be found otherwise
KINDS: dict[str, Any] = {name: get_args(keys(Job)[name].kind)[1] for name in TABLES}


def source(path: Path, origins: Origins) -> Path:
    """Where in the file a path of the whole was written."""
    for _ in range(4):  # a row's member, of a twin, laid over by found
        start = next((path[:n] for n in range(len(path), 0, -1) if path[:n] in origins), None)
        if start is None or origins[start] == start:
            break
        path = (*origins[start], *path[len(start) :])
    return path


def expand(raw: Raw, reading: Reading) -> tuple[Raw, Origins]:
    """The planned job with its twins and rows written out, without the found table."""
    origins: Origins = {}
    whole = {name: table for name, table in raw.items() if name != "found"}
    for table in TABLES:
        named = whole.get(table)
        if isinstance(named, dict) and any(
            isinstance(thing, dict) and any(key in thing for key in OWN_KEYS) for thing in named.values()
        ):
            whole[table] = _rows(table, _twins(table, named, origins, reading), origins, reading)
    return whole, origins


def overlay(whole: Raw, found: Any, origins: Origins, reading: Reading) -> tuple[Raw, Origins]:
    """The job as found: the found table laid over the planned one. It can change things, never add one."""
    result, origins = dict(whole), dict(origins)
    if not isinstance(found, dict):
        reading.wrong(("found",), f"{shown(found)} stands where a table belongs", "write [found.piers.NAME]", "key")
        return result, origins
    for table, given in found.items():
        at: Path = ("found", table)
        if table == "done":
            result["done"] = given
            origins[("done",)] = at
        elif table in FOUND_SINGLE:
            if isinstance(given, dict):
                result[table] = _merge(
                    keys(Job)[table].kind, _table(whole.get(table)), given, (table,), (table,), at, origins
                )
            else:
                reading.wrong(at, f"{shown(given)} stands where a table belongs", f"write [found.{table}]", "key")
        elif table in KINDS:
            result[table] = _overlay_named(table, _table(whole.get(table)), given, origins, reading)
        else:
            reading.wrong(
                at,
                f"nothing can be found under {shown(table)}",
                nearest(table, ("done", *KINDS, *FOUND_SINGLE), 20),
                "key",
            )
    return result, origins


def _table(raw: Any) -> Raw:
    return raw if isinstance(raw, dict) else {}


def _overlay_named(table: str, named: Raw, given: Any, origins: Origins, reading: Reading) -> Raw:
    at: Path = ("found", table)
    if not isinstance(given, dict):
        reading.wrong(at, f"{shown(given)} stands where named tables belong", f"write [found.{table}.NAME]", "key")
        return named
    result = dict(named)
    for name, facts in given.items():
        members = [member for member in named if member.rpartition(".")[0] == name]
        if name in named:
            _lay_over(table, name, facts, (*at, name), result, origins, reading)
        elif members and isinstance(facts, dict):
            for number, own in facts.items():
                if f"{name}.{number}" in named:
                    _lay_over(table, f"{name}.{number}", own, (*at, name, number), result, origins, reading)
                else:
                    last = members[-1].rpartition(".")[2]
                    reading.wrong(
                        (*at, name, number),
                        f"{name} has no number {shown(number)}",
                        f"found rows are keyed by number: [found.{table}.{name}.{last}]",
                        "key",
                    )
        else:
            reading.wrong((*at, name), f"there is no {shown(name)} among the {table}", nearest(name, named), "key")
    return result


def _lay_over(table: str, name: str, facts: Any, at: Path, result: Raw, origins: Origins, reading: Reading) -> None:
    if isinstance(facts, dict):
        path = (table, name)
        result[name] = _merge(KINDS[table], _table(result[name]), facts, path, path, at, origins)
        for key in OWN_KEYS:
            if key in facts:
                reading.wrong(
                    (*at, key), f"{key} belongs to the plan", "a found table says only what is otherwise", "key"
                )
                result[name].pop(key, None)
    else:
        reading.wrong(at, f"{shown(facts)} stands where a table belongs", f"write [found.{table}.{name}]", "key")


# ---- twins ----


def _twins(table: str, named: Raw, origins: Origins, reading: Reading) -> Raw:
    result: Raw = {}
    for name, own in named.items():
        result[name] = own
        if not isinstance(own, dict) or "like" not in own:
            continue
        path: Path = (table, name)
        given = {key: value for key, value in own.items() if key != "like"}
        model = _model(own["like"], name, named, (*path, "like"), reading)
        if model is None:
            result[name] = _unfilled(KINDS[table], given)
        else:
            inherited = {
                key: value
                for key, value in model.items()
                if key not in OWN_KEYS and not ("row" in given and key == "place")
            }
            result[name] = _merge(KINDS[table], inherited, given, path, (table, own["like"]), path, origins)
    return result


def _unfilled(kind: Any, given: Raw) -> Raw:
    """A twin of nothing: what it lacks is no news."""
    result: Raw = {key.name: UNREADABLE for key in keys(kind).values() if not key.found}
    for key, value in given.items():
        below = _kind_below(kind, key)
        result[key] = _unfilled(below, value) if below and isinstance(value, dict) else value
    return result


def _model(like: Any, name: str, named: Raw, path: Path, reading: Reading) -> Raw | None:
    others = [other for other in named if other != name]
    if like == UNREADABLE:
        return None
    if not isinstance(like, str) or like not in others or not isinstance(named[like], dict):
        reading.wrong(path, f"there is no {shown(like)} to be like", nearest(like, others))
        return None
    if "like" in named[like]:
        further = shown(named[like]["like"])
        reading.wrong(path, f'"{like}" is itself like another', f"twins are not chained: write like = {further}")
        return None
    return dict(named[like])


# ---- rows ----


def _rows(table: str, named: Raw, origins: Origins, reading: Reading) -> Raw:
    result: Raw = {}
    for name, own in named.items():
        path: Path = (table, name)
        if not isinstance(own, dict) or not ("row" in own or "except" in own):
            result[name] = own
            continue
        plain = {key: value for key, value in own.items() if key not in OWN_KEYS}
        if table != "piers":
            key = "row" if "row" in own else "except"
            reading.wrong((*path, key), f"there are no rows of {table}", "rows are laid out of piers", "key")
            result[name] = plain
        elif "row" not in own:
            reading.wrong((*path, "except"), "except goes with row", "it changes members of a row by number", "key")
            result[name] = plain
        else:
            result |= _members(path, own, plain, origins, reading)
    return result


def _members(path: Path, own: Raw, plain: Raw, origins: Origins, reading: Reading) -> Raw:
    """The piers of one row, each with its own measuring chain from the row's line: running marks from one end."""
    table, name = path
    row = fill.present(own["row"], fill.reader(Row), (*path, "row"), reading)
    if "place" in plain:
        reading.wrong((*path, "place"), "a row is its own place", "keep row or place", "key")
    if row is FAILED:
        return {name: plain | {"place": UNREADABLE}}
    exceptions = _exceptions(own.get("except", {}), row.count, (*path, "except"), reading)
    members = {}
    for number in range(1, row.count + 1):
        member: Path = (table, f"{name}.{number}")
        changed = exceptions.get(number, {})
        made = _merge(Pier, plain, changed, member, path, (*path, "except", str(number)), origins)
        made["place"] = (
            Step(along=row.along, ahead=row.first + (number - 1) * row.every),
            Step(from_=row.along, right=row.right)
            if row.right is not None
            else Step(from_=row.along, left=row.left or 0.0),
            Step(turn=row.along),
        )
        origins[member] = path
        origins[(*member, "place")] = (*path, "row")
        members[member[1]] = made
    return members


def _exceptions(raw: Any, count: int, path: Path, reading: Reading) -> dict[int, Raw]:
    if not isinstance(raw, dict):
        reading.wrong(
            path, f"{shown(raw)} stands where a table keyed by number belongs", 'write { 7 = { height = "7 ft" } }'
        )
        return {}
    found = {}
    for key, changed in raw.items():
        number = int(key) if key.isascii() and key.isdigit() and len(key) < 5 else 0
        if not 1 <= number <= count or key.startswith("0"):
            reading.wrong((*path, key), f"the row has no number {shown(key)}", f"it counts from 1 to {count}", "key")
        elif not isinstance(changed, dict):
            reading.wrong(
                (*path, key), f"{shown(changed)} stands where a table belongs", f'write {key} = {{ height = "7 ft" }}'
            )
        elif "place" in changed:
            reading.wrong(
                (*path, key, "place"), "a member of a row stands in its row", "write it as a pier of its own", "key"
            )
        else:
            found[number] = changed
    return found


# ---- laying one table over another ----


def _merge(kind: Any, base: Raw, given: Raw, path: Path, base_at: Path, given_at: Path, origins: Origins) -> Raw:
    """The base with what the given one names; `path` is where the result will stand."""
    gone = let_go(kind, base, given)
    result = {}
    for key, value in base.items():
        if key not in given and key not in gone:
            result[key] = value
            _came(origins, (*path, key), (*base_at, key))
    for key, value in given.items():
        below, inherited = _kind_below(kind, key), base.get(key)
        places = ((*path, key), (*base_at, key), (*given_at, key))
        if isinstance(value, dict) and isinstance(inherited, dict):
            result[key] = _merge(below, inherited, value, *places, origins)
            _came(origins, places[0], places[2])
        elif isinstance(value, dict) and isinstance(inherited, list) and value and _are_numbers(value, len(inherited)):
            result[key] = _merge_members(below, inherited, value, *places, origins)
        else:
            result[key] = value
            _came(origins, places[0], places[2])
    return result


def _merge_members(
    kind: Any, base: list[Any], given: Raw, path: Path, base_at: Path, given_at: Path, origins: Origins
) -> list[Any]:
    """A list whose members are changed by number, from 1."""
    result = []
    _came(origins, path, base_at)
    for index, value in enumerate(base):
        number = str(index + 1)
        if number in given:
            places = ((*path, index), (*base_at, index), (*given_at, number))
            changed = given[number]
            both = isinstance(value, dict) and isinstance(changed, dict)
            value = _merge(kind, value, changed, *places, origins) if both else changed
            _came(origins, places[0], places[2])
        result.append(value)
    return result


def _are_numbers(names: Iterable[str], count: int) -> bool:
    return all(name.isascii() and name.isdigit() and len(name) < 5 and 1 <= int(name) <= count for name in names)


def _came(origins: Origins, path: Path, origin: Path) -> None:
    if path != origin:
        origins[path] = origin


def _kind_below(kind: Any, key: str) -> Any:
    """The record that stands under a key, None where it is no record."""
    if not is_record(kind) or key not in keys(kind):
        return None
    found = keys(kind)[key].kind
    parts = get_args(found) if get_origin(found) in (Union, UnionType, tuple) else (found,)
    return next((part for part in parts if is_record(part)), None)
