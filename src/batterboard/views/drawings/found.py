"""What was found elsewhere than planned, in the words of the trade.

changes(board, body)   ("underside 2\\" lower", "1/2\\" left of the plan")
meant(board, body)     the block as planned, where it differs by what a tape can tell
"""

from typing import Any

from batterboard.views.drawings.board import TAPE, Board
from batterboard.work.records import Body


def meant(board: Board, body: Body) -> Body | None:
    return None if board.planned is None or not changes(board, body) else _before(board, body)


def changes(board: Board, body: Body) -> tuple[str, ...]:
    """Each difference that a tape can tell."""
    before = _before(board, body)
    if before is None:
        return ()
    ahead, left = before.frame.into(body.frame.x, body.frame.y)
    if body.part == "beam":
        ahead = 0.0  # it fills what its piers leave
    told = [
        _said(board, ahead, "ahead of the plan", "short of the plan"),
        _said(board, left, "left of the plan", "right of the plan"),
        _said(board, body.top - before.top, "higher at the top", "lower at the top"),
        _said(board, body.bottom - before.bottom, "higher underneath", "lower underneath"),
        _said(board, body.outline.across - before.outline.across, "wider across", "narrower across"),
        _said(board, body.over - before.over, "of concrete beyond each side", "less beyond each side"),
    ]
    if body.part != "beam":
        told.append(_said(board, body.outline.along - before.outline.along, "longer along", "shorter along"))
    return tuple(text for text in told if text)


def _before(board: Board, body: Body) -> Body | None:
    bodies = board.planned.bodies if board.planned is not None else ()
    return next((other for other in bodies if other.name == body.name), None)


def _said(board: Board, by: Any, more: str, less: str) -> str:
    if abs(float(by)) < TAPE:
        return ""
    return f"{board.say(abs(float(by)))} {more if float(by) > 0 else less}"
