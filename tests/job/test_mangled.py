"""No input, however mangled, gives anything but a Job or errors with a place."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batterboard.job import Job, JobError, read_job, read_text

ROOT = Path(__file__).parents[2]
JOBS = [*sorted(ROOT.glob("examples/*/*.toml")), *sorted(ROOT.glob("src/batterboard/job/starting_files/*.toml"))]
TEXTS = [path.read_text("utf-8") for path in JOBS]
TOKENS = sorted({token for text in TEXTS for token in re.findall(r'"[^"\n]*"|[\w.]+|[\[\]{}=,]', text)})
ODD = [
    "",
    "0",
    "-1",
    "1e400",
    "nan",
    "-inf",
    "true",
    "9" * 5000,
    '"0 in"',
    '"-1 in"',
    '"1e9 ft"',
    '"1/0 in"',
    '"🧱"',
    '""',
]
ODD += [
    "[]",
    "{}",
    "[[]]",
    "{ a = 1 }",
    '"\\u0000"',
    "1979-05-27",
    "07:32:00",
    "2027-04-12T09:00:00+23:59",
    '"west"',
    "like",
]


def holds_up(text: str) -> None:
    try:
        assert isinstance(read_text(text), Job)
    except JobError as errors:
        lines = text.count("\n") + 1
        assert errors.problems
        for problem in errors.problems:
            assert 1 <= problem.mark.line <= lines and problem.mark.column >= 1
            assert problem.problem and "\n" not in str(problem) and len(str(problem)) < 1000


texts = st.sampled_from(TEXTS)


@given(st.data())
@settings(max_examples=120)
def test_bytes_changed_anywhere(data: st.DataObject) -> None:
    whole = bytearray(data.draw(texts).encode())
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(whole) - 1))
        whole[at : at + data.draw(st.integers(0, 3))] = data.draw(st.binary(max_size=3))
    holds_up(whole.decode("utf-8", "replace"))


@given(st.data())
@settings(max_examples=120)
def test_lines_dropped_doubled_and_moved(data: st.DataObject) -> None:
    lines = data.draw(texts).split("\n")
    for _ in range(data.draw(st.integers(1, 4))):
        a, b = (data.draw(st.integers(0, len(lines) - 1)) for _ in range(2))
        how = data.draw(st.sampled_from(["drop", "double", "move"]))
        line = lines[a] if how == "double" else lines.pop(a)
        if how != "drop":
            lines.insert(b, line)
    holds_up("\n".join(lines))


@given(st.data())
@settings(max_examples=200)
def test_keys_and_values_put_in_each_others_place(data: st.DataObject) -> None:
    text = data.draw(texts)
    for _ in range(data.draw(st.integers(1, 3))):
        places = list(re.finditer(r'"[^"\n]*"|[\w.]+', text))
        place = data.draw(st.sampled_from(places))
        text = text[: place.start()] + data.draw(st.sampled_from(TOKENS + ODD)) + text[place.end() :]
    holds_up(text)


@given(st.data())
@settings(max_examples=100)
def test_a_value_of_any_other_kind(data: st.DataObject) -> None:
    text = data.draw(texts)
    places = list(re.finditer(r"= ([^\n#]*\S)", text))
    place = data.draw(st.sampled_from(places))
    holds_up(text[: place.start(1)] + data.draw(st.sampled_from(ODD)) + text[place.end(1) :])


@given(st.data())
@settings(max_examples=100)
def test_a_table_of_one_job_found_in_another(data: st.DataObject) -> None:
    tables = re.split(r"(?m)^(?=\[)", data.draw(texts))
    other = re.split(r"(?m)^(?=\[)", data.draw(texts))
    table = data.draw(st.sampled_from(other))
    if data.draw(st.booleans()):
        table = re.sub(r"^\[", "[found.", table)
    holds_up("".join(tables) + table)


@given(st.text(max_size=200) | st.text("[]{}=\"'.,#\n abc1-_\\", max_size=120))
@settings(max_examples=200)
def test_any_text(text: str) -> None:
    holds_up(text)


@given(st.binary(max_size=200))
@settings(max_examples=60)
def test_any_bytes(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    path = tmp_path_factory.getbasetemp() / "bytes.toml"
    path.write_bytes(data)
    with pytest.raises(JobError):
        read_job(path)


@pytest.mark.parametrize(
    "where", ["", "job", "site", "site.soil", "piers", "piers.west", "found", "found.piers", "found.piers.west"]
)
@pytest.mark.parametrize(
    "what", ["= 3", "= []", "= [1]", '= "x"', "= {}", "= { a = { b = { c = 1 } } }", ".a.b.c.d = 1"]
)
def test_any_kind_of_value_for_any_table(where: str, what: str) -> None:
    if where:
        holds_up(f"{where} {what}\n")
        holds_up(f"{TEXTS[1]}\n[extra]\n".replace("[extra]", f"[found.posts]\n{where} {what}"))
