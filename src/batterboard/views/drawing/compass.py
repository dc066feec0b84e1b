"""Where is a point, seen from another? Geometry of the paper; angles in degrees, counterclockwise from the right."""

from math import atan2, cos, degrees, pi, radians, sin

Point = tuple[float, float]


def along(point: Point, angle: float, length: float) -> Point:
    """So far from the point in this direction."""
    turn = angle * pi / 180
    return point[0] + length * cos(turn), point[1] + length * sin(turn)


def bearing(a: Point, b: Point) -> float:
    return degrees(atan2(b[1] - a[1], b[0] - a[0]))


def middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def foot(point: Point, base: Point, angle: float) -> Point:
    """The point of the line through `base` that lies nearest."""
    turn = radians(angle)
    return along(base, angle, (point[0] - base[0]) * cos(turn) + (point[1] - base[1]) * sin(turn))


def away(point: Point, base: Point, angle: float) -> float:
    """How far the point lies to the left of the line through `base`."""
    turn = radians(angle)
    return (point[1] - base[1]) * cos(turn) - (point[0] - base[0]) * sin(turn)


def clash(a: tuple[Point, ...], b: tuple[Point, ...], room: float = 0.0) -> bool:
    """Whether two convex outlines (or a line and an outline) come nearer than `room`, which may be negative.

    They do not where some side of either has all of the other beyond it.
    """
    if _apart(a, b, room):
        return False
    for outline in (a, b):
        for p, q in zip(outline, outline[1:] + outline[:1]):
            turn = atan2(q[1] - p[1], q[0] - p[0])
            nx, ny = -sin(turn), cos(turn)
            these, those = ([nx * x + ny * y for x, y in points] for points in (a, b))
            if max(these) + room <= min(those) or max(those) + room <= min(these):
                return False
    return True


def _apart(a: tuple[Point, ...], b: tuple[Point, ...], room: float) -> bool:
    """Whether the upright boxes around both lie apart: most pairs do, and this is quickly seen."""
    for i in (0, 1):
        these, those = [point[i] for point in a], [point[i] for point in b]
        if max(these) + room <= min(those) or max(those) + room <= min(these):
            return True
    return False
