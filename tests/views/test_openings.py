"""What is cut out of the panels, as drawn."""

from pathlib import Path

from batterboard.job import read_job
from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.openings import opening_sheets

GATE = Path(__file__).parents[2] / "examples" / "orchard-gate" / "job.toml"


def test_every_panel_that_something_passes_is_drawn_with_its_marks_and_clean():
    board = Board(Plan(read_job(GATE)))
    pages = list(opening_sheets(board))
    names = {view.name for page in pages for view in page.views}
    panels = [panel for form in board.plan.pieces.forms for panel in form.panels if panel.openings]
    assert names == {panel.mark.upper() for panel in panels}
    texts = {text for page in pages for text in d.shown(page)}
    for panel in panels:
        left = min(u for u, _ in panel.outside)
        for hole in panel.openings:
            across = [u for u, _ in hole.outline] if hole.hole != hole.hole else [hole.middle[0]]
            assert {board.say(u - left) for u in (min(across), max(across))} <= texts
    for page in pages:
        assert not d.overlaps(page) and not d.outside(page)
