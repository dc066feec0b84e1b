"""Small invented jobs to build."""

from collections.abc import Callable

import pytest

from batterboard.job import read_text
from batterboard.job.schema import Job

GATE = """
[job]
name = "invented gate"
[site]
soil = { class = "sand" }
[ground]
grade = { level = "bench", down = "0.2 m" }
[levels.bench]
z = "10 m"
[marks.nail]
at = ["1 m", "2 m"]
[lines.lane]
from = "nail"
to = ["31 m", "2 m"]
[lines.gate]
square_to = "lane"
at = "8 m"
[mixes.stiff]
strength = "4000 psi"
slump = "4 in"
[piers.west]
along = "0.56 m"
across = "0.5 m"
edges = { corners = "5 cm", top = "2 cm" }
top = { level = "bench", up = "0.2 m" }
height = "1 m"
pad = { along = "1.4 m", across = "1.2 m", thick = "0.4 m", shift = { along = "0.12 m" } }
place = [ { along = "lane", ahead = "8 m" }, { from = "lane", left = "2 m" }, { turn = "gate" } ]
bars = { up = "8 #5", ties = ["3 #3 @ 5 cm from top", "#3 @ 25 cm"] }
pad_bars = { along = "5 #5", across = "6 #5", at = "bottom" }
mix = "stiff"
[piers.east]
like = "west"
place = [ { along = "gate", from = "west" }, { from = "gate", left = "0 in" }, { turn = "gate" } ]
[beams.tie]
between = ["west", "east"]
wide = "0.36 m"
deep = "0.5 m"
top = { level = "bench", down = "0.6 m" }
bars = { top = "2 #5", bottom = "3 #5", ties = ["4 #3 @ 10 cm from each end", "#3 @ 20 cm"] }
mix = "stiff"
[posts.hinge]
on = "west"
section = "HSS5X5X1/4"
height = "2 m"
joint = { plate = ["12 in", "12 in", "3/4 in"], grout = "1 in", bolts = "4 x 3/4 in F1554-36", square = "0.2 m", deep = "0.4 m", proud = "4 1/2 in" }
[posts.latch]
on = "east"
like = "hinge"
[leaves.leaf]
hung = { on = "hinge", gap = "6 cm" }
shuts = { on = "latch", gap = "2 cm" }
size = ["4 m", "1.5 m"]
weight = "380 lb"
"""  # noqa: E501


@pytest.fixture(scope="session")
def gate() -> Callable[..., Job]:
    """The gate, with more text at its end, and some of its text put otherwise."""

    def job(more: str = "", put: dict[str, str] | None = None) -> Job:
        text = GATE
        for old, new in (put or {}).items():
            assert old in text, old
            text = text.replace(old, new)
        return read_text(text + more)

    return job
