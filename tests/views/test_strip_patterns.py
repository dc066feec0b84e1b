"""The patterns of the strips' ends, full size."""

from pathlib import Path

import pytest

from batterboard.job import read_job, read_text
from batterboard.plan import Plan
from batterboard.views import drawing as d
from batterboard.views.drawings.board import Board
from batterboard.views.drawings.strips import pattern_pages
from batterboard.views.tables import sheets

EXAMPLES = Path(__file__).parents[2] / "examples"


def board(name):
    return Board(Plan(read_job(EXAMPLES / name / "job.toml")))


@pytest.mark.parametrize("name", ["orchard-gate", "pump-pad", "letterbox-pier"])
def test_patterns_are_at_full_size_with_their_check_square_and_clean(name):
    pages = list(pattern_pages(board(name)))
    assert pages
    for page in pages:
        assert all(view.scale == d.FULL_SIZE for view in page.views)
        assert any("check square" in text for text in d.shown(page))
        assert not d.overlaps(page) and not d.outside(page)


def test_left_and_right_ends_are_unfolded_as_mirror_images_of_each_other():
    """The panel's face is left of the sloping one where the strip's left end points up from the panel's outside."""
    (page,) = pattern_pages(board("orchard-gate"))
    skins = [e for view in page.views for e in view.entities if isinstance(e, d.Polygon)]
    left, right = skins[:3], skins[3:]
    assert len(left) == len(right) == 3

    def along(polygon):
        return sum(x for x, _ in polygon.points) / len(polygon.points)

    # Faces come from the sharp edge on: the panel's, the sloping, the top.
    assert along(left[0]) > along(left[1]) > along(left[2])
    assert along(right[0]) < along(right[1]) < along(right[2])


def test_every_kind_of_strip_has_its_settings_in_the_list():
    plan = board("orchard-gate").plan
    told = {row[0] for row in sheets.strip_ends(plan).rows}
    assert told == {kind.mark for form in plan.pieces.forms for kind in form.kinds}


@pytest.mark.parametrize("more", ["", ', through = "top"', ", facets = true"])
def test_both_hands_of_strips_of_two_legs_have_patterns_of_their_own_name(more):
    text = (EXAMPLES / "orchard-gate" / "job.toml").read_text("utf-8")
    edges = f'edges = {{ corners = "2 in", returns = "1 in", top = "1 in", down = "3/4 in"{more} }}'
    job = read_text(text.replace('edges = { corners = "2 in", top = "3/4 in" }', edges), "job.toml")
    plan = Plan(job)
    pages = list(pattern_pages(Board(plan)))
    assert not any(d.overlaps(page) or d.outside(page) for page in pages)
    told = " ".join(" ".join(text for page in pages for text in d.shown(page)).split())
    for kind in plan.pieces.forms[0].kinds:
        assert (f"{kind.mark.removeprefix('west ')} (other hand)" in told) is (kind.mirrored > 0)


def test_every_face_of_a_facet_strip_has_its_name():
    sheets = pattern_pages(Board(Plan(read_job(EXAMPLES / "letterbox-pier" / "job.toml"))))
    texts = [text for sheet in sheets if "letter facet" in " ".join(d.shown(sheet)) for text in d.shown(sheet)]
    assert texts.count("the corner") == texts.count("the top") > 0
