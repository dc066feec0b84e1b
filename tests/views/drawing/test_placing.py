"""Nothing on a sheet lies on anything else."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batterboard.quantity import Length, show
from batterboard.views import drawing as d
from batterboard.views.drawing.compass import clash
from batterboard.views.drawing.lettering import SMALLEST, shortened, width, wrapped
from batterboard.views.drawing.page import parts, text_box
from batterboard.views.drawing.placing import spread
from batterboard.views.drawing.strokes import Scribble, Words, dimension_line, placement

SCALE = d.Scale(24)


def say(length):
    return show(length, Length, "us")


def on_a_large_sheet(entities):
    view = d.View("", SCALE, (200.0, 200.0), tuple(entities))
    return d.Sheet(name="x", job="x", job_hash="x", paper=d.Paper("large", 4000, 4000), views=(view,))


def test_the_example_of_the_room_may_be_printed():
    _, example = d.__doc__.split("`say`:\n")
    code = "\n".join(line[4:] for line in example.split("\n") if line.startswith("    ") or not line)
    names: dict = {}
    exec(code, names)
    assert d.overlaps(names["sheet"]) == () == d.outside(names["sheet"])
    assert names["view"].scale.ratio == 8


def test_no_text_of_the_sample_sheets_lies_on_another(sheets):
    assert [d.overlaps(sheet) for sheet in sheets] == [()] * len(sheets)


def test_nothing_of_the_sample_sheets_stands_outside_the_frame(sheets):
    assert [d.outside(sheet) for sheet in sheets] == [()] * len(sheets)


def test_every_text_can_be_read_at_arms_length(sheets):
    heights = [m.height for sheet in sheets for part in parts(sheet) for m in part.marks if isinstance(m, Words)]
    assert min(heights) >= SMALLEST


def test_an_overlap_is_found_and_a_crowded_neighbour_is_not():
    one, two = d.Text((0, 0), "1'-10\""), d.Text((0.2, 0.02), "1'-4\"")
    assert d.overlaps(on_a_large_sheet([one, two])) == (("1'-10\"", "1'-4\""),)
    beyond = (width(one.text, 2.5) + 0.1) / SCALE.mm
    assert d.overlaps(on_a_large_sheet([one, replace(two, at=(beyond, 0.0))])) == ()


def test_turned_texts_are_judged_by_their_turned_rooms():
    rising = d.Text((0, 0), "a text along a diagonal", angle=45)
    beside_it = d.Text((5 / SCALE.mm, -5 / SCALE.mm), "another", angle=45)
    assert d.overlaps(on_a_large_sheet([rising, beside_it])) == ()
    assert d.overlaps(on_a_large_sheet([rising, replace(beside_it, at=(5 / SCALE.mm, 5 / SCALE.mm))])) != ()


def test_what_stands_in_the_title_block_is_told():
    sheet = d.Sheet(name="x", job="x", job_hash="x", marks=(d.Text((20, 12), "too low"),))
    assert d.outside(sheet) == ("too low",)


stations = st.lists(st.integers(0, 320), min_size=2, max_size=9, unique=True)


@given(stations, stations, st.sampled_from(["below", "above", "left", "right"]), st.sampled_from([d.DIMS, d.CHECK]))
def test_chains_never_collide_however_narrow_their_gaps(inner, outer, side, layer):
    chains = [d.Chain(tuple(n * 0.0127 for n in row), layer=layer) for row in (sorted(inner), sorted(outer))]
    whole = d.Chain((0.0, 320 * 0.0127))
    dimensions = d.stack(SCALE, (0.0, 0.0, 4.064, 4.064), side, [*chains, whole], say)
    sheet = on_a_large_sheet(dimensions)
    assert d.overlaps(sheet) == ()
    assert len(dimensions) == len(inner) + len(outer) - 1
    where = placement(sheet.views[0])
    texts = [text_box(m) for part in parts(sheet) for m in part.marks if isinstance(m, Words) and m.layer is layer]
    lines = [dimension_line(each, where)[:2] for each in dimensions]
    struck = [line for line in lines for box in texts if clash(line, box, -0.3)]
    assert not struck


def test_a_text_that_fits_its_gap_keeps_off_the_witness_lines_of_outer_chains():
    chains = [d.Chain((0.0, 2.0)), d.Chain((0.0, 1.0, 2.0))]
    inner = d.stack(SCALE, (0, 0, 2, 2), "below", chains, say)[0]
    reach = width(inner.text, 2.5) / 2
    assert abs(inner.shift[0]) > reach and not inner.leader


def test_a_text_wider_than_its_gap_gets_a_leader():
    narrow, wide = d.stack(SCALE, (0, 0, 1, 1), "below", [d.Chain((0.0, 0.05, 1.0))], say)[::-1]
    assert (narrow.leader, wide.leader) == (True, False)


def test_a_dimension_keeps_the_texts_it_is_given():
    given_texts = ('3 @ 2"', "rest")
    dimensions = d.stack(SCALE, (0, 0, 1, 1), "above", [d.Chain((0.0, 0.4, 1.0), given_texts)], say)
    assert {each.text for each in dimensions} == set(given_texts)


@given(st.lists(st.tuples(st.floats(-100, 100), st.floats(0.1, 20)), max_size=12))
def test_what_is_spread_touches_at_most_and_moves_only_where_it_must(items):
    items.sort()
    wanted, rooms = [w for w, _ in items], [r for _, r in items]
    places = spread(wanted, rooms)
    gaps = [b - a - (r + s) / 2 for a, b, r, s in zip(places, places[1:], rooms, rooms[1:])]
    assert all(gap > -1e-9 for gap in gaps)
    if all(b - a >= (r + s) / 2 for a, b, r, s in zip(wanted, wanted[1:], rooms, rooms[1:])):
        assert places == pytest.approx(wanted)


@given(
    st.lists(st.tuples(st.floats(0, 2), st.sampled_from(["one", "two\nlines", "three\nshort\nlines"])), max_size=8),
    st.lists(st.floats(0, 2), max_size=8),
    st.sampled_from(["right", "left"]),
)
def test_a_column_of_notes_and_levels_never_overlaps(notes, heights, side):
    told = [((1.0, y), text) for y, text in notes]
    x = 1.5 if side == "right" else 0.5
    entities = d.beside(SCALE, x, told, [(y, "level") for y in heights], side)
    assert d.overlaps(on_a_large_sheet(entities)) == ()


@given(stations, st.sampled_from(["below", "above", "left", "right"]))
def test_running_marks_never_overlap(marks, side):
    entities = d.running(SCALE, (0, 0, 4, 4), side, 0.0, [n * 0.0127 for n in marks], say)
    assert d.overlaps(on_a_large_sheet(entities)) == ()


def test_running_marks_read_from_their_origin():
    entities = d.running(SCALE, (0, 0, 1, 1), "below", 0.1, [0.4048, 0.7096], say)
    assert [each.text for each in entities] == ['0"', "1'-0\"", "2'-0\""]


def test_a_view_takes_the_largest_standard_scale_that_fits():
    def square(scale):
        return (d.Polyline(d.rectangle(0, 0, 3, 3), d.CONCRETE, closed=True),)

    view = d.fit("", square, (0, 0, 130, 200), "us")
    assert view.scale.ratio == 24  # 3 m at 1:24 are 125 mm; the next scale, 1:16, would need 188 mm
    assert view.scale.label("us") == '1/2" = 1\'-0" (1:24)'
    assert view.at == pytest.approx(((130 - 125) / 2, (200 - 125) / 2))


def test_earth_and_concrete_stay_inside_their_outline(section_sheet):
    left = -1.1 * section_sheet.views[0].scale.mm + section_sheet.views[0].at[0]
    for part in parts(section_sheet):
        for mark in part.marks:
            if isinstance(mark, Scribble) and mark.layer is d.GROUND:
                assert min(x for line in mark.lines for x, _ in line) >= left - 1e-6


def test_long_names_are_cut_to_their_cell():
    cut = shortened("a job with a very long name indeed", 3.5, 40)
    assert cut.endswith("…") and width(cut, 3.5) <= 40
    assert wrapped("one two three", 2.5, width("one two", 2.5)) == ("one two", "three")


def test_wide_letters_are_counted_wide():
    assert width("門", 2.5) > width("n", 2.5) * 1.6
