"""What a hole takes beyond the design."""

import pytest

from batterboard.job import starting_file
from batterboard.job.reader import read_text
from batterboard.plan import Plan


@pytest.mark.parametrize("shape", ['round = "30 in"', 'sides = 8\nflats = "30 in"', 'square = "30 in"'])
def test_a_hole_dug_as_designed_takes_exactly_nothing_more(shape):
    text = starting_file("sign")
    assert 'round = "30 in"' in text
    plan = Plan(read_text(text.replace('round = "30 in"', shape)))
    assert [body.overdug for body in plan.work.bodies] == [0.0]
    assert plan.pour.tickets["ready"].volume > 0
