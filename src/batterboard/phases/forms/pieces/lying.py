"""What is fastened to the inside of a panel while it lies on the bench, and where?

    lying : Lying("west A1", inside=((0, 0), ...), things=(Lain("west corner 1", outline=((0, 0), ...)), ...))

Told in the panel's own u and v, as its openings are; a view that shows the panel from inside turns u round. Of a strip
that reaches over a joint, each part of the panel has its share.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from batterboard.methods import solids
from batterboard.methods.solids import Solid
from batterboard.phases.forms.pieces.panels import Sight
from batterboard.phases.forms.pieces.planes import Face
from batterboard.phases.forms.pieces.results import FormPieces, PanelPiece, Point
from batterboard.record import record

_SAME = 1e-7


@record
class Lain:
    """Where one piece touches the panel."""

    kind: str  # "corner", "top", "facet", "blockout"
    mark: str
    outline: tuple[Point, ...]


@record
class Lying:
    """One panel with all that lies on it."""

    panel: PanelPiece
    things: tuple[Lain, ...]


def lying(form: FormPieces) -> tuple[Lying, ...]:
    """Every panel on which something lies, in their order."""
    pieces: list[tuple[str, str, Solid]] = [(strip.edge, strip.mark, strip.solid) for strip in form.strips]
    pieces += [("blockout", box.name, box.solid) for box in form.blockouts]
    made = (Lying(panel=panel, things=tuple(_on(panel, pieces))) for panel in form.panels)
    return tuple(one for one in made if one.things)


def _on(panel: PanelPiece, pieces: Sequence[tuple[str, str, Solid]]) -> Iterator[Lain]:
    offset = float(np.min(np.stack(panel.solid.vertices, axis=-1) @ panel.out))
    sight = Sight(Face(panel.side, panel.out, offset), panel.solid)
    sides = [
        (n, float(b))
        for n, b in zip(panel.solid.normals, panel.solid.offsets, strict=True)
        if abs(n @ panel.out) < 1 - _SAME
    ]
    for kind, mark, solid in pieces:
        touches = [
            n @ panel.out > 1 - _SAME and abs(float(b) - offset) < _SAME
            for n, b in zip(solid.normals, solid.offsets, strict=True)
        ]
        if not any(touches):
            continue
        share = solids.common(solid, solids.behind(sides))
        corners = share.face_on(panel.out)
        if len(corners) > 2:
            yield Lain(kind=kind, mark=mark, outline=sight.at(corners))
