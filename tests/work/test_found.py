"""One bolt, measured in three ways: in the plate's axes, from two marks, from two faces of the form."""

from math import hypot
from pathlib import Path

import pytest

from batterboard.job import JobError, read_text
from batterboard.quantity import inch
from batterboard.work.build import build

GATE = Path(__file__).parents[1] / "phases" / "gate.toml"
PIN = '[marks.pin]\nat = ["40 ft", "0 ft"]\n'


def found(line: str, extra: str = PIN):
    return read_text(f"{GATE.read_text('utf-8')}\n{extra}\n[found.posts.hinge.bolts]\n{line}\n", "gate.toml")


def bolts(line: str):
    return build(found(line)).posts["hinge"].bolts


def problem(line: str) -> str:
    with pytest.raises(JobError) as caught:
        found(line)
    return str(caught.value)


def tapes(ahead: float, left: float) -> str:
    """What two tapes read to a place in the plate's axes."""
    job = found("")
    plain = build(job)
    x, y = plain.posts["hinge"].bolts.frame.out(ahead * inch, left * inch)
    reads = {name: hypot(x - at[0], y - at[1]) for name, at in plain.marks.items()}
    one, other = (f'{{ from = "{name}", tape = "{reads[name] * 1000:.6f} mm" }}' for name in ("nail", "pin"))
    return f"[ {one}, {other} ]"


@pytest.mark.parametrize("ahead, left", [(4.5, 4.5), (4.75, 4.375), (-4.25, 4.5)])
def test_two_tapes_give_the_place_they_were_read_at(ahead: float, left: float) -> None:
    number = 1 if ahead > 0 else 2
    b = bolts(f"{number} = {{ taped = {tapes(ahead, left)} }}")
    assert b.found_x[number - 1] == pytest.approx(ahead * inch, abs=1e-8)
    assert b.found_y[number - 1] == pytest.approx(left * inch, abs=1e-8)


def test_offsets_from_two_faces_give_the_same_place_as_its_axes() -> None:
    b = bolts("1 = { faces = { back = '15 3/4 in', left = '6 1/4 in' } }")  # of a pier of 22 in
    assert (b.found_x[0], b.found_y[0]) == pytest.approx((4.75 * inch, 4.75 * inch))
    b = bolts("1 = { faces = { ahead = '6 1/4 in', right = '15 3/4 in' } }")
    assert (b.found_x[0], b.found_y[0]) == pytest.approx((4.75 * inch, 4.75 * inch))


def test_a_bolt_measured_in_two_ways_keeps_both() -> None:
    b = bolts("1 = { at = ['4 1/2 in', '4 1/2 in'], faces = { back = '16 in', left = '6 1/2 in' } }")
    assert [way for way, *_ in b.sights[1]] == ["at", "faces"]
    assert b.found_x[0] == pytest.approx(4.5 * inch)
    assert b.sights[1][1][1] == pytest.approx(5 * inch)


@pytest.mark.parametrize(
    "line, expected",
    [
        ("1 = { taped = [ { from = 'nail', tape = '2 ft' }, { from = 'pin', tape = '3 ft' } ] }", "do not reach"),
        ("1 = { taped = [ { from = 'nail', tape = '90 ft' }, { from = 'pin', tape = '3 ft' } ] }", "is too long"),
        ("1 = { taped = [ { from = 'nail', tape = '24 ft' } ] }", "distances to two marks"),
        (
            "1 = { taped = [ { from = 'nail', tape = '24 ft' }, { from = 'nail', tape = '25 ft' } ] }",
            "distances to two marks",
        ),
        ("1 = { taped = [ { from = 'nial', tape = '24 ft' }, { from = 'pin', tape = '25 ft' } ] }", '"nail"?'),
        ("1 = { faces = { back = '6 in' } }", "a face at the side"),
        ("1 = { faces = { back = '6 in', ahead = '6 in', left = '6 in' } }", "keep one of them"),
        ("1 = { hole = '1/2 in' }", "does not go through this hole"),
        ("1 = { slot = '40 in left' }", "runs out of the plate"),
        ("1 = { leans = '1/8 in sideways in 4 in' }", 'unknown unit "sideways"'),
    ],
)
def test_what_cannot_be_names_itself(line: str, expected: str) -> None:
    told = problem(line)
    assert expected in told and "found.posts.hinge.bolts.1" in told, told


def test_a_lean_takes_room_the_worst_way_unless_its_way_was_seen() -> None:
    hole = 1.25 * inch
    b = bolts("2 = { leans = '1/8 in in 4 in' }")
    room = b.room(hole, 1 * inch, 2 * inch)
    assert list(room.hole) == [0, 1, 2, 3]
    assert room.off[0] - room.off[1] == pytest.approx(2 / 32 * inch)
    b = bolts("2 = { leans = '1/8 in left in 4 in' }")
    room = b.room(hole, 1 * inch, 2 * inch)
    assert list(room.hole) == [0, 1, 1, 2, 3] and len(set(room.off)) == 1
    assert [v - 4.5 * inch for v in room.y[1:3]] == pytest.approx([1 / 32 * inch, 2 / 32 * inch])


def test_a_bolt_may_lean_between_two_ways() -> None:
    b = bolts("2 = { leans = '1/8 in back  left in 4 in' }")
    room = b.room(1.25 * inch, 1 * inch, 2 * inch)
    assert b.lean_ways == {2: "back left"} and list(room.hole) == [0, 1, 1, 2, 3]
    moved = [(v + 4.5 * inch, w - 4.5 * inch) for v, w in zip(room.x[1:3], room.y[1:3])]
    assert moved[1] == pytest.approx((-(2 / 32) * inch / 2**0.5, (2 / 32) * inch / 2**0.5))


def test_an_opened_hole_gives_more_room() -> None:
    b = bolts("2 = { hole = '1 1/2 in' }")
    off = b.room(1.25 * inch, 1 * inch, 2 * inch).off
    assert off[1] - off[0] == pytest.approx(inch / 8)
