"""What can never be, of forms: laws that hold whatever the numbers are."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from batterboard.job.schema import Mix, Pour, Sheet, Stock, Wind
from batterboard.phases import forms
from batterboard.phases.forms import strength, yokes
from batterboard.phases.forms.beside import beside
from batterboard.phases.forms.bracing import brace_of
from batterboard.phases.forms.pressure import lateral
from batterboard.phases.forms.shape import shape
from batterboard.phases.forms.sheathing import carried
from batterboard.phases.forms.uplift import uplift_of
from batterboard.phases.forms.yokes import STEP, WIDEST, yokes_of
from batterboard.quantity import ft, hour, inch, lb, mph, pcf, psf, psi
from batterboard.standards import tables
from batterboard.work.records import Body, Frame, Outline

SHEET = Sheet(of="3/4 in plywood", size=(8 * ft, 4 * ft))
MIX = Mix(strength=4000 * psi, weight=150 * pcf)
POUR = Pour(rate=5 * ft / hour, concrete=20.0)


def body(along=22 * inch, across=22 * inch, height=10 * ft, **more):
    outline = Outline(kind="rectangle", along=along, across=across, **more)
    frame = Frame(x=0.0, y=0.0, turn=0.0)
    return Body(
        name="b",
        element="b",
        part="pier",
        outline=outline,
        frame=frame,
        bottom=0.0,
        top=height,
        mix="m",
        against="form",
    )


def peak(width, height, rate, warm, slump, deep, formed=None, **mix):
    pour = Pour(rate=rate * ft / hour, concrete=warm, vibrated=deep * ft)
    return lateral(body(width, height=height), formed or height, slump * inch, pour, replace(MIX, **mix)).peak


# ---- pressure ----

POURS = {
    "width": st.floats(0.3, 3.0),
    "height": st.floats(0.3, 7.0),
    "rate": st.floats(0.1, 18),
    "warm": st.floats(-3, 40),
    "slump": st.floats(1, 9),
    "deep": st.floats(0.5, 5),
}


@pytest.mark.parametrize(
    "harder",
    [
        {"slump": 1.3},
        {"rate": 1.7},
        {"deep": 1.5},
        {"retarder": True},
        {"slag": 0.3},
        {"slag": 0.75},
        {"fly_ash": 0.45},
        {"silica_fume": 0.08},
        {"flows": True},
    ],
)
@given(**POURS)
def test_wetter_faster_deeper_or_slower_setting_concrete_never_presses_less(harder, **pour):
    worse = {name: pour[name] * more if name in pour else more for name, more in harder.items()}
    assert peak(**{**pour, **worse}) >= peak(**pour) * (1 - 1e-12)


@given(colder=st.floats(0, 30), **POURS)
def test_colder_concrete_never_presses_less(colder, **pour):
    assert peak(**{**pour, "warm": pour["warm"] - colder}) >= peak(**pour) * (1 - 1e-12)


@given(**POURS)
def test_nothing_presses_more_than_a_liquid_or_as_deep_as_the_least(**pour):
    found, head = peak(**pour), 150 * pcf * pour["height"]
    assert min(head, 600 * psf) * (1 - 1e-12) <= found <= head * (1 + 1e-12)


def test_what_stands_in_the_ground_counts_for_how_high_a_wall_is_placed():
    low, high = (peak(8 * ft, placed * ft, 5, 20.0, 4, 3, formed=10 * ft) for placed in (10, 15))
    assert low == approx((150 + 9000 * 5 / 68) * psf)
    assert high == approx((150 + 43400 / 68 + 2800 * 5 / 68) * psf)


# ---- yokes ----


def made(side, height, rate, stock):
    one = body(side, side, height)
    found = lateral(one, height, 4 * inch, replace(POUR, rate=rate and rate * ft / hour), MIX)
    return found, yokes_of(shape(one, height, (SHEET,)), found, stock, {})


def allowed(found, held, up, step):
    """Whether its own checks accept this step above a yoke at `up`."""
    panel = held.sheathing
    p = min(found.weight * (found.height - up), found.peak)
    clear = step - held.frame.size.wide
    holds = carried(panel.panel, panel.stress, panel.across, step, clear, panel.spans) >= p * (1 - 1e-9)
    return holds and p * step <= yokes._most_on_a_yoke(held.frame) * (1 + 1e-9)


@given(st.floats(0.3, 0.8), st.floats(1.0, 4.0), st.sampled_from([None, 2.0, 5.0]), st.sampled_from(["2x4", "2x6"]))
def test_yokes_stand_as_far_apart_as_they_may_and_half_an_inch_more_would_not_do(side, height, rate, yoke):
    found, held = made(side, height, rate, Stock(yoke=yoke))
    if not held.holds or held.sheathing.spans < 3:
        return
    ups = [float(one.up) for one in held.yokes]
    for low, high in list(zip(ups, ups[1:], strict=False))[:-2]:  # the last two share what is left
        step = high - low
        assert allowed(found, held, low, step)
        assert step >= WIDEST - 1e-9 or not allowed(found, held, low, step + STEP)


@given(st.floats(0.3, 0.9), st.floats(0.5, 4.0), st.floats(300, 4000), st.floats(1.0, 3.0))
def test_a_stronger_strap_never_needs_more_yokes(side, height, strap, stronger):
    weak, strong = (made(side, height, 5.0, Stock(strap=pull * lb))[1] for pull in (strap, strap * stronger))
    if weak.holds:
        assert strong.holds and len(strong.yokes) <= len(weak.yokes)


@given(st.floats(0.3, 0.9), st.floats(0.5, 4.0), st.integers(0, 20))
def test_one_more_yoke_never_weakens_a_panel(side, height, where):
    found, held = made(side, height, 5.0, Stock())
    ups = [float(one.up) for one in held.yokes]
    i = where % (len(ups) - 1)
    of, middle = held.sheathing, (ups[i] + ups[i + 1]) / 2
    for low, high in ((ups[i], middle), (middle, ups[i + 1])):
        step = high - low
        if step > 2 * held.frame.size.wide:
            whole = ups[i + 1] - ups[i]
            bears = [
                carried(of.panel, of.stress, of.across, s, s - held.frame.size.wide, of.spans) for s in (step, whole)
            ]
            assert bears[0] >= bears[1]


def test_a_yoke_that_would_hold_but_sag_is_held_closer(monkeypatch):
    limp = replace(tables.lumber_grade("DF-L No. 2"), E=0.2e6 * psi)
    stiff = made(0.8, 3.0, None, Stock(strap=3000 * lb))[1]
    monkeypatch.setattr(tables, "lumber_grade", lambda name: limp)
    assert len(made(0.8, 3.0, None, Stock(strap=3000 * lb))[1].yokes) > len(stiff.yokes)


# ---- braces and stakes ----


@given(st.floats(0.3, 3.0), st.floats(0.4, 5.0), st.floats(100, 900), st.floats(1.0, 4.0))
def test_firmer_stakes_never_hold_less_and_are_never_more(width, height, stake, firmer):
    loose, firm = (brace_of("b", width, height, Stock(stake=hold * lb), None) for hold in (stake, stake * firmer))
    assert firm.stakes <= loose.stakes
    assert firm.stakes * firm.stake >= firm.push * (1 - 1e-12)


@given(st.floats(0.3, 4.0), st.floats(0.4, 5.0), st.floats(60, 180), st.sampled_from("BCD"))
def test_a_stated_wind_never_asks_for_less_than_the_least(width, height, speed, exposure):
    wind = Wind(speed=speed * mph, exposure=exposure)
    without, exposed = (brace_of("b", width, height, Stock(), at) for at in (None, wind))
    assert exposed.moment >= without.moment
    assert exposed.moment == max(exposed.site, exposed.wind, exposed.least)
    assert brace_of("b", width, height, Stock(), replace(wind, speed=1.1 * speed * mph)).site >= exposed.site


def test_variants_of_wind_are_braced_as_if_each_were_alone():
    speeds = np.array([90.0, 150.0]) * mph
    batch = brace_of("b", 2.0, 3.5, Stock(), Wind(speed=speeds))
    alone = [brace_of("b", 2.0, 3.5, Stock(), Wind(speed=float(v))).moment for v in speeds]
    assert batch.moment == approx(alone)


def test_a_leaning_pier_in_the_ground_is_lifted_only_by_what_is_missing_above_it():
    deep = body(2 * ft, 2 * ft, 6 * ft, batter=6 * inch)
    form = shape(deep, 3 * ft, (SHEET,))
    found = lateral(deep, 3 * ft, 4 * inch, POUR, MIX)
    held = strength.hold(form, found, Stock(), {})
    lift = uplift_of(deep, 3 * ft, MIX.weight, form, held, None, None, 200 * lb)
    side, top = 1.5, 1.0  # ft, at the ground and at the top
    volume = 3 / 3 * (side**2 + top**2 + side * top)
    assert lift.batter / lb == approx(150 * (side**2 * 3 - volume), rel=1e-6)


class WorkOf:
    """As much of a work as the forms and their opinions ask for."""

    ground, piers, bases, beams, pipes = None, {}, {}, {}, {}

    def __init__(self, one):
        self.bodies = (one,)
        self.lifts = (type("L", (), {"bodies": self.bodies, "slump": 4 * inch, "number": 1, "covered": False})(),)


def test_a_form_of_the_job_is_braced_against_the_wind_of_its_site():
    given = (WorkOf(body(height=14 * ft)), POUR, {"m": MIX}, Stock(sheets=(SHEET,)))
    calm, windy = forms.boxes(*given), forms.boxes(*given, Wind(speed=160 * mph))
    assert calm.boxes[0].brace.governs == "wind"
    assert windy.boxes[0].brace.governs == "site wind"
    assert windy.boxes[0].brace.stakes > calm.boxes[0].brace.stakes
    assert all(c.holds for c in windy.checks if c.name in ("brace", "brace_stakes", "uplift"))


def test_concrete_at_rest_hangs_on_a_long_wall_by_two_faces_and_on_a_square_by_four():
    def resting(along, across):
        work = WorkOf(body(along, across, 10 * ft))
        made = forms.boxes(work, POUR, {"m": MIX}, Stock(sheets=(SHEET,)))
        return beside(made, work, POUR, {"m": MIX}).opinions[0].resting

    def hangs(between):  # of a liquid, less what hangs, H^2 A / (e R)
        return 150 * pcf * 10 * ft - (10 * ft) ** 2 * 0.5 / (between * 5 * ft / hour)

    assert resting(2 * ft, 2 * ft) == approx(hangs(1 * ft))
    assert resting(6 * ft, 2 * ft) == approx(hangs(1.5 * ft))


# ---- bad input ----


@pytest.mark.parametrize(
    "outline, height, stock, check",
    [
        ({"kind": "round", "along": 0.5, "across": 0.5}, 3.0, {"tube": 2.0}, "tube"),
        ({"kind": "polygon", "along": 0.8, "across": 0.8, "sides": 8}, 3.0, {"strap": 40 * lb}, "strap"),
        ({"kind": "rectangle", "along": 2.0, "across": 2.0}, 6.0, {}, "ties"),
        ({"kind": "rectangle", "along": 0.6, "across": 0.6}, 3.0, {"tie": 50 * lb, "strap": 40 * lb}, "ties"),
    ],
)
def test_what_cannot_hold_fails_by_its_name(outline, height, stock, check):
    one = replace(body(height=height), outline=Outline(**outline), name="the weak one")
    liquid = replace(POUR, rate=None)
    failing = forms.boxes(WorkOf(one), liquid, {"m": MIX}, Stock(sheets=(SHEET,), **stock)).checks
    (found,) = [c for c in failing if c.name == check]
    assert found.verdict == "fails"
    assert "the weak one" in found.title
