"""How does a job file become a Job?

    bytes -> text -> raw tables (tomllib) -> twins and rows written out -> records -> judged together -> Job
                                                 with [found] laid over them and read once more

Every problem of the file is gathered and raised once, as one `JobError`. The text is searched for positions only then.
"""

import os
import zlib
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from batterboard.job import sense
from batterboard.job.errors import JobError, Mark, Problem, nearest, shown
from batterboard.job.expand import Origins, Raw, expand, overlay, source
from batterboard.job.fill import absent, present, reader
from batterboard.job.reading import FAILED, Finding, Path, Reading, TooMany, dotted, keys
from batterboard.job.schema import Job, Overruled
from batterboard.job.syntax import parsed
from batterboard.quantity import dimension_in
from batterboard.record import is_record

LARGEST = 1_000_000  # bytes; a job is text that one person wrote


def read_job(path: str | os.PathLike[str]) -> Job:
    """The job in a file. Raises JobError with everything that is wrong."""
    name = os.fspath(path)
    try:
        with open(name, "rb") as file:
            data = file.read(LARGEST + 1)
    except (OSError, ValueError) as problem:
        raise JobError([_unopened(name, problem)]) from None
    return read_text(_decoded(data, name), name)


def read_text(text: str, name: str = "job.toml") -> Job:
    """The job in a text; `name` is what its errors call the file."""
    text = text.replace("\r\n", "\n")
    if len(text) > LARGEST:
        raise JobError(
            [Problem(Mark(name), "", "this file is too large for a job", "a job file is text of a few pages")]
        )
    try:
        return _read(text, name)
    except RecursionError:
        raise JobError(
            [Problem(Mark(name), "", "tables or lists are nested too deeply", "two or three levels are enough")]
        ) from None


def _read(text: str, name: str) -> Job:
    raw, text_read, problems = parsed(text, name)
    first = Reading(found=False)
    second = Reading(found=True)
    origins: Origins = {}
    origins_found: Origins = {}
    planned = found = None
    try:
        whole, origins = expand(raw, first)
        planned = _job(whole, first)
        if "found" in raw:
            overlaid, origins_found = overlay(whole, raw["found"], origins, second)
            found = _job(overlaid, second)
    except TooMany:
        pass
    findings = [(source(f.path, origins), f) for f in first.findings] + [
        (source(f.path, origins_found), f) for f in second.findings
    ]
    if problems or findings:
        raise JobError(problems + _placed(findings, text_read, name))
    assert planned is not None
    digest = f"{zlib.crc32(text.encode('utf-8', 'surrogatepass')):08x}"  # tells sets of paper apart, keeps no secret
    origin: dict[str, Any] = {"path": name, "text": text, "digest": digest}
    if planned.pour.weather_file:
        from batterboard.job import weather

        hours = weather.beside(planned.pour, name)
        planned = replace(planned, pour=replace(planned.pour, weather=hours))
        found = found and replace(found, pour=replace(found.pour, weather=hours))
    job = replace(planned, assumed=tuple(first.assumed), **origin)
    if found is None:
        return job
    contradicted = tuple(_contradicted(planned, found, ()))
    return replace(found, assumed=tuple(second.assumed), planned=job, contradicted=contradicted, **origin)


def problem_at(job: Job, path: Path, problem: str, remedy: str = "") -> Problem:
    """What turned out to be wrong with a job only after it was read, with its place in the file."""
    reading = Reading(found=True)
    raw, text, _ = parsed(job.text, job.path)
    whole, origins = expand(raw, reading)
    if job.planned and "found" in raw:
        whole, origins = overlay(whole, raw["found"], origins, reading)
    return _placed([(source(path, origins), Finding(path, "key", problem, remedy))], text, job.path)[0]


def _job(whole: Raw, reading: Reading) -> Job | None:
    """One reading of an expanded job: the records, then what they mean together. None where something was wrong."""
    table = keys(Job)
    values: dict[str, Any] = {}
    for name in whole:
        if name not in table:
            reading.wrong(
                (name,),
                f"unknown table {shown(name)}",
                nearest(name, (*(k for k in table if k != "done"), "found"), 12),
                "key",
            )
        elif name == "done" and not reading.found:
            reading.wrong(("done",), "what is cast can only be found", "put done under [found]", "key")
    for name, key in table.items():
        if name not in whole and key.factory is dict:  # nothing of its kind: its reader is not even made
            values[key.attribute] = {}
            continue
        read = reader(key.kind)
        value = present(whole[name], read, (name,), reading) if name in whole else absent(key, read, (name,), reading)
        if value is not FAILED:
            values[key.attribute] = value
    sense.judge(values, whole, reading)
    complete = not reading.findings and len(values) == len(table)
    if complete and values["done"]:
        values["done"] = sense.cast(values["done"], values)
    return Job(**values) if complete else None


# ---- from bytes to tables ----


def _unopened(name: str, problem: Exception) -> Problem:
    printable = "".join(c if c.isprintable() else "?" for c in name) or "(no name)"
    mark = Mark(printable)
    if isinstance(problem, FileNotFoundError):
        from pathlib import Path as FilePath  # only an error pays for it

        folder = FilePath(name).parent
        try:
            near = [entry.name for entry in folder.glob("*.toml")][:200]
        except (OSError, ValueError):
            near = []
        return Problem(
            mark,
            "",
            "there is no such file",
            nearest(FilePath(name).name, near) if near else "batterboard new KIND writes a starting file",
        )
    if isinstance(problem, IsADirectoryError):
        return Problem(mark, "", "this is a folder", "name the job file in it")
    if isinstance(problem, PermissionError):
        return Problem(mark, "", "this file may not be read", "ask its owner for leave to read it")
    return Problem(mark, "", "this file cannot be opened", str(getattr(problem, "strerror", None) or problem))


def _decoded(data: bytes, name: str) -> str:
    if len(data) > LARGEST:
        raise JobError(
            [Problem(Mark(name), "", "this file is too large for a job", "a job file is text of a few pages")]
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        before = data[: wrong.start].decode("utf-8", "replace").replace("\r\n", "\n").removeprefix("\ufeff")
        line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
        wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
        problem = "this is UTF-16 text" if wide else "this is no UTF-8 text"
        raise JobError(
            [Problem(Mark(name, line, column), "", problem, "save the file as plain text in UTF-8")]
        ) from None


# ---- where and against what ----


def _placed(findings: list[tuple[Path, Finding]], text: str, name: str) -> list[Problem]:
    """Findings as problems with line and column; one that a twin or a second reading repeats is said once."""
    from batterboard.job.positions import line_and_column, line_starts, positions

    places, starts = positions(text), line_starts(text)
    problems: dict[tuple[int, int, str], Problem] = {}
    for path, finding in findings:
        known = next((path[:n] for n in range(len(path), 0, -1) if path[:n] in places), None)
        offset = 0
        if known is not None:
            whole_path = len(known) == len(path)
            offset = places[known].value if finding.at == "value" and whole_path else places[known].key
        line, column = line_and_column(text, offset, starts)
        problem = Problem(Mark(name, line, column), dotted(path), finding.problem, finding.remedy)
        problems.setdefault((line, column, finding.problem), problem)
    return list(problems.values())


def _contradicted(planned: Any, found: Any, path: Path, kind: Any = None) -> Iterator[Overruled]:
    """Planned keys that are otherwise in the job as found. Facts that can only be found contradict nothing."""
    if _is_table(planned) and type(planned) is type(found):
        for key in keys(type(planned)).values():
            if not key.found:
                before, after = getattr(planned, key.attribute), getattr(found, key.attribute)
                yield from _contradicted(before, after, (*path, key.name), key.kind)
    elif isinstance(planned, dict) and isinstance(found, dict):
        for name in planned:
            yield from _contradicted(planned[name], found.get(name), (*path, name))
    elif isinstance(planned, tuple) and isinstance(found, tuple) and len(planned) == len(found):
        for index, (before, after) in enumerate(zip(planned, found, strict=True)):
            yield from _contradicted(before, after, (*path, index), kind)
    elif planned is not None and planned != found:
        if not (_is_table(found) and all(key.found for key in keys(type(found)).values())):
            yield Overruled(dotted(path), planned, found, dimension_in(kind))


def _is_table(value: Any) -> bool:
    """Whether it is one of the schema's tables, and not a short form."""
    return is_record(value) and bool(keys(type(value)))
