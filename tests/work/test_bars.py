"""Where does every bar lie? Inside its cover, where the builder would tie it."""

from dataclasses import replace

import numpy as np
import pytest

from batterboard.work.bars import StructureError
from batterboard.work.build import build

INCH = 0.0254
NO3, NO5 = 0.375 * INCH, 0.625 * INCH
PIER_COVER, EARTH_COVER = 1.5 * INCH, 3 * INCH


def bars_of(element, role):
    return [bar for bar in element.bars if bar.role == role]


def one(element, role):
    (bar,) = bars_of(element, role)
    return bar


def test_marks_are_numbered_by_element_and_never_meet(gate):
    work = build(gate())
    marks = [bar.mark for element in (*work.piers.values(), *work.beams.values()) for bar in element.bars]
    assert marks == ["W1", "W2", "W3", "W4", "E1", "E2", "E3", "E4", "T1", "T2", "T3"]


def test_uprights_stand_in_the_corners_and_in_the_middle_of_the_faces(gate):
    up = one(build(gate()).piers["west"], "up")
    a, c = (side / 2 - PIER_COVER - NO3 - NO5 / 2 for side in (0.56, 0.50))
    assert up.x[:, -1] == pytest.approx([a, 0, -a, -a, -a, 0, a, a])
    assert up.y[:, -1] == pytest.approx([c, c, c, 0, -c, -c, -c, 0])


def test_uprights_stand_on_the_mat_with_their_feet_out(gate):
    pier = build(gate()).piers["west"]
    up = one(pier, "up")
    assert up.shape == "L"
    low = pier.pad.bottom + EARTH_COVER + 2 * NO5
    assert up.z[0] == pytest.approx([low + NO5 / 2, low + NO5 / 2, pier.top - PIER_COVER])
    assert up.legs == pytest.approx((10 * INCH, pier.top - PIER_COVER - low))
    out = np.hypot(up.x, up.y)
    assert out[:, 0] - out[:, 1] == pytest.approx(10 * INCH - NO5 / 2)
    inward = build(gate(put={'"#3 @ 25 cm"]': '"#3 @ 25 cm"], hook = "in"'})).piers["west"]
    assert np.all(np.hypot(*(v[:, 0] for v in (bars_of(inward, "up")[0].x, bars_of(inward, "up")[0].y))) < out[:, 1])


def test_ties_follow_the_first_rule_that_wins_counted_from_the_top(gate):
    pier = build(gate()).piers["west"]
    ties = one(pier, "tie")
    # 3 at 5 cm, then every 25 cm; 10 cm are left to the pad, less than half a step.
    assert pier.top - ties.z[:, 0] == pytest.approx([0.05, 0.10, 0.15, 0.40, 0.65, 0.90])
    assert ties.legs == pytest.approx((0.56 - 2 * PIER_COVER, 0.50 - 2 * PIER_COVER) * 2)
    assert np.ptp(ties.x, axis=1) == pytest.approx(0.56 - 2 * PIER_COVER - NO3)
    longer = build(gate(put={'height = "1 m"': 'height = "1.1 m"'})).piers["west"]
    # There 20 cm would be left: one more stands half a step above the pad.
    assert longer.top - bars_of(longer, "tie")[0].z[-2:, 0] == pytest.approx([0.90, 1.1 - 0.125])


def test_a_bar_found_missing_is_left_out(gate):
    planned, found = (
        build(gate(more)).piers["west"] for more in ("", '[found.piers.west]\nbars = { missing = ["tie 4", "up 2"] }')
    )
    assert found.missing == ("tie 4", "up 2")
    assert one(found, "up").count == 7
    assert one(found, "tie").z[:, 0] == pytest.approx(np.delete(one(planned, "tie").z[:, 0], 3))


def test_a_mat_lies_on_its_cover_along_below_across(gate):
    pier = build(gate()).piers["west"]
    along, across = one(pier, "pad along"), one(pier, "pad across")
    assert (along.count, across.count) == (5, 6)
    assert along.z == pytest.approx(np.full((5, 2), pier.pad.bottom + EARTH_COVER + NO5 / 2))
    assert across.z == pytest.approx(np.full((6, 2), pier.pad.bottom + EARTH_COVER + NO5 * 1.5))
    # In the pier's axes, about the middle of a pad that is shifted 12 cm ahead.
    assert along.x[0] == pytest.approx([0.12 - 0.7 + EARTH_COVER, 0.12 + 0.7 - EARTH_COVER])
    assert along.y[[0, -1], 0] == pytest.approx([0.6 - EARTH_COVER - NO5 / 2, -0.6 + EARTH_COVER + NO5 / 2])
    assert across.x[:, 0].mean() == pytest.approx(0.12)


def test_a_mat_that_is_spaced_has_bars_no_wider_apart(gate):
    pad_bars = 'pad_bars = { along = "5 #5", across = "6 #5", at = "bottom" }'
    spaced = 'pad_bars = { along = "#5 @ 20 cm", across = "#4 @ 25 cm", at = "both" }'
    pier = build(gate(put={pad_bars: spaced})).piers["west"]
    low, high = bars_of(pier, "pad along")
    assert low.count == high.count == 7
    assert np.all(-np.diff(low.y[:, 0]) <= 0.2)
    assert high.z[0, 0] == pytest.approx(pier.pad.top - EARTH_COVER - NO5 / 2)


def test_beam_bars_run_on_into_both_piers_and_hook_there(gate):
    work = build(gate())
    beam = work.beams["tie"]
    top, bottom = one(beam, "top"), one(beam, "bottom")
    clear = beam.body.outline.along
    assert (top.count, bottom.count) == (2, 3)
    assert top.legs == pytest.approx((10 * INCH, clear + 2 * (0.56 - EARTH_COVER), 10 * INCH))
    assert top.x[0, 1] == pytest.approx(-clear / 2 - 0.56 + EARTH_COVER + NO5 / 2)
    assert np.all(top.z[:, 0] < top.z[:, 1]) and np.all(bottom.z[:, 0] > bottom.z[:, 1])
    assert bottom.z[0, 1] == pytest.approx(beam.body.bottom + EARTH_COVER + NO3 + NO5 / 2)
    assert bottom.y[:, 0] == pytest.approx(np.array([1, 0, -1]) * (0.18 - EARTH_COVER - NO3 - NO5 / 2))


def test_beam_ties_are_closer_at_each_end_and_even_between(gate):
    beam = build(gate()).beams["tie"]
    x = one(beam, "tie").x[:, 0] + beam.body.outline.along / 2
    assert x[:4] == pytest.approx([0.1, 0.2, 0.3, 0.4])
    assert beam.body.outline.along - x[-4:] == pytest.approx([0.4, 0.3, 0.2, 0.1])
    steps = np.diff(x[3:-3])
    assert steps == pytest.approx(steps[0]) and 0.18 < steps[0] <= 0.2


@pytest.mark.parametrize("shape", ['round = "0.6 m"', 'sides = 6\nflats = "0.6 m"', 'sides = 8\nflats = "0.6 m"'])
def test_round_and_polygonal_cages_keep_their_cover(gate, shape):
    pier = build(
        gate(put={'along = "0.56 m"\nacross = "0.5 m"\nedges = { corners = "5 cm", top = "2 cm" }': shape})
    ).piers["west"]
    up, tie = one(pier, "up"), one(pier, "tie")
    sides = pier.shaft.outline.sides if "sides" in shape else 360
    # How far each point lies behind the nearest face.
    normals = 2 * np.pi * np.arange(sides) / sides
    behind = 0.3 - np.max(tie.x[..., None] * np.cos(normals) + tie.y[..., None] * np.sin(normals), axis=-1)
    assert behind == pytest.approx(PIER_COVER + NO3 / 2, abs=1e-4)
    behind = 0.3 - np.max(up.x[:, -1:] * np.cos(normals) + up.y[:, -1:] * np.sin(normals), axis=-1)
    assert np.min(behind) == pytest.approx(PIER_COVER + NO3 + NO5 / 2, abs=1e-4)
    assert tie.shape == ("hoop" if "round" in shape else "closed tie")


def test_variants_of_one_structure_lie_where_single_jobs_have_them(gate):
    job = gate()
    west = job.piers["west"]
    sizes, shift = np.array([0.56, 0.6, 0.45]), np.array([0.0, 0.1, 0.2])

    def with_sizes(along, ahead):
        pad = replace(west.pad, shift=replace(west.pad.shift, along=ahead))
        return replace(job, piers={**job.piers, "west": replace(west, along=along, pad=pad)})

    many = build(with_sizes(sizes, shift))
    for v in range(3):
        single = build(with_sizes(float(sizes[v]), float(shift[v])))
        for name in ("west", "tie"):
            element = {**many.piers, **many.beams}[name]
            for ours, theirs in zip(element.bars, {**single.piers, **single.beams}[name].bars):
                for axis in "xyz":
                    values = getattr(ours, axis)
                    values = values if values.ndim == 2 else values[..., v]
                    assert values == pytest.approx(getattr(theirs, axis))


def test_variants_with_other_counts_of_bars_are_refused(gate):
    job = gate()
    tall = replace(job, piers={**job.piers, "west": replace(job.piers["west"], height=np.array([1.0, 2.0]))})
    with pytest.raises(StructureError, match="lay them apart"):
        _ = build(tall).piers["west"].bars
