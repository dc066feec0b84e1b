"""Which single pieces is each form made of, how is each cut, and do they close?

    panel    : PanelPiece("west A1", side="left", inside=((0, 0), ...), edges, openings, ...)
    strip    : StripPiece("west corner 1", long=1.016, ends=(..., ...), comes_off="...", ...)
    bulkhead : Bulkhead("tie bulkhead west", wide=0.356, high=0.559, holes, ...)
    blockout : BlockoutPiece("letters", on=..., boards=..., ...)                      a box in the concrete
    closure  : Closure(gap=2e-16, overlap=0.0, ...)        panels, strips and concrete fill the box, and nothing twice

Asked for by lists, drawings and the book, never by a check. One job at a time, plain numbers: variants are compared by
the boxes. How strong the form is stands a room above.
"""

from collections.abc import Iterator

from batterboard.job.errors import JobError, Problem
from batterboard.job.reader import problem_at
from batterboard.job.schema import Job
from batterboard.phases.forms.pieces import assembly, openings, panels, strips
from batterboard.phases.forms.pieces.closure import concrete_of, envelope_of
from batterboard.phases.forms.pieces.planes import planes_of
from batterboard.phases.forms.pieces.results import (
    BlockoutPiece,
    BoxBoard,
    Bulkhead,
    Closure,
    Fastening,
    FormPieces,
    Mounted,
    Opening,
    PanelEdge,
    PanelPiece,
    Pieces,
    PlatePiece,
    SawCut,
    Step,
    StripEnd,
    StripFace,
    StripKind,
    StripPiece,
    Tube,
    Vanished,
)
from batterboard.phases.forms.results import Box, Forms
from batterboard.quantity import inch
from batterboard.work.records import Body, Work

__all__ = [
    "BlockoutPiece",
    "BoxBoard",
    "Bulkhead",
    "Closure",
    "Fastening",
    "FormPieces",
    "Mounted",
    "Opening",
    "PanelEdge",
    "PanelPiece",
    "Pieces",
    "PlatePiece",
    "SawCut",
    "Step",
    "StripEnd",
    "StripFace",
    "StripKind",
    "StripPiece",
    "Tube",
    "Vanished",
    "form_pieces",
    "pieces",
]

USUAL_THICK = 23 / 32 * inch  # of a bulkhead where no form has panels
_CLEARS = -1e-6  # [rad] less draft than this and the concrete holds it


def pieces(job: Job, work: Work, forms: Forms) -> Pieces:
    """Every form piece by piece. A strip that the concrete would hold is an error that names it."""
    bodies = {body.name: body for body in work.bodies}
    made = tuple(form_pieces(box, bodies[box.name], work) for box in forms.boxes)
    held = [problem for box, form in zip(forms.boxes, made, strict=True) for problem in _held(job, box, form)]
    if held:
        raise JobError(held)
    thick = next((float(box.panels[0].thick) for box in forms.boxes if box.panels), USUAL_THICK)
    bulkheads = tuple(openings.bulkheads_of(work, thick))
    if not forms.blockouts:
        return Pieces(forms=made, bulkheads=bulkheads, blockouts=())
    from batterboard.phases.forms.pieces.blockouts import set_in

    made, boxed = set_in(made, forms, work, thick)
    return Pieces(forms=made, bulkheads=bulkheads, blockouts=boxed)


def form_pieces(box: Box, body: Body, work: Work) -> FormPieces:
    """The form of one body."""
    if box.kind == "tube":
        tube = Tube(mark=f"{box.name} tube", inside=float(box.inside_diameter), long=float(box.height))
        return FormPieces(
            name=box.name,
            panels=(),
            strips=(),
            kinds=(),
            vanished=(),
            tube=tube,
            concrete=(),
            envelope=None,
            fastenings=(),
            steps=assembly.steps_of(box, (), (), tube),
            reminders=tuple(assembly.reminders_of(box, (), ())),
        )
    form = planes_of(body, box.kind, float(box.height), float(box.panels[0].thick))
    seen = panels.sights(box, form)
    cut_out = openings.openings_of(form, body, seen, work, box.lift, float(box.foot))
    sides = [panel for panel in box.panels if "under" not in panel.sides]
    boards = panels.panels_of(sides, form, seen, cut_out)
    if box.shores is not None:
        from batterboard.phases.forms.pieces.soffit import soffit_of

        boards += soffit_of(box, body, form, work, sum(len(panel.joints) * panel.count for panel in sides))
    backs: tuple[PlatePiece, ...] = ()
    if box.plates:
        from batterboard.phases.forms.pieces.plates import plates_of

        backs = plates_of(box, form, seen)
    laid, vanished = strips.strips_of(form)
    return FormPieces(
        name=box.name,
        panels=boards,
        strips=laid,
        kinds=strips.kinds_of(laid),
        vanished=vanished,
        tube=None,
        concrete=concrete_of(form),
        envelope=None if form.open_ends else envelope_of(form),
        fastenings=assembly.fastenings_of(boards, laid),
        steps=assembly.steps_of(box, boards, laid, None),
        reminders=tuple(assembly.reminders_of(box, boards, laid)),
        plates=backs,
    )


def _held(job: Job, box: Box, form: FormPieces) -> Iterator[Problem]:
    table = "pads" if box.element in job.pads else "piers"
    for strip in form.strips:
        if strip.draft < _CLEARS:
            key = "corner_shape" if strip.edge == "corner" else "top_shape"
            words = f"{strip.mark} cannot come out: the concrete would hold it"
            yield problem_at(job, (table, box.element, "edges", key), words, "a chamfer or a groove draws")
