"""Where does a bolt stand, as somebody measured it after the pour?

    at     : in the plate's own axes                  (4 9/16 in, 4 1/2 in)
    taped  : its distances from two marks             nail 24 ft, pin 20 ft: of the two places the one near its plan
    faces  : its distances from two faces of the form back 6 1/2 in, left 6 1/2 in
    sight  : one of these as a place in the template's axes

Whoever measured one bolt in several ways has a check on himself: the first way gives the place, the others are kept
beside it. Whether they agree, and whether the plate drops on, is asked in `template`.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from batterboard.job import schema
from batterboard.work.records import Frame
from batterboard.working import absolute, hypot, maximum, sqrt, where

Sight = tuple[str, Any, Any]  # how it was measured, and where it stands in the template's axes


def sights(
    bolt: schema.FoundBolt,
    meant: tuple[Any, Any],
    template: Frame,
    base: Frame,
    size: tuple[Any, Any],
    marks: Mapping[str, tuple[Any, Any]],
) -> Iterator[Sight]:
    """Every way in which a bolt's place was measured. meant : planned, in the template's axes; size : of its base."""
    if bolt.at is not None:
        yield "at", *bolt.at
    if bolt.taped:
        yield "taped", *_taped(bolt.taped, meant, template, marks)
    if bolt.faces is not None:
        yield "faces", *_from_faces(bolt.faces, template, base, size)


def _taped(
    tapes: tuple[schema.Tape, ...], meant: tuple[Any, Any], template: Frame, marks: Mapping[str, tuple[Any, Any]]
) -> tuple[Any, Any]:
    """Where two tapes meet; of the two places, one on either side of the marks, the one nearer to the plan."""
    (ax, ay), (bx, by) = (marks[taken.from_] for taken in tapes)
    near, far = (taken.tape for taken in tapes)
    dx, dy = bx - ax, by - ay
    apart = hypot(dx, dy)
    ux, uy = dx / apart, dy / apart
    ahead = (near * near - far * far + apart * apart) / (2 * apart)
    # Tapes that only just reach meet on the line between the marks.
    aside = sqrt(maximum(near * near - ahead * ahead, 0.0))
    one, other = (template.into(ax + ahead * ux - s * uy, ay + ahead * uy + s * ux) for s in (aside, -aside))
    first = hypot(one[0] - meant[0], one[1] - meant[1]) <= hypot(other[0] - meant[0], other[1] - meant[1])
    return where(first, one[0], other[0]), where(first, one[1], other[1])


def _from_faces(faces: schema.Faces, template: Frame, base: Frame, size: tuple[Any, Any]) -> tuple[Any, Any]:
    along, across = (absolute(v) / 2 for v in size)
    x = along - faces.ahead if faces.ahead is not None else faces.back - along
    y = across - faces.left if faces.left is not None else faces.right - across
    return template.into(*base.out(x, y))
