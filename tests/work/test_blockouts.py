"""Which pockets and holes are left in the concrete, and can each of them be?"""

import subprocess
import sys
from dataclasses import replace
from math import pi
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from batterboard.job import JobError, read_text
from batterboard.methods import solids
from batterboard.plan import Plan
from batterboard.quantity import inch
from batterboard.study.sweep import varied
from batterboard.work import obstacles
from batterboard.work.blockouts import DRAFT, Blockout
from batterboard.work.build import build

GATE = (Path(__file__).parents[1] / "phases" / "gate.toml").read_text("utf-8")
EDGES = 'edges = { corners = "2 in", top = "3/4 in" }'
SIZES = f'along = "22 in"{" " * 33}# along the gate\nacross = "22 in"\n{EDGES}'
POCKET = {"in": '"west"', "side": '"left"', "up": '"28 in"', "wide": '"8 in"', "high": '"5 in"', "deep": '"4 in"'}


def told(changes=None, name="letters"):
    keys = {key: value for key, value in (POCKET | (changes or {})).items() if value is not None}
    return f"[blockouts.{name}]\n" + "".join(f"{key} = {value}\n" for key, value in keys.items())


def job_with(*holes, text=GATE):
    return read_text("\n".join((text, *holes)), "gate.toml")


def west(*holes, text=GATE):
    return next(body for body in build(job_with(*holes, text=text)).bodies if body.name == "west")


def problems(*holes, text=GATE):
    with pytest.raises(JobError) as caught:
        build(job_with(*holes, text=text))
    return [str(problem) for problem in caught.value.problems]


def box(**sizes):
    given_ = {
        "x": 0.0,
        "y": 0.0,
        "z": 0.5,
        "turn": 0.0,
        "lean": 0.0,
        "wide": 0.3,
        "high": 0.2,
        "deep": 0.1,
        "draft": 0.1,
    }
    words = {
        "name": "b",
        "body": "w",
        "element": "w",
        "side": "ahead",
        "of": "plywood",
        "stays": False,
        "through": False,
    }
    return Blockout(**(words | given_ | sizes))


# ---- what it takes ----


@given(
    wide=st.floats(0.05, 0.6),
    high=st.floats(0.05, 0.6),
    deep=st.floats(0.01, 0.3),
    draft=st.floats(0.0, 0.08),
    turn=st.floats(0.0, 6.2),
    share=st.floats(0.0, 1.0),
    top=st.booleans(),
)
def test_what_it_takes_under_any_level_is_that_of_its_solid(wide, high, deep, draft, turn, share, top):
    sizes = {"wide": wide, "high": high, "deep": deep, "draft": draft}
    hole = box(side="top", z=1.0, **sizes) if top else box(turn=turn, **sizes)
    low, reach = (1.0 - deep, deep) if top else (0.5 - high / 2, high)
    z = low + share * reach
    assert hole.volume == approx(hole.solid().volume, rel=1e-9)
    assert hole.below(z) == approx(float(hole.solid().volume_below(z)), rel=1e-7, abs=1e-12)


def test_concrete_is_less_by_the_box_and_so_are_the_order_and_its_part_under_a_level():
    plain, pocket = west(), west(told())
    mouth, middle, end = ((8 - off) * (5 - off) * inch**2 for off in (0.0, DRAFT * 4, DRAFT * 8))
    taken = 4 * inch / 6 * (mouth + 4 * middle + end)
    assert plain.gross - pocket.gross == approx(taken)
    half = pocket.bottom + 28 * inch
    assert plain.below(half) - pocket.below(half) == approx(taken / 2)
    nets = [sum(ticket.net for ticket in Plan(job).pour.tickets.values()) for job in (job_with(), job_with(told()))]
    assert nets[0] - nets[1] == approx(taken)


def test_a_leaning_side_takes_the_same_box_square_to_its_face():
    leaning = west(told(), text=GATE.replace(SIZES, f'{SIZES}\nbatter = "1 in"', 1))
    (hole,) = leaning.blockouts
    assert hole.lean == approx(np.arctan(1 / 40))
    assert hole.point(0, 0, 0)[1] == approx((11 - 28 / 40) * inch)
    assert hole.volume == approx(hole.solid().volume)


# ---- where it is ----


def test_left_and_right_are_those_of_who_stands_outside():
    for side, turn, across in (("ahead", 0.0, (0.0, -1.0)), ("left", pi / 2, (1.0, 0.0)), ("back", pi, (0.0, 1.0))):
        (hole,) = west(told({"side": f'"{side}"', "left": '"1 in"'})).blockouts
        assert hole.turn == approx(turn)
        assert (hole.x * abs(across[0]), hole.y * abs(across[1])) == approx((across[0] * inch, across[1] * inch)), side


def test_up_is_from_the_foot_and_down_from_the_top():
    (up,), (down,) = west(told()).blockouts, west(told({"up": None, "down": '"12 in"'})).blockouts
    assert up.z == approx(down.z) == approx(28 * inch)


def test_on_top_it_is_placed_from_the_centre():
    keys = {"side": '"top"', "up": None, "back": '"1 in"', "right": '"2 in"', "wide": '"4 in"', "high": '"3 in"'}
    (hole,) = west(told(keys)).blockouts
    assert (hole.x, hole.y, hole.z) == approx((-inch, -2 * inch, 40 * inch))


def test_through_is_as_deep_as_the_concrete():
    (hole,) = west(told({"deep": None, "through": "true", "draft": "0.02", "wide": '"4 in"'})).blockouts
    assert hole.deep == approx(22 * inch)


def test_what_stays_has_no_draft_and_a_default_draft_is_an_assumption():
    assert west(told({"of": '"foam"'})).blockouts[0].draft == 0
    assert west(told({"of": '"box"'})).blockouts[0].stays
    assert not west(told({"of": '"foam"'})).blockouts[0].comes_out
    work = build(job_with(told()))
    assert [one.value for one in work.assumed if one.path == "blockouts.letters.draft"] == [DRAFT]


def test_a_found_place_moves_it_and_a_twin_stands_elsewhere():
    found = told() + '\n[found.blockouts.letters]\nup = "26 in"\n'
    assert west(found).blockouts[0].z == approx(26 * inch)
    twin = told() + '[blockouts.twin]\nlike = "letters"\nside = "right"\n'
    assert [hole.side for hole in west(twin).blockouts] == ["left", "right"]


def test_how_near_a_stick_passes():
    hole = box(draft=0.0)
    ends = [np.array([[a, b]]) for a, b in ((-0.2, -0.2), (-1.0, 1.0), (0.5, 0.5))]
    assert hole.nearest(*ends) == approx([0.1])  # behind its end, which lies 0.1 deep
    assert hole.gap(-0.13, 0.15 + 0.04, 0.5) == approx(0.05)  # off an edge: 3, 4, 5
    assert hole.gap(-0.05, 0.0, 0.5) == approx(-0.05)
    through = [np.array([[a, b]]) for a, b in ((-0.05, -0.05), (0.0, 0.0), (0.0, 1.0))]
    assert hole.nearest(*through) == approx([-0.05], abs=1e-6)


# ---- what cannot be ----


@pytest.mark.parametrize(
    ("changes", "key", "says"),
    [
        ({"draft": "0"}, "draft", "letters cannot come out: its sides have no draft, the concrete would hold it"),
        ({"draft": "0.7"}, "draft", "comes to a point before it is so deep"),
        ({"draft": "1.5"}, "draft", "its sides come in faster than it goes deep"),
        ({"up": '"1 in"'}, "up", "below the foot of the concrete"),
        ({"up": '"39 in"'}, "up", "above the top of the concrete"),
        ({"up": '"37 in"'}, "up", "runs into a strip along the top"),
        ({"wide": '"21 in"'}, "wide", "runs into a corner strip"),
        ({"left": '"8 in"'}, "left", "stands out of the face by"),
        ({"right": '"8 in"'}, "right", "stands out of the face by"),
        ({"deep": '"23 in"', "draft": "0.01"}, "deep", "goes deeper than the concrete"),
        ({"side": '"front"'}, "side", 'west has no face "front"'),
        ({"side": '"top"', "up": None, "deep": '"41 in"', "draft": "0.01"}, "deep", "goes deeper than the concrete"),
        ({"side": '"top"', "up": None, "ahead": '"8 in"'}, "ahead", "stands out of the face by"),
        ({"side": '"top"'}, "up", "what opens to the top is at no height"),
        ({"ahead": '"1 in"'}, "ahead", "ahead places what opens to the top"),
        ({"up": None}, "", "it does not say at what height it is"),
        ({"down": '"1 in"'}, "down", "up and down both say at what height it is"),
        ({"left": '"1 in"', "right": '"1 in"'}, "right", "left and right both say"),
        ({"deep": None}, "", "it does not say how deep it goes"),
        ({"deep": None, "through": "false"}, "through", "it does not say how deep it goes"),
        ({"through": "true"}, "through", "deep and through both say how deep it goes"),
        ({"of": '"box"', "stays": "false"}, "stays", "a bought box is cast in"),
        ({"of": '"brick"'}, "of", '"brick"'),
        ({"in": '"wst"'}, "in", 'did you mean "west"'),
        ({"wide": '"-2 in"'}, "wide", "never negative"),
        ({"high": '"2 kg"'}, "high", "a length stands here"),
        ({"colour": '"red"'}, "colour", 'unknown key "colour"'),
    ],
)
def test_each_fault_is_told_at_its_key(changes, key, says):
    hole = told(changes)
    text = f"{GATE}\n{hole}"
    (said,) = problems(hole)
    keys = [line.split(" =")[0] for line in hole.splitlines()]
    line = text[: text.index("[blockouts")].count("\n") + 1 + (keys.index(key) if key in keys else 0)
    assert said.startswith(f"gate.toml:{line}:"), said
    assert says in said, said


def test_two_that_want_one_place_are_named():
    assert any(
        "twin and letters want the same place" in said for said in problems(told(), told({"up": '"30 in"'}, "twin"))
    )


def test_bolts_and_beams_are_in_the_way():
    (said,) = problems(told({"side": '"ahead"', "up": '"0.3 m"'}))
    assert "letters stands where tie comes in" in said
    said = problems(told({"side": '"top"', "up": None, "wide": '"12 in"', "high": '"12 in"'}))
    assert said and all("letters and hinge bolt" in one for one in said)


def test_nothing_is_fixed_below_the_ground_or_to_a_tube():
    (said,) = problems(told({"in": '"tie"', "up": '"8 in"'}))
    assert "below the form's foot: no panel is there" in said
    tube = GATE.replace(SIZES, 'round = "22 in"', 1)
    (said,) = problems(told(), text=tube)
    assert "is cast in a tube, which nothing is screwed to" in said and 'side = "top"' in said


def test_it_goes_through_only_to_a_face_straight_across():
    through = {"deep": None, "through": "true", "draft": "0.01", "side": '"2"', "wide": '"4 in"', "up": '"10 in"'}
    six, five = (GATE.replace(SIZES, f'sides = {n}\nflats = "22 in"', 1) for n in (6, 5))
    assert west(told(through), text=six).blockouts[0].deep == approx(22 * inch)
    (said,) = problems(told(through), text=five)
    assert "no face lies straight across" in said


def test_variants_are_each_alone_and_those_that_cannot_be_are_nan():
    job = job_with(told())
    deeps = np.array([0.05, 0.1, 0.7])
    body = next(b for b in build(varied(job, {"blockouts.letters.deep": deeps})).bodies if b.name == "west")
    assert np.isnan(body.gross[2])
    for v in (0, 1):
        one = replace(job.blockouts["letters"], deep=float(deeps[v]))
        alone = next(b for b in build(replace(job, blockouts={"letters": one})).bodies if b.name == "west")
        assert body.gross[v] == approx(float(alone.gross))


def test_a_job_without_any_opens_none_of_their_rooms():
    code = (
        "import sys; from batterboard.cli import main; main(['check', 'examples/orchard-gate/job.toml', '--json']); "
        "print([name for name in sys.modules if name.endswith('blockouts')], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stderr.strip().endswith("[]")


# ---- whether two meet ----


def _tapered(rng):
    """A block that narrows, turned any way: corners and normals, and the same as a solid."""
    wide, high, deep, taper = *rng.uniform(0.1, 0.4, 3), 1 - rng.uniform(0, 0.3)
    ring = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    flat = [(p * wide / 2 * k, q * high / 2 * k, -deep * (k < 1)) for k in (1.0, taper) for p, q in ring]
    turn, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    points = np.array(flat) @ turn.T + rng.uniform(-0.3, 0.3, 3)
    planes = []
    for a, b, c in ((0, 1, 2), (4, 5, 6), (0, 1, 4), (1, 2, 5), (2, 3, 6), (3, 0, 7)):
        n = np.cross(points[b] - points[a], points[c] - points[a])
        n = n / np.linalg.norm(n)
        n = n if n @ (points[a] - points.mean(axis=0)) > 0 else -n
        planes.append((n, float(n @ points[a])))
    return (points.T, [tuple(n) for n, _ in planes]), solids.behind(planes)


def test_two_blocks_meet_where_their_solids_share_space_and_only_there():
    rng = np.random.default_rng(3)
    shared = []
    for _ in range(600):
        (one, solid), (other, beside) = _tapered(rng), _tapered(rng)
        meets, volume = bool(obstacles._meet(one, other)), solids.common(solid, beside).volume
        shared.append(volume > 1e-7)
        assert meets or volume < 1e-7
        assert not meets or volume > 0
    assert 100 < sum(shared) < 500
