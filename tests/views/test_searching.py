"""What is said while the long searches run, and what stays when somebody stops them? Real processes, real signals."""

import io
import os
import pty
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from batterboard.job import read_job
from batterboard.plan import Plan
from batterboard.views import searching

ROOT = Path(__file__).parents[2]
GATE = ROOT / "tests/phases/gate.toml"
PIERS = 30


@pytest.fixture(scope="module")
def long_job(tmp_path_factory):
    """A run of piers, no two of one size: seconds of packing."""
    path = tmp_path_factory.mktemp("long") / "job.toml"
    head = """
[job]
name = "Posts"
units = "us"
codes = "IBC 2021, ASCE 7-16, ACI 318-19"
[site]
soil = { class = "sandy gravel", from = "table" }
frost = "12 in"
wind = { speed = "100 mph", exposure = "C" }
[ground]
grade = { level = "bench", down = "6 in" }
[levels.bench]
z = "100 ft"
[lines.row]
from = ["0 ft", "0 ft"]
to = ["600 ft", "0 ft"]
[mixes.foot]
strength = "4000 psi"
stone = "3/4 in"
slump = "4 in"
"""
    piers = [
        f"""
[piers.p{n}]
along = "{14 + n % 13} in"
across = "{15 + n % 11} in"
top = {{ level = "bench", up = "{2 + n % 7} in" }}
height = "{30 + n % 17} in"
place = [ {{ along = "row", ahead = "{8 * n} ft" }}, {{ from = "row", left = "6 ft" }}, {{ turn = "row" }} ]
bars = {{ up = "4 #5", ties = ["#4 @ 10 in"] }}
mix = "foot"
"""
        for n in range(1, PIERS + 1)
    ]
    path.write_text(head + "".join(piers))
    return path


def start(*arguments, stderr=subprocess.PIPE):
    return subprocess.Popen(
        [sys.executable, "-m", "batterboard", *map(str, arguments)],
        stdout=subprocess.PIPE,
        stderr=stderr,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
    )


def on_a_terminal(*arguments, stop_at=(), after=0.0):
    """The exit status, and what stood on the terminal; Ctrl-C each time such a text stands there."""
    ours, its = pty.openpty()
    with start(*arguments, stderr=its) as process:
        os.close(its)
        seen, waiting = b"", list(stop_at)
        while True:
            try:
                some = os.read(ours, 4096)
            except OSError:
                break
            if not some:
                break
            seen += some
            if waiting and waiting[0] in seen:
                waiting.pop(0)
                time.sleep(after)
                process.send_signal(signal.SIGINT)
        process.communicate()
    os.close(ours)
    return process.returncode, seen.decode()


def written(folder):
    return [path for path in folder.rglob("*") if path.is_file()]


def test_ctrl_c_takes_the_best_so_far_and_the_lists_are_written_whole(long_job, tmp_path):
    status, seen = on_a_terminal("lists", long_job, "-o", tmp_path, stop_at=[b"packing 3/4 in plywood"])
    assert status in (0, 1)
    assert "stopped by hand: 2x4, " in seen and "; bound " in seen and ", gap " in seen  # what follows is stopped, too
    cuts = next(tmp_path.glob("*stick-cuts.csv")).read_text()
    assert f"p{PIERS} yoke" in cuts and not [path for path in written(tmp_path) if path.name.startswith(".")]


def test_a_second_ctrl_c_stops_the_command_and_nothing_is_written(long_job, tmp_path):
    status, seen = on_a_terminal("book", long_job, "-o", tmp_path / "a.pdf", stop_at=[b"packing", b"stopped by hand"])
    assert status == 130 and seen.rstrip().endswith("stopped") and not written(tmp_path)


class Terminal(io.StringIO):
    def isatty(self):
        return True


def test_one_line_is_written_over_on_a_terminal_and_none_where_nobody_looks(monkeypatch):
    for listens, quiet, told in ((Terminal(), False, True), (Terminal(), True, False), (io.StringIO(), False, False)):
        monkeypatch.setattr(sys, "stderr", listens)
        searching.packed(Plan(read_job(GATE)), quiet=quiet)
        seen = listens.getvalue()
        assert ("packing 3/4 in plywood: proved" in seen) is told and "\n" not in seen
        assert seen.endswith("\r" + " " * searching.WIDE + "\r") is told
