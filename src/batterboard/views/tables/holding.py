"""Tables of what holds the forms: pressure by lift, yokes' kin, braces, uplift, and the foot on fresh concrete."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from batterboard.phases.forms import Box, Brace, Edge, Foot, Uplift
from batterboard.phases.forms.beside import Carrying
from batterboard.quantity import Area, Force, Length, LineLoad, Pressure, System, Time, show
from batterboard.standards import fresh
from batterboard.views.tables.model import Column, Table, alone, known, sideways, table

if TYPE_CHECKING:
    from batterboard.plan import Plan

PRESSURE = ("5 psf", "0.1 kPa")
WEIGHT = ("1 lb", "0.01 kN")
PRESSED, LIFT, BOARDS = ("1 lb", "1 N"), ("10 lb", "0.1 kN"), ("0.5 ft2", "0.1 m2")
NOT_KNOWN = "not for this pour"


def envelopes(plan: "Plan") -> Table:
    rows = (
        (b.name, b.lift, b.lateral.depth, b.lateral.peak, b.lateral.governs, b.lateral.why or "as described")
        for b in plan.forms.boxes
    )
    columns = (
        Column("form"),
        Column("lift"),
        Column("a liquid down to", Length),
        Column("from there on", Pressure, PRESSURE),
        Column("ruled by"),
        Column("why"),
    )
    return table(
        "pressure", "Pressure on the forms, lift by lift", columns, rows, about=1,
        note="From the top down it grows as in a liquid, below that it stays. Fill no faster, vibrate no deeper, and"
        " take no wetter concrete than was reckoned with.",
    )  # fmt: skip


def opinions(plan: "Plan") -> Table:
    rows = (
        (
            o.name,
            o.ours,
            known(o.formula, NOT_KNOWN),
            known(o.din, NOT_KNOWN),
            o.din_class,
            known(o.ciria, NOT_KNOWN),
            known(o.resting, NOT_KNOWN),
        )
        for o in plan.beside.opinions
        if any(alone(other) == alone(other) for other in (o.formula, o.din, o.ciria, o.resting))
    )
    columns = (
        Column("form"),
        Column("designed for", Pressure, PRESSURE),
        Column("ACI formula alone", Pressure, PRESSURE),
        Column("DIN 18218", Pressure, PRESSURE),
        Column("its class"),
        Column("CIRIA 108", Pressure, PRESSURE),
        Column("if left at rest", Pressure, PRESSURE),
    )
    return table(
        "pressure-beside", "The same pressure as others reckon it, for comparison only", columns, rows, about=1,
        note="The form is designed by the first. The ACI formula alone leaves out its least pressure and the liquid"
        " head, as older charts do. DIN's classes and the whole of CIRIA 108 are from memory, their equation numbers"
        " not confirmed; the slump is only compared with the German spread. At rest: never vibrated again.",
    )  # fmt: skip


def carrying(plan: "Plan") -> Table:
    rows = (
        (
            c.name,
            f"{c.panel}, {c.spans} span{'s' if c.spans > 1 else ''}",
            "across, strong" if c.across else "along, weak",
            c.spacing,
            c.pressure,
            *_first_to_go(c),
            c.turned,
            _army(c, plan.job.job.units),
        )
        for c in plan.beside.carrying
    )
    columns = (
        Column("form"),
        Column("panel"),
        Column("face grain to the supports"),
        Column("apart", Length, tape=True),
        Column("pressed by", Pressure, PRESSURE),
        Column("carries", Pressure, PRESSURE),
        Column("more, and it"),
        Column("grain turned, carries", Pressure, PRESSURE),
        Column("an older table"),
    )
    return table(
        "sheathing", "What the panels carry where they are pressed hardest", columns, rows, about=1,
        note="A panel laid with its grain the other way carries only the last figure: mark the grain on every piece."
        " The older table is the Army's, for sanded plywood; for comparison only.",
    )  # fmt: skip


def _first_to_go(c: Carrying) -> tuple[Any, str]:
    ways = (
        (alone(c.bending), "breaks"),
        (alone(c.shear), "shears between its plies"),
        (alone(c.giving), "bulges by more than l/360"),
    )
    return min(ways, key=lambda way: way[0])


def _army(c: Carrying, system: System) -> str:
    if c.yokes:
        return f"{alone(c.army_yokes):.0f} yokes, ours {c.yokes}" if c.army_yokes == c.army_yokes else "not read"
    return show(alone(c.army), Length, system) if c.army == c.army else "not read"


# ---- instead of yokes ----


def walls(plan: "Plan") -> Table:
    system = plan.job.job.units
    labels = (
        "lumber", "studs", "stud spacing", "double wales", "tie spacing along a wale", "ties", "pull of a tie",
        "plate under a tie",
    )  # fmt: skip
    return sideways(
        "form-walls", "Studs, wales and ties", labels,
        {b.name: tuple(_wall(b, system)) for b in plan.forms.boxes if b.wall is not None},
        note="Both faces of every side. A tie is taken for the load it is rated for, as entered or assumed. Space ties"
        " evenly, the first half a space from the corner. The short ends are pressed as hard: tie them end to end.",
    )  # fmt: skip


def _wall(b: Box, system: System) -> Iterator[str]:
    assert b.wall is not None
    of = b.wall
    yield f"{of.size.name} {of.grade.name}"
    yield f"{alone(of.studs):.0f}"
    yield show(alone(of.stud_spacing), Length, system)
    yield ", ".join(show(alone(wale.up), Length, system) for wale in of.wales) + " above the foot"
    yield show(alone(of.tie_spacing), Length, system)
    lengthwise = alone(of.lengthwise)
    yield f"{alone(of.ties) - lengthwise:.0f} across, {lengthwise:.0f} from end to end"
    yield show(alone(of.pull), Force, system)
    yield f"{show(alone(of.plate), Length, system)} on both sticks of its wale"


def edges(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (
            b.name,
            f"{b.edge.size.name} {b.edge.grade.name}",
            b.edge.spacing,
            round(alone(b.edge.count)),
            b.edge.foot,
            _nails(b.edge),
        )
        for b in plan.forms.boxes
        if b.edge is not None
    )
    columns = (
        Column("form"),
        Column("stakes of"),
        Column("at most apart", Length, tape=True),
        Column("stakes"),
        Column("each has to hold", Force, WEIGHT),
        Column("16d nails at each end of its kicker"),
    )
    return table(
        "form-edges", "Stakes and kickers of low edges", columns, rows, found=("SET",), about=1,
        note=f"Each stake is propped at its top by a kicker at 45 degrees, whose foot bears on a stake of its own."
        f" {_stake(plan, system)}",
    )  # fmt: skip


def _stake(plan: "Plan", system: System) -> str:
    hold = show(alone(plan.job.stock.stake), Force, system)
    return f"A stake is taken to hold {hold} whichever way it is pulled: pull one with a spring balance first."


# ---- upright and down ----


def collars(plan: "Plan") -> Table:
    rows = (
        (
            b.name,
            f"{c.size.name} {c.grade.name}",
            4 * len(c.ups),
            c.stick,
            c.ups[1],
            round(alone(c.nails)) if alone(c.nails) == alone(c.nails) else "bolt it",
        )
        for b in plan.forms.boxes
        for c in (b.collar,)
        if c is not None
    )
    columns = (
        Column("form"),
        Column("sticks of"),
        Column("count"),
        Column("long", Length, tape=True),
        Column("the upper collar at", Length, tape=True),
        Column("16d nails at each crossing"),
    )
    return table(
        "collars", "Collars round tubes", columns, rows, found=("SET",),
        note="Four sticks each, two over two, tight round the tube and nailed where they cross: one at its foot, staked"
        " to the lines, one where the braces meet it, each brace nailed to the middle of a stick. The tube is taken 1/2"
        " in thick (common practice): measure it before the sticks are cut.",
    )  # fmt: skip


def braces(plan: "Plan") -> Table:
    made = [b.brace for b in plan.forms.boxes if b.brace is not None]
    rows = (
        (
            b.name,
            b.governs,
            f"{alone(b.a_side):.0f} of {b.size.name}",
            b.up,
            b.run,
            b.length,
            _middles(b),
            _nails(b),
            round(alone(b.stakes)),
        )
        for b in made
    )
    columns = (
        Column("form"),
        Column("against"),
        Column("on each side"),
        Column("meets it at", Length, tape=True),
        Column("foot stands out", Length, tape=True),
        Column("length", Length, tape=True),
        Column("held in between"),
        Column("16d nails at each end"),
        Column("stakes at its foot"),
    )
    return table(
        "braces", "Braces", columns, rows, found=("SET",), about=1,
        note="On all four sides, nailed at both ends so that they pull as well as push. Against the"
        " least force at their top, the wind that all forms are braced for, or the site's own at its full design speed:"
        f" whichever tips more. {_stake(plan, plan.job.job.units)}",
    )  # fmt: skip


def _nails(b: Brace | Edge) -> int | str:
    nails = alone(b.nails)
    return round(nails) if nails == nails else "bolt it"


def _middles(b: Brace) -> str:
    return f"in {alone(b.middles):.0f}" if alone(b.middles) else "no"


def uplifts(plan: "Plan") -> Table:
    rows = (
        (b.name, _lifting(u), u.lift, u.weight, round(alone(u.stakes)))
        for b in plan.forms.boxes
        for u in (b.uplift,)
        if alone(u.lift) > 0
    )
    columns = (
        Column("form"),
        Column("lifted by"),
        Column("with", Force, WEIGHT),
        Column("weighs", Force, WEIGHT),
        Column("stakes tie it down"),
    )
    return table(
        "uplift", "What lifts a form, and what keeps it down", columns, rows, found=("TIED",), about=1,
        note="Stakes hold what its weight does not. A box set into a form to leave a hole floats too, by the weight of"
        " the concrete that it keeps out: write it under [blockouts], or tie it down.",
    )  # fmt: skip


def _lifting(u: Uplift) -> str:
    parts = (
        (u.edges, "the concrete under its edges"),
        (u.batter, "its leaning sides"),
        (u.brace, "braces that are pulled"),
        (u.blockouts, "the blockouts in it"),
    )
    return ", ".join(what for force, what in parts if alone(force) > 0)


def floating(plan: "Plan") -> Table:
    rows = ((f.name, f.outside, f.load, f.length, f.lift) for f in plan.beside.floating)
    columns = (
        Column("pipe"),
        Column("outside", Length),
        Column("lifted by", LineLoad, ("0.1 plf", "0.001 kN/m")),
        Column("length", Length),
        Column("in all", Force, WEIGHT),
    )
    return table(
        "floating", "Empty pipes float", columns, rows,
        note="Tied to the cage, not only laid on it; what of it stands above the concrete is counted as well.",
    )  # fmt: skip


# ---- on fresh concrete ----


def feet(plan: "Plan") -> Table:
    system = plan.job.job.units
    labels = (
        "the pad is ready when", "stands on", "concrete in the form", "the pad bears at once", "wait, early",
        "wait, late: judged", "the joint goes cold after", "or a cover board", "which is lifted by", "and held by",
    )  # fmt: skip
    return sideways(
        "form-feet", "Forms on fresh concrete: when the pad may carry them", labels,
        {foot.name: tuple(_foot(foot, system)) for foot in plan.forms.feet},
        note="ADVICE ONLY: nobody has published a criterion for the whole. The test on the pad stands before every"
        " hour named here. Times count from when the pad was last vibrated; a vibrator that goes down from the form"
        " into the pad starts them again, so let it only just enter. Cold"
        " and retarders slow the stiffening. The readings of a slump differ by a third, and a"
        f" model of the slump cone reads half: by it concrete of the lowest reading slumps only {_cone(plan, system)}.",
    )  # fmt: skip


def _cone(plan: "Plan", system: System) -> str:
    return ", ".join(dict.fromkeys(show(alone(foot.cone), Length, system) for foot in plan.forms.feet))


def _foot(f: Foot, system: System) -> Iterator[str]:
    def text(value: Any, kind: Any, steps: tuple[str, str] | None = None) -> str:
        one, step = alone(value), None if steps is None else steps[system == "si"]
        return show(one, kind, system, step) if one == one else "outside what is known"

    yield (
        f"a 1 in dowel under {text(f.rod, Force, PRESSED)} must not sink; a thumb leaves no more than a dent; and"
        " concrete kept from the pad no longer slumps"
    )
    yield f"{f.pad}, lift {f.pad_lift}; filled in lift {f.lift}"
    yield f"{text(f.head, Length)} above the pad, presses {text(f.pressure, Pressure, PRESSURE)}"
    bears = f"{text(f.bears_low, Pressure, PRESSURE)} to {text(f.bears_high, Pressure, PRESSURE)}"
    yield f"{bears} by its slump of {text(f.slump, Length)}; the waits are {fresh.MARGIN:g} times safe"
    yield text(f.early, Time)
    yield text(f.late, Time) + (" (covered: it need not wait)" if f.covered else "")
    yield text(f.limit, Time)
    yield f"{text(f.cover, Area, BOARDS)} round {f.name}"
    yield text(f.uplift, Force, LIFT)
    yield f"{alone(f.stakes):.0f} stakes, or that weight; the pad's sides then take the head of the pier too"
