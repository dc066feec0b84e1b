"""Do our functions give what the books print?

    python tests/published/run.py FILE.toml ...     each case: passed, failed (expected, got), no adapter, or words only

Files have the form of `cases/`: `[[case]]` with id, topic, source, provenance, inputs, expected, tolerance, notes. A
name that ends in `wrong` is what a usual mistake gives, and must not come out. Exit 1 if any case failed.
"""

import sys
import tomllib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[2] / "src")]

import adapters  # noqa: E402
from comparing import Tolerances  # noqa: E402

CASES = Path(__file__).parent / "cases"


@dataclass(frozen=True)
class Outcome:
    """What became of one case. `state`: passed, failed, no adapter, words only."""

    id: str
    state: str
    said: str = ""

    def __str__(self) -> str:
        return f"  {self.state:<11} {self.id}" + (f"  ({self.said})" if self.said else "")


def judge(case: dict[str, Any]) -> Outcome:
    """Run one case through the adapters that fit and compare."""
    if case.get("tolerance", "").strip() == "text":
        return Outcome(case["id"], "words only")
    try:
        got, why = adapters.answers(case)
    except Exception as problem:
        return Outcome(case["id"], "failed", f"{type(problem).__name__}: {problem}")
    return compared(case, got, why)


def compared(case: dict[str, Any], got: dict[str, Any], why: str = "") -> Outcome:
    tolerances = Tolerances.of(case.get("tolerance", ""))
    wrong, covered = [], 0
    for key, expected in case["expected"].items():
        mistake = key.endswith("wrong")
        name = key if key in got else key.removesuffix("wrong").rstrip("_ ")
        if name not in got or (mistake and not name):
            continue
        covered += 1
        differs = tolerances.disagrees(key, expected, got[name])
        if mistake and not differs:
            wrong.append(f"{key}: gives the usual mistake {expected}")
        elif differs and not mistake:
            wrong.append(f"{key}: {differs}")
    if wrong:
        return Outcome(case["id"], "failed", "; ".join(wrong))
    if not covered:
        return Outcome(case["id"], "no adapter", why)
    whole = len(case["expected"])
    return Outcome(case["id"], "passed", "" if covered == whole else f"{covered} of {whole} keys")


def cases_of(path: Path) -> Iterator[dict[str, Any]]:
    yield from tomllib.loads(path.read_text("utf-8")).get("case", [])


def main(paths: list[str]) -> int:
    problems = adapters.load_all()
    for problem in problems:
        print(f"cannot use {problem}")
    total: Counter[str] = Counter()
    for path in paths or sorted(map(str, CASES.glob("*.toml"))):
        outcomes = [judge(case) for case in cases_of(Path(path))]
        print(path, *outcomes, sep="\n")
        count = Counter(outcome.state for outcome in outcomes)
        parts = sum(outcome.state == "passed" and bool(outcome.said) for outcome in outcomes)
        print(f"{path}: {_summary(count)}" + (f"; {parts} of the passed in part" if parts else ""))
        total += count
    if len(paths) != 1:
        print(f"all files: {_summary(total)}")
    return 1 if total["failed"] else 0


def _summary(count: "Counter[str]") -> str:
    states = ("passed", "failed", "no adapter", "words only")
    return f"{sum(count.values())} cases: " + ", ".join(f"{count[state]} {state}" for state in states)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
