"""Where does each thing stand? Chains by hand, the opening, and what stays or follows once something was found."""

from math import cos, pi, sin

import numpy as np
import pytest

from batterboard.job import JobError
from batterboard.work.build import build

POST = 0.127  # a five inch tube
OPENING = 4.0 + 0.06 + 0.02 + POST


def at(work, name):
    frame = work.bases[name].frame
    return float(frame.x), float(frame.y), float(frame.turn)


def shift_of(planned, found):
    return found[0] - planned[0], found[1] - planned[1]


def test_a_chain_ends_where_it_is_measured_by_hand(gate):
    work = build(gate())
    assert at(work, "west") == pytest.approx((9.0, 4.0, pi / 2))
    assert work.piers["west"].pad.frame.y == pytest.approx(4.12)  # its shift is along the pier's own turn
    assert at(work, "east") == pytest.approx((9.0, 4.0 + OPENING, pi / 2))


def test_the_chain_lists_what_is_measured_in_order(gate):
    work = build(gate())
    steps = [(s.element, s.kind, s.from_, s.line, s.derived) for s in work.chains["east"]]
    assert steps == [
        ("east", "level", "bench", "", False),
        ("east", "along", "west", "gate", True),
        ("east", "off", "gate", "gate", False),
        ("east", "turn", "gate", "gate", False),
        ("latch", "template", "east", "gate", False),
    ]
    assert [s.value for s in work.chains["east"]] == pytest.approx([0.2, OPENING, 0, 0, 0])
    assert [s.value for s in work.chains["tie"]] == pytest.approx([-0.6])


def test_a_pier_that_says_bottom_and_height_is_levelled_at_its_top(gate):
    job = gate(put={'top = { level = "bench", up = "0.2 m" }': 'bottom = { level = "bench", down = "0.9 m" }'})
    work = build(job)
    assert work.piers["west"].top == pytest.approx(10.1)
    assert work.chains["west"][0].value == pytest.approx(0.1)


def test_the_distance_of_two_piers_follows_from_the_opening_between_their_posts(gate):
    def distance(**instead):
        work = build(gate(**instead))
        return at(work, "east")[1] - at(work, "west")[1]

    two = """
[leaves.other]
hung = { on = "latch", gap = "5 cm" }
shuts = { on = "leaf", gap = "2 cm", bolt = "down" }
size = ["3 m", "1.5 m"]
weight = "300 lb"
"""
    assert distance(more=two, put={'shuts = { on = "latch"': 'shuts = { on = "other"'}) == pytest.approx(
        OPENING + 3.0 + 0.05
    )
    post = 'section = "HSS5X5X1/4"'
    assert distance(put={post: post + '\nshift = { along = "3 cm" }'}) == pytest.approx(OPENING)
    assert distance(more='[posts.latch.shift]\nback = "3 cm"') == pytest.approx(OPENING + 0.03)
    assert distance(more='[posts.latch.shift]\nright = "3 cm"') == pytest.approx(OPENING)


def test_an_offset_is_measured_square_to_its_own_line_wherever_the_distance_runs(gate):
    job = gate(
        """
[lines.slant]
from = ["0 m", "0 m"]
to = ["10 m", "10 m"]
[piers.guide]
round = "0.3 m"
top = { level = "bench", up = "0 m" }
height = "1 m"
place = [ { along = "lane", from = "nail", back = "3 m" }, { from = "slant", left = "1 m" } ]
mix = "stiff"
"""
    )
    x, y, turn = at(build(job), "guide")
    assert (x, turn) == pytest.approx((-2.0, 0.0))
    assert (y - x) / np.sqrt(2) == pytest.approx(1.0)


def test_lines_run_beside_and_square_to_others(gate):
    lines = build(gate('[lines.edge]\nbeside = "gate"\nright = "50 cm"')).lines
    assert (lines["gate"].x, lines["gate"].y, lines["gate"].turn) == pytest.approx((9.0, 2.0, pi / 2))
    assert (lines["edge"].x, lines["edge"].y, lines["edge"].turn) == pytest.approx((9.5, 2.0, pi / 2))
    assert lines["lane"].length == pytest.approx(30.0)


def test_bottoms_and_tops_are_taken_from_the_ground_at_the_place(gate):
    job = gate(
        """
[piers.bollard]
round = "0.3 m"
top = { above = "ground", up = "1 m" }
bottom = { below = "ground", down = "0.8 m" }
row = { along = "gate", count = 3, first = "5 m", every = "2 m", right = "1 m" }
except = { 2 = { left_out = "hydrant" } }
mix = "stiff"
""",
        put={'down = "0.2 m"': 'down = "0.5 m", falls = { along = "gate", one_in = 20 }'},
    )
    work = build(job)
    assert work.left_out == {"bollard.2": "hydrant"}
    assert at(work, "bollard.3") == pytest.approx((10.0, 11.0, pi / 2))
    third = work.piers["bollard.3"]
    ground = 9.5 - 9.0 / 20
    assert (third.top, third.shaft.bottom) == pytest.approx((ground + 1.0, ground - 0.8))
    assert third.shaft.against == "earth"


# ---- planned and found ----

FOUND_WEST = '[found.piers.west]\nshift = { across = "4 cm", along = "1 cm" }\n'


def test_what_was_found_off_moves_and_what_is_still_to_be_placed_follows(gate):
    planned, found = build(gate()), build(gate(FOUND_WEST))
    assert shift_of(at(planned, "west"), at(found, "west")) == pytest.approx((-0.04, 0.01))
    # Measured from the west pier along the gate, and off the gate's line: only the distance follows.
    assert shift_of(at(planned, "east"), at(found, "east")) == pytest.approx((0.0, 0.01))


def test_of_a_pier_whose_pad_is_cast_only_the_pad_is(gate):
    pier = build(gate('[found]\ndone = ["west pad"]')).piers["west"]
    assert pier.pad.cast and not pier.shaft.cast and not pier.done
    pier = build(gate('[found]\ndone = ["west"]')).piers["west"]
    assert pier.pad.cast and pier.shaft.cast and pier.done


def test_what_is_done_stays_where_it_was_set_out(gate):
    planned, found = build(gate()), build(gate('[found]\ndone = ["east", "tie"]\n' + FOUND_WEST))
    assert at(found, "east") == at(planned, "east")
    assert found.piers["east"].done and not found.piers["west"].done
    assert found.chains["east"] == planned.chains["east"]
    assert found.beams["tie"].frame.x == pytest.approx(planned.beams["tie"].frame.x)
    # The beam still runs from face to face: the west pier's is 1 cm nearer.
    assert found.beams["tie"].body.outline.along == pytest.approx(planned.beams["tie"].body.outline.along - 0.01)


def test_what_has_found_facts_was_set_out_before(gate):
    lean = '[found.piers.east]\nlean = "0.5 deg"\n'
    assert at(build(gate(FOUND_WEST + lean)), "east") == at(build(gate()), "east")
    bolts = '[found.posts.latch.bolts]\n1 = { proud = "4 in" }\n'
    assert at(build(gate(FOUND_WEST + bolts)), "east") == at(build(gate()), "east")


def test_a_plate_lies_as_its_found_bolts_carry_it_and_the_opening_is_kept_from_there(gate):
    turned = 0.01
    moved = [(x * cos(turned) - y * sin(turned) + 0.005, x * sin(turned) + y * cos(turned)) for x, y in SQUARE]
    text = "[found.posts.hinge.bolts]\n" + "".join(
        f'{n} = {{ at = ["{1000 * x} mm", "{1000 * y} mm"] }}\n' for n, (x, y) in enumerate(moved, 1)
    )
    planned, found = build(gate()), build(gate(text))
    hinge = found.posts["hinge"]
    assert hinge.frame.turn == pytest.approx(pi / 2 + turned)
    assert (hinge.frame.x, hinge.frame.y) == pytest.approx((9.0, 4.005))
    assert at(found, "west") == at(planned, "west")
    assert hinge.bolts.frame.turn == pytest.approx(pi / 2)
    assert hinge.bolts.found == (1, 2, 3, 4)
    apart = found.posts["latch"].frame.y - hinge.frame.y
    assert apart == pytest.approx(OPENING)


SQUARE = [(0.1, 0.1), (-0.1, 0.1), (-0.1, -0.1), (0.1, -0.1)]


def test_bolts_are_numbered_counter_clockwise_from_ahead_and_left(gate):
    bolts = build(gate()).posts["hinge"].bolts
    assert list(zip(bolts.x.tolist(), bolts.y.tolist())) == SQUARE
    ring = build(gate(put={'square = "0.2 m"': 'circle = "0.2 m"', "4 x 3/4": "6 x 3/4"})).posts["hinge"].bolts
    assert np.hypot(ring.x, ring.y) == pytest.approx(0.1)
    assert np.diff(np.arctan2(ring.y, ring.x)[:3]) == pytest.approx(pi / 3)
    assert ring.x[0] > 0 and ring.y[0] > 0


def test_found_bolts_keep_their_numbers(gate):
    bolts = (
        build(
            gate(
                "[found.posts.hinge.bolts]\n"
                '3 = { at = ["-0.09 m", "-0.1 m"], proud = "4 in", leans = "1/8 in in 4 in" }'
            )
        )
        .posts["hinge"]
        .bolts
    )
    assert bolts.found_x.tolist() == [0.1, -0.1, -0.09, 0.1]
    assert bolts.proud == pytest.approx(np.array([4.5, 4.5, 4.0, 4.5]) * 0.0254)
    assert bolts.leans == {3: pytest.approx(1 / 32)}


# ---- lines through what stands ----

THIRD = """
[lines.across]
from = "west"
to = "%s"
[piers.third]
like = "west"
place = [ { along = "across", from = "east", ahead = "3 m" }, { from = "across", left = "0.5 m" }, { turn = "across" } ]
"""


def test_a_line_through_two_piers_carries_a_third(gate):
    work = build(gate(THIRD % "east.centre"))
    line = work.lines["across"]
    assert (line.x, line.y, line.turn, line.length) == pytest.approx((9.0, 4.0, pi / 2, OPENING))
    assert line.through == ("west", "east.centre")
    assert at(work, "third") == pytest.approx((8.5, 4.0 + OPENING + 3.0, pi / 2))


def test_a_line_through_a_bolt_runs_where_the_bolt_was_found(gate):
    found = '[found.posts.latch.bolts.1]\nat = ["13 cm", "10 cm"]\n'
    planned, seen = (build(gate(THIRD % "east.bolt.1" + more)) for more in ("", found))
    for work, along in ((planned, 0.1), (seen, 0.13)):
        bolts = work.posts["latch"].bolts
        x, y = bolts.frame.out(bolts.found_x[0], bolts.found_y[0])
        assert (x, y) == pytest.approx((9.0 - 0.1, 4.0 + OPENING + along))
        line = work.lines["across"]
        assert line.turn == pytest.approx(np.arctan2(y - 4.0, x - 9.0))


def test_a_line_through_one_place_twice_is_refused_where_it_is_written(gate):
    more = '[piers.twin]\nlike = "west"\n' + THIRD % "twin"
    with pytest.raises(JobError, match=r"job.toml:\d+:\d+.*west and twin are one place"):
        build(gate(more))
