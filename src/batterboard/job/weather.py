"""What does the weather file beside the job say, hour by hour?

    beside(pour, job_path) : (Weather(at=2027-04-12 09:00, air=14.4, humidity=0.6, wind=3.6, rain=0.0), ...)
    gaps(hours)            : (3, "after 11:00 the hour 12:00 is missing", ...)

Two forms. A CSV table with the headings at, air, humidity, wind and, if wanted, rain; a unit stands in the heading,
`air [F]`, or in each cell. Or an EPW file, a published open format of hourly years: its days are taken by month and
day, from the pour's own on. Its columns, and the figures that mean "not known", are from memory. Nothing is fetched.
"""

import csv
import io
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any, NamedTuple, NoReturn

from batterboard.job.errors import JobError, Mark, Problem, nearest, shown
from batterboard.job.schema import Pour, Weather
from batterboard.quantity import Celsius, Number, QuantityError, RateOfRise, Speed, read

DAYS = 29  # of a year's file that are kept: the pour and 28 days of strength
LARGEST = 8_000_000  # bytes
HOUR = timedelta(hours=1)

_KINDS = {"air": Celsius, "humidity": Number, "wind": Speed, "rain": RateOfRise}
_SAMPLES = {"air": "58 F", "humidity": "60 %", "wind": "8 mph", "rain": "0.1 in/h"}
_LIMITS = {"air": (-60.0, 60.0), "humidity": (0.0, 1.0), "wind": (0.0, 60.0), "rain": (0.0, 0.5 / 3600)}


class _Column(NamedTuple):
    place: int
    unit: str  # "F"; empty where each cell brings its own
    unknown: float  # a figure that means it is not known


_EPW_HEAD = 8  # lines before the first hour
_EPW = {
    "air": _Column(6, "C", 99.9),
    "humidity": _Column(8, "%", 999.0),
    "wind": _Column(21, "m/s", 999.0),
    "rain": _Column(33, "mm/h", 999.0),
}


def beside(pour: Pour, job: str) -> tuple[Weather, ...]:
    """The hours of the file that a job names. Raises JobError with everything that is wrong in it."""
    path = Path(job).parent / pour.weather_file
    name = str(path)
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except (OSError, ValueError) as problem:
        reason = str(getattr(problem, "strerror", None) or problem)
        _refuse(
            Mark(job),
            "pour.weather_file",
            f"{shown(pour.weather_file)} cannot be opened: {reason}",
            "it stands beside the job file",
        )
    if len(data) > LARGEST:
        _refuse(Mark(name), "", "this file is too large for a year of weather", "hourly figures of one year at most")
    text = data.decode("utf-8-sig", "replace")
    rows = list(csv.reader(io.StringIO(text, newline="")))
    hours = _epw(rows, name, pour) if text.startswith("LOCATION,") else _table(rows, name)
    missing = [
        Problem(Mark(name, hours[i][0]), "", problem, remedy) for i, problem, remedy in gaps([h for _, h in hours])
    ]
    if missing:
        raise JobError(missing)
    return tuple(hour for _, hour in hours)


def gaps(hours: list[Weather] | tuple[Weather, ...]) -> Iterator[tuple[int, str, str]]:
    """Where an hour does not follow the one before."""
    for i, (before, after) in enumerate(zip(hours, hours[1:]), 1):
        if after.at - before.at != HOUR:
            due = before.at + HOUR
            yield (
                i,
                f"the weather has a gap: {due:%Y-%m-%d %H:%M} should follow, not {after.at:%Y-%m-%d %H:%M}",
                ("write every hour once, in order"),
            )


# ---- a table ----


def _table(rows: list[list[str]], name: str) -> list[tuple[int, Weather]]:
    problems: list[Problem] = []
    if not rows:
        _refuse(
            Mark(name),
            "",
            "this file is empty",
            "its first line names the columns: at, air [F], humidity [%], wind [mph]",
        )
    columns = _headings(rows[0], name)
    hours = []
    for line, row in enumerate(rows[1:], 2):
        if not any(cell.strip() for cell in row):
            continue
        hour = _hour(row, line, columns, name, problems)
        if hour is not None:
            hours.append((line, hour))
    if problems:
        raise JobError(problems[:50])
    if not hours:
        _refuse(Mark(name, 2), "", "there is no hour in this file", "one line for each hour")
    return hours


def _headings(row: list[str], name: str) -> dict[str, _Column]:
    columns = {}
    for place, heading in enumerate(row):
        word, _, unit = heading.strip().partition("[")
        columns[word.strip().lower()] = _Column(place, unit.rstrip("] ").strip(), float("nan"))
    known = ("at", *_KINDS)
    strange = [word for word in columns if word not in known]
    if strange:
        _refuse(Mark(name), "", f"{shown(strange[0])} is no heading of a weather table", nearest(strange[0], known))
    missing = [word for word in known if word not in columns and word != "rain"]
    if missing:
        _refuse(
            Mark(name),
            "",
            f"the column {missing[0]!r} is missing",
            "at, air [F], humidity [%], wind [mph], and rain [in/h] if wanted",
        )
    return columns


def _hour(row: list[str], line: int, columns: dict[str, _Column], name: str, problems: list[Problem]) -> Weather | None:
    before = len(problems)
    values: dict[str, Any] = {}
    for word, column in columns.items():
        cell = row[column.place].strip() if column.place < len(row) else ""
        mark = Mark(name, line, 1 + sum(len(each) + 1 for each in row[: column.place]))
        if word == "at":
            values["at"] = _time(cell, mark, problems)
        else:
            values[word] = _value(word, cell, column.unit, mark, problems)
    return Weather(**values) if len(problems) == before else None


def _time(cell: str, mark: Mark, problems: list[Problem]) -> Any:
    try:
        at = datetime.fromisoformat(cell)
    except ValueError:
        problems.append(Problem(mark, "at", f"{shown(cell)} is no hour", "write it like 2027-04-12T09:00"))
        return None
    return at.replace(tzinfo=None)


def _value(word: str, cell: str, unit: str, mark: Mark, problems: list[Problem]) -> Any:
    sample = _SAMPLES[word]
    if not cell:
        problems.append(Problem(mark, word, "this hour has a gap", f"write it like {sample}"))
        return None
    try:
        value = read(f"{cell} {unit}".strip(), _KINDS[word])
    except QuantityError as wrong:
        problems.append(Problem(mark, word, wrong.problem, wrong.remedy or f"write it like {sample}"))
        return None
    low, high = _LIMITS[word]
    if not low <= value <= high:
        problems.append(
            Problem(mark, word, f"{shown(f'{cell} {unit}'.strip())} is no weather", "look at the number and its unit")
        )
        return None
    return value


# ---- a year in EPW ----


def _epw(rows: list[list[str]], name: str, pour: Pour) -> list[tuple[int, Weather]]:
    if pour.when is None:
        _refuse(Mark(name), "", "which days of this year are meant?", "write when = ... under [pour]")
    start = datetime(pour.when.year, pour.when.month, pour.when.day)
    end = start + timedelta(days=DAYS)
    problems: list[Problem] = []
    hours = []
    for line, row in enumerate(rows[_EPW_HEAD:], _EPW_HEAD + 1):
        at = _epw_time(row, line, start, name, problems)
        if at is not None and start <= at < end:
            hour = _epw_hour(row, line, at, name, problems)
            if hour is not None:
                hours.append((line, hour))
    if problems:
        raise JobError(problems[:50])
    hours.sort(key=lambda pair: pair[1].at)
    if not hours:
        _refuse(Mark(name, _EPW_HEAD + 1), "", f"this file has no hour of {start:%d %B}", "a whole year belongs here")
    return hours


def _epw_time(row: list[str], line: int, start: datetime, name: str, problems: list[Problem]) -> datetime | None:
    try:
        month, day, hour = int(row[1]), int(row[2]), int(row[3])
        year = start.year + (month < start.month)  # a year's file goes round
        return datetime(year, month, day) + (hour - 1) * HOUR
    except (IndexError, ValueError):
        if any(row):
            problems.append(Problem(Mark(name, line), "", "this line has no month, day and hour", "columns 2 to 4"))
        return None


def _epw_hour(row: list[str], line: int, at: datetime, name: str, problems: list[Problem]) -> Weather | None:
    before = len(problems)
    values: dict[str, Any] = {"at": at}
    for word, column in _EPW.items():
        cell = row[column.place].strip() if column.place < len(row) else ""
        mark = Mark(name, line, 1 + sum(len(each) + 1 for each in row[: column.place]))
        try:
            unknown = float(cell) >= column.unknown
        except ValueError:
            unknown = True
        if unknown and word == "rain":
            values[word] = 0.0  # many years leave it out
        else:
            values[word] = _value(word, "" if unknown else cell, column.unit, mark, problems)
    return Weather(**values) if len(problems) == before else None


def _refuse(mark: Mark, key: str, problem: str, remedy: str) -> NoReturn:
    raise JobError([Problem(mark, key, problem, remedy)])
