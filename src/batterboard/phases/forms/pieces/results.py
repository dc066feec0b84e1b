"""What the bench needs to know of a form: records of every single panel, strip and bulkhead. SI.

    axes of a form   x ahead, y to the left, z up, as the body's own axes; z = 0 at the foot of the form
    axes of a face   as he stands OUTSIDE the form and looks at it: u to the right, v up along the face; the origin is
                     the lower left corner of the INSIDE of the panel, the side the concrete touches. Its other side is
                     told in the same u and v, so of a bevelled panel it begins left of the origin.
    section of a strip   (p, q) square to its length: the sharp edge of the uncut concrete at the origin, p along the
                     first of its two faces, q square to p and into the concrete's corner
    end of a strip   looking at the strip with its sharp edge away: `pattern` is its skin folded flat, w round the strip
                     from the sharp edge, s back along it from the end's longest point

Seen from inside a form everything is the mirror image: a view that shows it from there turns u round.
"""

from functools import cached_property
from typing import Literal

from batterboard.methods.solids import Array, Solid
from batterboard.quantity import Angle, Length, Number, Volume
from batterboard.record import record

Point = tuple[Length, Length]


@record
class Opening:
    """What is cut out of a panel or a bulkhead, so that something passes."""

    kind: Literal["pipe", "beam", "bar", "clean-out", "blockout"]  # the last is no hole: joints keep clear of it
    of: str  # the name or mark of what passes: "power", "tie", "TB1"; of a clean-out its door's mark
    outline: tuple[Point, ...]  # in u, v of its face; of a round hole the corners of the square round it
    middle: Point
    hole: Length  # diameter to bore, nan where it is sawn to the outline
    closed_with: str  # what closes it before the pour, in words


@record
class PanelEdge:
    """One edge of a panel as it is sawn."""

    side: Literal["foot", "right", "top", "left"]
    start: Point  # on the inside face
    end: Point
    bevel: Angle  # off square; positive where the outside is the wider, negative where it is the narrower
    meets: str  # mark of the panel, or the part of its own panel, it lies against; "" of the foot and the top
    match: str  # the match mark to write across this joint; "" where there is none
    past: bool  # it runs past that panel and covers its edge
    on: str = ""  # of a joint within a panel, what both parts are fastened to: "yoke", "stud", "stake", "plates"


@record
class PanelPiece:
    """One panel by itself, or one part of a panel that no sheet yields whole."""

    mark: str  # "west A1", "apron A1 part 2": written on its outside, upper left
    kind: str  # mark of the kind it is cut as: "west A", "apron A part 2"
    panel: str  # "west A1": of a part the panel it is joined to; of a whole one its own mark
    side: str  # "ahead", "left", "back", "right"; of a polygon "1" to "n", counter-clockwise from ahead
    inside: tuple[Point, ...]  # corners of the face that the concrete touches, counter-clockwise as seen from outside
    outside: tuple[Point, ...]  # corners of its other face, in the same axes
    thick: Length
    edges: tuple[PanelEdge, ...]
    openings: tuple[Opening, ...]
    concrete_to: Length  # v of the line to which it is filled, up the panel
    out: Array  # of length 1, square to its inside face and away from the concrete, in the form's axes
    solid: Solid  # in the form's axes, openings not cut


@record
class SawCut:
    """One plane at the end of a strip, and how the saw stands for it."""

    against: str  # mark of the strip it lies against, "the top of the form", "the foot of the form"
    down: str  # which face lies on the saw table: "the left panel's face", "the top face", "the sloping face"
    mitre: Angle  # turn of the cut from square across, as seen on the table
    bevel: Angle  # tilt of the blade from upright
    long_side: str  # the face or edge towards which the piece stays longer; "" of a square cut


@record
class StripFace:
    """One long face of a strip near one end, folded flat with its neighbours."""

    face: str  # "the left panel's face", "the top face", "the sloping face"
    outline: tuple[Point, ...]  # (w, s), full size


@record
class StripEnd:
    cuts: tuple[SawCut, ...]  # as set with the easiest face down, once per plane
    others: tuple[SawCut, ...]  # the same planes with every other face down
    pattern: tuple[StripFace, ...]  # full size, to print, fold round the strip and scribe from
    deep: Length  # from its longest to its shortest point


@record
class StripPiece:
    """One arris strip by itself; equal ones carry one kind."""

    mark: str  # "west corner 1": between the panels named in `between`
    kind: str  # "west corner a": all of one kind are cut alike; "" is never used
    edge: Literal["corner", "top", "facet"]  # facet: a top strip across a corner strip's face
    shape: Literal["chamfer", "recess", "groove"]
    between: tuple[str, str]  # the two faces it dresses: sides of panels, "top", or the mark of a corner strip
    legs: tuple[Length, Length]  # along each of them, square to the edge
    angle: Angle  # between those two faces, measured in the concrete
    spring: Angle  # between the first face and the sloping face; of a recess 90 deg
    section: tuple[Point, ...]  # full size, square to its length
    long: Length  # long point to long point
    short: Length  # the shortest of its long edges
    lines: tuple[tuple[Length, Length], ...]  # from where to where each of these runs, from its lower or left tip
    ends: tuple[StripEnd, StripEnd]  # the lower and the upper, or left and right as seen from outside
    mirrored: bool  # it is the other hand of its kind's first piece
    comes_off: str  # how it comes out of the concrete, in words
    draft: Angle  # the least angle by which its faces clear the concrete when it comes that way
    solid: Solid  # in the form's axes


@record
class Vanished:
    """A strip of which nothing is left: the others take its whole place."""

    mark: str
    why: str


@record
class StripKind:
    """Strips that are cut alike, for the list."""

    mark: str
    count: int
    mirrored: int  # how many of them are the other hand
    long: Length
    short: Length
    legs: tuple[Length, Length]
    angle: Angle


@record
class Bulkhead:
    """A board that ends a beam's trench or form where its pier is cast later."""

    mark: str  # "tie bulkhead west"
    beam: str
    pier: str
    wide: Length
    high: Length
    thick: Length
    holes: tuple[Opening, ...]  # u, v as seen from the pier, origin at its lower left corner


@record
class Tube:
    """A bought round form."""

    mark: str
    inside: Length  # diameter
    long: Length  # to cut it to


@record
class Mounted:
    """Where a blockout stands on a panel, in the panel's own u and v."""

    panel: str  # its mark
    outline: tuple[Point, ...]  # of its mouth, or of its other end, from the lower left corner on
    middle: Point


@record
class BoxBoard:
    """Equal boards of a blockout's box, or its whole block, folded flat."""

    mark: str  # "letters sides"
    count: int
    outside: tuple[Point, ...]  # corners of its outer face as seen from there, the first side level
    inside: tuple[Point, ...]  # of its other face, in the same axes
    long: Length  # the longer of the level edges of its outer face
    other: Length  # the one across
    wide: Length  # from one to the other
    bevels: tuple[Angle, Angle, Angle]  # of the long edge, the ends and the other edge, off square; positive where
    # the outer face is the wider
    thick: Length


@record
class BlockoutPiece:
    """A box in the concrete: what it is sawn from and where it stands."""

    name: str
    form: str  # that it is fixed to; "" where stakes hold it
    side: str
    of: Literal["plywood", "lumber", "foam", "box"]
    stays: bool
    through: bool
    wide: Length
    high: Length
    deep: Length
    on: tuple[Mounted, ...]  # none of one that hangs in the top
    ahead: Length  # its middle off the centre, of one in the top; else nan
    to_left: Length
    boards: tuple[BoxBoard, ...]
    cleats: tuple[int, Length]  # in its mouth, for the nails: how many, how long
    nails: int  # on each panel, or into its battens
    ribs: int
    vent: Length  # hole in its underside; nan where none is needed
    crowded: bool  # so wide that concrete does not run under it by itself
    draft: Angle
    comes_off: str  # in words
    solid: Solid  # in the form's axes


@record
class Fastening:
    """What holds one joint."""

    joint: str  # "west B1 on west A1"
    pieces: tuple[str, str]
    with_: str  # "2 in screws"
    count: int
    every: Length


@record
class Step:
    """One step of putting it together, in order."""

    number: int
    what: str  # in words
    pieces: tuple[str, ...]


@record
class Closure:
    """Does everything fill the box, and nothing twice? Shares of the volume inside the panels' outer faces."""

    envelope: Volume  # inside the outer faces of the panels, from the foot to the top
    concrete: Volume
    panels: Volume
    strips: Volume
    blockouts: Volume
    gap: Number  # (envelope - all of these) / envelope
    overlap: Number  # the sum of what any two of them share / envelope

    @property
    def closes(self) -> bool:
        return bool(abs(self.gap) <= 1e-9 and self.overlap <= 1e-9)


@record
class PlatePiece:
    """One plate behind a joint, on the outside of its panel."""

    mark: str  # "west A1 plate 1"
    panel: str  # "west A1"
    solid: Solid  # in the form's axes


@record
class FormPieces:
    """The form of one body, piece by piece."""

    name: str  # of the body and its box
    panels: tuple[PanelPiece, ...]
    strips: tuple[StripPiece, ...]
    kinds: tuple[StripKind, ...]
    vanished: tuple[Vanished, ...]
    tube: Tube | None
    concrete: tuple[Solid, ...]  # convex parts, in the form's axes
    envelope: Solid | None  # outer faces of the panels; None where the form has open ends
    fastenings: tuple[Fastening, ...]
    steps: tuple[Step, ...]
    reminders: tuple[str, ...]  # release agent and what else is forgotten
    blockouts: tuple[BlockoutPiece, ...] = ()
    plates: tuple[PlatePiece, ...] = ()

    @cached_property
    def closure(self) -> Closure | None:
        """None where the form has open ends, or is a tube."""
        from batterboard.phases.forms.pieces.closure import closing

        if self.envelope is None:
            return None
        solids = ([piece.solid for piece in pieces] for pieces in (self.panels, self.strips, self.blockouts))
        return closing(self.envelope, self.concrete, *solids)


@record
class Pieces:
    forms: tuple[FormPieces, ...]  # in the order of the boxes
    bulkheads: tuple[Bulkhead, ...]
    blockouts: tuple[BlockoutPiece, ...]  # those without a form too
