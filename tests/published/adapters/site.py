"""Setting out, plates on their bolts and holes in the ground against the books."""

import re
from dataclasses import replace

import numpy as np

from adapters import As, Given, Missing, case
from batterboard.job import read_text
from batterboard.methods import errors, fit, volumes
from batterboard.phases import dig, setout
from batterboard.phases.setout.places import SCALE
from batterboard.quantity import Angle, Area, Celsius, Force, Length, LineLoad, Number, inch, read, show
from batterboard.standards import aci117, aisc, ibc, layout, osha, tables
from batterboard.work.build import build
from batterboard.work.records import Frame

# ---- rods in their plates ----


def _rod(text: str) -> str:
    return text.removesuffix("in").strip().replace("-", " ") + " in"


@case("base-plate hole for an anchor rod")
def play_in_hole(given: Given):
    def play(text):
        rod = tables.hole(_rod(text))
        return aisc.radial_clearance(rod.hole, read(rod.name, Length))

    return {"radial_clearance": given.each("rod", play)}


@case("anchor rod position tolerance")
def rod_setting(given: Given):
    return {"position_tolerance": given.each("rod", lambda text: aci117.setting(_rod(text)).place)}


@case("footing edge location")
def footing_off_its_place(given: Given):
    return {"tolerance": given.each("cases", lambda text: aci117.edge_location(read(text[-4:], Length)))}


@case("anchor rod group tolerance")
def rod_group(given: Given):
    return {"within_group": aisc.IN_A_GROUP}


def _inches(value: float) -> str:
    return show(value, Length, "us", "1/16 in").replace('"', " in")


def _either_way(plus: float, minus: float) -> str:
    return f"+{_inches(plus)}, -{_inches(minus)}"


@case("footing top level")
def footing_top(given: Given):
    return {"tolerance": given.each("cases", lambda text: _either_way(*aci117.FOOTING_LEVEL[text]))}


@case("footing plan and thickness")
def footing_sides(given: Given):
    def limits(text):
        kind, _, size = text.partition(", ")
        length = read(" ".join(size.split()[:2]), Length) if size else 0.0
        if kind == "thickness":
            return f"-{aci117.footing_thinner(length) / inch:g} in"
        if kind == "formed side":
            return _either_way(*aci117.FOOTING_SIDE)
        return _either_way(aci117.wider_in_soil(length), aci117.FOOTING_SIDE[1])

    return {"tolerance": given.each("cases", limits)}


@case("formed cross-section")
def formed_section(given: Given):
    sizes = given.si("sizes", Length)
    return {"plus": aci117.thicker(sizes), "minus": aci117.thinner(sizes)}


@case("plumb of a formed pier")
def pier_plumb(given: Given):
    height = given.si("height", Length)
    return {"plumb": aci117.plumb(height), "exposed_corner": aci117.plumb_of_a_corner(height)}


@case("does position tolerance fit the hole")
def tolerance_in_hole(given: Given):
    clearance = aisc.radial_clearance(given.si("hole", Length), read(_rod(given.text("rod")), Length))
    tolerance = given.si("position_tolerance_radial", Length)
    spare = clearance - tolerance
    return {
        "spare": spare,
        "fits": spare >= 0,
        "spare_if_tolerance_is_square": clearance - layout.diagonal(tolerance, tolerance),
    }


@case("rod length above concrete")
def rod_projection(given: Given):
    projection = aisc.rod_projection(
        *(given.si(k, Length) for k in ("grout", "plate", "washer", "nut", "thread_beyond_nut"))
    )
    return {"projection": projection, "projection_with_half_inch_low_top": projection + aci117.TOP}


@case("plate-to-bolt best rigid fit")
def plate_on_bolts(given: Given):
    hole, bolt = (given.si(name, Length).reshape(-1, 2).T for name in ("holes", "bolts"))
    clearance = given.si("radial_clearance", Length, 0.0)
    best = fit.minimax_fit(*hole, *bolt, clearance)
    return {
        "max_residual": float(best.largest),
        "rotation": As(float(best.turn), Angle),
        "shift": [float(best.shift_x), float(best.shift_y)],
        "fits": bool(best.drops_on),
        "least_squares_max": float(fit.least_squares_fit(*hole, *bolt).largest),
    }


# ---- right angles ----


@case("right angle by tape", "diagonal to the sixteenth")
def diagonal(given: Given):
    length = layout.diagonal(given.si("a", Length), given.si("b", Length))
    return {"diagonal": length, "diagonal_read": length}


@case("racking from unequal diagonals")
def racking(given: Given):
    shift = layout.racking(*(given.si(name, Length) for name in ("a", "d1", "d2")))
    return {"shift_of_far_side": shift, "angle_error": As(np.arctan2(shift, given.si("b", Length)), Angle)}


@case("how square a 3-4-5 really is")
def three_four_five(given: Given):
    sigma = layout.angle_by_tape(given.si("a", Length), given.si("b", Length), given.si("sigma_each", Length))
    answers = {"sigma_angle": As(sigma, Angle)}
    return answers | ({"sigma_at_end": sigma * given.si("carried_to", Length)} if "carried_to" in given else {})


# ---- errors of what is made of measurements ----


@case("error of a sum")
def sum_of_errors(given: Given):
    vector = errors.ErrorVector({str(i): float(s) for i, s in enumerate(given.si("errors", Length))})
    return {"sigma": float(errors.propagate(lambda e: [sum(e.values())], vector).sigma[0])}


@case("error of a product")
def product(given: Given):
    x, y = given.si("x", Length), given.si("y", Length)
    vector = errors.ErrorVector({"x": given.si("sx", Length), "y": given.si("sy", Length)})
    spread = errors.propagate(lambda e: [(x + e["x"]) * (y + e["y"])], vector)
    return {"area": As(spread.nominal[0], Area), "sigma": As(spread.sigma[0], Area)}


@case("point by angle and distance")
def polar(given: Given):
    r = given.si("distance", Length)
    vector = errors.ErrorVector({"r": given.si("sigma_distance", Length), "a": given.si("sigma_angle", Angle)})
    spread = errors.propagate(lambda e: [(r + e["r"]) * np.cos(e["a"]), (r + e["r"]) * np.sin(e["a"])], vector)
    return {"sigma_radial": spread.sigma[0], "sigma_tangential": spread.sigma[1]}


@case("point from two taped distances")
def two_tapes(given: Given):
    (ax, ay), (bx, by) = given.si("A", Length), given.si("B", Length)
    taped = [given.si("ra", Length), given.si("rb", Length)]
    reading = given.si("sigma_each", Length)
    vector = errors.ErrorVector({"x": np.inf, "y": np.inf, "a": reading, "b": reading})
    # To the left of the line from A to B, which the case leaves unsaid.
    start_x, start_y = (ax + bx) / 2 - (by - ay) / 2, (ay + by) / 2 + (bx - ax) / 2

    def distances(e):
        x, y = start_x + e["x"], start_y + e["y"]
        return [np.hypot(x - ax, y - ay) + e["a"], np.hypot(x - bx, y - by) + e["b"]]

    made = errors.adjust(distances, taped, vector, rounds=30)
    point = made.spread(lambda e: [start_x + e["x"], start_y + e["y"]])
    x, y = point.nominal
    to_a, to_b = np.arctan2(ay - y, ax - x), np.arctan2(by - y, bx - x)
    return {
        "x": x,
        "y": y,
        "sigma_x": point.sigma[0],
        "sigma_y": point.sigma[1],
        "angle_at_point": As(abs((to_b - to_a + np.pi) % (2 * np.pi) - np.pi), Angle),
    }


@case("level net")
def level_net(given: Given):
    known = {name: read(z, Length) for name, z in given["benchmarks"].items()}
    lines = [(a, b, read(rise.lstrip("+"), Length)) for a, b, rise in given["observed"]]
    unknown = sorted({end for a, b, _ in lines for end in (a, b)} - known.keys())
    start = sum(known.values()) / len(known)
    sigmas = dict.fromkeys(unknown, np.inf) | {f"line {i}": 1.0 for i in range(len(lines))}

    def levels(e):
        return known | {name: start + e[name] for name in unknown}

    def rises(e):
        z = levels(e)
        return [z[b] - z[a] + e[f"line {i}"] for i, (a, b, _) in enumerate(lines)]

    made = errors.adjust(rises, [rise for *_, rise in lines], errors.ErrorVector(sigmas))
    points = made.spread(lambda e: [levels(e)[name] for name in unknown])
    answers = dict(zip(unknown, points.nominal, strict=True))
    answers |= {f"sigma_{name}": s * made.sigma_0 for name, s in zip(unknown, points.sigma, strict=True)}
    return answers | {"sigma_0": As(made.sigma_0, Length)}


def _loop(rises, weights, closing):
    """Corrections of the legs of one loop that must add up to `closing`, by least squares."""
    names = [f"leg {i}" for i in range(len(rises))]
    heights = {f"at {i}": np.inf for i in range(len(rises) - 1)}
    vector = errors.ErrorVector(heights | {n: float(np.sqrt(w)) for n, w in zip(names, weights, strict=True)})

    def measured(e):
        at = [0.0, *(e[name] for name in heights), closing + 0 * e[names[0]]]
        return [at[i + 1] - at[i] + e[name] for i, name in enumerate(names)]

    made = errors.adjust(measured, rises, vector)
    at = [0.0, *(made.spread(lambda e: [e[name] for name in heights]).nominal if heights else ()), closing]
    return np.diff(at) - np.asarray(rises)


@case("closing error spread by distance")
def loop_by_distance(given: Given):
    start, ends = given.si("benchmark", Length), given.si("observed", Length)
    legs = np.diff(given.si("distances", Length), prepend=0.0)
    rises = np.diff(ends, prepend=start)
    corrections = _loop(rises, legs / legs.sum(), 0.0)
    return {"correction_total": corrections.sum(), "adjusted": start + np.cumsum(rises + corrections)}


@case("closing error spread by setups")
def loop_by_setups(given: Given):
    rises, setups = given.si("differences", Length), given.si("setups", Number)
    return {"misclosure": rises.sum(), "corrections": _loop(rises, setups, 0.0)}


@case("angular closure spread")
def angle_closure(given: Given):
    n, whole = int(given.text("n")), _angle(given.text("interior_angle_sum"))
    corrections = _loop([whole / n] * n, [1.0] * n, (n - 2) * np.pi)
    return {
        "misclosure": As(whole - (n - 2) * np.pi, Angle),
        "correction_each": As(corrections[0], Angle),
    }


# ---- a way round, leg by leg ----


def _angle(text: str) -> float:
    """Radians of 15 deg 30 min."""
    degrees, minutes = re.fullmatch(r"(\d+) deg (\d+) min", text).groups()
    return read(f"{degrees} deg", Angle) + read(f"{minutes} arcmin", Angle)


def _leg(length: float, bearing: str) -> tuple[float, float]:
    """What a leg goes north and east: a line's frame, turned from east counter-clockwise."""
    pole, angle, side = re.fullmatch(r"([NS]) (.*) ([EW])", bearing).groups()
    away = _angle(angle) * (1 if side == "E" else -1)  # from the pole, east positive
    turn = np.pi / 2 - away if pole == "N" else -np.pi / 2 + away
    east, north = Frame(x=0.0, y=0.0, turn=float(turn)).out(length, 0.0)
    return north, east


@case("latitude and departure")
def one_leg(given: Given):
    north, east = _leg(given.si("length", Length), given.text("bearing"))
    return {"latitude": north, "departure": east}


@case("compass rule")
def compass_rule(given: Given):
    """Least squares, the error of a leg either way growing with the root of its length, is the compass rule."""
    lengths = [float(length) for length, _ in given["legs"]]
    ways = [_leg(length, bearing) for length, (_, bearing) in zip(lengths, given["legs"], strict=True)]
    north, east = np.transpose(ways)
    return {
        "sum_latitude": north.sum(),
        "sum_departure": east.sum(),
        "adjusted_latitudes": north + _loop(north, lengths, 0.0),
        "adjusted_departures": east + _loop(east, lengths, 0.0),
    }


# ---- a place by its chain ----

_CHAIN = """
[job]
name = "one invented pier"
[levels.bench]
z = "0 ft"
[ground]
grade = {{ level = "bench" }}
[lines.line]
from = ["0 ft", "0 ft"]
to = ["{apart}", "0 ft"]
[mixes.stiff]
strength = "4000 psi"
[piers.pier]
round = "16 in"
height = "3 ft"
top = {{ level = "bench", up = "0 ft" }}
place = [ {{ along = "line", ahead = "{along}" }}, {{ from = "line", left = "{offset}" }} ]
mix = "stiff"
[posts.post]
on = "pier"
section = "Pipe 4 STD"
height = "5 ft"
[posts.post.joint]
plate = ["10 in", "10 in", "3/4 in"]
bolts = "4 x 3/4 in F1554-36"
square = "7 in"
deep = "12 in"
proud = "4 in"
"""
_EXACT = dict.fromkeys(
    ("tape", "tape_scale", "level", "string", "line_end", "square", "template", "turn", "drill", "bolt", "plumb"), 0.0
)


def _pier(apart: str, along: str, offset: str, **tools):
    job = read_text(_CHAIN.format(apart=apart, along=along, offset=offset))
    return build(job), replace(job.instruments, **(_EXACT | tools))


@case("tolerance budget of a pier centre")
def pier_by_chain(given: Given):
    """Of a template set on the pier, since the case counts that too."""
    sides, each = given.text("square").split(",")
    if not sides.startswith("3-4-5 ft"):
        raise Missing("another triangle than the case's 3-4-5 ft")
    square = layout.angle_by_tape(
        read("3 ft", Length), read("4 ft", Length), read(each.removesuffix("each").strip(), Length)
    )
    work, tools = _pier(
        *(given.text(name) for name in ("line_ends_apart", "along", "offset")),
        tape=given.si("sigma_tape", Length),
        line_end=given.si("sigma_line_end", Length),
        template=given.si("sigma_template", Length),
        square=square,
    )
    post = next(s for s in setout.chain(work, tools).stakes if s.name == "post")
    return {
        "sigma_along": post.sigma_x,
        "sigma_offset": post.sigma_y,
        "worst_step": {"pier square": "squareness"}.get(post.worst, post.worst),
    }


@case("measuring against setting out")
def wrong_tape(given: Given):
    """How a tape of the wrong length stretches a place that it sets out; to stand right, the place is read shorter."""
    marked, wanted = (
        read(given.text(name).split("reads ")[-1].split("at ")[-1], Length) for name in ("case_a", "case_b")
    )
    work, tools = _pier("1000 ft", "100 ft", "0 ft")
    plan = setout.Layout(work, tools)
    wrong = given.si("tape_true_length", Length) / given.si("nominal", Length) - 1
    stretch = plan.under(dict.fromkeys(plan.sigmas, 0.0) | {SCALE: wrong}).base("pier").x / plan.meant.base("pier").x
    return {"case_a_true": marked * stretch, "case_b_tape_reading": wanted / stretch}


@case("temperature correction")
def warm_tape(given: Given):
    read_ = given.si("measured", Length)
    correction = layout.tape_temperature(read_, given.si("field", Celsius), given.si("standard", Celsius))
    return {"correction": correction, "true_distance": read_ + correction}


@case("sag correction, ends supported")
def hanging_tape(given: Given):
    """Full spans and a rest, as the formula takes them."""
    spans, weight = given.si("spans", Length), given.si("weight", LineLoad)
    length, free = spans.sum(), spans.max()
    return {
        "correction": layout.tape_sag(length, free, weight, given.si("pull", Force)),
        "correction_at_18_lb": layout.tape_sag(length, free, weight, read("18 lb", Force)),
    }


@case("slope correction")
def tape_on_a_slope(given: Given):
    slope = given.si("slope_distance", Length)
    correction = layout.tape_slope(slope, given.si("rise", Length))
    return {"correction": correction, "horizontal": slope + correction}


@case("level collimation by two-peg test")
def two_pegs(given: Given):
    a_1, b_1, a_2, b_2 = (given.si(name, Length) for name in ("mid_a", "mid_b", "near_a", "near_b"))
    # The instrument stands beside A, so that B is the far peg.
    error = layout.collimation(b_1, a_1, b_2, a_2)
    return {"true_difference": a_1 - b_1, "error_in_far_reading": error, "correct_far_reading": b_2 - error}


@case("cut or fill from a level reading")
def cut_at_a_stake(given: Given):
    bench, back, there, wanted = (
        given.si(name, Length) for name in ("benchmark", "backsight", "reading_at_stake", "required")
    )
    right = back + layout.rod_difference(bench, wanted)
    cut = right - there
    return {
        "height_of_instrument": bench + back,
        "found": wanted + cut,
        "rod_reading_when_right": right,
        "result": f"{'cut' if cut > 0 else 'fill'} {abs(cut) / 0.3048:.2f} ft",
    }


# ---- holes ----


@case("trench thresholds")
def trench(given: Given):
    known = {
        "protective system from depth": osha.PROTECTED_FROM,
        "ladder from depth": osha.LADDER_FROM,
        "ladder travel": osha.LADDER_WITHIN,
        "spoil setback": osha.SPOIL_BACK,
        "ladder above edge": osha.LADDER_ABOVE,
        "air test deeper than": osha.AIR_TEST_FROM,
        "engineer designs deeper than": osha.DESIGNED_FROM,
    }
    return {"values": [known[item] for item in given["items"]]}


@case("crane or boom near live lines")
def near_live_lines(given: Given):
    up_to = [float(words.split(" to ")[1].split()[0]) * 1e3 for words in given["voltages"]]
    return {"clearance": [osha.LINE_CLEAR[volts] for volts in up_to]}


@case("volume of a sloped pit")
def sloped_pit(given: Given):
    along, across = given.si("bottom", Length)
    depth, run = given.si("depth", Length), _run(given.text("slope"))
    volume = volumes.pit_volume(volumes.rectangle(along, across), depth, run)
    return {"volume": volume, "top_side": along + 2 * run * depth}


def _run(slope: str) -> float:
    over, under = (read(part.replace("-", " "), Number) for part in slope.split(":"))
    return over / under


@case("cut volume, average end area and prismoidal")
def earthwork(given: Given):
    cuts, base, run = given.si("cuts", Length), given.si("base", Length), _run(given.text("slopes"))
    areas, middle = (h * (base + run * h) for h in (cuts, (cuts[1:] + cuts[:-1]) / 2))
    every = volumes.prismatoid_volume(areas[:-1], middle, areas[1:], given.si("spacing", Length))
    return {"prismoidal": every.sum()}


@case("footing depth below frost")
def frost(given: Given):
    job = read_text(_CHAIN.format(apart="9 ft", along="4 ft", offset="1 ft"))
    job = replace(job, site=replace(job.site, frost=given.si("frost", Length)))
    (asked,) = dig.cuts(build(job)).checks
    return {"bottom_at_least": asked.worst_demand, "least_depth_anywhere": ibc.LEAST_DEPTH}


@case("how far out the batter boards stand")
def boards_back(given: Given):
    """Of a hole as deep and sloped as the case has it; the trench rules would leave this one upright."""
    job = read_text(_CHAIN.format(apart="9 ft", along="4 ft", offset="1 ft"))
    deep, run = given.si("depth", Length), _run(given.text("slope"))
    hole = replace(dig.cuts(build(job)).holes[0], beside=given.si("working_space", Length))
    back = replace(hole, top_along=hole.along + 2 * run * deep).boards_back
    cut = back - osha.SPOIL_BACK
    return {
        "usual_offset": layout.BOARDS_BACK,
        "top_of_cut_from_footing": cut,
        "boards_at_4ft": "in the hole" if layout.BOARDS_BACK < cut else "clear of it",
    }


@case("short-term slope")
def short_term_slope(given: Given):
    brief = tables.slope(f"{given.text('soil')} short-term")
    usual = tables.slope(given.text("soil"))
    hours = given.si("open_hours", Number) * 3600

    def run(depth):
        return brief.run if depth <= brief.deepest and hours <= brief.longest else usual.run

    deeper = {
        key: run(read(key.removeprefix("if_depth_").replace("ft", " ft"), Length))
        for key in given.asked
        if "if_" in key
    }
    return {"slope": run(given.si("depth", Length))} | deeper
