"""Full size over several pages."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from batterboard.views import drawing as d
from batterboard.views.drawing.page import parts
from batterboard.views.drawing.strokes import Round, Stroke

SHEET = d.Sheet(name="Template", job="Orchard gate", job_hash="3fa9c2d1", page=(5, 9))


def pages_of(width, height, sheet=SHEET):
    return d.full_size(sheet, (d.Polyline(d.rectangle(0, 0, width, height), d.CUT, closed=True),))


def test_a_small_drawing_takes_one_page_without_seams():
    (page,) = pages_of(0.15, 0.1)
    assert page.name == "Template" and page.page == (5, 9)
    assert not any(isinstance(e, d.MatchMark) for e in page.views[0].entities)


def test_pages_are_turned_to_take_fewer_of_them():
    assert [page.landscape for page in pages_of(0.17, 0.22)] == [False]
    assert [page.landscape for page in pages_of(0.22, 0.15)] == [True]


def test_every_point_of_the_drawing_is_on_a_page(template_pages):
    clips = [page.views[0].clip for page in template_pages]
    for x in range(-16, 17):
        for y in range(-16, 17):
            point = (x * 0.01, y * 0.01)
            assert any(l <= point[0] <= r and b <= point[1] <= t for l, b, r, t in clips)


def test_each_match_mark_is_whole_on_both_of_its_pages(template_pages):
    marks = [e for e in template_pages[0].views[0].entities if isinstance(e, d.MatchMark)]
    assert len(marks) == len({mark.letter for mark in marks}) == 14  # two for each of seven pairs of neighbours
    for mark in marks:
        (x, y), reach = mark.at, 2 * mark.radius / 1000
        clips = [page.views[0].clip for page in template_pages]
        whole = [1 for l, b, r, t in clips if l <= x - reach and x + reach <= r and b <= y - reach and y + reach <= t]
        assert len(whole) == 2, mark.letter


def test_pages_are_full_size_and_numbered_on(template_pages):
    assert {page.views[0].scale.ratio for page in template_pages} == {1}
    assert [page.page for page in template_pages] == [(4 + i, 9) for i in range(6)]
    assert template_pages[0].scale_note == "full size 1:1"
    assert template_pages[1].name == "Template, west: row 1/3, column 2/2"


@pytest.mark.parametrize("system, paper, side", [("us", d.LETTER, 152.4), ("si", d.A4, 150.0)])
@pytest.mark.parametrize("landscape", [True, False])
def test_every_page_carries_a_true_square_inside_the_frame(system, paper, side, landscape):
    sheet = replace(SHEET, system=system, paper=paper, landscape=landscape, caution="One line at the foot. " * 4)
    for page in pages_of(0.5, 0.5, sheet):
        assert d.outside(page) == () == d.overlaps(page)
        red = [m for part in parts(page) for m in part.marks if isinstance(m, Stroke) and m.layer is d.CHECK]
        (top, corner, end) = next(m.points for m in red if len(m.points) == 3)
        assert abs(top[0] - corner[0]) == pytest.approx(side) and abs(end[1] - corner[1]) == pytest.approx(side)


def test_holes_are_drawn_at_their_true_size(template_pages):
    holes = [
        m.radius for part in parts(template_pages[0]) for m in part.marks if isinstance(m, Round) and m.layer is d.DRILL
    ]
    assert holes == pytest.approx([21 / 32 * 25.4] * 4)


def test_the_same_point_is_drawn_at_the_same_distance_from_its_match_mark_on_every_page(template_pages):
    def places(page):
        texts = ET.fromstring(d.svg(page)).iter("{http://www.w3.org/2000/svg}text")
        return {t.text: (float(t.get("x")), float(t.get("y"))) for t in texts if re.fullmatch("[A-Z]", t.text or "")}

    first, second = places(template_pages[0]), places(template_pages[1])
    moves = {(round(first[k][0] - second[k][0], 2), round(first[k][1] - second[k][1], 2)) for k in first}
    assert len(moves) == 1
