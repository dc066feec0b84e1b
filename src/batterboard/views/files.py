"""How do results reach the disk? Whole or not at all: written beside, then renamed."""

import json
import os
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path


class FileProblem(Exception):
    """A file could not be written; the message says which and why."""

    for_the_user = True


def write_whole(path: Path, content: bytes | str) -> Path:
    """Write a file in one piece, replacing what stood there. Raises FileProblem."""
    return _write({path: content})[0]


def write_new(path: Path, content: bytes | str) -> Path:
    """Write a file that must not exist yet. Raises FileProblem."""
    if path.exists():
        raise FileProblem(f"{path}: it exists already; name another file")
    return write_whole(path, content)


def keep(job: Path, path: Path) -> None:
    """Refuse to write over the job file itself. Raises FileProblem."""
    if path.exists() and path.samefile(job):
        raise FileProblem(f"{path}: this is the job file; name another file")


def write_all(folder: Path, contents: Mapping[str, bytes | str]) -> list[Path]:
    """Write several files into a folder: none is renamed before all are written."""
    return _write({folder / name: content for name, content in contents.items()})


def _write(contents: Mapping[Path, bytes | str]) -> list[Path]:
    beside: list[tuple[str, Path]] = []
    path = Path()
    try:
        for path, content in contents.items():
            path.parent.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
            beside.append((name, path))
            with os.fdopen(handle, "wb") as file:
                file.write(content.encode() if isinstance(content, str) else content)
            os.chmod(name, 0o644)
        while beside:
            name, path = beside[0]
            os.replace(name, path)
            beside.pop(0)
    except (FileExistsError, NotADirectoryError):
        raise FileProblem(f"{path.parent}: a file stands where a folder is needed; name another folder") from None
    except OSError as problem:
        raise FileProblem(f"{path}: it cannot be written: {problem.strerror or problem}") from None
    finally:
        for name, _ in beside:
            Path(name).unlink(missing_ok=True)
    return list(contents)


def report(written: Mapping[str, Sequence[Path]], as_json: bool) -> None:
    """Say what was written: one path a line, or JSON."""
    if as_json:
        print(json.dumps({kind: [str(p) for p in paths] for kind, paths in written.items()}, indent=1))
    else:
        for paths in written.values():
            for path in paths:
                print(path)
