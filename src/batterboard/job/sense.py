"""Does the job make sense: are its names clear, does everything stand on something, can each chain be measured?

    values : attribute of Job -> what was read; a table that could not be read is not there
    whole  : the expanded raw tables, for the names of things that could not be read

What one thing must fulfil by itself (chamfers, bolts, bars) has been asked in `fits`. Nothing is placed here.
"""

import re
from collections.abc import Iterator
from math import hypot, radians
from typing import Any

from batterboard.job.errors import nearest, shown
from batterboard.job.reading import Path, Reading
from batterboard.job.schema import TABLES, Leaf, Line, Pier, Step
from batterboard.quantity import Length, show

GROUPS = ("pads", "slabs", "beams", "piers")  # what a lift may name at once
RESERVED = (*GROUPS, "ground", "found", "done", "top", "bottom", "centre", "bolt")
OWN_NAMES = ("mixes",)  # a mix is a recipe and no place: it may share the name of a thing
_NAME = re.compile(r"\w[\w -]{0,39}(?:\.\d{1,4})?")


def judge(values: dict[str, Any], whole: dict[str, Any], reading: Reading) -> None:
    """Tell the reading everything that does not go together."""
    _names(whole, reading)
    _references(whole, values, reading)
    _lines(values, reading)
    _on_earth(values, reading)
    _ground(values, whole, reading)
    _places(values, whole, reading)
    _leaves(values, reading)
    _lifts(values, reading)
    _readings(values, whole, reading)
    _taped(values, reading)
    _done(values, whole, reading)
    _levels(values, reading)


def _named(whole: dict[str, Any], *tables: str) -> dict[str, str]:
    """Every name in these tables with its table, whether or not the thing could be read."""
    return {name: table for table in tables if isinstance(whole.get(table), dict) for name in whole[table]}


def _names(whole: dict[str, Any], reading: Reading) -> None:
    seen: dict[str, str] = {}
    piers = _named(whole, "piers")
    for table in TABLES:
        for name in _named(whole, table):
            path = (table, name)
            member = table == "piers" and re.search(r"\.\d+$", name)
            if not _NAME.fullmatch(name) or ("." in name and not member):
                reading.wrong(path, f"{shown(name)} is no name", "letters, digits, _ and - only, 40 at most", "key")
            elif name in RESERVED or name.removesuffix(" pad") in piers.keys() - {name}:
                reading.wrong(path, f'"{name}" has a meaning of its own in a job', "give it another name", "key")
            elif name in seen and table not in OWN_NAMES:
                problem = f'"{name}" is also the name of something in {seen[name]}'
                reading.wrong(path, problem, "names are unique in a job", "key")
            if table not in OWN_NAMES:
                seen.setdefault(name, table)


def _references(whole: dict[str, Any], values: dict[str, Any], reading: Reading) -> None:
    left_out = {name: pier.left_out for name, pier in values.get("piers", {}).items() if pier.left_out}
    for path, name, mark in reading.references:
        known = _named(whole, *mark.tables)
        if mark.points:
            for problem, remedy in _held(name, known, values, whole):
                reading.wrong(path, problem, remedy)
            name = _thing(name)
            if name not in left_out:
                continue
        if mark.groups:
            known |= _groups(known, whole) | dict.fromkeys(_steps(values), "piers")
        if name not in known:
            elsewhere = _named(whole, *TABLES).get(name)
            what = f"{shown(name)} stands in {elsewhere}" if elsewhere else f"there is no {shown(name)}"
            reading.wrong(path, f"{what}; a name from {' or '.join(mark.tables)} belongs here", nearest(name, known))
        elif name in left_out:
            reading.wrong(path, f'"{name}" is left out: {left_out[name]}', "nothing can stand there")


# ---- lines and ground ----


def _lines(values: dict[str, Any], reading: Reading) -> None:
    lines: dict[str, Line] = values.get("lines", {})
    marks = values.get("marks", {})
    before = _needed(lines, values)
    for name, line in lines.items():
        if _returns(name, lambda n: before.get(n, ())):
            points = [end for end in (line.from_, line.to) if isinstance(end, str) and end not in marks]
            problem, remedy = "this line hangs on itself", "one of them must run from a point to a point"
            if points:
                problem += f", by way of {' and '.join(points)}"
                remedy = "what it runs through must be measured from other lines"
            reading.wrong(("lines", name), problem, remedy, "key")
        other = line.square_to or line.beside
        if other in lines and lines[other].bulges:
            path = ("lines", name, "square_to" if line.square_to else "beside")
            reading.wrong(path, f'"{other}" is an arc', "a line is measured from a straight one")
        ends = [marks[end].at if isinstance(end, str) and end in marks else end for end in (line.from_, line.to)]
        ends = [end.removesuffix(".centre") if isinstance(end, str) else end for end in ends]
        if ends[0] is not None and ends[0] == ends[1]:
            reading.wrong(("lines", name, "to"), "this line has no length", "a line needs two points that lie apart")


def _on_earth(values: dict[str, Any], reading: Reading) -> None:
    """None or two marks say where on the earth they are: one alone leaves open which way the job is turned."""
    known = {name: mark for name, mark in values.get("marks", {}).items() if mark.latitude is not None}
    for name, mark in known.items():
        for key, most in (("latitude", 85), ("longitude", 180)):
            if abs(getattr(mark, key)) > radians(most):
                reading.wrong(("marks", name, key), f"{key} goes to {most} deg here", "is it the other one?")
    if known and len(known) != 2:
        words = f"{len(known)} mark{'s' * (len(known) > 1)} with latitude and longitude"
        reading.wrong(("marks", list(known)[-1], "latitude"), words, "write them for two marks, or for none")
    elif known:
        one, other = known.values()
        if one.at == other.at or (one.latitude, one.longitude) == (other.latitude, other.longitude):
            path = ("marks", list(known)[-1], "latitude")
            reading.wrong(path, "these two marks are one place", "two marks must lie apart, here and on the earth")


def _needed(lines: dict[str, Line], values: dict[str, Any]) -> dict[str, set[str]]:
    """What must stand before each line, pier and pad: what it is measured from, held at or carried by."""
    standing = {**values.get("posts", {}), **values.get("machines", {})}
    bases = {**values.get("piers", {}), **values.get("pads", {})}
    ground = values.get("ground")
    falls = {ground.grade.falls.along} if ground and ground.grade and ground.grade.falls else set()

    def carried(base: str) -> set[str]:
        """What stands on a pier that leans stands where the pier's height takes it, and that may be to the ground."""
        return {base} | (falls if getattr(bases.get(base), "lean", None) is not None else set())

    needed: dict[str, set[str]] = {}
    for name, line in lines.items():
        needed[name] = {other for other in (line.square_to, line.beside) if other}
        for point in (line.from_, line.to):
            if isinstance(point, str):
                thing = _thing(point)
                on = standing[thing].on or (standing[thing].set.in_ or "") if thing in standing else thing
                needed[name] |= {on} if point.removesuffix(".centre") in bases else carried(on)
    for name, base in bases.items():
        needed[name] = {other for step in base.place for other in (step.along, step.from_, step.turn) if other}
        for step in base.place:
            if step.along and step.from_ in bases and step.ahead is None and step.back is None:
                needed[name] |= carried(step.from_)
    return needed


def _thing(point: str) -> str:
    """What a point is on: west of west, west.centre and west.bolt.1."""
    return point.partition(".bolt.")[0].removesuffix(".centre")


def _held(
    point: str, known: dict[str, str], values: dict[str, Any], whole: dict[str, Any]
) -> Iterator[tuple[str, str]]:
    """What is wrong with a point that a line is held at."""
    name = _thing(point)
    if name not in known:
        elsewhere = _named(whole, *TABLES).get(name)
        what = f"{shown(name)} stands in {elsewhere}" if elsewhere else f"there is no {shown(name)}"
        yield f"{what}; a mark, something placed or a bolt on it belongs here", nearest(name, known)
    elif known[name] == "marks" and point != name:
        yield f'"{name}" is a mark, and nothing stands on it', f'write "{name}"'
    else:
        yield from _point(point, values, whole)


def _returns(start: str, after: Any) -> bool:
    """Whether a walk along what each thing hangs on comes back to where it began."""
    seen: set[str] = set()
    waiting = [n for n in after(start) if n]
    while waiting:
        name = waiting.pop()
        if name == start:
            return True
        if name not in seen:
            seen.add(name)
            waiting += [n for n in after(name) if n]
    return False


def _ground(values: dict[str, Any], whole: dict[str, Any], reading: Reading) -> None:
    ground = values.get("ground")
    if ground is None:
        return
    falls = ground.grade.falls.along if ground.grade and ground.grade.falls else ""
    if falls in values.get("lines", {}) and values["lines"][falls].bulges:
        reading.wrong(("ground", "grade", "falls", "along"), f'"{falls}" is an arc', "name a straight line")
    concrete = _named(whole, "piers", "pads", "beams")
    if ground.grade is None and not ground.spots and concrete:
        reading.wrong(
            ("ground",),
            "the job does not say where the ground lies",
            'write [ground] and grade = { level = "LEVEL", down = "6 in" }',
            "key",
        )


def _levels(values: dict[str, Any], reading: Reading) -> None:
    """A pier whose top and bottom are both measured from named levels has some height."""
    z = {name: level.z for name, level in values.get("levels", {}).items()}
    for name, pier in values.get("piers", {}).items():
        ends = [end for end in (pier.top, pier.bottom) if end and end.level in z]
        if len(ends) == 2:
            top, bottom = (z[end.level] + (end.up or 0.0) - (end.down or 0.0) for end in ends)
            if not top > bottom:
                reading.wrong(("piers", name, "top"), "its top is not above its bottom", "look at up and down")


# ---- places ----


def _places(values: dict[str, Any], whole: dict[str, Any], reading: Reading) -> None:
    elements = {**values.get("piers", {}), **values.get("pads", {})}
    table = {name: "piers" if isinstance(thing, Pier) else "pads" for name, thing in elements.items()}
    judged = all(_all_read(values, whole, name) for name in ("posts", "leaves"))
    held = {name: [step.from_ for step in thing.place if step.from_ in elements] for name, thing in elements.items()}
    for name, thing in elements.items():
        path: Path = (table[name], name)
        _chain(thing.place, path, elements, values, reading)
        for number, step in enumerate(thing.place):
            if judged and step.along and step.ahead is None and step.back is None and step.from_:
                _opening(name, step.from_, (*path, "place", number), values, reading)
        if held[name] and _returns(name, lambda n: held.get(n, [])):
            reading.wrong(
                (*path, "place"),
                "this place is measured from itself, by way of " + ", ".join(held[name]),
                "one of them must be measured from lines alone",
            )


def _chain(
    place: tuple[Step, ...], path: Path, elements: dict[str, Any], values: dict[str, Any], reading: Reading
) -> None:
    """One distance along a line, one offset from a line, at most one turn."""
    at: Path = (*path, "place")
    firsts: dict[str, int] = {}
    for number, step in enumerate(place):
        kind = "a turn" if step.turn else "a distance along a line" if step.along else "an offset from a line"
        if kind in firsts:
            reading.wrong((*at, number), f"the chain has {kind} twice", "one along, one offset and one turn at most")
        firsts.setdefault(kind, number)
        if step.along and step.from_ and step.from_ in values.get("lines", {}):
            reading.wrong(
                (*at, number, "from"),
                "a distance along a line begins at a thing, not at a line",
                "name a pier, pad or mark; left out, it begins at the line's start",
            )
        if not step.along and step.from_ and (step.from_ in elements or step.from_ in values.get("marks", {})):
            reading.wrong(
                (*at, number, "from"),
                "an offset is measured from a line",
                f'write {{ along = "LINE", from = "{step.from_}", ahead = ... }} for a distance',
            )
        if step.along and step.ahead is None and step.back is None and not step.from_:
            reading.wrong((*at, number), "how far along the line is missing", 'write ahead = "..." or back = "..."')
    if not place:
        reading.wrong(
            path,
            "it does not say where it stands",
            'write place = [ { along = "LINE", ahead = ... }, { from = "LINE", left = ... } ]',
            "key",
        )
        return
    for kind in ("a distance along a line", "an offset from a line"):
        if kind not in firsts:
            reading.wrong(
                at,
                f"{kind} is missing",
                'a place is { along = "LINE", ahead = ... } and { from = "LINE", left = ... }, "0 in" too',
            )
    along = {step.along for step in place if step.along}
    offset = {step.from_ for step in place if step.from_ and not step.along and not step.turn}
    lines: dict[str, Line] = values.get("lines", {})
    _round_arcs(place, at, lines, reading)
    for a in along:
        for b in offset:
            if a != b and any(
                line and line.square_to == other for line, other in ((lines.get(a), b), (lines.get(b), a))
            ):
                reading.wrong(
                    (*at, firsts["an offset from a line"]),
                    f'"{a}" and "{b}" stand square: both measure the same way',
                    f'measure the offset from "{a}"',
                )


def _round_arcs(place: tuple[Step, ...], at: Path, lines: dict[str, Line], reading: Reading) -> None:
    """What is measured along an arc is measured off it too, and lies along its tangent; nothing else can use it."""
    arcs = {name for name, line in lines.items() if line.bulges}
    along = next((step.along for step in place if step.along), None)
    for number, step in enumerate(place):
        path: Path = (*at, number)
        used, key = (step.turn, "turn") if step.turn else (step.from_, "from")
        if step.along:
            if step.along in arcs and step.ahead is None and step.back is None:
                reading.wrong(path, f'how far along the arc "{step.along}" is missing', "no opening follows a curve")
        elif used != along and used in arcs:
            reading.wrong((*path, key), f'"{used}" is an arc, and the distance runs along another line', _ONE_ARC)
        elif used != along and along in arcs and key == "from" and used in lines:
            reading.wrong((*path, key), f'"{along}" is an arc: an offset is measured square to it', _ONE_ARC)


_ONE_ARC = "measure the distance, the offset and the turn of a place by one arc"


def _opening(name: str, other: str, path: Path, values: dict[str, Any], reading: Reading) -> None:
    """A distance that was left out follows from the leaves between the posts of two piers."""
    posts, leaves = values.get("posts", {}), values.get("leaves", {})
    here = {post for post, thing in posts.items() if thing.on == name}
    there = {post for post, thing in posts.items() if thing.on == other}
    spanning = [
        leaf for leaf in leaves.values() if _spans(leaf, leaves, here, there) or _spans(leaf, leaves, there, here)
    ]
    if not spanning:
        reading.wrong(
            path,
            "how far along the line is missing",
            f'write ahead = "...", or hang a leaf between a post on "{name}" and one on "{other}"',
        )
    for leaf_name, leaf in leaves.items():
        if leaf in spanning:
            for gap, where in ((leaf.hung.gap, "hung"), (leaf.shuts.gap, "shuts")):
                if gap is None:
                    reading.wrong(
                        ("leaves", leaf_name, where),
                        "gap is missing",
                        f'the distance between "{name}" and "{other}" follows from it',
                        "key",
                    )


def _spans(leaf: Leaf, leaves: dict[str, Leaf], one: set[str], other: set[str]) -> bool:
    end = leaves[leaf.shuts.on].hung.on if leaf.shuts.on in leaves else leaf.shuts.on
    return leaf.hung.on in one and end in other


# ---- leaves ----


def _leaves(values: dict[str, Any], reading: Reading) -> None:
    leaves: dict[str, Leaf] = values.get("leaves", {})
    posts = values.get("posts", {})
    for name, leaf in leaves.items():
        post, met = posts.get(leaf.hung.on), leaves.get(leaf.shuts.on)
        heights, shuts = ("leaves", name, "hung", "heights"), ("leaves", name, "shuts", "on")
        if post and leaf.hung.heights and leaf.hung.heights[1] > post.height:
            problem = f'the upper hinge is above the top of post "{leaf.hung.on}"'
            reading.wrong(heights, problem, "a longer post or lower hinges")
        if leaf.shuts.on == name:
            reading.wrong(shuts, "a leaf cannot shut on itself", "name the post or the other leaf")
        elif met and met.shuts.on != name:
            remedy = f'write shuts = {{ on = "{name}" }} there'
            reading.wrong(shuts, f'"{leaf.shuts.on}" does not shut on "{name}"', remedy)
        elif met and met.hung.on == leaf.hung.on:
            reading.wrong(shuts, "both leaves hang on the same post", "two leaves need two posts")


# ---- names in words ----


def _groups(elements: dict[str, str], whole: dict[str, Any]) -> dict[str, str]:
    """What can be done under one name: all of a kind, a row, the pad of a pier."""
    rows = (name.rpartition(".")[0] for name in elements if "." in name)
    piers = whole.get("piers")
    padded = piers.items() if isinstance(piers, dict) else ()
    pads = (f"{name} pad" for name, pier in padded if isinstance(pier, dict) and "pad" in pier)
    return dict.fromkeys((*GROUPS, *rows, *pads), "piers")


def _steps(values: dict[str, Any]) -> Iterator[str]:
    """Steps of pads, which a lift may place by themselves; what was cast with a pad is done with it."""
    for name, pier in values.get("piers", {}).items():
        for number in range(1, 1 + len(pier.pad.steps if pier.pad else ())):
            yield f"{name} step {number}"


def _lifts(values: dict[str, Any], reading: Reading) -> None:
    pour = values.get("pour")
    seen: dict[str, int] = {}
    for number, lift in enumerate(pour.lifts if pour else ()):
        for place, name in enumerate(lift.of):
            if name in seen:
                path: Path = ("pour", "lifts", number, "of", place)
                reading.wrong(path, f'"{name}" is placed in lift {seen[name]} already', "name it once")
            seen.setdefault(name, number + 1)
    for key, load in (pour.loads if pour else {}).items():
        if load.batched and load.empty and load.empty < load.batched:
            path = ("pour", "loads", str(key), "empty")
            reading.wrong(path, f"load {key} was empty before it was batched", "write both with their date")
        if load.begun and load.empty and load.empty < load.begun:
            path = ("pour", "loads", str(key), "empty")
            reading.wrong(path, f"load {key} was empty before it was begun", "write both with their date")


def _readings(values: dict[str, Any], whole: dict[str, Any], reading: Reading) -> None:
    measured = values.get("measured")
    levels = _named(whole, "levels")
    for number, taken in enumerate(measured.readings if measured else ()):
        path: Path = ("measured", "readings", number)
        points = [((*path, "across", i), point) for i, point in enumerate(taken.across or ())]
        points += [((*path, key), point) for key in ("level", "point") if (point := getattr(taken, key)) is not None]
        lines = values.get("lines", {})
        for key in ("along", "off"):
            if (line := getattr(taken, key)) in lines and lines[line].bulges:
                remedy = f'write across = ["{line}", "{taken.point}"] and what a tape reads straight between them'
                reading.wrong((*path, key), f'"{line}" is an arc, which no tape lies along', remedy)
        for at, point in points:
            if at[-1] == "level" and point in levels:
                continue
            wrongs = list(_point(point, values, whole))
            if not wrongs and at[-1] == "level" and re.search(r"\.bolt\.|\.centre$", point):
                wrongs = [(f'"{point}" is no level', 'write a bench mark, "east" or "east.top"')]
            for problem, remedy in wrongs:
                reading.wrong(at, problem, remedy)


def _taped(values: dict[str, Any], reading: Reading) -> None:
    """Two tapes to one bolt meet: together they reach from mark to mark, and neither is longer by more than that."""
    marks = {name: mark.at for name, mark in values.get("marks", {}).items()}
    for table in ("posts", "machines"):
        for name, thing in values.get(table, {}).items():
            for number, bolt in thing.bolts.items():
                if len(bolt.taped) != 2 or any(taken.from_ not in marks for taken in bolt.taped):
                    continue
                one, other = bolt.taped
                (ax, ay), (bx, by) = marks[one.from_], marks[other.from_]
                apart = hypot(bx - ax, by - ay)
                remedy = f'"{one.from_}" and "{other.from_}" are {show(apart, Length, "us")} ({apart:.3f} m) apart'
                path: Path = (table, name, "bolts", str(number), "taped")
                if one.tape + other.tape < apart:
                    reading.wrong(path, f"these tapes do not reach from mark to mark by way of bolt {number}", remedy)
                elif abs(one.tape - other.tape) > apart:
                    reading.wrong(path, f"one tape to bolt {number} is too long beside the other", remedy)


def _point(point: str, values: dict[str, Any], whole: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """What is wrong with west.bolt.1, east.top, nail."""
    things = _named(whole, "piers", "pads", "posts", "machines", "marks", "lines")
    name = max((n for n in things if point == n or point.startswith(n + ".")), key=len, default=None)
    if name is None:
        yield f"there is no {shown(point)} to measure", nearest(point.partition(".")[0], things)
        return
    detail = point[len(name) + 1 :]
    bolt = re.fullmatch(r"bolt\.(\d{1,3})", detail)
    if bolt:
        joints = [
            thing.joint
            for table in ("posts", "machines")
            for n, thing in values.get(table, {}).items()
            if name in (n, thing.on) and thing.joint
        ]
        if not any(1 <= int(bolt[1]) <= joint.bolts.count for joint in joints) and joints:
            yield f'"{name}" has no bolt {bolt[1]}', f"its bolts count from 1 to {joints[0].bolts.count}"
        elif not joints and all(_all_read(values, whole, table) for table in ("posts", "machines")):
            yield f'"{name}" carries no bolts', 'measure it by its name or by "top"'
    elif detail not in ("", "top", "centre"):
        yield f"{shown(detail)} is no point of it", f'write "{name}", "{name}.top" or "{name}.bolt.1"'


def _all_read(values: dict[str, Any], whole: dict[str, Any], table: str) -> bool:
    return len(values.get(table, ())) == len(_named(whole, table))


def cast(words: tuple[str, ...], values: dict[str, Any]) -> tuple[str, ...]:
    """What is done, thing by thing: a group, a row and all of a kind by their members; west pad where only that is."""
    piers, pads, beams = (values[table] for table in ("piers", "pads", "beams"))
    groups = {
        "piers": tuple(piers),
        "pads": tuple(f"{name} pad" for name, pier in piers.items() if pier.pad is not None),
        "slabs": tuple(pads),
        "beams": tuple(beams),
    }
    rows: dict[str, tuple[str, ...]] = {}
    for name in piers:
        if "." in name:
            row = name.rpartition(".")[0]
            rows[row] = (*rows.get(row, ()), name)
    told = dict.fromkeys(name for word in words for name in groups.get(word, rows.get(word, (word,))))
    return tuple(name for name in told if not (name.endswith(" pad") and name.removesuffix(" pad") in told))


def _done(values: dict[str, Any], whole: dict[str, Any], reading: Reading) -> None:
    known = _named(whole, "piers", "pads", "beams", "posts", "leaves", "signs", "machines", "pipes")
    known |= _groups(known, whole)
    for number, name in enumerate(values.get("done", ())):
        if name not in known:
            reading.wrong(("done", number), f"there is no {shown(name)} that could be done", nearest(name, known))
        elif name in GROUPS and {"piers", "pads", "beams"} <= values.keys() and not cast((name,), values):
            reading.wrong(("done", number), f"there are no {name} that could be done", nearest(None, known))
