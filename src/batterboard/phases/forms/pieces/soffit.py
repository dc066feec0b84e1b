"""Which pieces is the soffit of a beam cut in, that stands clear of the ground?

Seen from below: u runs ahead along the beam, v to its right; the inside, which the concrete lies on, is its upper face.
It lies between the two sides, whose panels run down past its edges.
"""

from batterboard.methods import solids
from batterboard.phases.forms.pieces import openings, panels
from batterboard.phases.forms.pieces.planes import UP, Face, FormPlanes
from batterboard.phases.forms.pieces.results import PanelPiece
from batterboard.phases.forms.results import Box
from batterboard.work.records import Body, Work


def soffit_of(box: Box, body: Body, form: FormPlanes, work: Work, letters_from: int) -> tuple[PanelPiece, ...]:
    """The soffit, or every part of one that is joined. letters_from : match marks that the sides have used."""
    shores = box.shores
    assert shores is not None
    under, ahead = Face("under", -UP, 0.0), form.ends[0].normal
    middle = float(shores.along) / 2
    planes = [(UP, 0.0), (-UP, form.thick), *((wall.normal, wall.offset) for wall in form.walls)]
    planes += [(ahead, float(shores.end) - middle), (-ahead, middle - float(shores.start))]
    sight = panels.Sight(under, solids.behind(planes))
    below = FormPlanes(
        name=form.name,
        kind=form.kind,
        height=form.height,
        thick=form.thick,
        walls=(under,),
        block=form.block,
        edges=(),
        open_ends=True,
        ends=form.ends,
    )
    cut_out = openings.openings_of(below, body, {"under": sight}, work, box.lift, float(box.foot))
    made = [panel for panel in box.panels if "under" in panel.sides]
    return panels.panels_of(made, below, {"under": sight}, cut_out, letters_from)
