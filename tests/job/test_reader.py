"""A job file becomes a frozen Job in SI, or every error of it at once."""

import subprocess
import sys
import time
from dataclasses import FrozenInstanceError, replace
from pathlib import Path

import pytest

from batterboard.job import Job, JobError, read_job, read_text
from batterboard.job.schema import BarRun, BoltSet, Step

EXAMPLES = Path(__file__).parents[2] / "examples"
GATE = EXAMPLES / "orchard-gate" / "job.toml"
AS_BUILT = EXAMPLES / "orchard-gate" / "as-built.toml"

SMALL = """\
[job]
name = "Small"
[ground]
grade = { level = "bench", down = "6 in" }
[levels.bench]
z = "100 ft"
[lines.lane]
from = ["0 ft", "0 ft"]
to = ["30 ft", "0 ft"]
[mixes.ready]
strength = "4000 psi"
[piers.west]
square = "20 in"
top = { level = "bench", up = "6 in" }
height = "36 in"
place = [ { along = "lane", ahead = "5 ft" }, { from = "lane", left = "2 ft" } ]
mix = "ready"
"""


def problems(text: str) -> list[str]:
    """What the reader says, without the file's name."""
    with pytest.raises(JobError) as caught:
        read_text(text, "f")
    assert all(p.mark.line >= 1 and p.mark.column >= 1 and p.problem for p in caught.value.problems)
    return [str(p).removeprefix("f:") for p in caught.value.problems]


def said(text: str) -> str:
    """The one thing that is wrong."""
    found = problems(text)
    assert len(found) == 1, found
    return found[0]


def line_of(text: str, part: str) -> int:
    return text[: text.index(part)].count("\n") + 1


# ---- what is read ----


def test_a_job_is_read_in_si_and_frozen() -> None:
    job = read_text(SMALL)
    pier = job.piers["west"]
    assert pier.height == pytest.approx(36 * 0.0254)
    assert pier.top is not None and pier.top.up == pytest.approx(6 * 0.0254)
    assert job.mixes["ready"].strength == pytest.approx(4000 * 6894.757293168361)
    assert pier.place[0] == Step(along="lane", ahead=pytest.approx(1.524))
    with pytest.raises(FrozenInstanceError):
        pier.height = 1.0  # type: ignore[misc]
    assert replace(pier, height=1.0).height == 1.0
    assert hash(pier.top) == hash(replace(pier.top))


def test_the_orchard_gate_has_all_that_its_file_says() -> None:
    job = read_job(GATE)
    assert list(job.piers) == ["west", "east"] and list(job.posts) == ["hinge", "latch"]
    west, east = job.piers["west"], job.piers["east"]
    assert west.bars is not None and west.bars.up == BarRun("#5", 8)
    assert west.bars.ties[0] == BarRun("#4", 2, pytest.approx(0.0508), "top")
    assert job.posts["latch"].joint == job.posts["hinge"].joint
    assert job.posts["hinge"].joint is not None
    assert job.posts["hinge"].joint.bolts == BoltSet(4, pytest.approx(0.01905), "F1554-36")
    assert east.pad is not None and east.pad.shift is not None and east.pad.shift.along == 0
    assert [lift.slump for lift in job.pour.lifts] == pytest.approx([4 * 0.0254, 6 * 0.0254])
    assert job.planned is None and job.contradicted == ()


def test_the_distance_between_the_posts_of_a_leaf_may_be_left_out() -> None:
    step = read_job(GATE).piers["east"].place[0]
    assert step.from_ == "west" and step.ahead is None and step.back is None
    broken = GATE.read_text("utf-8").replace(
        'shuts = { on = "latch", gap = "1 in", bolt = "side" }', 'shuts = { on = "latch" }'
    )
    assert "leaves.leaf.shuts: gap is missing" in said(broken)
    without = SMALL + SMALL[SMALL.index("[piers") :].replace("west", "east").replace('ahead = "5 ft"', 'from = "west"')
    assert "how far along the line is missing" in said(without)


def test_every_default_that_matters_is_an_assumption() -> None:
    job = read_text(SMALL)
    assumed = {a.path: a for a in job.assumed}
    assert {"job.units", "site.soil.class", "site.soil.stiff", "mixes.ready.slump", "pour.truck.load"} <= set(assumed)
    assert assumed["pour.truck.load"].value == pytest.approx(8 * 0.764554857984)
    assert assumed["pour.truck.load"].kind.name == "volume"
    assert assumed["site.soil.class"].kind is None
    assert "piers.west.edges" not in assumed
    written = read_text(SMALL.replace("[job]\n", '[job]\nunits = "us"\n'))
    assert "job.units" not in {a.path for a in written.assumed}


def test_metric_bars_and_bolts_are_read() -> None:
    pad = read_job(EXAMPLES / "pump-pad" / "job.toml")
    assert pad.job.units == "si"
    assert pad.pads["base"].bars is not None and pad.pads["base"].bars.along == BarRun("ø16", 6)
    assert pad.machines["pump"].joint.bolts == BoltSet(4, 0.02, "8.8")


def test_the_hash_is_that_of_the_text_whatever_its_line_ends(tmp_path: Path) -> None:
    unix, windows, marked = tmp_path / "a.toml", tmp_path / "b.toml", tmp_path / "c.toml"
    unix.write_bytes(SMALL.encode())
    windows.write_bytes(SMALL.replace("\n", "\r\n").encode())
    marked.write_bytes(b"\xef\xbb\xbf" + SMALL.encode())
    hashes = {read_job(p).digest for p in (unix, windows, marked)} | {read_text(SMALL).digest}
    assert len(hashes) == 1 and len(hashes.pop()) == 8
    assert read_text(SMALL + "# more\n").digest != read_text(SMALL).digest
    assert read_job(str(unix)).path == str(unix)


# ---- what is wrong, one thing at a time ----

WRONG = [
    ('square = "20 in"', "square = 20", '13:10: piers.west.square: a length needs its unit: write "20 in"'),
    ('square = "20 in"', 'square = "20 inn"', '13:10: piers.west.square: unknown unit "inn": did you mean "in"?'),
    ('square = "20 in"', 'square = "4000 psi"', "4000 psi is a pressure"),
    ('square = "20 in"', 'square = "1,5 m"', "write 1.5 m"),
    ('square = "20 in"', 'square = "-20 in"', "this length is never negative: directions are words"),
    ('square = "20 in"', 'square = ["20 in"]', "a list stands where a length belongs"),
    ('square = "20 in"', "square = true", "true stands where a length belongs"),
    ('square = "20 in"', 'square = "0 in"', 'this length must be more than zero: write it like "40 in"'),
    ('square = "20 in"', 'square = "20 mi"', "this length is too large for a job"),
    ('square = "20 in"', 'square = "1e-9 in"', "this length is too small for a job"),
    ('mix = "ready"', 'mix = "ready"\nbars = { up = "8 #5", ties = ["#3 @ 1 mm"] }', "bars cannot be spaced like that"),
    ("[job]", "[pour]\nwhen = 9999-12-31T23:59:59\n[job]", "9999 is too far from today"),
    ("[job]", "[pour]\nwhen = 2027-04-12T09:00:00Z\n[job]", "days here have no time zone"),
    ('square = "20 in"', "square = nan", "nan is no length"),
    ('square = "20 in"', "square = 0x" + "f" * 5000, "a number of many digits is no length"),
    ('square = "20 in"', "", "12:8: piers.west: it has no shape"),
    ('square = "20 in"', 'square = "20 in"\nround = "20 in"', "14:1: piers.west.round: it has two shapes"),
    ('square = "20 in"', 'along = "20 in"', "across is missing"),
    ('square = "20 in"', 'flats = "20 in"\nsides = 2', "a pier of 2 sides"),
    ("height =", "hieght =", 'unknown key "hieght": did you mean "height"?'),
    ('height = "36 in"\n', "", "only top is written: two of top, bottom and height"),
    ('height = "36 in"', 'height = "36 in"\nbottom = { below = "ground", down = "3 ft" }', "all three written"),
    ('height = "36 in"', 'height = "36 in"\nedges = { corners = "10 in" }', "eats half a side"),
    ('height = "36 in"', 'height = "36 in"\nedges = { top = "10 in" }', "eats the whole top"),
    ('height = "36 in"', 'height = "36 in"\nlean = "1 deg"', "put it under [found.piers.west]"),
    ('height = "36 in"', 'bottom = { level = "bench", up = "1 ft" }', "its top is not above its bottom"),
    (
        'level = "bench", up',
        'level = "bnech", up',
        '14:17: piers.west.top.level: there is no "bnech"; a name from levels',
    ),
    ('level = "bench", up', 'level = "lane", up', '"lane" stands in lines; a name from levels belongs here'),
    ('up = "6 in"', 'up = "6 in", down = "1 in"', "up and down both say how far"),
    (', up = "6 in"', "", "it does not say how far: write up or down"),
    ('up = "6 in"', "", "14:27: this is no name of a key"),
    ('level = "bench", up', 'above = "ground", down', "above goes with up"),
    ('level = "bench", up', 'above = "grond", up', 'only "ground" can be written'),
    ('{ from = "lane", left = "2 ft" } ', "", "an offset from a line is missing"),
    ('{ along = "lane", ahead = "5 ft" }, ', "", "a distance along a line is missing"),
    ('{ from = "lane", left', '{ from = "lane", rigth', 'unknown key "rigth": did you mean "right"?'),
    ('{ from = "lane", left', '{ along = "lane", ahead', "a distance along a line twice"),
    ('{ from = "lane", left = "2 ft" }', '{ from = "west", left = "2 ft" }', "an offset is measured from a line"),
    ('ahead = "5 ft"', 'ahead = "5 ft", back = "1 ft"', "ahead and back both say how far along the line"),
    (
        '{ from = "lane", left = "2 ft" }',
        '{ from = "lane", left = "2 ft" }, { turn = "lane", left = "1 ft" }',
        "a turn stands in a step of its own",
    ),
    ("place = [", "palce = [", 'did you mean "place"?'),
    ('mix = "ready"', 'mix = "redy"', 'there is no "redy"; a name from mixes belongs here: did you mean "ready"?'),
    ('mix = "ready"', "", "mix is missing: which mix"),
    ('mix = "ready"', "mix = 3", "3 stands where a name belongs"),
    ('mix = "ready"', 'mix = "ready"\nbars = { up = "8 5" }', '"8 5" is no run of bars: write it like "8 #5"'),
    ('mix = "ready"', 'mix = "ready"\nbars = { up = "8 #55" }', 'there is no bar "#55" in the tables'),
    ('mix = "ready"', 'mix = "ready"\nbars = { up = "#5 @ 10 in" }', "these bars are counted, not spaced"),
    ('mix = "ready"', 'mix = "ready"\nbars = { up = "2 #5" }', "a cage of 2 uprights"),
    ('mix = "ready"', 'mix = "ready"\nbars = { up = "8 #5", ties = ["3 #3"] }', "the spacing of these ties is missing"),
    ('mix = "ready"', 'mix = "ready"\nbars = { up = "8 #5", ties = ["#3 @ 9 in", "#3 @ 8 in"] }', "runs through"),
    ('mix = "ready"', 'mix = "ready"\nbars = { up = "900000 #5" }', "from 1 to 400"),
    ('mix = "ready"', 'mix = "ready"\npad_bars = { along = "5 #5", across = "5 #5" }', "pad_bars needs pad"),
    ('strength = "4000 psi"', 'strength = "4000 psi"\nslag = "140 %"', "a share of the whole or more"),
    ('strength = "4000 psi"', 'strength = "4000 psi"\nretarder = "yes"', "write true or false, without quotes"),
    ('strength = "4000 psi"', 'strength = "4000 psi"\ncement = "Type 2"', "is not one of Type I, Type II, Type III"),
    ('z = "100 ft"', 'z = "100 ft"\n[levels.west]\nz = "1 ft"', '"west" is also the name of something in levels'),
    ("[levels.bench]", '[levels.bench]\n[levels."a.b"]\nz = "1 ft"\n[levels.c]', "bench: z is missing"),
    ('to = ["30 ft", "0 ft"]', 'to = ["0 ft", "0 ft"]', "this line has no length"),
    ('to = ["30 ft", "0 ft"]', 'to = ["30 ft"]', "1 values where 2 values belong"),
    ('to = ["30 ft", "0 ft"]', "", "from needs to beside it"),
    ('grade = { level = "bench", down = "6 in" }', "", "the job does not say where the ground lies"),
    (
        "grade = { level",
        'spots = [["0 ft", "0 ft", "0 ft"], ["1 ft", "0 ft", "0 ft"], ["2 ft", "0 ft", "0 ft"]]\n#',
        "in one line",
    ),
    ('name = "Small"', 'name = "Small"\nunits = "uss"', 'did you mean "us"?'),
    ('name = "Small"', "", "1:2: job: name is missing: what the job is called"),
    ('[job]\nname = "Small"\n', "", "1:1: job is missing"),
    ("[job]", "[jobs]\n[job]", 'unknown table "jobs": did you mean "job"?'),
    ("[job]", "done = ['west']\n[job]", "put done under [found]"),
    ("[job]", "piers = 3\n[job]", None),
    ("[job]", "[site]\nexposed = ['F9']\n[job]", '"F9" is no exposure class'),
    ("[job]", "[site]\nsoil = { class = 'snad' }\n[job]", 'did you mean "sand"?'),
    ("[job]", "[pour]\nwhen = 2027-04-12\n[job]", "write 2027-04-12T09:00:00"),
    ("[job]", "[pour]\nlifts = [ { of = ['wset'] } ]\n[job]", 'did you mean "west"?'),
    ("[job]", "[pour]\nlifts = [ { of = [] } ]\n[job]", "this lift places nothing"),
    ("[job]", "[pour]\nlifts = [ { of = ['west', 'west'] } ]\n[job]", '"west" is placed in lift 1 already'),
    ("[job]", "[pour]\nlifts = { of = ['west'] }\n[job]", "a table stands where a list belongs"),
    ("[job]", "[stock]\nsheets = [ { of = '3/4 in cardboard', size = ['8 ft', '4 ft'] } ]\n[job]", "there is no sheet"),
    (
        "[job]",
        "[measured]\nreadings = [ { level = 'wset.top', from = 'bench', up = '1 ft' } ]\n[job]",
        'did you mean "west"?',
    ),
    (
        "[job]",
        "[measured]\nreadings = [ { level = 'west.bolt.1', from = 'bench', up = '1 ft' } ]\n[job]",
        "carries no bolts",
    ),
    ("[job]", "[stock]\nsheets = [ { of = '', size = ['8 ft', '4 ft'] } ]\n[job]", "there is no sheet"),
    ("[job]", "[measured]\nreadings = [ { across = ['west', 'west'], tape = '1 ft' } ]\n[job]", "the same point"),
    (
        "[job]",
        "[pipes.p]\npipe = '1 in PVC 40'\nroute = [ { up_in = 'west', to = '6 in below top' } ]\n[job]",
        "6 in above top",
    ),
    ("[job]", "[pipes.p]\npipe = '1 in PVC 41'\nroute = [ { up_in = 'west' } ]\n[job]", 'did you mean "1 in PVC 40"?'),
]


@pytest.mark.parametrize("old, new, expected", WRONG, ids=[str(n) for n in range(len(WRONG))])
def test_each_fault_is_told_where_it_stands_with_what_would_be_right(old: str, new: str, expected: str | None) -> None:
    assert old in SMALL
    text = SMALL.replace(old, new, 1)
    if expected is None:
        assert problems(text)
    else:
        assert any(expected in problem for problem in problems(text)), problems(text)


POST = """\
[posts.hinge]
on = "west"
section = "HSS5X5X1/4"
height = "6 ft"
[posts.hinge.joint]
plate = ["12 in", "12 in", "3/4 in"]
bolts = "4 x 3/4 in F1554-36"
square = "9 in"
deep = "15 in"
proud = "4 in"
"""
POST_WRONG = [
    ('square = "9 in"', 'square = "9 in"\ncircle = "9 in"', "square and circle both say how the bolts stand"),
    ('square = "9 in"\n', "", "it does not say how the bolts stand"),
    ('"4 x 3/4', '"6 x 3/4', "6 bolts do not make a square"),
    ('square = "9 in"', 'circle = "9 in"', None),
    ('square = "9 in"', 'at = [["1 in", "1 in"]]', "4 bolts for 1 points"),
    ('square = "9 in"', 'square = "12 in"', "the bolts do not stand on the plate"),
    ('square = "9 in"', 'square = "9 in"\nhole = "1/2 in"', "the bolt does not go through this hole"),
    ('"4 x 3/4 in F1554-36"', '"4 of 3/4 in"', 'is no set of bolts: write it like "4 x 3/4 in F1554-36"'),
    ('"4 x 3/4 in F1554-36"', '"4 x 3/4 in F1554-37"', "F1554-37"),
    ('"4 x 3/4 in F1554-36"', '"4 x 0.8 in F1554-36"', "3/4 in"),
    ('section = "HSS5X5X1/4"', 'section = "HSS5X5X1/7"', "did you mean"),
    ('on = "west"', 'on = "wset"', 'did you mean "west"?'),
    ('on = "west"\n', "", "it does not say where it stands"),
    ('on = "west"', 'set = { in = "west", deep = "2 ft" }', "a post that is cast in has no plate"),
    ('on = "west"', 'on = "bench"', '"bench" stands in levels; a name from piers or pads belongs here'),
    ('height = "6 ft"', 'height = "6 ft"\nlike = "latch"', 'there is no "latch" to be like'),
]


@pytest.mark.parametrize("old, new, expected", POST_WRONG, ids=[str(n) for n in range(len(POST_WRONG))])
def test_a_post_is_judged_with_its_plate_and_bolts(old: str, new: str, expected: str | None) -> None:
    text = SMALL + POST.replace(old, new, 1)
    if expected is None:
        read_text(text)
    else:
        assert expected in said(text)


LEAF = """\
[leaves.leaf]
hung = { on = "hinge", heights = ["12 in", "50 in"], gap = "2 in" }
shuts = { on = "latch", gap = "1 in" }
size = ["10 ft", "4 ft"]
weight = "200 lb"
"""
TWO_POSTS = (
    SMALL
    + SMALL[SMALL.index("[piers") :].replace("west", "east")
    + POST
    + '[posts.latch]\nlike = "hinge"\non = "east"\n'
)


@pytest.mark.parametrize(
    "old, new, expected",
    [
        ('["12 in", "50 in"]', '["50 in", "12 in"]', "the upper hinge is not above the lower one"),
        ('["12 in", "50 in"]', '["12 in", "80 in"]', 'the upper hinge is above the top of post "hinge"'),
        ('shuts = { on = "latch"', 'shuts = { on = "leaf"', "a leaf cannot shut on itself"),
        ('shuts = { on = "latch"', 'shuts = { on = "hinge"', "it shuts on the post it hangs on"),
        ('weight = "200 lb"', 'weight = "200 lb"\nsolid = 35', "more than all of its area"),
        ('weight = "200 lb"', 'weight = "200 psi"', "200 psi is a pressure"),
    ],
)
def test_a_leaf_hangs_and_shuts_on_what_there_is(old: str, new: str, expected: str) -> None:
    read_text(TWO_POSTS + LEAF)
    assert expected in said(TWO_POSTS + LEAF.replace(old, new, 1))


def test_two_leaves_shut_on_each_other() -> None:
    twin = '[leaves.b]\nlike = "leaf"\nhung = { on = "latch" }\nshuts = { on = "leaf" }\n'
    both = TWO_POSTS + LEAF.replace('on = "latch"', 'on = "b"') + twin
    assert read_text(both).leaves["b"].hung.heights == read_text(both).leaves["leaf"].hung.heights
    assert '"b" does not shut on "leaf"' in said(both.replace('shuts = { on = "leaf" }', 'shuts = { on = "hinge" }'))
    assert problems(both.replace('hung = { on = "latch" }', 'hung = { on = "hinge" }'))


def test_places_and_lines_that_hang_on_themselves_are_refused() -> None:
    east = (
        SMALL[SMALL.index("[piers") :]
        .replace("west", "east")
        .replace('ahead = "5 ft"', 'from = "west", ahead = "5 ft"')
    )
    circle = SMALL.replace('ahead = "5 ft"', 'from = "east", ahead = "5 ft"') + east
    found = problems(circle)
    assert len(found) == 2 and all("this place is measured from itself" in p for p in found)
    lines = '[lines.a]\nbeside = "b"\nleft = "1 ft"\n[lines.b]\nbeside = "a"\nleft = "1 ft"\n'
    assert all("this line hangs on itself" in p for p in problems(SMALL + lines))
    square = '[lines.gate]\nsquare_to = "lane"\nat = "10 ft"\n'
    assert "both measure the same way" in said(SMALL.replace('from = "lane", left', 'from = "gate", left') + square)


# ---- many at once ----


def test_all_errors_of_a_file_come_in_one_run_in_the_files_order() -> None:
    text = SMALL.replace('"100 ft"', "100").replace("height", "hieght").replace('mix = "ready"', 'mix = "redy"')
    text = text.replace('name = "Small"', 'name = "Small')  # the quotes are not closed, and yet the rest is read
    found = problems(text)
    lines = [int(problem.split(":")[0]) for problem in found]
    assert lines == sorted(lines)
    assert {line_of(text, part) for part in ("name =", "z =", "hieght", "mix =")} <= set(lines)


def test_an_error_inherited_by_a_twin_is_told_once_where_it_was_written() -> None:
    text = SMALL.replace('"36 in"', '"36 inn"') + '[piers.east]\nlike = "west"\n[piers.north]\nlike = "west"\n'
    assert said(text).startswith(f"{line_of(text, 'height')}:10: piers.west.height: unknown unit")


def test_a_flood_of_errors_is_cut_short() -> None:
    text = SMALL + "".join(f"wrong{n} = 1\n" for n in range(5000))
    assert 100 <= len(problems(text)) <= 250


def test_a_key_or_table_written_twice_is_told() -> None:
    assert "written twice" in said(SMALL.replace('name = "Small"', 'name = "Small"\nname = "Twice"'))
    assert "written twice" in said(SMALL + '[piers.west]\nround = "1 ft"\n')


# ---- files that are no job ----


@pytest.mark.parametrize(
    "data, expected",
    [
        (b"", "job is missing"),
        (b"\xff\xfe[\x00j\x00", "1:1: this is UTF-16 text"),
        (b'[job]\nname = "caf\xe9"\n', "2:12: this is no UTF-8 text"),
        (b"\x00\x01\x02", "1:1"),
        (bytes(range(256)) * 40, "UTF-8"),
        (b"#" * 2_000_000, "too large"),
        (b"a = " + b"[" * 100_000, "nested too deeply"),
        (b"a = " + b"[" * 400 + b"]" * 400, None),
        (b"a = " + b"{ a = " * 3000 + b"1" + b" }" * 3000, "nested too deeply"),
        (b"a" + b".a" * 100_000 + b" = 1", "too many names in one key"),
        (b"[a" + b".a" * 100_000 + b"]", "too many names in one key"),
        (b"[job]\nname = " + b"9" * 100_000, "2:1: a number of too many digits"),
        (b"[job]\nname = 0x" + b"f" * 100_000, "a number of many digits stands where words belong"),
        (b"[job\nname = 1", "the bracket of this table is not closed"),
        (b"[job]\nname", "an equals sign is missing"),
        (b"[job]\nname = ", "this value cannot be read"),
        (b'[job]\nname = "x', "the quotes are not closed"),
        (b"[job]\nname = 5 ft\nnote = 6 in", "there is something left behind the value"),
        (b"[job]\nname = 2027-02-30", "there is no such day"),
        (b"[job]\nname = 1\r2", ""),
        (b"\n\n? = 1", "3:1: this is no line of a job file"),
    ],
    ids=range(21),
)
def test_no_file_gives_more_than_errors(tmp_path: Path, data: bytes, expected: str | None) -> None:
    path = tmp_path / "f"
    path.write_bytes(data)
    began = time.perf_counter()
    with pytest.raises(JobError) as caught:
        read_job(path)
    assert time.perf_counter() - began < 5
    assert caught.value.exit_status == 2
    assert all(p.mark.line >= 1 and p.mark.column >= 1 for p in caught.value.problems)
    assert str(caught.value).startswith(f"{path}:")
    assert expected is None or expected in str(caught.value)


def test_a_missing_file_a_folder_and_a_bad_name_are_errors(tmp_path: Path) -> None:
    (tmp_path / "gate.toml").write_text(SMALL)
    for name, expected in [
        ("gaet.toml", 'did you mean "gate.toml"?'),
        ("", "this is a folder"),
        ("a\0b", "cannot be opened"),
    ]:
        with pytest.raises(JobError, match="1:1") as caught:
            read_job(str(tmp_path / name) if name != "a\0b" else name)
        assert expected in str(caught.value)


def test_a_name_may_hold_letters_of_any_language() -> None:
    text = SMALL.replace("[piers.west]", '[piers."Säule 1"]')
    assert list(read_text(text).piers) == ["Säule 1"]
    for odd in ('"a.b"', '""', '"a\\nb"', '"pads"', '"x.1"'):
        if odd != '"x.1"':
            assert problems(SMALL.replace("[piers.west]", f"[piers.{odd}]"))


# ---- speed ----


def test_reading_is_quick_and_brings_no_arrays() -> None:
    read_job(GATE)
    best = min(_seconds(AS_BUILT) for _ in range(5))
    assert best < 0.05  # some 5 ms on a quiet machine
    code = "import sys, batterboard.job; sys.exit('numpy' in sys.modules or 'pydantic' in sys.modules)"
    assert (
        subprocess.run([sys.executable, "-c", code], env={"PYTHONPATH": str(EXAMPLES.parent / "src")}).returncode == 0
    )


def _seconds(path: Path) -> float:
    began = time.perf_counter()
    assert isinstance(read_job(path), Job)
    return time.perf_counter() - began


def test_a_message_stays_on_its_line_whatever_the_names() -> None:
    odd = '"a\\nb' + "x" * 3000 + '"'
    text = SMALL.replace("[piers.west]", f"[piers.{odd}]") + f"[beams.b]\nbetween = [{odd}, {odd}]\n[{odd}]\n"
    assert all("\n" not in problem and len(problem) < 1200 for problem in problems(text))
    padded = SMALL + SMALL[SMALL.index("[piers") :].replace("[piers.west]", '[piers."west pad"]')
    assert '"west pad" has a meaning of its own' in said(padded)


@pytest.mark.parametrize(
    "to, says",
    [
        ("east", 'there is no "east"; a mark, something placed or a bolt on it belongs here'),
        ("west.top", "a mark, something placed or a bolt on it belongs here"),
        ("west.bolt.1", '"west" carries no bolts'),
        ("lane", '"lane" stands in lines'),
        ("nail.centre", '"nail" is a mark'),
        ("nail", "this line has no length"),
    ],
)
def test_a_line_is_held_at_what_is_there(to, says):
    line = f'[marks.nail]\nat = ["1 ft", "1 ft"]\n[lines.cross]\nfrom = "nail"\nto = "{to}"\n'
    assert says in said(SMALL + line)


def test_a_line_that_runs_through_what_hangs_on_it_is_a_circle_named_at_the_line():
    ring = '[lines.cross]\nfrom = "west.centre"\nto = ["9 ft", "9 ft"]\n'
    text = SMALL.replace('{ along = "lane"', '{ along = "cross"') + ring
    problem = said(text)
    assert problem.startswith(f"{line_of(text, '[lines.cross]')}:")
    assert "this line hangs on itself, by way of west.centre" in problem


def test_ground_that_falls_along_a_line_may_carry_what_the_line_runs_through_unless_that_leans():
    ring = '[lines.cross]\nfrom = "west"\nto = ["9 ft", "9 ft"]\n'
    text = SMALL.replace('down = "6 in" }', 'down = "6 in", falls = { along = "cross", one_in = 80 } }') + ring
    assert read_text(text).lines["cross"].from_ == "west"


def test_a_job_name_too_long_for_a_page_is_refused() -> None:
    for name in ("x" * 41, "orchard " * 20):
        with pytest.raises(JobError) as refused:
            read_text(f'[job]\nname = "{name}"\n')
        assert [str(p.mark) for p in refused.value.problems] == ["job.toml:2:8"]
