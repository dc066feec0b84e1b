"""Which single pieces is each form made of, how is each cut, and do they close?

    panel    : PanelPiece("west A1", side="left", inside=((0, 0), ...), edges, openings, ...)
    strip    : StripPiece("west corner 1", long=1.016, ends=(..., ...), comes_off="...", ...)
    bulkhead : Bulkhead("tie bulkhead west", wide=0.356, high=0.559, holes, ...)
    closure  : Closure(gap=2e-16, overlap=0.0, ...)        panels, strips and concrete fill the box, and nothing twice

Asked for by lists, drawings and the book, never by a check. One job at a time, plain numbers: variants are compared by
the boxes. How strong the form is stands a room above.
"""

from batterboard.phases.forms.pieces.results import (
    Bulkhead,
    Closure,
    Fastening,
    FormPieces,
    Opening,
    PanelEdge,
    PanelPiece,
    Pieces,
    SawCut,
    Step,
    StripEnd,
    StripFace,
    StripKind,
    StripPiece,
    Tube,
    Vanished,
)

__all__ = [
    "Bulkhead",
    "Closure",
    "Fastening",
    "FormPieces",
    "Opening",
    "PanelEdge",
    "PanelPiece",
    "Pieces",
    "SawCut",
    "Step",
    "StripEnd",
    "StripFace",
    "StripKind",
    "StripPiece",
    "Tube",
    "Vanished",
]
