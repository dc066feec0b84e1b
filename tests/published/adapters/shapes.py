"""Shapes of forms: panels, chamfered concrete, strips and the saw settings of their ends."""

import re
from math import acos, atan, degrees, pi, sin, tan

import numpy as np

from adapters import Given, Missing, case
from batterboard.job.schema import Sheet
from batterboard.methods import volumes
from batterboard.phases.forms.pieces import planes, strips
from batterboard.phases.forms.pieces.closure import concrete_of
from batterboard.phases.forms.pieces.panels import panels_of, sights
from batterboard.phases.forms.shape import shape
from batterboard.phases.forms.strips import facet_point
from batterboard.quantity import Angle, Length, ft, inch, read
from batterboard.work.records import Body, Frame, Outline

SHEET = Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft))


def _body(outline: Outline, height: float, part: str = "pier") -> Body:
    return Body(
        name="x",
        element="x",
        part=part,
        outline=outline,
        frame=Frame(x=0.0, y=0.0, turn=0.0),
        bottom=0.0,
        top=height,
        mix="m",
        against="form",
    )


def _rectangle(along: float, across: float, **more: object) -> Outline:
    return Outline(kind="rectangle", along=along, across=across, **more)


def _planes(body: Body) -> planes.FormPlanes:
    made = shape(body, body.height, (SHEET,))
    return planes.planes_of(body, made.kind, body.height, made.thick)


def _told(cut: object, digits: int = 3) -> str:
    return f"mitre {degrees(cut.mitre):.{digits}f} deg, bevel {degrees(cut.bevel):.{digits}f} deg"


# ---- panels ----


def _sheet(given: Given) -> Sheet:
    return Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft), thick=given.si("sheathing", Length))


@case("panels-lapped", "panels, volumes, cutting")
def lapped_panels(given: Given):
    if "sheathing" not in given or "pier" not in given:
        raise Missing("no lapped box")
    W, D = [read(side.strip(), Length) for side in given.text("pier").split(" x ")][:2]
    between, past = shape(_body(_rectangle(W, D), 1.0), 1.0, (_sheet(given),)).panels
    around = shape(_body(_rectangle(W, D), 1.0), 1.0, (_sheet(given),), "pinwheel").panels
    return {"inside_panels": between.width, "lapping_panels": past.width, "pinwheel_panels": around[0].width}


@case("panels-hexagon", "panels-octagon", "panels, volumes, cutting")
def polygon_panels(given: Given):
    if "sheathing" not in given or "plan" not in given:
        raise Missing("no polygonal box")
    name, flats = re.match(r"(\w+) (.+?) across flats", given.text("plan")).groups()
    sides = {"hexagon": 6, "octagon": 8}[name]
    outline = Outline(kind="polygon", along=read(flats, Length), across=read(flats, Length), sides=sides)
    (panel,) = shape(_body(outline, 1.0), 1.0, (_sheet(given),)).panels
    return {"inside_width": panel.inside, "edge_bevel": panel.bevel, "outside_width": panel.width}


@case("panels-battered", "panels, volumes, cutting")
def battered_panels(given: Given):
    if "base" not in given:
        raise Missing("nothing that leans in")
    B, T, H = (given.si(name, Length) for name in ("base", "top", "H"))
    body = _body(_rectangle(B, B, batter=(B - T) / 2), H)
    box, form = shape(body, H, (SHEET,)), _planes(body)
    left = next(panel for panel in panels_of(box.panels, form, sights(box, form), {}) if panel.side == "left")
    edge = next(edge for edge in left.edges if edge.side == "right")
    ahead, beside = (wall.normal for wall in form.walls[:2])
    return {
        "slant_height": left.concrete_to,
        "volume": body.gross,
        "batter": pi / 2 - acos(ahead[2]),
        "angle_between_panels": pi - acos(ahead @ beside),
        "bevel_off_square_for_butt": abs(edge.bevel),
    }


@case("volume-trench", "panels, volumes, cutting")
def trench(given: Given):
    if "depth" not in given:
        raise Missing("no trench")
    d = given.si("depth", Length)

    def slope(name: str) -> float:
        if name not in given:
            return 0.0
        words = re.match(r"([\d./]+) (?:horizontal )?to ([\d./]+)", given.text(name))
        across, down = (float(n) / float(m or 1) for n, _, m in (word.partition("/") for word in words.groups()))
        return across / down

    if "bottom" in given:
        across, along = (read(side.strip(), Length) for side in given.text("bottom").split(" x "))
    else:
        across, along = given.si("width", Length), given.si("bottom_length", Length)
    ends, sides = slope("end_slope"), slope("side_slope")
    top = across + 2 * sides * d, along + 2 * ends * d
    return {
        "volume": volumes.trench_volume(along, across, d, ends, sides),
        "top": " x ".join(f"{side / inch:.4g} in" for side in top),
        "average_end_area": (across * along + top[0] * top[1]) / 2 * d,
    }


# ---- chamfered concrete ----


@case("chamfer geometry", "chamfer-")
def chamfered(given: Given):
    if "H" not in given:
        raise Missing("no block")
    H, a = given.si("H", Length), given.si("top_chamfer_leg", Length)
    facets = "facets" in given.text("top_strips", "")
    if "plan" in given:
        sides = int(re.match(r"regular (\d+)-gon", given.text("plan"))[1])
        F = given.si("across_flats", Length)
        b, C = given.si("corner_chamfer_leg_along_faces", Length), given.si("corner", Angle)
        plain = {"kind": "polygon", "along": F, "across": F, "sides": sides}
    else:
        b, C, sides = given.si("corner_chamfer_leg", Length), pi / 2, 4
        plain = {"kind": "rectangle", "along": given.si("W", Length), "across": given.si("D", Length)}
    through = "corners" if facets else "top"
    c = given.si("corner_chamfer_return", Length) if "corner_chamfer_return" in given else None
    edged = Outline(corners=b, returns=c, top=a, through=through, facets=facets, **plain)
    block, whole, topped = (_body(o, H) for o in (edged, Outline(**plain), Outline(top=a, **plain)))
    (concrete,) = concrete_of(_planes(block))
    assert abs(concrete.volume - block.gross) < 1e-9 * block.gross  # by planes as by the formula
    made = shape(block, H, (SHEET,))
    corner = next(strip for strip in made.strips if strip.edge == "corner")
    answers = {
        "box": whole.gross,
        "prism": whole.gross,
        "volume": concrete.volume,
        "removed": whole.gross - concrete.volume,
        "removed_by_top_chamfer_alone": whole.gross - topped.gross,
        "removed_by_corner_strips_in_addition": topped.gross - block.gross,
        "facet_width": corner.face,
        "limit_leg": a / facet_point(1.0, 1.0, C),
    }
    if not facets:
        answers |= {"corner_strip_length_at_arris": corner.short, "corner_strip_length_at_mid_face": corner.long}
    if sides > 4:
        answers["side_length"] = made.panels[0].inside
    return answers | _at_corner(concrete, _planes(block), a, b, C, facets)


def _at_corner(concrete, form: planes.FormPlanes, a: float, b: float, C: float, facets: bool):
    """Vertices round the first corner as distances from its two faces and depth, deepest first, and what joins them."""
    one, other = form.walls[:2]
    points = np.column_stack(concrete.vertices)
    x, y = (wall.offset - points @ wall.normal for wall in (one, other))
    t = form.height - points[:, 2]
    window = 1.2 * max(a, b * sin(C))  # less than to the next corner
    near = (x < window) & (y < window) & (t < form.height / 2)
    order = sorted(np.flatnonzero(near), key=lambda i: (-round(t[i], 9), x[i]))
    told = np.column_stack((x, y, t))[order]
    at = points[order]
    slanting, last = np.linalg.norm(at[0] - at[2]), np.linalg.norm(at[-1] - at[-2])
    on_top = int(np.sum(told[:, 2] < 1e-9))
    right = C == pi / 2
    if facets:
        words = "b >= (2 - sqrt 2) a: eight top chamfers all reach the top" if on_top == 2 else ""
    elif len(told) == 3:
        words = "b = 2a: the point of the corner facet just touches the top"
    elif on_top == 2:
        words = "b > 2a: corner facet reaches the top with a straight edge"
        words = words if right else "facet reaches the top (b > 2a/sin C)"
    else:
        words = "b < 2a: corner facet ends in a point below the top; the two top chamfers meet on a hip"
        words = words if right else "pointed facet with hip (b < 2a/sin C)"
    answers = {"regime": words, "vertices_at_corner": told, "slanting_edge": slanting, "mitre_line_length": slanting}
    if on_top == 2:
        answers |= {"top_edge_of_corner_facet": last, "top_edge_of_facet": last}
    else:
        answers |= {"edge_facet_to_chamfer": slanting, "hip_length": last}
        point = told[-2] / inch
        answers["point_of_facet"] = f"distance from both faces {point[0]:.6g} in, depth {point[2]:.6g} in"
    return answers


@case("chamfer-dihedral")
def dihedrals(given: Given):
    body = _body(_rectangle(0.5, 0.5, corners=0.03, top=0.03), 1.0)
    form = _planes(body)
    facet, first, second = (
        next(e for e in form.edges if e.mark == f"x {m}") for m in ("corner 1", "top ahead", "top left")
    )
    f, p, q = (edge.inner[0][0] for edge in (facet, first, second))

    def inner(m, n) -> float:
        return pi - acos(m @ n)

    run = np.cross(f, p)
    run = np.round(run / np.max(np.abs(run)), 9).astype(int)
    x, y, z = (v * -np.sign(run[0]) for v in (run[0], run[1], run[2]))  # x and y are told inwards, z is told downwards
    return {
        "corner_facet_to_top_chamfer": inner(f, p),
        "top_chamfer_to_top_chamfer": inner(p, q),
        "chamfer_to_face": inner(-f, form.walls[0].normal),
        "facet_edge_direction": f"({-x}, {-y}, {-z})/sqrt {x * x + y * y + z * z}",
    }


@case("volume-pad-and-chamfered-pier")
def pad_and_pier(given: Given):
    pad = [read(side.strip(), Length) for side in given.text("pad").split(" x ")]
    block, *edges = (part.strip() for part in given.text("pier").split(","))
    W, D, H = (read(side.strip(), Length) for side in block.split(" x "))
    legs = {text.partition(" ")[0]: read(text.partition(" ")[2], Length) for text in edges}
    pier = _body(_rectangle(W, D, **legs), H).gross
    below = _body(_rectangle(pad[0], pad[1]), pad[2], "pad").gross
    return {
        "pad": below,
        "pier": pier,
        "total_ft3": below + pier,
        "total_yd3": below + pier,
        "error_if_chamfers_ignored": W * D * H - pier,
    }


@case("volume-round-pier-top-chamfer")
def round_pier(given: Given):
    d, H, a = (given.si(name, Length) for name in ("diameter", "H", "top_chamfer_leg"))
    block = _body(Outline(kind="round", along=d, across=d, top=a), H)
    whole = _body(Outline(kind="round", along=d, across=d), H)
    return {"volume": block.gross, "removed": whole.gross - block.gross}


# ---- strips ----


@case("compound mitres", "mitre-")
def mitres(given: Given):
    """A top strip round a form whose first corner has that angle, mitred with the next one."""
    if "leg_on_top" in given:
        a, v = given.si("leg_on_top", Length), given.si("leg_on_panel", Length)
        spring = atan(a / v)
    else:
        spring = read(given.text("spring").removesuffix(" from the wall"), Angle)
        a = v = 0.02
    corner = given.si("corner", Angle)
    each = [_mitred(a, a / tan(spring), C) for C in np.ravel(corner)]
    mitre, bevel, legs = (np.array([one[i] for one in each]) for i in (0, 1, 2)) if np.ndim(corner) else each[0]
    return {
        "mitre": mitre,
        "bevel": bevel,
        "spring": spring,
        "mitre_on_face": mitre,
        "bevel_on_face": bevel,
        "on_leg_face": legs,
    }


def _mitred(a: float, v: float, C: float) -> tuple[float, float, str]:
    turns = (0.0, pi - C, pi, 2 * pi - C)
    walls = tuple(
        planes.Face(str(n), np.array([np.cos(turn), np.sin(turn), 0.0]), 0.5) for n, turn in enumerate(turns, 1)
    )
    outline = Outline(kind="polygon", along=1.0, across=1.0, sides=4, top=a, down=v)
    form = planes.form_between("x", "polygon", walls, outline, 1.0, 0.018, open_ends=False)
    first = strips.strips_of(form)[0][0]
    end = first.ends[1]
    cuts = {cut.down: cut for cut in (*end.cuts, *end.others) if cut.against == "x top 2"}
    face, top, panel = (cuts[down] for down in ("the sloping face", "the top face", "panel 1's face"))
    on_top, on_panel = (f"mitre {degrees(cut.mitre):.0f}, bevel {degrees(cut.bevel):.0f}" for cut in (top, panel))
    return face.mitre, face.bevel, f"{on_top} with the top leg down; {on_panel} with the panel leg down"


@case("corner-strip-end-cuts")
def corner_strip_ends(given: Given):
    body = _body(_rectangle(0.5, 0.5, corners=0.02, top=0.02, through="top"), 1.0)
    corner = next(strip for strip in strips.strips_of(_planes(body))[0] if strip.edge == "corner")
    end = corner.ends[1]
    cuts = {cut.down: cut for cut in (*end.cuts, *end.others) if cut.against == "x top ahead"}
    points = np.column_stack(corner.solid.vertices)
    high = points[points[:, 2] > points[:, 2].max() - 1e-9]
    middle = np.allclose(0.25 - high[:, 0], 0.25 - high[:, 1])
    return {
        "cuts": f"{len(end.cuts)}, a hip roof meeting on the strip's mid plane" if middle else "",
        "on_hypotenuse": _told(cuts["the sloping face"]),
        "on_leg_own_face": _told(cuts["the ahead panel's face"]),
        "on_leg_other_face": _told(cuts["the left panel's face"]),
    }


@case("chamfer-top-strip-lengths")
def top_strips(given: Given):
    a, b = given.si("top_chamfer_leg", Length), given.si("corner_chamfer_leg", Length)
    s = given.si("W", Length)
    body, mitred = (_body(_rectangle(s, s, corners=leg, top=a), 1.0) for leg in (b, 0.0))
    strip = next(one for one in strips.strips_of(_planes(body))[0] if one.edge == "top")
    (cut,) = strip.ends[0].cuts
    listed, alone = (shape(each, 1.0, (SHEET,)).strips[-1] for each in (body, mitred))
    assert abs(strip.long - listed.long) < 1e-9
    other = ", sloping the other way" if cut.long_side == "the sloping face" else ""
    return {
        "long_point_if_mitred_into_corner": alone.long,
        "short_point_if_mitred": alone.short,
        "length_on_panel_if_butted_to_corner_strips": strip.short,
        "length_at_inner_edge_if_butted": strip.long,
        "end_cut_if_butted": f"{degrees(cut.mitre):.0f} deg in plan{other}",
    }
