"""Lines that bend: what a circle must give, what a straight line gives, and what no circle can do."""

from math import cos, hypot, pi, radians, sin

import numpy as np
import pytest

from batterboard.job import JobError, read_text
from batterboard.work.arcs import Arc, of_chord, round_centre
from batterboard.work.build import build
from batterboard.work.records import Frame

ROW = """
[job]
name = "invented bed"
[site]
soil = { class = "sand" }
[ground]
grade = { level = "bench", down = "0.2 m" }
[levels.bench]
z = "10 m"
[marks.a]
at = ["1 m", "2 m"]
[marks.b]
at = ["9 m", "2 m"]
[marks.tree]
at = ["5 m", "-1 m"]
[lines.bed]
from = "a"
to = "b"
bulges = "left"
rise = "2 m"
[lines.wall]
from = ["0 m", "-5 m"]
to = ["9 m", "-5 m"]
[mixes.stiff]
strength = "4000 psi"
[piers.post]
square = "0.3 m"
top = { level = "bench", up = "0.2 m" }
height = "1 m"
mix = "stiff"
row = { along = "bed", count = 5, first = "0.4 m", every = "2 m" }
[pads.step]
along = "1 m"
across = "1 m"
thick = "0.2 m"
top = { level = "bench", up = "0 m" }
mix = "stiff"
place = [ { along = "bed", from = "post.2", ahead = "1 m" }, { from = "bed", right = "0.5 m" }, { turn = "bed" } ]
"""


def built(**instead):
    text = ROW
    for old, new in instead.get("put", {}).items():
        assert old in text, old
        text = text.replace(old, new)
    return build(read_text(text + instead.get("more", ""), "bed.toml"))


def refused(**instead):
    with pytest.raises(JobError) as wrong:
        built(**instead)
    return str(wrong.value)


def places(work):
    return {name: (base.frame.x, base.frame.y, base.frame.turn) for name, base in work.bases.items()}


# ---- the curve ----


def test_an_arc_starts_turns_and_ends_as_its_circle_does():
    arc = Arc(x=2.0, y=3.0, turn=0.0, radius=5.0, left=True, length=5.0 * pi / 2)
    assert arc.middle == pytest.approx((2.0, 8.0))
    assert arc.out(0.0, 0.0) == pytest.approx((2.0, 3.0))
    assert arc.out(arc.length, 0.0) == pytest.approx((7.0, 8.0))
    assert arc.out(arc.length, 1.0) == pytest.approx((6.0, 8.0))
    end = arc.at(arc.length)
    assert (end.x, end.y, end.turn) == pytest.approx((7.0, 8.0, pi / 2))
    assert (arc.chord, arc.rise) == pytest.approx((5 * 2**0.5, 5 - 5 / 2**0.5))


@pytest.mark.parametrize("left", [True, False])
@pytest.mark.parametrize("share", [0.3, 0.5, 0.95])
def test_along_and_aside_of_a_point_are_what_it_was_put_at(left, share):
    arc = Arc(x=1.0, y=-2.0, turn=0.7, radius=4.0, left=left, length=2 * pi * 4.0 * share)
    rng = np.random.default_rng(3)
    station, off = rng.uniform(0, arc.length, 50), rng.uniform(-1, 1, 50)
    assert np.allclose(arc.into(*arc.out(station, off)), (station, off), atol=1e-12)
    here = arc.at(station)
    assert np.allclose(arc.out(station, off), here.out(0.0, off))  # square to the tangent
    step = 1e-6
    ahead = np.subtract(arc.out(station + step, 0.0), arc.out(station, 0.0)) / step
    assert np.allclose(ahead, (cos_of(here), sin_of(here)), atol=1e-5)  # and as far along it as along the curve


def cos_of(frame):
    return np.cos(frame.turn)


def sin_of(frame):
    return np.sin(frame.turn)


def test_an_arc_of_very_large_radius_is_the_straight_line():
    at, station, off = Frame(x=3.0, y=4.0, turn=0.4), np.linspace(0, 30, 7), np.linspace(-2, 2, 7)
    arc = of_chord(at, 30.0, 1e9, True)
    assert np.allclose(arc.out(station, off), at.out(station, off), atol=1e-6)
    assert np.allclose(arc.into(*at.out(station, off)), (station, off), atol=1e-6)
    straight = built(put={'bulges = "left"\nrise = "2 m"': "", "count = 5": "count = 4"})
    nearly = built(put={'rise = "2 m"': 'rise = "0.1 mm"', "count = 5": "count = 4"})
    for name, place in places(nearly).items():
        assert place == pytest.approx(places(straight)[name], abs=2e-4), name


def test_rise_radius_and_centre_tell_the_same_arc():
    r = 16 / 4 + 2 / 2
    by_rise, by_radius = built(), built(put={'rise = "2 m"': f'radius = "{r} m"'})
    by_centre = built(put={'rise = "2 m"': 'centre = "tree"'})
    assert by_rise.lines["bed"].arc.radius == pytest.approx(5.0)
    for other in (by_radius, by_centre):
        for name, place in places(by_rise).items():
            assert place == pytest.approx(places(other)[name], abs=1e-9), name


def test_a_row_along_an_arc_stands_on_it_at_equal_steps_and_turns_with_it():
    work = built()
    centre, r = (5.0, -1.0), 5.0
    posts = [work.bases[f"post.{n}"].frame for n in range(1, 6)]
    for i, post in enumerate(posts):
        assert hypot(post.x - centre[0], post.y - centre[1]) == pytest.approx(r)
        turn = radians(0) + 2 * np.arctan2(2, 4) - (0.4 + 2 * i) / r
        assert post.turn == pytest.approx(turn)
        assert (post.x, post.y) == pytest.approx((5.0 - r * sin(turn), -1.0 + r * cos(turn)))
    step = work.bases["step"].frame
    assert hypot(step.x - centre[0], step.y - centre[1]) == pytest.approx(r - 0.5)
    assert (posts[1].turn - step.turn) * r == pytest.approx(1.0)


@pytest.mark.parametrize("bend", ['rise = "2 m"', 'centre = "tree"'])
def test_what_stands_along_an_arc_may_be_turned_by_another_line(bend):
    work = built(put={'rise = "2 m"': bend, '{ turn = "bed" }': '{ turn = "wall" }'})
    assert work.bases["step"].frame.turn == pytest.approx(0.0)
    assert work.chains["step"][-1].line == "wall" and work.chains["step"][-1].value == 0.0


def test_a_bulge_to_the_right_mirrors_the_one_to_the_left():
    left, right = places(built()), places(built(put={'"left"': '"right"'}))
    for name in (f"post.{n}" for n in range(1, 6)):
        (x, y, turn), (mx, my, mirrored) = left[name], right[name]
        assert (mx, my - 2.0, mirrored) == pytest.approx((x, 2.0 - y, -turn))


def test_round_a_nail_an_arc_may_be_more_than_half_a_circle():
    arc = round_centre((1.0, 0.0), (0.0, -3.0), (0.0, 0.0), "nail", left=True)
    assert (arc.radius, arc.length) == pytest.approx((1.0, 1.5 * pi))
    assert arc.out(arc.length, 0.0) == pytest.approx((0.0, -1.0))
    other = round_centre((1.0, 0.0), (0.0, -3.0), (0.0, 0.0), "nail", left=False)
    assert other.length == pytest.approx(pi / 2)


def test_moving_and_turning_the_job_changes_only_where_it_is():
    turn, dx, dy = 0.6, 30.0, -12.0

    def moved(x, y):
        return f'["{dx + x * cos(turn) - y * sin(turn)!r} m", "{dy + x * sin(turn) + y * cos(turn)!r} m"]'

    for bend in ('rise = "2 m"', 'centre = "tree"'):
        here = built(put={'rise = "2 m"': bend})
        put = {f'["{x} m", "{y} m"]': moved(x, y) for x, y in ((1, 2), (9, 2), (5, -1), (0, -5), (9, -5))}
        there = built(put={'rise = "2 m"': bend} | put)
        for name, (x, y, angle) in places(here).items():
            at = (dx + x * cos(turn) - y * sin(turn), dy + x * sin(turn) + y * cos(turn), angle + turn)
            assert places(there)[name] == pytest.approx(at, abs=1e-9), name
        for name, chain in here.chains.items():
            assert [s.value for s in chain] == pytest.approx([s.value for s in there.chains[name]], abs=1e-9)


def test_many_rises_at_once_give_what_each_gives_alone():
    from batterboard.study.sweep import varied

    job = read_text(ROW.replace("count = 5", "count = 4"), "bed.toml")
    rises = np.array([1.0, 2.0, 3.9])
    many = build(varied(job, {"lines.bed.rise": rises}))
    for i, rise in enumerate(rises):
        alone = built(put={'rise = "2 m"': f'rise = "{rise} m"', "count = 5": "count = 4"})
        for name in ("post.1", "post.4", "step"):
            one, all_of_them = alone.bases[name].frame, many.bases[name].frame
            assert (all_of_them.x[i], all_of_them.y[i]) == pytest.approx((one.x, one.y), abs=1e-12)


# ---- what no circle can do ----


def test_an_arc_that_no_circle_can_draw_names_its_line():
    assert "bed.toml:20:1" in (said := refused(put={'rise = "2 m"': 'radius = "3.9 m"'})), said
    assert "no circle of so short a radius" in said
    assert "more than half a circle" in refused(put={'rise = "2 m"': 'rise = "4.1 m"'})
    assert "its own centre" in refused(put={'rise = "2 m"': 'centre = "a"'})
    assert "more than zero" in refused(put={'rise = "2 m"': 'rise = "0 m"'})
    assert "no length" in refused(put={'to = "b"': 'to = "a"'})


def test_an_arc_between_found_things_that_coincide_names_itself():
    more = """
[piers.one]
like = "post"
place = [ { along = "wall", ahead = "1 m" }, { from = "wall", left = "0 m" } ]
[piers.two]
like = "one"
place = [ { along = "wall", ahead = "1 m" }, { from = "wall", left = "0 m" } ]
[lines.bend]
from = "one"
to = "two"
bulges = "left"
rise = "1 m"
"""
    row = 'row = { along = "bed", count = 5, first = "0.4 m", every = "2 m" }'
    said = refused(
        put={
            row: 'place = [ { along = "bed", ahead = "1 m" }, { from = "bed", left = "0 m" } ]',
            'from = "post.2", ahead': 'from = "post", ahead',
        },
        more=more.replace('like = "one"', 'like = "post"'),
    )
    assert "one and two are one place: this arc has no chord" in said
    assert "bed.toml:48:1" in said


def test_a_place_past_the_end_of_an_arc_says_how_far():
    said = refused(put={"count = 5": "count = 6"})
    assert "bed.toml:31:1" in said and "post.6 stands" in said
    assert "past the end of the arc bed" in said
    assert "along its curve" in said
    assert "past the start" in refused(put={'"post.2", ahead = "1 m"': '"post.2", back = "3 m"'})


@pytest.mark.parametrize(
    ("put", "says"),
    [
        ({'bulges = "left"\n': ""}, "rise needs bulges beside it"),
        ({'rise = "2 m"': ""}, "it does not say how far the arc bends"),
        ({'rise = "2 m"': 'rise = "2 m"\nradius = "5 m"'}, "rise and radius both say how far the arc bends"),
        ({'{ from = "bed", right = "0.5 m" }': '{ from = "wall", right = "0.5 m" }'}, "square to it"),
        ({'along = "bed", from = "post.2", ahead = "1 m"': 'along = "wall", ahead = "1 m"'}, '"bed" is an arc'),
        ({', ahead = "1 m"': ""}, "no opening follows a curve"),
        ({'from = ["0 m", "-5 m"]\nto = ["9 m", "-5 m"]': 'square_to = "bed"\nat = "1 m"'}, "from a straight one"),
        ({'down = "0.2 m" }': 'down = "0.2 m", falls = { along = "bed", one_in = 20 } }'}, "a straight line"),
    ],
)
def test_what_an_arc_cannot_be_used_for_is_told(put, says):
    assert says in refused(put=put)


def test_a_reading_along_an_arc_asks_for_a_tape_straight_across():
    said = refused(more='[measured]\nreadings = [ { point = "post.2", off = "bed", left = "1 cm" } ]\n')
    assert 'across = ["bed", "post.2"]' in said
