"""Where does the vibrator go in?"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from batterboard import read_job
from batterboard.phases import template
from batterboard.phases.pour import vibration
from batterboard.quantity import inch
from batterboard.standards import aci309
from batterboard.views.drawings import shapes
from batterboard.work.build import build

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = read_job(EXAMPLES / "orchard-gate/job.toml")
WORK = build(GATE)
VIBRATED = vibration.vibration(WORK, 1.5 * inch, template.patterns(WORK).patterns)


@pytest.mark.parametrize("block", VIBRATED.blocks, ids=lambda block: block.name)
def test_no_insertion_hits_a_bar_a_bolt_or_a_pipe(block):
    body = next(body for body in WORK.bodies if body.name == block.name)
    steel = vibration.in_the_way(WORK, body)
    least = vibration._clear(np.asarray(block.x), np.asarray(block.y), steel)
    assert len(steel) and np.all(least >= 0.75 * inch + vibration.AIR - 1e-9)


@pytest.mark.parametrize("block", VIBRATED.blocks, ids=lambda block: block.name)
def test_what_is_called_covered_lies_within_the_radius_of_action(block):
    body = next(body for body in WORK.bodies if body.name == block.name)
    x, y = vibration._cells(body)
    apart = np.min(np.hypot(np.subtract.outer(x, block.x), np.subtract.outer(y, block.y)), axis=1)
    assert block.covered == bool(apart.max() <= VIBRATED.head.radius + 1e-9)
    assert block.farthest == pytest.approx(apart.max())


def test_the_bands_of_the_table_overlap_and_the_lower_reading_is_taken():
    assert aci309.radius(0.035) == pytest.approx(min(0.08 + 0.07 * 15 / 20, 0.13 + 0.12 * 5 / 30))
    assert np.isnan(aci309.radius(0.01)) and np.isnan(aci309.radius(0.2))


def test_a_thinner_head_goes_in_more_often():
    thin = vibration.vibration(WORK, 1 * inch)
    assert sum(block.insertions for block in thin.blocks) > 1.3 * sum(block.insertions for block in VIBRATED.blocks)


def test_a_layer_is_never_deeper_than_twenty_inches_and_layers_make_up_the_block():
    for block in VIBRATED.blocks:
        body = next(body for body in WORK.bodies if body.name == block.name)
        assert block.layer <= 20 * inch + 1e-9
        assert block.layer * block.layers == pytest.approx(body.height)


def test_a_head_too_thick_for_the_cage_is_said():
    thick = vibration.vibration(WORK, 7 * inch)
    assert not thick.of("tie").fits and any("passes nowhere" in note for note in thick.notes)


def test_both_diagonals_of_every_pattern_are_measured_again_and_none_of_what_is_cast():
    patterns = template.patterns(WORK).patterns
    for pattern in patterns:
        told = {check.what for check in VIBRATED.bolts if check.on == pattern.name}
        assert {"bolts 1 to 3", "bolts 2 to 4", "bolts stand out"} <= told
    work = build(replace(GATE, done=("west", "tie")))
    after = vibration.vibration(work, 1.5 * inch, template.patterns(work).patterns)
    assert {check.on for check in after.bolts} == {"latch"}
    assert {block.name for block in after.blocks} == {"east", "east pad"}


def test_a_corner_strip_of_two_legs_keeps_the_head_off_its_own_face():
    shapely = pytest.importorskip("shapely")
    body = next(body for body in WORK.bodies if body.name == "west")
    edged = replace(body, outline=replace(body.outline, corners=6 * inch, returns=2 * inch, top=0.0))
    section = shapely.Polygon(shapes.corners(edged.outline))
    x, y = vibration._cells(edged)
    off = vibration._off_edge(edged, x, y)
    assert off == pytest.approx([section.exterior.distance(shapely.Point(*at)) for at in zip(x, y)], abs=1e-9)
    assert len(x) < len(vibration._cells(replace(edged, outline=replace(edged.outline, corners=0.0)))[0])
