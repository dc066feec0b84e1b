"""Where do the plates stand that keep joints of panels flush?

    plate : PlatePiece("west A1 plate 1", panel="west A1", solid)       on the outside, half behind each part

Between the supports, as `splices` lays them out. Their places are for pictures and models; their lengths are listed.
"""

from collections.abc import Iterator, Mapping

from batterboard.methods import solids
from batterboard.phases.forms.pieces.panels import Sight
from batterboard.phases.forms.pieces.planes import FormPlanes
from batterboard.phases.forms.pieces.results import PlatePiece
from batterboard.phases.forms.results import Box, Joint
from batterboard.phases.forms.splices import PLATE, plates_on
from batterboard.quantity import Length
from batterboard.working import nan


def plates_of(box: Box, form: FormPlanes, seen: Mapping[str, Sight]) -> tuple[PlatePiece, ...]:
    """All plates of a form, panel by panel."""
    spacing, stick = _supports(box)
    made = []
    for panel in box.panels:
        for number, side in enumerate(panel.sides, 1):
            spans = [
                (joint, span)
                for joint in panel.joints
                for span in plates_on(panel, joint, box, spacing, box.yokes, stick)
            ]
            name = f"{panel.mark}{number}"
            for n, (joint, span) in enumerate(spans, 1):
                solid = solids.behind([*_planes(form, seen[side], joint, span)])
                made.append(PlatePiece(mark=f"{name} plate {n}", panel=name, solid=solid))
    return tuple(made)


def _supports(box: Box) -> tuple[Length, Length]:
    """How far apart uprights stand, and how wide a support is."""
    if box.frame is not None:
        return nan, box.frame.size.wide
    if box.wall is not None:
        return box.wall.stud_spacing, box.wall.size.wide
    return (box.edge.spacing, box.edge.size.wide) if box.edge is not None else (nan, nan)


def _planes(
    form: FormPlanes, sight: Sight, joint: Joint, span: tuple[float, float]
) -> Iterator[tuple[solids.Array, float]]:
    out, outside = sight.wall.normal, sight.wall.offset + form.thick
    yield from ((-out, -outside), (out, outside + form.thick))
    corners = sight.seen(out)
    left, low = min(u for u, _ in corners), min(v for _, v in corners)
    at = float(joint.at)
    beside, along = ((at - PLATE / 2, at + PLATE / 2), span)
    us, vs = (beside, along) if joint.upright else (along, beside)
    for axis, begins, (near, far) in ((sight.u, left, us), (sight.v, low, vs)):
        start = float(axis @ sight.origin) + begins
        yield from ((-axis, -(start + near)), (axis, start + far))
