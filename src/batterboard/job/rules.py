"""Which keys of one table go together, and which stand in for each other?

    ALTERNATIVES : Elevation -> (("up", "down"), ...)    written again, one takes the place of the other
    together     : keys of a table -> what is wrong       "say up or down", "two of top, bottom and height"

Only the presence of keys is looked at, so that every rule can speak even where a value could not be read.
"""

from collections.abc import Callable, Collection, Iterator
from typing import Any

from batterboard.job import schema

Keys = Collection[str]
Wrong = tuple[str, str, str]  # key the problem is shown at (empty: the table), problem, remedy

# A twin or a found table that names one of these lets go of the others it would have inherited.
ALTERNATIVES: dict[type, tuple[tuple[tuple[str, ...], ...], ...]] = {
    schema.Elevation: ((("level",), ("above",), ("below",)), (("up",), ("down",))),
    schema.Grade: ((("up",), ("down",)),),
    schema.Ground: ((("grade",), ("spots",)),),
    schema.Shift: ((("along",), ("back",)), (("across",), ("right",))),
    schema.Pier: ((("along", "across"), ("square",), ("round",), ("sides", "flats")),),
    schema.Joint: ((("square",), ("rows",), ("circle",), ("at",)),),
    schema.Post: ((("on", "joint"), ("set",)),),
    schema.PipeLeg: ((("up_in",), ("in",)),),
    schema.Blockout: (
        *((("left",), ("right",)), (("ahead",), ("back",)), (("up",), ("down",))),
        (("deep",), ("through",)),
    ),
    schema.Row: ((("left",), ("right",)),),
    schema.Line: ((("rise",), ("radius",), ("centre",)),),
    schema.Reading: ((("up",), ("down",)), (("ahead",), ("back",)), (("left",), ("right",))),
    schema.Faces: ((("ahead",), ("back",)), (("left",), ("right",))),
}
TWO_OF_THREE = ("height", "bottom", "top")  # in the order in which an inherited one is let go


def together(kind: type, keys: Keys) -> Iterator[Wrong]:
    """What is wrong with this set of keys in a table of this kind."""
    rule = _RULES.get(kind)
    if rule:
        yield from rule(keys)


def let_go(kind: type, inherited: dict[str, Any], given: dict[str, Any]) -> set[str]:
    """Keys of the inherited table that the given one replaces by another way of saying the same."""
    gone: set[str] = set()
    for group in ALTERNATIVES.get(kind, ()):
        named = [way for way in group if any(key in given for key in way)]
        if named:
            gone |= {key for way in group if way not in named for key in way if key in inherited}
    three = {key for key in TWO_OF_THREE if key in given or key in inherited}
    if kind is schema.Pier and len(three) == 3:
        spare = [key for key in TWO_OF_THREE if key not in given]
        gone |= set(spare[:1])
    return gone


def _exactly_one(keys: Keys, choices: tuple[str, ...], what: str) -> Iterator[Wrong]:
    said = [key for key in choices if key in keys]
    listed = f"{', '.join(choices[:-1])} or {choices[-1]}"
    if not said:
        yield "", f"it does not say {what}", f"write {listed}"
    elif len(said) > 1:
        yield said[1], f"{said[0]} and {said[1]} both say {what}", "keep one of them"


def _at_most_one(keys: Keys, choices: tuple[str, ...], what: str) -> Iterator[Wrong]:
    if sum(key in keys for key in choices) > 1:
        yield from _exactly_one(keys, choices, what)


def _needs(keys: Keys, key: str, other: str, why: str) -> Iterator[Wrong]:
    if key in keys and other not in keys:
        yield key, f"{key} needs {other} beside it", why


def _elevation(keys: Keys) -> Iterator[Wrong]:
    yield from _exactly_one(keys, ("level", "above", "below"), "what it is measured from")
    if "above" in keys and "down" in keys:
        yield "down", "above goes with up", 'write { below = "ground", down = ... }'
    elif "below" in keys and "up" in keys:
        yield "up", "below goes with down", 'write { above = "ground", up = ... }'
    else:
        yield from _exactly_one(keys, ("up", "down"), "how far")


def _grade(keys: Keys) -> Iterator[Wrong]:
    yield from _at_most_one(keys, ("up", "down"), "how far the ground lies from the level")


def _ground(keys: Keys) -> Iterator[Wrong]:
    yield from _at_most_one(keys, ("grade", "spots"), "where the ground lies")


def _mark(keys: Keys) -> Iterator[Wrong]:
    yield from _needs(keys, "latitude", "longitude", "a place on the earth has both")
    yield from _needs(keys, "longitude", "latitude", "a place on the earth has both")


def _line(keys: Keys) -> Iterator[Wrong]:
    yield from _exactly_one(keys, ("from", "square_to", "beside"), "where the line runs")
    yield from _needs(keys, "from", "to", "a line runs from a point to a point")
    yield from _needs(keys, "to", "from", "a line runs from a point to a point")
    yield from _needs(keys, "square_to", "at", "say how far along that line it starts")
    yield from _needs(keys, "at", "square_to", "at is the distance along that line")
    if "beside" in keys:
        yield from _exactly_one(keys, ("left", "right"), "on which side and how far")
    elif "left" in keys or "right" in keys:
        yield "left" if "left" in keys else "right", "an offset goes with beside", "name the line it runs parallel to"
    bent = [key for key in ("bulges", *_BENDS) if key in keys]
    if bent and "from" not in keys:
        yield bent[0], f"{bent[0]} goes with from and to", "an arc runs from a point to a point"
    elif bent == ["bulges"] or len(bent) > 2:
        yield from _exactly_one(keys, _BENDS, "how far the arc bends")
    elif bent:
        yield from _needs(keys, bent[0], "bulges", "left or right of the way from its start to its end")


_BENDS = ("rise", "radius", "centre")


def _step(keys: Keys) -> Iterator[Wrong]:
    if "turn" in keys:
        for key in keys:
            if key not in ("turn",):
                yield key, "a turn stands in a step of its own", 'write { turn = "LINE" }'
                return
    elif "along" in keys:
        yield from _at_most_one(keys, ("ahead", "back"), "how far along the line")
        for key in ("left", "right"):
            if key in keys:
                yield (
                    key,
                    "an offset stands in a step of its own",
                    f'write {{ from = "LINE", {key} = ... }} as the next step',
                )
    elif "from" in keys:
        if "ahead" in keys or "back" in keys:
            yield "from", "a distance is measured along a line", 'write { along = "LINE", from = ..., ahead = ... }'
        else:
            yield from _exactly_one(keys, ("left", "right"), "on which side of the line and how far")
    else:
        yield (
            "",
            "it is no measurement",
            'write { along = "LINE", ahead = ... }, { from = "LINE", left = ... } or { turn = "LINE" }',
        )


def _load(keys: Keys) -> Iterator[Wrong]:
    yield from _needs(keys, "water", "drum", "how much concrete was left in the drum when it went in")
    yield from _needs(keys, "drum", "water", "say how much water went into it")
    yield from _needs(keys, "batch", "weighs", "its yield needs the unit weight as tested")
    yield from _needs(keys, "batch", "volume", "its yield is set against the volume on the ticket")
    yield from _needs(keys, "weighs", "batch", "its yield needs the weight of all that was batched")


def _order(keys: Keys) -> Iterator[Wrong]:
    yield from _needs(keys, "bag_price", "bag", "which bag costs that")
    yield from _needs(keys, "short_fee", "short_below", "below how much a load is short")
    yield from _needs(keys, "short_below", "short_fee", "what a short load costs")
    for key in ("short_fee", "waiting"):
        yield from _needs(keys, key, "price", "fees come on top of the concrete's own price")


def _shift(keys: Keys) -> Iterator[Wrong]:
    yield from _at_most_one(keys, ("along", "back"), "how far along it stands off")
    yield from _at_most_one(keys, ("across", "right"), "how far across it stands off")


def _pier(keys: Keys) -> Iterator[Wrong]:
    shapes = [
        way for way in (("along", "across"), ("square",), ("round",), ("sides", "flats")) if any(k in keys for k in way)
    ]
    if not shapes:
        yield "", "it has no shape", "write along and across, square, round, or sides and flats"
    elif len(shapes) > 1:
        second = next(key for key in shapes[1] if key in keys)
        yield second, "it has two shapes", "keep one of along and across, square, round, sides and flats"
    else:
        for key in shapes[0]:
            if key not in keys:
                yield "", f"{key} is missing", f"{' and '.join(shapes[0])} go together"
    three = [key for key in ("top", "bottom", "height") if key in keys]
    if len(three) == 3:
        yield "height", "top, bottom and height are all three written", "keep two of them, the third follows"
    elif len(three) < 2:
        yield (
            "",
            f"only {three[0]} is written" if three else "it has no top and no height",
            "two of top, bottom and height",
        )
    yield from _needs(keys, "pad_bars", "pad", "there is no pad for this mat")


def _row(keys: Keys) -> Iterator[Wrong]:
    yield from _at_most_one(keys, ("left", "right"), "on which side of the line")


def _joint(keys: Keys) -> Iterator[Wrong]:
    yield from _exactly_one(keys, ("square", "rows", "circle", "at"), "how the bolts stand")


def _post(keys: Keys) -> Iterator[Wrong]:
    if "set" in keys:
        for key in ("on", "joint"):
            if key in keys:
                yield key, "a post that is cast in has no plate", "keep on and joint, or set"
                return
    elif "on" not in keys:
        yield "", "it does not say where it stands", "write on and joint, or set where it is cast in"
    elif "joint" not in keys:
        yield "", "joint is missing", "its plate and bolts; or write set where it is cast in"


def _pipe_leg(keys: Keys) -> Iterator[Wrong]:
    yield from _exactly_one(keys, ("up_in", "in"), "where the pipe runs")
    there, those = ("up_in", ("side", "from_bottom")) if "up_in" in keys else ("in", ("along", "across", "to"))
    for key in those:
        if key in keys and there in keys:
            yield (
                key,
                f"{key} does not go with {there}",
                "side and from_bottom in a beam; along, across and to in a pier",
            )


def _blockout(keys: Keys) -> Iterator[Wrong]:
    yield from _exactly_one(keys, ("deep", "through"), "how deep it goes")
    yield from _at_most_one(keys, ("left", "right"), "how far its middle is off to a side")
    yield from _at_most_one(keys, ("ahead", "back"), "how far its middle is off along")
    yield from _at_most_one(keys, ("up", "down"), "at what height it is")


_READS = {  # what says that it was measured, and the keys that may stand beside it
    "across": ("tape", "with"),
    "clear": ("at", "tape", "with"),
    "level": ("from", "up", "down"),
    "point": ("along", "off", "ahead", "back", "left", "right", "with"),
}


def _reading(keys: Keys) -> Iterator[Wrong]:
    yield from _exactly_one(keys, tuple(_READS), "what was measured")
    kind = next((kind for kind in _READS if kind in keys), "")
    for key in keys:
        if kind and key not in (*_READS, *_READS[kind]):
            yield key, f"{key} does not go with {kind}", f"with {kind} go {', '.join(_READS[kind])}"
            return
    if kind in ("across", "clear"):
        yield from _needs(keys, kind, "tape", "what the tape said")
    elif kind == "level":
        yield from _needs(keys, "level", "from", "the level it was read from")
        yield from _exactly_one(keys, ("up", "down"), "how far")
    elif kind == "point":
        yield from _exactly_one(keys, ("along", "off"), "which way it was measured")
        if "off" in keys:
            yield from _exactly_one(keys, ("left", "right"), "on which side and how far")
        elif "along" in keys:
            yield from _exactly_one(keys, ("ahead", "back"), "how far along the line")


def _faces(keys: Keys) -> Iterator[Wrong]:
    yield from _exactly_one(keys, ("ahead", "back"), "how far it stands from the face ahead or at the back")
    yield from _exactly_one(keys, ("left", "right"), "how far it stands from a face at the side")


_RULES: dict[type, Callable[[Keys], Iterator[Wrong]]] = {
    schema.Elevation: _elevation,
    schema.Grade: _grade,
    schema.Ground: _ground,
    schema.Mark: _mark,
    schema.Line: _line,
    schema.Step: _step,
    schema.Shift: _shift,
    schema.Pier: _pier,
    schema.Row: _row,
    schema.Joint: _joint,
    schema.Post: _post,
    schema.PipeLeg: _pipe_leg,
    schema.Blockout: _blockout,
    schema.Reading: _reading,
    schema.Load: _load,
    schema.Order: _order,
    schema.Faces: _faces,
}
