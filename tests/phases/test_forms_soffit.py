"""Does what stands under a beam that is clear of the ground carry it, and only where it is clear?"""

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from batterboard.job import read_job
from batterboard.job.errors import JobError
from batterboard.job.schema import Elevation
from batterboard.phases import forms
from batterboard.phases.forms.results import CUT_TO
from batterboard.phases.forms.shape import formed_height
from batterboard.phases.forms.sheathing import carried
from batterboard.plan import Plan
from batterboard.quantity import day, ft, hour, inch, lb, pcf, plf, psf
from batterboard.standards import form_removal
from batterboard.work.build import build
from batterboard.work.ground import Ground
from batterboard.work.records import Body, Frame, Outline

GATE = (Path(__file__).parent / "gate.toml").read_text()
LOW_TOP = 'top = { level = "bench", down = "14 in" }'
GRADE = 'grade = { level = "bench", down = "6 in", falls = { along = "lane", one_in = 80 } }'
HIGH = (
    (LOW_TOP, 'top = { level = "bench", up = "4 ft" }'),
    (
        'top = { level = "bench", up = "8 in" }\nheight = "40 in"',
        'top = { level = "bench", up = "52 in" }\nheight = "7 ft"',
    ),
    ('of = ["pads", "tie"]', 'of = ["pads"]'),
    ('of = ["west", "east"]', 'of = ["west", "east", "tie"]'),
)


def text(*more, high=HIGH):
    changed = GATE
    for old, new in (*high, *more):
        assert old in changed, old
        changed = changed.replace(old, new)
    return changed


def job(folder, *more, high=HIGH):
    path = folder / "job.toml"
    path.write_text(text(*more, high=high))
    return read_job(path)


def plan(folder, *more, high=HIGH):
    return Plan(job(folder, *more, high=high))


def shores(folder, *more):
    return plan(folder, *more).forms.shored["tie"]


def checks(made, name="tie"):
    return {check.title.removesuffix(f", {name}"): check for check in made.checks if name == check.element}


# ---- by hand ----


def test_a_beam_in_the_air_is_carried_by_pairs_of_shores(tmp_path):
    of = shores(tmp_path)
    assert of.whole
    t = of.soffit.panel.thickness
    assert t == approx(23 / 32 * inch)
    # 22 in of concrete of 150 pcf, the form, and 50 psf of people and tools.
    assert of.load == approx(150 * pcf * 22 * inch + of.own + 50 * psf)
    assert 15 * psf < of.own < 40 * psf
    # 100 lb on each foot of it is more than 2 % of its weight, and more than the least wind on 22 in.
    assert of.push == approx(100 * plf * of.along)
    assert of.push_along == approx(100 * plf * 14 * inch)
    assert of.governs == "least force"
    assert of.shore == approx(of.load * 14 * inch * of.spacing / 2 + of.push / of.a_side)
    stack = t + 3.5 * inch + 1.5 * inch + 1.5 * inch
    assert of.stack == approx(stack)
    assert of.longest == approx(of.above - stack)
    assert of.dig == 0


def test_no_pairs_stand_farther_apart_than_was_reckoned_and_one_lies_under_every_joint(tmp_path):
    made = plan(tmp_path)
    of, box = made.forms.shored["tie"], made.forms.boxes[-1]
    ats = [pair.at for pair in of.pairs]
    assert max(np.diff(ats)) <= of.spacing + 1e-9
    assert ats[0] == approx(1.75 * inch) and ats[-1] == approx(of.along - 1.75 * inch)
    joints = [8 * ft, of.along - 8 * ft]  # of the right side and the soffit, and of the left side seen from outside
    assert all(min(abs(at - joint) for at in ats) < 1e-9 for joint in joints)
    assert [panel.sides for panel in box.panels] == [("left", "right"), ("under",)]
    assert all(joint.on == "stud" for joint in box.panels[0].joints)
    assert all(joint.on == "cross-piece" for joint in box.panels[1].joints)


def test_sides_run_past_the_soffit_down_to_the_cross_pieces(tmp_path):
    box = plan(tmp_path).forms.boxes[-1]
    sides, soffit = box.panels
    assert sides.height == approx(22 * inch + soffit.thick)
    assert soffit.height == approx(14 * inch)
    assert box.edge is None
    assert box.sheathing.spacing == box.shores.spacing


def test_each_shore_is_as_long_as_the_ground_under_it_asks(tmp_path):
    made = plan(
        tmp_path, (GRADE, 'grade = { level = "bench", down = "6 in", falls = { along = "gate", one_in = 12 } }')
    )
    of, body, ground = made.forms.shored["tie"], made.work.beams["tie"].body, made.work.ground
    for pair in of.pairs:
        x, y = body.frame.out(pair.at - of.along / 2, of.width / 2)
        assert pair.left == approx(body.bottom - ground.level(x, y) - of.stack, abs=1e-3)
    assert of.pairs[-1].left > of.pairs[0].left + 0.25


# ---- where it holds, and where it does not ----

ASKED = (
    "Soffit between its cross-pieces", "Cross-piece under the soffit in bending",
    "Cross-piece under the soffit in shear", "Cross-piece's own sag", "Shore along its grain",
    "Shore's head on its cross-piece", "Ground under the sole plates", "Sole plate in bending",
    "Uprights of the sides in bending", "Brace of the shores along its grain",
    "Stakes at the foot of the shores' brace", "Nails of a tie across the tops",
    "Nails of the ribbon at the sides' feet", "Nails of the diagonals along the shores",
    "Sheathing between its supports",
)  # fmt: skip


def test_all_that_carries_it_is_asked_by_the_beam_s_name_and_holds(tmp_path):
    made = checks(plan(tmp_path))
    assert set(ASKED) <= set(made)
    assert all(made[title].holds for title in ASKED)


@pytest.mark.parametrize(
    ("change", "failing"),
    [
        (('class = "sandy gravel"', 'class = "sandy gravel", bearing = "100 psf"'), "Ground under the sole plates"),
        (('deep = "22 in"', 'deep = "11 ft"'), "Soffit between its cross-pieces"),
        (('wide = "14 in"', 'wide = "9 ft"'), "Cross-piece under the soffit in bending"),
    ],
)
def test_what_no_spacing_can_carry_fails_with_the_name_of_the_beam(tmp_path, change, failing):
    more = [
        change,
        ('bars = { top = "2 #5", bottom = "2 #6", ties = ["6 #3 @ 4 in from each end", "#3 @ 8 in"] }\n', ""),
    ]
    if "deep" in change[0]:
        more += [
            ('up = "4 ft" }', 'up = "14 ft" }'),
            ('up = "52 in" }\nheight = "7 ft"', 'up = "15 ft" }\nheight = "18 ft"'),
        ]
    made = checks(Plan(job(tmp_path, *more)))
    assert not made[failing].holds


def test_wider_spacing_than_chosen_would_not_hold(tmp_path):
    """The panel itself rules here: two inches more and it would carry less than lies on it, or presses on the sides."""
    made = plan(tmp_path)
    of, box = made.forms.shored["tie"], made.forms.boxes[-1]
    s = of.spacing + 2 * inch
    most = [
        carried(of.soffit.panel, of.soffit.stress, True, s, s - wide, of.soffit.spans)
        for wide in (of.size.wide, of.upright.wide)
    ]
    assert most[0] < of.load or most[1] < box.lateral.peak


# ---- near the ground, and part in it ----


def test_a_beam_in_the_ground_asks_for_no_shores_and_no_room(tmp_path):
    made = plan(tmp_path, high=())
    assert made.forms.shored == {}
    (tmp_path / "job.toml").write_text(GATE)
    said = """
import sys
from batterboard import Plan, read_job
Plan(read_job(sys.argv[1])).checks
rooms = ("soffit", "soffit_checks", "stretch", "under", "shoring")
print([name for name in sys.modules if name.rpartition(".")[2] in rooms])
"""
    path = str(tmp_path / "job.toml")
    told = subprocess.run([sys.executable, "-c", said, path], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "[]"


def test_ground_that_comes_too_near_is_dug_off(tmp_path):
    of = shores(tmp_path, (HIGH[0][1], 'top = { level = "bench", up = "18 in" }'))
    assert of.nearest < of.room
    assert of.dig == approx(of.room - of.nearest)
    assert min(pair.left for pair in of.pairs) == approx(6 * inch)


def test_a_beam_that_comes_out_of_a_slope_stands_on_shores_from_there_on(tmp_path):
    slope = (GRADE, 'grade = { level = "bench", down = "0 in", falls = { along = "gate", one_in = 14 } }')
    made = plan(tmp_path, slope, (HIGH[0][1], 'top = { level = "bench", up = "14 in" }'))
    of, box = made.forms.shored["tie"], made.forms.boxes[-1]
    assert not of.whole and 0 < of.start < of.end == of.along
    body = made.work.beams["tie"].body
    x, y = body.frame.out(of.start - of.along / 2, 0.0)
    assert made.work.ground.level(x, y) == approx(body.bottom, abs=1.5 * inch)
    assert box.edge is not None and box.edge.spacing >= of.spacing
    assert box.edge.count == 2 * (np.ceil(of.start / box.edge.spacing) + 1)
    assert min(pair.at for pair in of.pairs) >= of.start


def dip(deep):
    """Level ground with a hole under the middle of the beam, which its ends know nothing of."""
    z = ["99 ft 6 in"] * 4 + [deep] + ["99 ft 6 in"] * 2
    at = (("0 ft", "0 ft"), ("60 ft", "0 ft"), ("0 ft", "60 ft"), ("60 ft", "60 ft"), ("24 ft 3 in", "13 ft"))
    at += (("24 ft 3 in", "7 ft 9 in"), ("24 ft 3 in", "18 ft 3 in"))
    return GRADE, "spots = [" + ", ".join(f'["{x}", "{y}", "{h}"]' for (x, y), h in zip(at, z, strict=True)) + "]"


def test_a_dip_under_the_middle_is_seen_though_both_ends_lie_in_the_ground(tmp_path):
    low = (HIGH[0][1], 'top = { level = "bench", up = "0 ft" }')
    assert plan(tmp_path, dip("99 ft 6 in"), low).forms.shored == {}
    of = shores(tmp_path, dip("96 ft"), low)
    assert 0 < of.start < of.along / 2 < of.end < of.along
    assert of.above > 18 * inch


def test_a_beam_clear_by_less_than_an_inch_is_laid_on_tamped_earth(tmp_path):
    level = (GRADE, 'grade = { level = "bench", down = "6 in" }')
    up = 'top = {{ level = "bench", up = "{} in" }}'.format
    assert plan(tmp_path, level, (HIGH[0][1], up("16 7/8"))).forms.shored == {}
    assert plan(tmp_path, level, (HIGH[0][1], up("17 1/8"))).forms.shored != {}


def test_pairs_over_a_pad_are_told(tmp_path):
    made = plan(tmp_path)
    of = made.forms.shored["tie"]
    # Pads reach half of 54 in less half of their piers under the beam, the west one 5 in further.
    reach = [27 * inch + 5 * inch - 11 * inch, 27 * inch - 11 * inch]
    assert of.on_pads == sum(pair.at <= reach[0] or pair.at >= of.along - reach[1] for pair in of.pairs)


# ---- forces ----


def test_the_place_s_own_wind_rules_on_a_deep_side_in_a_storm(tmp_path):
    storm = ('speed = "110 mph"', 'speed = "190 mph"')
    assert shores(tmp_path).governs == "least force"
    of = shores(tmp_path, storm)
    assert of.governs == "site wind" and of.push > 100 * plf * of.along
    assert checks(plan(tmp_path, storm))["Brace of the shores along its grain"].holds


def test_two_percent_rules_where_the_beam_is_heavy(tmp_path):
    of = shores(
        tmp_path,
        ('wide = "14 in"', 'wide = "7 ft"'),
        ('deep = "22 in"', 'deep = "60 in"'),
        ('wind = { speed = "110 mph", exposure = "C" }\n', ""),
        ('up = "4 ft" }', 'up = "14 ft" }'),
        ('up = "52 in" }\nheight = "7 ft"', 'up = "172 in" }\nheight = "17 ft"'),
    )
    weight = (150 * pcf * 60 * inch + of.own) * of.width * of.along
    assert of.push == approx(0.02 * weight)


def test_wind_counts_by_its_moment_about_the_ground(tmp_path):
    """15 psf on 8 ft close above the ground tip more than 100 lb a foot does at their foot."""
    deep = (('deep = "22 in"', 'deep = "8 ft"'), ('wind = { speed = "110 mph", exposure = "C" }\n', ""))
    tall = (
        ('up = "4 ft" }', 'up = "9 ft" }'),
        ('up = "52 in" }\nheight = "7 ft"', 'up = "112 in" }\nheight = "12 ft"'),
    )
    of = shores(tmp_path, *deep, *tall)
    assert of.governs == "wind"
    assert of.push == approx(15 * psf * of.along * 8 * ft * (of.above + 4 * ft) / of.up)


def test_long_shores_are_held_between_their_ends(tmp_path):
    tall = (
        ('up = "4 ft" }', 'up = "20 ft" }'),
        ('up = "52 in" }\nheight = "7 ft"', 'up = "20 ft 4 in" }\nheight = "23 ft"'),
    )
    of = shores(tmp_path, *tall)
    assert of.middles == np.ceil(of.longest / (50 * 3.5 * inch)) - 1 >= 1
    assert of.brace_middles == np.ceil(of.brace / (50 * 1.5 * inch)) - 1 >= 1
    assert checks(plan(tmp_path, *tall))["Shore along its grain"].holds


# ---- variants ----


def test_variants_of_height_are_carried_as_the_highest_and_each_judged(tmp_path):
    one = job(tmp_path)
    ups = np.array([4.0, 8.0]) * ft
    beam = replace(one.beams["tie"], top=Elevation(level="bench", up=ups))
    piers = {name: replace(pier, top=Elevation(level="bench", up=ups + 4 * inch)) for name, pier in one.piers.items()}
    many = forms.boxes(build(replace(one, beams={"tie": beam}, piers=piers)), one.pour, one.mixes, one.stock)
    of = many.shored["tie"]
    assert np.shape(of.longest) == (2,) and of.longest[1] - of.longest[0] == approx(4 * ft)
    assert np.ndim(of.spacing) == 0
    check = checks(many)["Shore along its grain"]
    assert np.shape(check.capacity) == (2,) and check.capacity[0] > check.capacity[1]


def test_of_a_beam_over_a_plane_the_lowest_corner_counts():
    here = Frame(x=0.0, y=0.0, turn=0.0)
    outline = Outline(kind="rectangle", along=4.0, across=0.4)
    ground = Ground(x=np.array([0.0]), y=np.array([0.0]), z=np.array([0.5]), slope_x=0.1, slope_y=0.0)
    body = Body(
        name="tie", element="tie", part="beam", outline=outline, frame=here, bottom=0.0, top=1.0, mix="m",
        against="earth",
    )  # fmt: skip
    assert formed_height(body, ground) == approx(1.0 - (0.5 - 0.1 * 2.0))


# ---- pieces, lists, weeks ----


def test_soffit_and_sides_leave_no_gap_and_share_no_space(tmp_path):
    from batterboard.methods import solids

    made = plan(tmp_path)
    form = made.pieces.forms[-1]
    of = made.forms.shored["tie"]
    under = [piece for piece in form.panels if piece.side == "under"]
    assert sum(piece.solid.volume for piece in under) == approx(of.along * of.width * under[0].thick, rel=1e-9)
    for i, one in enumerate(form.panels):
        for other in form.panels[i + 1 :]:
            assert solids.common(one.solid, other.solid).volume == approx(0.0, abs=1e-12)
        assert all(solids.common(one.solid, part).volume == approx(0.0, abs=1e-12) for part in form.concrete)
    sides = [piece for piece in form.panels if piece.side != "under"]
    lowest = {float(piece.solid.vertices[2].min()) for piece in sides}
    assert all(low == approx(-under[0].thick) for low in lowest)
    letters = [edge.match for piece in form.panels for edge in piece.edges if edge.match]
    assert sorted(letters) == ["a", "a", "b", "b", "c", "c"]


def test_sticks_are_enough_for_every_pair(tmp_path):
    of = shores(tmp_path)
    cut = {what: count for _, what, _, count in of.sticks if what != "shore"}
    assert cut["cross-piece"] == len(of.pairs)
    assert cut["sole plate"] == cut["upright"] == 2 * len(of.pairs)
    assert cut["shore brace"] == 2 * of.a_side
    long = [length for _, what, length, count in of.sticks for _ in range(count) if what == "shore"]
    wanted = sorted(length for pair in of.pairs for length in (pair.left, pair.right))
    assert all(0 <= have - need <= CUT_TO for have, need in zip(sorted(long), wanted, strict=True))


def test_assembly_sets_the_soffit_before_the_sides(tmp_path):
    steps = plan(tmp_path).pieces.forms[-1].steps
    told = [step.what for step in steps]
    soffit = next(i for i, what in enumerate(told) if "lay the soffit" in what)
    sides = next(i for i, what in enumerate(told) if "sides past the soffit" in what)
    assert soffit < sides
    assert not any("stake them" in what for what in told)


def test_shores_stay_for_the_table_s_days_at_fifty_and_three_quarters_of_the_strength(tmp_path):
    warm = ('air = "55 F"', 'air = "70 F"')
    times = plan(tmp_path, warm).cure
    wait = times.wait("shores", "tie")
    assert wait.by_rule == approx(14 * day)  # 10 to 20 ft clear
    assert wait.fraction == approx(0.75)
    assert wait.at == max(wait.by_rule, wait.by_strength)
    assert times.wait("strip", "tie").by_rule == approx(12 * hour)
    cold = plan(tmp_path, ('air = "55 F"', 'air = "40 F"\nkept = "open"')).cure.wait("shores", "tie")
    assert cold.at > wait.at


def test_a_beam_without_bars_must_carry_itself_by_its_plain_section(tmp_path):
    bars = 'bars = { top = "2 #5", bottom = "2 #6", ties = ["6 #3 @ 4 in from each end", "#3 @ 8 in"] }\n'
    bare = plan(tmp_path, (bars, "")).cure.wait("shores", "tie")
    assert bare.load and bare.own > 0
    assert plan(tmp_path).cure.wait("shores", "tie").load == ""


def test_a_beam_in_the_ground_has_no_shores_to_wait_for(tmp_path):
    assert all(wait.act != "shores" for wait in plan(tmp_path, high=()).cure.waits)


def test_the_day_shores_come_away_stands_in_the_days(tmp_path):
    (event,) = [event for event in plan(tmp_path).schedule.events if event.what == "shores"]
    assert "none put back" in event.hold
    assert event.start >= 14 * day


@pytest.mark.parametrize(("span", "days"), [(9.99, 7), (10, 14), (20, 14), (20.01, 21)])
def test_span_classes_of_the_table(span, days):
    assert form_removal.soffit(span * ft) == days * day
    assert form_removal.soffit(np.array([span, span]) * ft).tolist() == [days * day] * 2


def test_lumber_is_bought_for_shores_too(tmp_path):
    totals = {total.of: total for total in plan(tmp_path).lumber.totals}
    assert totals["4x4"].buys and totals["2x6"].buys
    assert sum(count for _, count in totals["4x4"].buys) > 0


def test_a_brace_of_four_by_fours_is_bolted(tmp_path):
    (tmp_path / "job.toml").write_text(text(("[stock]", '[stock]\nbrace = "4x4"')))
    of = Plan(read_job(tmp_path / "job.toml")).forms.shored["tie"]
    assert np.isnan(of.nail) and np.isnan(of.tie_nails)
    assert "Nails of a tie across the tops" not in checks(Plan(read_job(tmp_path / "job.toml")))
    assert 1 * lb < of.shore


def test_a_beam_in_the_air_that_no_lift_names_is_placed_with_its_piers(tmp_path):
    high = text()
    lifts = high[high.index("lifts = [") : high.index("[stock]")]
    placed = [{body.name for body in lift.bodies} for lift in plan(tmp_path, (lifts, "")).work.lifts]
    assert placed == [{"west pad", "east pad"}, {"west", "east", "tie"}]


def test_a_beam_in_the_air_before_its_piers_is_refused_by_name(tmp_path):
    with pytest.raises(JobError) as told:
        _ = plan(tmp_path, high=HIGH[:2]).work
    (problem,) = told.value.problems
    assert "tie stands clear of the ground and is placed before west" in str(problem)
    assert problem.mark.line == 1 + GATE.replace(*HIGH[0]).replace(*HIGH[1]).split("lifts = [")[0].count("\n")


def test_the_ends_of_a_beam_over_a_dip_are_dug(tmp_path):
    low = (HIGH[0][1], 'top = { level = "bench", up = "0 ft" }')
    level, dipped = plan(tmp_path, dip("99 ft 6 in"), low), plan(tmp_path, dip("96 ft"), low)
    (whole,), (ends,) = ([hole.bank for hole in p.dig.holes if hole.name == "tie"] for p in (level, dipped))
    assert 0 < ends < whole


def test_ties_and_ribbons_hold_the_sides_as_if_pressed_up_to_the_ties(tmp_path):
    made = plan(tmp_path)
    of, box = made.forms.shored["tie"], made.forms.boxes[-1]
    assert of.post == approx(22 * inch + of.soffit.panel.thickness + 3.5 * inch)
    p, s = 150 * pcf * 22 * inch, of.spacing
    assert box.lateral.peak == approx(p)
    assert of.tie == approx(p * of.post * s / 6) and of.foot == approx(p * of.post * s / 3)
    # What really presses ends below the tie: no more than was reckoned with.
    h = box.panels[0].height
    assert p * h * s / 2 * (h / 3) / of.post < of.tie
    assert p * h * s / 2 * (1 - h / 3 / of.post) < of.foot


def test_a_beam_higher_than_a_pier_has_nothing_to_end_against_and_is_refused(tmp_path):
    with pytest.raises(JobError) as told:
        _ = plan(tmp_path, (HIGH[0][1], 'top = { level = "bench", up = "53 in" }')).work
    (problem,) = told.value.problems
    assert "rises above west" in str(problem)
    line = text((HIGH[0][1], 'top = { level = "bench", up = "53 in" }')).split('up = "53 in"')[0].count("\n") + 1
    assert problem.mark.line == line
