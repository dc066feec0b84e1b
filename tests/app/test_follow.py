"""The file under the page: changed, broken, gone, and come back."""

import os
import time
from pathlib import Path

import pytest

from batterboard.app import follow
from batterboard.app.follow import PATIENCE, Follower


def news(follower: Follower) -> int:
    """In as many looks as a file that is being written gets."""
    return sum(follower.look() for _ in range(PATIENCE + 1))


def settle(follower: Follower) -> None:
    assert news(follower) == 1


def test_a_good_file_gives_a_page_and_no_problems(follower):
    assert follower.sight.page["name"]
    assert follower.sight.problems == ()


def test_an_unchanged_file_is_no_news(follower):
    before = follower.sight
    assert not news(follower)
    assert follower.sight is before


def test_a_file_that_is_only_touched_is_no_news(follower, job):
    os.utime(job, (1, 1))
    assert not news(follower)


def test_a_changed_number_gives_a_new_sight(follower, job):
    before = follower.sight
    job.write_text(job.read_text() + "\n# one more line\n")
    settle(follower)
    assert follower.sight.id != before.id
    assert follower.sight.page["hash"] != before.page["hash"]


def test_a_change_of_same_size_and_time_is_seen_while_the_file_is_fresh(follower, job):
    status = os.stat(job)
    text = job.read_text()
    job.write_text(text.replace("a", "e", 1))
    os.utime(job, ns=(status.st_atime_ns, status.st_mtime_ns))
    settle(follower)


def test_a_broken_file_keeps_the_last_good_plan_and_names_line_and_column(follower, job):
    good = follower.sight
    job.write_text(job.read_text().replace('units = "us"', 'units = "uss"'))
    settle(follower)
    assert follower.sight.page is good.page
    line = next(i for i, text in enumerate(job.read_text().splitlines(), 1) if '"uss"' in text)
    assert follower.sight.problems[0].mark.line == line
    job.write_text(job.read_text().replace('"uss"', '"us"'))
    settle(follower)
    assert follower.sight.problems == ()


@pytest.mark.parametrize("disaster", ["gone", "folder", "empty", "huge", "no text", "pipe", "forbidden name"])
def test_nothing_that_becomes_of_the_file_stops_the_page(follower, job, disaster):
    good, text = follower.sight, job.read_text()
    if disaster == "forbidden name":
        follower.path = Path("a\0b")
    else:
        job.unlink()
    match disaster:
        case "folder":
            job.mkdir()
        case "empty":
            job.write_text("")
        case "huge":
            job.write_bytes(b"# " * 4_000_000)
        case "no text":
            job.write_bytes(bytes(range(256)))
        case "pipe":
            os.mkfifo(job)
    settle(follower)
    assert follower.sight.problems
    assert follower.sight.page is good.page
    if disaster == "forbidden name":
        return
    if job.is_dir():
        job.rmdir()
    else:
        job.unlink(missing_ok=True)
    job.write_text(text)
    settle(follower)
    assert follower.sight.problems == ()


def test_a_file_that_never_rests_is_read_all_the_same(follower, job):
    text = job.read_text()
    news = 0
    for turn in range(3 * PATIENCE):
        job.write_text(f"{text}\n# {turn}\n")
        os.utime(job, (turn + 1, turn + 1))
        news += follower.look()
    assert news == 3


def test_a_fault_of_ours_is_said_and_does_not_stop_the_page(follower, job, monkeypatch, capsys):
    good = follower.sight

    def stumble(plan):
        raise ZeroDivisionError("a fault")

    monkeypatch.setattr(follow.shown, "page", stumble)
    job.write_text(job.read_text() + "\n# changed\n")
    settle(follower)
    assert follower.sight.page is good.page
    assert "the program itself stumbled" in follower.sight.problems[0].problem
    assert "ZeroDivisionError" in capsys.readouterr().err


def test_a_look_at_a_resting_file_costs_next_to_nothing(follower, job):
    os.utime(job, (1, 1))
    follower.look(), follower.look(), follower.look()
    begun = time.perf_counter()
    for _ in range(100):
        follower.look()
    assert time.perf_counter() - begun < 0.1
