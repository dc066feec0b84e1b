"""The page over HTTP: what it answers, whom it lets in, how it ends."""

import asyncio
import json
import os
import signal
import socket
import subprocess
import sys
import time

import httpx
import pytest

from batterboard.app.serve import CannotServe, application, serve


def ask(follower, address, host="127.0.0.1:8000", method="GET", **headers):
    async def asked():
        transport = httpx.ASGITransport(application(follower))
        async with httpx.AsyncClient(transport=transport, base_url=f"http://{host}") as client:
            return await client.request(method, address, headers=headers)

    return asyncio.run(asked())


def test_the_page_and_its_parts_are_served(follower):
    for address, kind in (("/", "text/html"), ("/page.css", "text/css"), ("/page.js", "text/javascript")):
        answer = ask(follower, address)
        assert answer.status_code == 200
        assert answer.headers["content-type"].startswith(kind)


def test_the_page_asks_nothing_of_the_net(follower):
    for address in ("/", "/page.css", "/page.js"):
        text = ask(follower, address).text.replace("http://www.w3.org/2000/svg", "")
        assert "http" not in text and "//" not in text.replace("// ", "")


def test_the_browser_is_told_that_nothing_else_belongs_to_the_page(follower):
    headers = ask(follower, "/").headers
    assert "default-src 'none'" in headers["content-security-policy"]
    assert "unsafe" not in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"
    assert "access-control-allow-origin" not in headers


def test_the_sight_carries_checks_drawings_steps_assumptions_and_cautions(follower):
    page = ask(follower, "/sight.json").json()["page"]
    assert page["hash"] == follower.sight.plan.job.digest
    assert [check["title"] for check in page["checks"]] == [check.title for check in follower.sight.plan.checks]
    assert all(drawing["svg"].startswith("<svg") for drawing in page["drawings"])
    assert [step["title"] for step in page["steps"]][:3] == ["Size", "Set out", "Dig"]
    assert all(step["cautions"] and step["unchecked"] for step in page["steps"])
    assert page["assumed"] and page["always"]


def test_every_check_opens_its_working(follower):
    plan = follower.sight.plan
    for number in range(len(plan.checks)):
        answer = ask(follower, f"/working/{follower.sight.id}/{number}")
        assert answer.status_code == 200
        assert isinstance(answer.json(), list)
    assert ask(follower, f"/working/{follower.sight.id}/{len(plan.checks)}").status_code == 404
    assert ask(follower, "/working/another-1/0").status_code == 404


@pytest.mark.parametrize(
    "host, headers",
    [
        ("evil.example", {}),
        ("127.0.0.1.evil.example", {}),
        ("localhost.evil.example:8000", {}),
        ("192.168.1.5:8000", {}),
        ("localhost:8000", {"origin": "http://evil.example"}),
        ("localhost:8000", {"origin": "http://localhost:9000"}),
        ("localhost:8000", {"origin": "null"}),
        ("localhost:8000", {"sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors"}),
        ("localhost:8000", {"sec-fetch-site": "same-site", "sec-fetch-mode": "cors"}),
    ],
)
@pytest.mark.parametrize("address", ["/", "/sight.json", "/events"])
def test_other_hosts_and_other_pages_are_kept_out(follower, host, headers, address):
    answer = ask(follower, address, host, **headers)
    assert answer.status_code == 403
    assert follower.sight.plan.job.digest not in answer.text


def test_a_link_from_elsewhere_may_open_the_page(follower):
    assert ask(follower, "/", **{"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}).status_code == 200


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH"])
def test_the_page_only_reads(follower, method):
    assert ask(follower, "/sight.json", method=method).status_code == 405


def told(lines) -> str:
    """The id of the next sight that the stream tells of."""
    id_ = ""
    for line in lines:
        if line.startswith("id: "):
            id_ = line.removeprefix("id: ")
        if line.startswith("data: "):
            assert line.removeprefix("data: ") == id_
            return id_
    raise AssertionError("the stream ended")


def test_the_stream_tells_of_each_change_and_goes_on_where_it_was_cut(address, follower, job):
    with httpx.stream("GET", f"{address}events", timeout=10) as stream:
        assert stream.headers["content-type"].startswith("text/event-stream")
        lines = stream.iter_lines()
        first = told(lines)
        job.write_text(job.read_text() + "\n# changed\n")
        second = told(lines)
        assert first != second
    # Who comes back and has seen the newest hears nothing until the next change.
    with httpx.stream("GET", f"{address}events", headers={"last-event-id": second}, timeout=10) as stream:
        job.write_text(job.read_text() + "\n# changed again\n")
        third = told(stream.iter_lines())
        assert third not in (first, second)
    with httpx.stream("GET", f"{address}events", headers={"last-event-id": first}, timeout=10) as stream:
        assert told(stream.iter_lines()) == third


def test_a_file_changed_twenty_times_a_second_does_not_stop_the_page(address, job):
    text = job.read_text()
    for turn in range(60):
        if turn % 3:
            job.write_text(f"{text}\n# {turn}\n")
        elif turn % 2:
            job.unlink()
        else:
            job.write_text(text[: turn * 7])
        time.sleep(0.05)
    job.write_text(f"{text}\n# the last\n")
    end = time.monotonic() + 5
    while True:
        sight = httpx.get(f"{address}sight.json").json()
        if sight["problems"] == [] and sight["page"]["hash"] == digest_of(job):
            break
        assert time.monotonic() < end, sight["problems"]
        time.sleep(0.1)


def digest_of(path):
    from batterboard.job import read_job

    return read_job(path).digest


def test_a_missing_file_and_a_taken_port_are_said(tmp_path, job):
    with pytest.raises(CannotServe, match="no such file"):
        serve(tmp_path / "none.toml", browser=False)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        with pytest.raises(CannotServe, match="cannot be used"):
            serve(job, taken.getsockname()[1], browser=False)
    with pytest.raises(CannotServe, match="0 to 65535"):
        serve(job, 70000, browser=False)


def test_ctrl_c_ends_it_cleanly_while_somebody_is_looking(job):
    command = [sys.executable, "-m", "batterboard", "open", str(job), "--no-browser"]
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)}
    child = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment)
    try:
        said = child.stdout.readline()
        address = next(word for word in said.split() if word.startswith("http://127.0.0.1:"))
        with httpx.stream("GET", f"{address}events", timeout=10) as stream:
            assert told(stream.iter_lines())
            child.send_signal(signal.SIGINT)
            out, err = child.communicate(timeout=10)
    finally:
        child.kill()
    assert child.returncode == 0
    assert out == "no longer followed\n"
    assert err == ""


def test_the_answer_is_plain_json(follower):
    json.loads(follower.sight.as_json(), parse_constant=lambda name: pytest.fail(name))
