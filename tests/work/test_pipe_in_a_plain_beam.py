"""A conduit in a beam that has no bars."""

from pathlib import Path

import numpy as np
import pytest

from batterboard.job import read_text
from batterboard.work.build import build

GATE = Path(__file__).parents[2] / "examples" / "orchard-gate" / "job.toml"


def test_a_conduit_lies_against_the_form_where_a_beam_has_no_bars():
    text = GATE.read_text()
    start = text.index("bars = { top = ")
    plain = text[:start] + text[text.index("\n", start) :]
    work = build(read_text(plain))
    pipe, beam = work.pipes["power"], work.beams["tie"]
    across = beam.frame.into(pipe.x, pipe.y)[1]
    assert np.isfinite(pipe.x).all() and np.isfinite(pipe.z).all()
    assert np.max(across) + pipe.size.outside / 2 == pytest.approx(beam.body.outline.across / 2)
