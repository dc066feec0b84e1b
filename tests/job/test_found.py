"""Twins, rows, and what was found otherwise."""

from pathlib import Path

import pytest

from batterboard.job import Job, JobError, problem_at, read_job, read_text
from batterboard.job.schema import FaceCover, Step

GATE = Path(__file__).parents[2] / "examples" / "orchard-gate" / "job.toml"
AS_BUILT = GATE.with_name("as-built.toml")

ROW = """\
[job]
name = "Bollards"
[ground]
grade = { level = "bench" }
[levels.bench]
z = "100 ft"
[lines.lane]
from = ["0 ft", "0 ft"]
to = ["100 ft", "0 ft"]
[mixes.ready]
strength = "4000 psi"
[piers.bollard]
round = "12 in"
height = "6 ft"
top = { above = "ground", up = "36 in" }
row = { along = "lane", count = 12, first = "40 ft", every = "5 ft", left = "3 ft" }
except = { 7 = { height = "7 ft" }, 9 = { left_out = "hydrant" } }
mix = "ready"
"""
FEET = 0.3048


@pytest.mark.parametrize(
    "words, done",
    [
        ('"pads"', ("west pad", "east pad")),
        ('"west pad", "tie"', ("west pad", "tie")),
        ('"piers"', ("west", "east")),
        ('"pads", "west"', ("east pad", "west")),
        ('"beams", "hinge"', ("tie", "hinge")),
    ],
)
def test_what_is_cast_is_named_as_lifts_are(words, done):
    assert read_text(f"{GATE.read_text('utf-8')}\n[found]\ndone = [{words}]\n", "f").done == done


def test_a_row_is_cast_under_its_one_name():
    assert read_text(f"{ROW}\n[found]\ndone = ['bollard']\n", "f").done == tuple(f"bollard.{n}" for n in range(1, 13))


def problems(text: str) -> list[str]:
    with pytest.raises(JobError) as caught:
        read_text(text, "f")
    return [str(p).removeprefix("f:") for p in caught.value.problems]


def said(text: str) -> str:
    found = problems(text)
    assert len(found) == 1, found
    return found[0]


def gate(*changes: tuple[str, str], found: str = "") -> str:
    text = GATE.read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text + found


# ---- twins ----


def test_a_twin_has_everything_but_what_it_says() -> None:
    job = read_job(GATE)
    west, east = job.piers["west"], job.piers["east"]
    assert (east.along, east.height, east.bars, east.edges, east.mix) == (
        west.along,
        west.height,
        west.bars,
        west.edges,
        west.mix,
    )
    assert east.place != west.place
    assert west.pad is not None and east.pad is not None
    assert east.pad.thick == west.pad.thick and east.pad.shift != west.pad.shift


def test_a_table_given_again_changes_only_its_keys_and_a_list_is_replaced_whole() -> None:
    job = read_text(gate(('like = "west"', 'like = "west"\nbars = { up = "8 #6", ties = ["#3 @ 12 in"] }')))
    west, east = job.piers["west"].bars, job.piers["east"].bars
    assert west is not None and east is not None
    assert east.up.size == "#6" and len(east.ties) == 1 and len(west.ties) == 2


def test_another_way_of_saying_the_same_replaces_the_inherited_one() -> None:
    job = read_text(
        gate(('like = "west"', 'like = "west"\nround = "24 in"\nedges = { corners = "0 in" }\ntop = { down = "1 in" }'))
    )
    east = job.piers["east"]
    assert (east.round, east.along, east.across) == (pytest.approx(2 * FEET), None, None)
    assert east.top is not None and east.top.up is None and east.top.level == "bench"
    job = read_text(gate(('like = "west"', 'like = "west"\nbottom = { below = "ground", down = "3 ft" }')))
    assert job.piers["east"].height is None and job.piers["east"].top == job.piers["west"].top


def test_twins_are_not_chained_and_are_like_something() -> None:
    assert "twins are not chained" in said(gate(("[beams", '[piers.third]\nlike = "east"\n[beams')))
    assert 'did you mean "west"?' in said(gate(('like = "west"', 'like = "wset"')))
    assert "there is no" in said(gate(('like = "west"', 'like = "east"')))
    assert "there is no" in said(gate(('like = "west"', "like = 3")))


# ---- rows ----


def test_a_row_is_a_pier_for_each_of_its_numbers() -> None:
    piers = read_text(ROW).piers
    assert list(piers) == [f"bollard.{n}" for n in range(1, 13)]
    assert piers["bollard.3"].place == (
        Step(along="lane", ahead=pytest.approx(50 * FEET)),
        Step(from_="lane", left=pytest.approx(3 * FEET)),
        Step(turn="lane"),
    )
    assert piers["bollard.7"].height == pytest.approx(7 * FEET) and piers["bollard.6"].height == pytest.approx(6 * FEET)
    assert piers["bollard.9"].left_out == "hydrant"


@pytest.mark.parametrize(
    "old, new, expected",
    [
        ("9 = {", "13 = {", "17:37: piers.bollard.except.13: the row has no number"),
        ('9 = { left_out = "hydrant" }', '9 = "out"', "stands where a table belongs"),
        ("9 = { left_out", "9 = { lift_out", 'unknown key "lift_out": did you mean "left_out"?'),
        ("count = 12", 'count = "12"', '16:33: piers.bollard.row.count: "12" is no count'),
        ("count = 12", "count = 5000", "5000 is no count"),
        ('left = "3 ft"', 'left = "3 ft", right = "1 ft"', "on which side of the line"),
        ('along = "lane", count', 'along = "lnae", count', '16:17: piers.bollard.row.along: there is no "lnae"'),
        ('mix = "ready"', 'mix = "redy"', '18:7: piers.bollard.mix: there is no "redy"'),
        ('mix = "ready"', 'mix = "ready"\nplace = []', "a row is its own place"),
        ("row = {", "# {", "except goes with row"),
    ],
)
def test_what_is_wrong_in_a_row_is_told_once(old: str, new: str, expected: str) -> None:
    found = problems(ROW.replace(old, new, 1))
    assert sum(expected in problem for problem in found) == 1, found


def test_what_is_left_out_carries_nothing() -> None:
    beam = (
        '[beams.b]\nbetween = ["bollard.8", "bollard.9"]\nwide = "1 ft"\ndeep = "1 ft"\n'
        'top = { level = "bench", down = "0 in" }\nmix = "ready"\n'
    )
    assert '"bollard.9" is left out: hydrant' in said(ROW + beam)
    assert 'there is no "bollard"' in said(ROW + beam.replace("bollard.9", "bollard"))
    assert read_text(ROW + beam.replace("bollard.9", "bollard.7")).beams


# ---- found ----


def test_the_job_as_found_knows_the_job_as_planned() -> None:
    job, plain = read_job(AS_BUILT), read_job(GATE)
    assert job.planned is not None and job.planned.planned is None
    assert job.planned.piers == plain.piers and job.planned.beams == plain.beams
    assert job.done == ("west pad", "east pad", "tie")
    west = job.piers["west"]
    assert west.pad is not None and west.pad.thick == pytest.approx(18 * 0.0254)
    assert west.bars is not None and west.bars.missing == ("tie 4",)
    assert isinstance(west.bars.cover, FaceCover) and west.bars.cover.north == pytest.approx(1.25 * 0.0254)
    assert job.piers["east"].pad is not None and job.piers["east"].pad.thick == pytest.approx(16 * 0.0254)
    bolts = job.posts["hinge"].bolts
    assert sorted(bolts) == [1, 3] and bolts[1].leans == "1/8 in in 4 in"
    assert job.posts["latch"].bolts == {}
    assert job.beams["tie"].shift is not None
    assert job.digest != plain.digest and job.planned.digest == job.digest


def test_the_as_built_example_is_the_gate_with_more_written_below() -> None:
    assert AS_BUILT.read_text("utf-8").split("\n", 1)[1].startswith(GATE.read_text("utf-8").split("\n", 1)[1])


def test_planned_keys_that_were_found_otherwise_are_reported() -> None:
    job = read_job(AS_BUILT)
    (entry,) = job.contradicted
    assert entry.path == "piers.west.pad.thick" and entry.kind.name == "length"
    assert (entry.planned, entry.found) == (pytest.approx(16 * 0.0254), pytest.approx(18 * 0.0254))
    job = read_text(
        gate(found='\n[found.piers.west]\nbottom = { level = "bench", down = "34 in" }\ntop = { down = "1 in" }\n')
    )
    assert [entry.path for entry in job.contradicted] == ["piers.west.top.up", "piers.west.height"]
    assert job.piers["west"].height is None and job.piers["west"].bottom is not None


def test_found_lists_are_keyed_by_number() -> None:
    job = read_text(ROW + '[found.piers.bollard.7]\ntop = { up = "35 in" }\n[found.piers.bollard.3]\nlean = "2 deg"\n')
    assert job.piers["bollard.7"].top is not None and job.piers["bollard.7"].top.up == pytest.approx(35 * 0.0254)
    assert job.piers["bollard.3"].lean is not None and job.piers["bollard.4"].lean is None
    assert [entry.path for entry in job.contradicted] == ["piers.bollard.7.top.up"]
    job = read_text(gate(found='\n[found.pour.lifts]\n2 = { water = "1 gal/yd3" }\n'))
    assert job.pour.lifts[1].water > 0 == job.pour.lifts[0].water
    assert job.pour.lifts[1].slump == pytest.approx(6 * 0.0254) and job.contradicted == ()


@pytest.mark.parametrize(
    "found, expected",
    [
        ('[found.piers.wset]\nheight = "3 ft"', 'there is no "wset" among the piers: did you mean "west"?'),
        ('[found.peirs.west]\nheight = "3 ft"', 'nothing can be found under "peirs": did you mean "piers"?'),
        ('[found.stock]\nkerf = "1 in"', 'nothing can be found under "stock"'),
        (
            '[found.piers.west]\nheigth = "3 ft"',
            'found.piers.west.heigth: unknown key "heigth": did you mean "height"?',
        ),
        ('[found.piers.west]\nheight = "3 fet"', 'found.piers.west.height: unknown unit "fet"'),
        ('[found.piers.west]\nlike = "east"', "like belongs to the plan"),
        ("[found.piers]\nwest = 3", "3 stands where a table belongs"),
        ("[found]\npiers = 3", "3 stands where named tables belong"),
        ("[found]\npour = 3", "3 stands where a table belongs"),
        ('[found]\ndone = ["wset"]', 'there is no "wset" that could be done: did you mean "west"?'),
        ('[found]\ndone = ["slabs"]', "there are no slabs that could be done"),
        ('[found]\ndone = "west"', '"west" stands where a list belongs'),
        ("[found.posts.hinge]\nbolts = [ {} ]", "found.posts.hinge.bolts: a list stands where a table keyed by number"),
        ("[found.posts.hinge.bolts]\n5 = {}", "there is no bolt 5: they count from 1 to 4"),
        ("[found.posts.hinge.bolts]\none = {}", "keyed by number, from 1"),
        ('[found.posts.hinge.bolts]\n1 = { leans = "a bit" }', 'write it like "1/8 in in 4 in"'),
        ('[found.piers.west.bars]\nmissing = ["the third"]', 'write it like "tie 4"'),
        ('[found.pour.lifts]\n3 = { water = "1 gal/yd3" }', "a table stands where a list belongs"),
    ],
)
def test_what_cannot_be_found_is_told(found: str, expected: str) -> None:
    assert expected in said(gate(found=f"\n{found}\n"))


def test_a_found_table_that_is_none_is_told() -> None:
    assert "stands where a table belongs" in said("found = 3\n" + gate())


def test_what_can_only_be_found_is_refused_in_the_plan() -> None:
    assert "piers.west.lean: this can only be found: put it under [found.piers.west]" in said(
        gate(('along = "22 in"', 'along = "22 in"\nlean = "1 deg"'))
    )
    assert "put it under [found.pour.lifts.1]" in said(
        gate(('slump = "4 in" },', 'slump = "4 in", water = "1 gal/yd3" },'))
    )
    assert "put done under [found]" in said("done = []\n" + gate())


def test_an_error_of_the_plan_is_told_once_though_it_is_read_twice() -> None:
    assert 'piers.west.mix: there is no "stif"' in said(
        gate(('mix = "stiff"', 'mix = "stif"'), found="\n[found]\ndone = []\n").replace(
            'like = "west"', 'like = "west"\nmix = "stiff"'
        )
    )


def test_an_empty_found_table_changes_nothing() -> None:
    job = read_text(gate(found="\n[found]\n"))
    assert isinstance(job.planned, Job) and job.contradicted == () and job.piers == job.planned.piers


def test_what_shows_only_later_is_placed_too() -> None:
    job = read_text(ROW + "[found.piers.bollard.7]\nheight = '2 ft'\n", "f")
    assert (
        str(problem_at(job, ("piers", "bollard.7", "height"), "wrong", "right"))
        == "f:20:1: found.piers.bollard.7.height: wrong: right"
    )
    assert str(problem_at(job, ("piers", "bollard.9", "left_out"), "wrong")).startswith(
        "f:17:43: piers.bollard.except.9.left_out"
    )
    assert str(problem_at(job, ("piers", "bollard.2"), "wrong")).startswith("f:12:8: piers.bollard: wrong")
    assert str(problem_at(job, ("pour", "rate"), "wrong")).startswith("f:1:1: pour.rate: wrong")
