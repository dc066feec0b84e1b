"""The starting files, the examples and the JSON Schema say the same as the reader."""

import json
import re
import tomllib
from datetime import datetime
from pathlib import Path

import pytest

from batterboard.job import KINDS, JobError, read_job, read_text, starting_file
from batterboard.job.json_schema import SHIPPED, as_text, json_schema
from batterboard.job.reading import keys
from batterboard.job.schema import TABLES, Job

ROOT = Path(__file__).parents[2]
JOBS = [*sorted(ROOT.glob("examples/*/*.toml")), *sorted(ROOT.glob("src/batterboard/job/starting_files/*.toml"))]


@pytest.mark.parametrize("kind", KINDS)
def test_a_starting_file_reads_and_says_that_it_is_invented(kind: str) -> None:
    text = starting_file(kind)
    job = read_text(text)
    assert job.assumed and "invented" in text.split("\n")[0]
    assert len(text.split("\n")) < 110 and text.count("#") >= 8
    assert starting_file(kind.upper().replace(" ", "-")) == text


def test_what_a_starting_file_offers_in_a_comment_reads_too() -> None:
    text = starting_file("gate")
    offered = "\n".join(line[2:] for line in text[text.index("# [found]") :].splitlines())
    job = read_text(text + offered)
    assert job.planned is not None and job.done == ("hinge_pier",)


def test_an_unknown_kind_is_told_with_the_nearest() -> None:
    with pytest.raises(JobError, match='did you mean "machine pad"'):
        starting_file("machin pad")
    with pytest.raises(JobError, match="known here: gate, sign, machine pad"):
        starting_file("cathedral")


@pytest.mark.parametrize("path", JOBS, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_every_example_reads_and_is_invented(path: Path) -> None:
    job = read_job(path)
    assert "invented" in path.read_text("utf-8").split("\n")[0]
    assert job.job.name and len({a.path for a in job.assumed}) == len(job.assumed)


# ---- the JSON Schema ----


def test_the_shipped_schema_is_current() -> None:
    assert SHIPPED.read_text("utf-8") == as_text(), "python -m batterboard.job.json_schema writes it"


def test_every_reference_of_the_schema_leads_somewhere() -> None:
    schema = json_schema()
    references = set(re.findall(r'"\$ref": "#/\$defs/([^"]+)"', json.dumps(schema)))
    assert references == set(schema["$defs"])


def test_the_schema_knows_the_keys_of_the_records() -> None:
    schema = json_schema()
    assert set(schema["properties"]) == {*keys(Job), "found"} - {"done"}
    pier = schema["$defs"]["Pier"]
    assert "lean" not in pier["properties"] and "lean" in schema["$defs"]["Pier, found"]["properties"]
    assert pier["required"] == ["mix"] and "required" not in schema["$defs"]["Pier, a twin"]
    assert {"like", "row", "except"} <= set(pier["properties"])
    assert set(TABLES) <= set(schema["properties"]["found"]["properties"])
    for definition in schema["$defs"].values():
        for name, what in definition["properties"].items():
            assert what.get("description") or name in ("like",), (definition, name)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_every_job_obeys_the_schema(path: Path) -> None:
    jsonschema = pytest.importorskip("jsonschema", reason="no jsonschema here: the structure alone was tested")
    validator = jsonschema.Draft202012Validator(json_schema())
    assert list(validator.iter_errors(_plain(tomllib.loads(path.read_text("utf-8"))))) == []


def test_the_schema_refuses_what_an_editor_should_mark() -> None:
    jsonschema = pytest.importorskip("jsonschema", reason="no jsonschema here: the structure alone was tested")
    validator = jsonschema.Draft202012Validator(json_schema())
    text = starting_file("gate")
    for old, new in [('"24 in"', "24"), ("frost", "fros"), ('"24 in"', '"24"'), ('"C"', '"E"'), ('mix = "ready"', "")]:
        changed = _plain(tomllib.loads(text.replace(old, new, 1)))
        assert not validator.is_valid(changed), new


def _plain(value: object) -> object:
    """What a JSON parser would have read."""
    if isinstance(value, dict):
        return {name: _plain(member) for name, member in value.items()}
    if isinstance(value, list):
        return [_plain(member) for member in value]
    return value.isoformat() if isinstance(value, datetime) else value
