"""What holds a form together: yokes where they do, else studs, wales and ties; stakes at a low edge?

A tube holds by itself. Panels that no sheet yields are joined first, where supports then stand on the joints.
"""

from typing import Any, Literal

from batterboard.job.schema import Stock
from batterboard.phases.forms.results import CutOut, Held, Lateral, SplicePlate, Yoke
from batterboard.phases.forms.shape import Shape
from batterboard.phases.forms.sheathing import fits
from batterboard.phases.forms.yokes import yokes_of
from batterboard.quantity import Length
from batterboard.standards import tables
from batterboard.working import nan


def hold(form: Shape, pressed: Lateral, stock: Stock, known: dict[Any, Any], cut_out: CutOut = dict) -> Held:
    """Yokes where they hold, else a wall's studs and wales; stakes at a low edge; a tube holds by itself."""
    if form.kind == "tube":
        return Held()
    if form.kind == "edge":
        from batterboard.phases.forms.edges import edge_of

        joined, _ = _joined(form, "stake", stock, cut_out)
        sheathing, edge = edge_of(joined, pressed, stock)
        return Held(
            panels=joined.panels, plates=_plates(joined, edge.spacing, (), stock), sheathing=sheathing, edge=edge
        )
    joined, stops = _joined(form, "yoke", stock, cut_out)
    made = yokes_of(joined, pressed, stock, known, stops)
    if made.holds or form.kind == "polygon":
        plates = _plates(joined, nan, made.yokes, stock)
        return Held(panels=joined.panels, plates=plates, sheathing=made.sheathing, frame=made.frame, yokes=made.yokes)
    from batterboard.phases.forms.walls import wall_of

    joined, _ = _joined(form, "stud", stock, cut_out)
    sheathing, wall = wall_of(joined, pressed, stock)
    return Held(
        panels=joined.panels, plates=_plates(joined, wall.stud_spacing, (), stock), sheathing=sheathing, wall=wall
    )


def _joined(
    form: Shape, on: Literal["yoke", "stud", "stake"], stock: Stock, cut_out: CutOut
) -> tuple[Shape, tuple[float, ...]]:
    """The form with joints in panels that no sheet yields, and how high up those stand that a yoke has to meet."""
    upright, level = fits(form)
    if level or (upright and on != "stake"):
        return form, ()
    from batterboard.phases.forms.splices import spliced

    return spliced(form, on, tables.lumber_size(stock.yoke).wide, cut_out)


def _plates(form: Shape, spacing: Length, yokes: tuple[Yoke, ...], stock: Stock) -> tuple[SplicePlate, ...]:
    if not any(panel.joints for panel in form.panels):
        return ()
    from batterboard.phases.forms.splices import plates_of

    return plates_of(form, spacing, yokes, tables.lumber_size(stock.yoke if yokes else stock.brace).wide)
