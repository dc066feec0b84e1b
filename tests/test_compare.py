"""Planned against found: what turned, what helps once it is tried, and a screen of text, worst first."""

import json
from pathlib import Path

import pytest

from batterboard.job import read_job, read_text
from batterboard.plan import Plan
from batterboard.quantity import inch
from batterboard.study.compare import compare
from batterboard.study.remedies import forms, put
from batterboard.views import answers

EXAMPLES = Path(__file__).parent.parent / "examples"
GATE = EXAMPLES / "orchard-gate" / "job.toml"

# Each a found value like any other: what it turns, and a word of what is to be done first.
FOUND = {
    "an off-centre beam": ('[found.beams.tie]\nshift = { across = "2 1/2 in" }', "room_beside", "set tie back"),
    "a beam cast off its line": (
        '[found]\ndone = ["tie"]\n[found.beams.tie]\nshift = { across = "2 1/2 in" }', "room_beside", '1/2" stone',
    ),
    "a short bolt": ('[found.posts.hinge.bolts]\n2 = { proud = "2 5/8 in" }', "bolt_stands_proud", "grout"),
    "low cover": ('[found.piers.west]\nbars = { cover = { north = "3/4 in" } }', "cover", "shift the cage"),
    "a wet load": (
        '[found.pour]\nlifts = [ { of = ["pads", "tie"], slump = "4 in", water = "6 gal/yd3" } ]',
        "strength_left",
        "no more than 3.6 gal/yd3",
    ),
    "a cold night": ('[found.pour]\nair = "28 F"\nconcrete = "48 F"', "warm_enough", "come at 50 F"),
    "a missing tie": ('[found.piers.west]\nbars = { missing = ["tie 4"] }', "tie_gap", "put tie 4"),
    "a pier off its place": ('[found.piers.east]\nshift = { along = "1 1/2 in" }', "latch_gap", "set east back"),
    "a pier cast off its place": (
        '[found]\ndone = ["east"]\n[found.piers.east]\nshift = { along = "1 1/2 in" }', "latch_gap", "latch keeper",
    ),
    "soil that carries less": ('[found.site]\nsoil = { bearing = "800 psf" }', "soil_pressure", "the pad of west 5'"),
    "soil that lets it slide": ('[found.site]\nsoil = { friction = 0.06 }', "sliding", "the pad of west"),
    "frost that goes deeper": ('[found.site]\nfrost = "50 in"', "below_frost", "dig west 1'-0"),
    "a leaf heavier than it was said": ('[found.leaves.leaf]\nweight = "900 lb"', "droop", "stiffer post"),
    "a form higher than a pad can bear": (
        '[found.piers.west]\nheight = "72 in"', "waiting", "with boards round the pier",
    ),
    "a hot day": ('[found.pour]\nconcrete = "99 F"', "not_too_hot", "come at 95 F"),
    "a plant far away": ('[found.pour]\ntruck = { away = "95 min" }', "not_too_old", "a plant no further than 85 min"),
    "salt that nobody thought of": (
        '[found.site]\nexposed = ["F3", "S0", "W0", "C2"]', "strength_ordered", "order stiff at 5000 psi",
    ),
    "a load too wet": ('[found.pour.loads]\n1 = { lift = 1, slump = "8 in" }', "slump_as_wanted", "send load 1 back"),
    "bolts too deep": ('[found.posts.hinge]\njoint = { deep = "53 in" }', "foot_covered", "shorter at the foot"),
    "a slot out to the edge": (
        '[found.posts.hinge.bolts]\n1 = { slot = "1/2 in ahead" }', "hole_clears_edge", "larger plate",
    ),
    "a bolt out of its hole": (
        '[found.posts.hinge.bolts]\n2 = { at = ["-5 1/8 in", "4 1/2 in"] }', "plate_drops_on", "slot hole 2",
    ),
}  # fmt: skip


def found(text: str):
    return compare(read_text(f"{GATE.read_text('utf-8')}\n{text}\n", "gate.toml"))


@pytest.fixture(scope="module", params=FOUND)
def case(request):
    text, check, first = FOUND[request.param]
    return found(text), check, first


def test_what_turned_has_a_remedy_that_was_tried(case):
    result, check, first = case
    turn = next(turn for turn in result.turns if turn.found.name == check)
    assert turn.remedies[0].holds and first in turn.remedies[0].says
    assert turn.found.verdict != "holds" and (turn.planned is None or turn.planned.holds)


def test_a_remedy_is_what_a_job_with_it_says(case):
    """Asked again, from outside: the job as found with the changes made, and nothing else."""
    result, check, _ = case
    turn = next(turn for turn in result.turns if turn.found.name == check)
    for remedy in turn.remedies:
        job = result.found.job
        for path, value in remedy.changes.items():
            job = put(job, path, value)
        again = {c.key: c for c in Plan(job).checks}
        assert remedy.holds == (turn.found.key not in again or again[turn.found.key].holds)
        before = {c.key: c.holds for c in result.found.checks}
        assert set(remedy.breaks) == {c.title for k, c in again.items() if not c.holds and before.get(k)}


def test_a_builder_reads_one_screen_and_a_program_all_of_it(case):
    result, _, first = case
    text = answers.compare_text(result)
    assert len(text.splitlines()) <= 24 and first in text
    told = json.loads(answers.compare_json(result))
    assert len(told["changes"]) == len(result.changes)
    assert [t["title"] for t in told["turns"]] == [t.found.title for t in result.turns]
    assert all(remedy["do"] for t in told["turns"] for remedy in t["remedies"])


@pytest.mark.parametrize(
    "done, facts, check, closed",
    [
        ('"pads"', '[found.site]\nsoil = { bearing = "800 psf" }', "soil_pressure", "the pad of west is cast"),
        ('"west"', '[found.piers.west]\nbars = { missing = ["tie 4"] }', "tie_gap", "west is cast"),
        ('"west"', '[found.piers.west]\nbars = { cover = { north = "3/4 in" } }', "cover", "west is cast"),
        (
            '"pads", "tie"',
            '[found.pour]\nlifts = [ { of = ["pads", "tie"], slump = "4 in", water = "6 gal/yd3" } ]',
            "strength_left",
            "lift 1 is cast",
        ),
    ],
)
def test_where_what_is_cast_leaves_nothing_to_do_it_says_so(done, facts, check, closed):
    result = found(f"[found]\ndone = [{done}]\n{facts}")
    turn = next(turn for turn in result.turns if turn.found.name == check)
    assert turn.remedies == () and turn.closed == (closed,)
    assert f"stop: {closed}; ask the engineer" in answers.compare_text(result)
    told = json.loads(answers.compare_json(result))["turns"]
    assert any(closed in one["closed"] for one in told)


def test_the_least_of_a_kind_is_offered():
    """A pad two inches smaller than the one offered would not do."""
    result = found('[found.site]\nsoil = { bearing = "800 psf" }')
    turn = next(turn for turn in result.turns if turn.found.name == "soil_pressure")
    job = result.found.job
    for path, value in turn.remedies[0].changes.items():
        job = put(job, path, value - 2 * inch)
    assert not next(c for c in Plan(job).checks if c.key == turn.found.key).holds


def test_a_form_filled_faster_than_planned_is_filled_slower():
    """Whichever part of a tall form gives way first."""
    text = GATE.read_text("utf-8").replace('rate = "5 ft/h"', 'rate = "2 ft/h"')
    wide = text.replace('along = "22 in" ', 'along = "36 in"').replace('across = "22 in"', 'across = "36 in"')
    tall = wide.replace('height = "40 in"', 'height = "20 ft"', 1)
    result = compare(read_text(f'{tall}\n[found.pour]\nrate = "20 ft/h"\n', "gate.toml"))
    turn = next(turn for turn in result.turns if turn.found.name in forms.PROPOSE)
    assert turn.remedies[0].works and "fill the forms no faster than" in turn.remedies[0].says


def test_every_number_of_every_phase_that_moved_is_in_the_changes():
    from batterboard.study.compare import PHASES, facts

    result = found('[found.piers.west]\npad = { thick = "20 in", over = "3 in" }')
    keys = {c.key for c in result.changes if c.what == "quantity"}
    for phase in PHASES:
        before, after = (dict(facts(getattr(p, phase), (phase,))) for p in (result.planned, result.found))
        for key in before.keys() | after.keys():
            a, b = before.get(key, (None,))[0], after.get(key, (None,))[0]
            if isinstance(a, float) and isinstance(b, float) and abs(a - b) > 1e-6 * max(1, abs(a)):
                assert key in keys
    assert {key[0] for key in keys} >= {"size", "dig", "pour", "cage"}


def test_an_over_dug_pad_changes_the_order_and_no_check():
    result = found('[found.piers.west]\npad = { over = "4 in" }')
    assert result.turns == ()
    assert any(c.key[:2] == ("pour", "tickets") and c.key[-1] == "gross" for c in result.telling)
    assert "concrete" in answers.compare_text(result)


def test_service_stands_before_strength_where_a_leaf_hangs():
    result = found(
        '[found.piers.east]\nshift = { along = "1 1/2 in" }\n[found.piers.west]\nbars = { missing = ["tie 4"] }'
    )
    kinds = [turn.found.service for turn in result.turns]
    assert True in kinds and False in kinds and kinds == sorted(kinds, reverse=True)


def test_worse_stands_before_what_only_moved():
    result = compare(read_job(EXAMPLES / "orchard-gate" / "as-built.toml"))
    checks = [c for c in result.changes if c.what == "check"]
    assert [c.worse for c in checks] == sorted((c.worse for c in checks), reverse=True)


def test_a_remedy_that_breaks_something_else_says_so():
    result = found('[found.posts.hinge.bolts]\n2 = { at = ["-5 1/8 in", "4 1/2 in"] }')
    turn = next(turn for turn in result.turns if turn.found.name == "plate_drops_on")
    new = next(remedy for remedy in turn.remedies if "a new plate" in remedy.says)
    assert new.works and "so that they keep their edge" in new.says
    job = put(result.found.job, ("posts", "hinge", "joint"), next(iter(new.changes.values())))
    narrow = put(job, ("posts", "hinge", "joint", "plate"), (12 * inch, 12 * inch, 0.75 * inch))
    assert any(c.name == "hole_clears_edge" and not c.holds for c in Plan(narrow).checks)


def test_nothing_found_says_so():
    assert "Nothing was found" in answers.compare_text(compare(read_job(GATE)))


def test_a_leaning_post_is_first_brought_plumb():
    result = found('[found.posts.hinge]\nlean = "1 deg"')
    turn = next(turn for turn in result.turns if turn.found.name == "latch_gap")
    assert "plumb" in turn.remedies[0].says and turn.remedies[0].holds


def test_a_bolt_measured_twice_differently_is_to_be_measured_again():
    result = found(
        '[found.posts.hinge.bolts]\n1 = { at = ["4 in", "4 in"], faces = { back = "16 in", left = "6 in" } }'
    )
    turn = next(turn for turn in result.turns if turn.found.name == "measured_alike")
    assert "measure bolt 1 of hinge again" in turn.remedies[0].says and turn.remedies[0].holds
