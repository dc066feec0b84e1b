"""A job on the disk, and its page: in this process, or served to a real browser."""

import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
import uvicorn

from batterboard.app.follow import Follower
from batterboard.app.serve import _listening, application
from batterboard.job import starting_file


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "sign.toml"
    path.write_text(starting_file("sign"))
    return path


@pytest.fixture
def follower(job: Path) -> Follower:
    made = Follower(job)
    made.look()
    return made


@pytest.fixture
def served(follower: Follower) -> Iterator[uvicorn.Server]:
    """The page, its file looked at as in use; `should_exit` ends it."""
    with _listening(0) as listening:
        app = application(follower, lambda: server.should_exit)
        server = uvicorn.Server(uvicorn.Config(app, log_level="error", ws="none"))
        server.config.port = listening.getsockname()[1]
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
        thread.start()
        yield server
        server.should_exit = True
        thread.join(10)
        assert not thread.is_alive()


@pytest.fixture
def address(served: uvicorn.Server) -> str:
    return f"http://127.0.0.1:{served.config.port}/"


@pytest.fixture(scope="session")
def chromium() -> str:
    found = shutil.which("chromium")
    if not found:
        pytest.skip("no chromium: apt-get install chromium")
    return found
