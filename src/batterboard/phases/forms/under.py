"""How large and how high is what stands under a beam, before anybody knows how far apart?

    wood  : Wood(size=4x4, sole=2x6, upright=2x4, grade, nail)       what it is made of
    under : Under(above=0.91, longest=0.72, up=0.84, span=0.37, own=1500, ...)     its measures

From the concrete down: soffit, cross-piece, shore, a pair of wedges, sole plate. How far apart pairs stand, and what
holds them, is in `soffit`.
"""

from batterboard.job.schema import Stock
from batterboard.phases.forms.bracing import nail_through
from batterboard.phases.forms.shape import STATIONS, Shape
from batterboard.phases.forms.sheathing import plywood_of
from batterboard.phases.forms.stretch import Stretch
from batterboard.quantity import Force, Length, Number, Pressure, inch
from batterboard.record import record
from batterboard.standards import buoyancy, nds, tables
from batterboard.standards.tables import LumberGrade, LumberSize
from batterboard.work.records import Body
from batterboard.working import ceil, maximum

# Common practice, no source.
SHORE, SOLE = "4x4", "2x6"  # cross-pieces are of the same as the shores
CLOSEST = 8 * inch  # pairs stand no closer: so close they weigh the form
WEDGES = 1.5 * inch  # a pair, driven together from both sides
SHORTEST = 6 * inch  # of a shore: below that no hand gets at its wedges
PAST = 3 * inch  # of a cross-piece beyond the ribbons


@record
class Wood:
    size: LumberSize
    sole: LumberSize
    upright: LumberSize
    grade: LumberGrade
    nail: Force


@record
class Under:
    """Measures of what stands under one beam."""

    start: Length  # of the stretch, from the beam's first end
    end: Length
    along: Length
    width: Length
    height: Length
    side: Length  # of the sides' panels
    post: Length  # of their uprights, up to the ties over the concrete: they are pressed as if it reached so high
    thick: Length
    above: Length
    nearest: Length
    room: Length
    stack: Length  # of all between the concrete and the ground but the shore
    longest: Length  # shore
    middles: Number
    up: Length
    span: Length
    cross: Length
    tie: Length  # across the tops of both uprights
    stick: Length  # width of a cross-piece
    own: Pressure

    @property
    def long(self) -> Length:
        return self.end - self.start


def wood_of(stock: Stock) -> Wood:
    upright, grade = tables.lumber_size(stock.brace), tables.lumber_grade(stock.lumber)
    return Wood(
        size=tables.lumber_size(SHORE),
        sole=tables.lumber_size(SOLE),
        upright=upright,
        grade=grade,
        nail=nail_through(upright, grade),
    )


def under_of(body: Body, stretch: Stretch, form: Shape, wood: Wood) -> Under:
    t, b, along = form.thick, body.outline.across, body.outline.along
    side = body.height + t
    stack = t + wood.size.deep + WEDGES + wood.sole.wide
    first, last = (round(share * (STATIONS - 1)) for share in (stretch.start, stretch.end))
    above = body.bottom - stretch.lowest[first : last + 1].min(axis=0)
    longest = maximum(above - stack, SHORTEST)
    tie = b + 2 * t + 2 * wood.upright.deep
    cross = tie + 2 * wood.upright.wide + 2 * PAST
    post = side + wood.upright.deep
    ribbons = 2 * wood.upright.area
    sticks = (cross * wood.size.area + (2 * post + tie) * wood.upright.area) / CLOSEST + ribbons
    own = (plywood_of(form).weight * (b + 2 * side) + sticks * wood.grade.G * buoyancy.WATER) / b
    return Under(
        start=stretch.start * along,
        end=stretch.end * along,
        along=along,
        width=b,
        height=body.height,
        side=side,
        post=post,
        thick=t,
        above=above,
        nearest=body.bottom - stretch.highest[first : last + 1].max(axis=0),
        room=stack + SHORTEST,
        stack=stack,
        longest=longest,
        middles=ceil(longest / nds.longest_strut(wood.size.wide)) - 1,
        up=longest + stack - t - wood.size.deep / 2,
        span=b + t,
        cross=cross,
        tie=tie,
        stick=wood.size.wide,
        own=own,
    )
