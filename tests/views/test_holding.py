"""What holds a form, as drawn."""

from pathlib import Path

from batterboard.job import read_job
from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.holding import holding_sheets

GATE = Path(__file__).parents[2] / "examples" / "orchard-gate" / "job.toml"


def test_yokes_stand_at_the_heights_of_the_list_and_the_page_is_clean():
    board = Board(Plan(read_job(GATE)))
    (sheet,) = holding_sheets(board)
    assert not d.overlaps(sheet) and not d.outside(sheet)
    box = board.plan.forms.boxes[0]
    texts = set(d.shown(sheet))
    assert {board.say(yoke.up) for yoke in box.yokes} <= texts
    feet = [e.points for view in sheet.views for e in view.entities if isinstance(e, d.Polygon) and len(e.points) == 4]
    reach = float(box.brace.run) + float(box.frame.size.deep) + float(box.panels[-1].inside) / 2
    reach += float(box.panels[0].thick)
    assert any(abs(max(x for x, _ in points) - reach) < 1e-6 for points in feet)
