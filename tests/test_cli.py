"""The commands where the machine is unkind: narrow terminals, full disks, files in the way."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PAD = ROOT / "examples/pump-pad/job.toml"


@pytest.fixture
def job(tmp_path):
    return Path(tmp_path / "job.toml").write_bytes(PAD.read_bytes()) and tmp_path / "job.toml"


def run(*arguments, stdout=subprocess.PIPE, **environment):
    return subprocess.run(
        [sys.executable, "-m", "batterboard", *map(str, arguments)],
        stdout=stdout,
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src"), **environment},
        check=False,
    )


def test_a_terminal_that_knows_no_letters_but_ascii_still_gets_its_answer(job):
    told = run("check", job, PYTHONIOENCODING="ascii")
    assert (told.returncode, told.stderr) == (0, b"")
    assert b"?16" in told.stdout


def test_a_program_gets_utf_8_whatever_the_terminal_knows(job):
    told = run("check", job, "--json", PYTHONIOENCODING="ascii")
    assert told.returncode == 0
    assert "ø16" in json.dumps(json.loads(told.stdout.decode("utf-8")), ensure_ascii=False)


def test_json_can_be_asked_for_one_name(job):
    told = run("check", job, "--json", "--why", "sliding")
    assert {one["check"] for one in json.loads(told.stdout)} == {"sliding"}


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no /dev/full here")
def test_an_answer_that_finds_no_room_is_said_in_a_line(job):
    with open("/dev/full", "wb") as full:
        told = run("check", job, stdout=full)
    assert told.returncode == 2
    assert told.stderr.decode().startswith("the answer cannot be told: ")
    assert told.stderr.count(b"\n") == 1


def test_the_book_is_never_written_over_its_job(job):
    before = job.read_bytes()
    told = run("book", job, "-o", job)
    assert (told.returncode, job.read_bytes()) == (2, before)
    assert b"this is the job file" in told.stderr


def test_a_file_in_the_place_of_a_folder_is_named(job):
    told = run("lists", job, "-o", job)
    assert told.returncode == 2
    assert f"{job}: a file stands where a folder is needed".encode() in told.stderr
