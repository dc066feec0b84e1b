"""Found concrete against the tolerances: what is off, and by how much it may be."""

from pathlib import Path

import pytest

from batterboard.job import read_text
from batterboard.study.compare import compare

GATE = (Path(__file__).parent.parent / "examples" / "orchard-gate" / "job.toml").read_text("utf-8")


def found(text: str):
    return {(off.name, off.what): off for off in compare(read_text(GATE + text)).tolerances}


def test_nothing_is_off_where_nothing_was_found_otherwise():
    assert found('\n[found]\ndone = ["pads"]\n') == {}


@pytest.mark.parametrize(("lean", "within"), [("0.1 deg", True), ("0.3 deg", False)])
def test_a_pier_may_lean_three_in_a_thousand(lean, within):
    off = found(f'\n[found.piers.west]\nlean = "{lean}"\n')["west", "out of plumb"]
    assert off.within is within
    assert off.plus == pytest.approx(0.003 * 40 * 0.0254)


def test_a_pad_beside_its_place_is_judged_by_its_least_side():
    text = '\n[found.piers.west]\nshift = { along = "1 1/2 in" }\n'
    off = found(text)["west pad", "off its place"]
    assert off.off == pytest.approx(1.5 * 0.0254)
    assert off.plus == pytest.approx(0.02 * 54 * 0.0254)
    assert not off.within


def test_a_thin_pad_is_off_and_a_thick_one_is_not():
    thin = found('\n[found.piers.west]\npad = { thick = "15 in" }\n')["west pad", "thinner"]
    assert thin.off == pytest.approx(-0.0254) and thin.minus == pytest.approx(0.8 * 0.0254) and not thin.within
    assert ("west pad", "thinner") not in found('\n[found.piers.west]\npad = { thick = "18 in" }\n')


def test_a_pier_cast_wider_may_be_half_an_inch_so():
    off = found('\n[found.piers.west]\nalong = "22 3/8 in"\n')["west", "along"]
    assert off.within and off.plus == pytest.approx(0.0127) and off.minus == pytest.approx(0.375 * 0.0254)


def test_rods_of_one_group_may_be_an_eighth_of_an_inch_off_each_other():
    text = (
        '\n[found.posts.hinge.bolts]\n1 = { at = ["4 11/16 in", "4 1/2 in"] }\n2 = { at = ["-4 1/2 in", "4 1/2 in"] }\n'
    )
    off = found(text)["hinge", "rods apart"]
    assert off.off == pytest.approx(3 / 16 * 0.0254) and not off.within


def test_a_hole_dug_too_wide_is_told_by_both_its_sides():
    off = found('\n[found.piers.west]\npad = { over = "2 in" }\n')["west pad", "wider in its hole"]
    assert off.off == pytest.approx(4 * 0.0254) and off.within
