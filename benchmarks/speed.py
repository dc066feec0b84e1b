"""What is timed, against what: ratios of one run, never promises.

    python benchmarks/speed.py

Whole processes (start-up, check) are set against `python -c "import numpy"`, taken in turn; the best of several counts.
"""

import os
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(HERE / "src"))
GATE = HERE / "examples" / "orchard-gate" / "job.toml"
ROUNDS = 9
COMMAND = "from batterboard.cli import run; run()"  # what stands in the installed `batterboard`


def best(run: Callable[[], object], rounds: int = ROUNDS) -> float:
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        run()
        times.append(time.perf_counter() - start)
    return min(times)


def process(*arguments: str) -> Callable[[], object]:
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    env["PYTHONPATH"] = str(HERE / "src")
    return lambda: subprocess.run([sys.executable, *arguments], env=env, stdout=subprocess.DEVNULL, check=False)


def report(what: str, ratio: float, goal: str) -> None:
    print(f"{what:<64} {ratio:8.2f}   goal {goal}")


def processes() -> None:
    runs = {
        "numpy": process("-c", "import numpy"),
        "help": process("-c", COMMAND, "--help"),
        "check": process("-c", COMMAND, "check", str(GATE)),
    }
    for run in runs.values():
        run()  # byte-code written, files in the cache
    times = {name: float("inf") for name in runs}
    for _ in range(ROUNDS):
        for name, run in runs.items():
            times[name] = min(times[name], best(run, 1))
    report("--help, whole process, to `import numpy`", times["help"] / times["numpy"], "0.5")
    report("check of the gate, whole process, to `import numpy`", times["check"] / times["numpy"], "2")


def phases() -> None:
    from batterboard.job import read_job
    from batterboard.plan import Plan
    from batterboard.study.compare import PHASES
    from batterboard.study.sweep import sweep
    from batterboard.views import book

    job = read_job(GATE)

    def whole(job: object) -> None:
        _ = Plan(job).checks  # type: ignore[arg-type]

    def on_paper(plan: Plan) -> None:
        for phase in PHASES:
            getattr(plan, phase)

    def pieces(plan: Plan) -> None:
        _ = plan.forms, plan.pieces, plan.beside

    def fresh() -> Plan:
        plan = Plan(job)
        _ = plan.checks
        return plan

    warm = best(lambda: whole(job))
    report("all phases of the gate, warm [ms]", warm * 1e3, "20")
    report("what only its paper asks besides [ms]", _after(fresh, on_paper) * 1e3, "none set")
    report("its forms, piece by piece, without packing [ms]", _after(lambda: Plan(job), pieces) * 1e3, "50")
    two, many = _piers(job, 2), _piers(job, 200)
    grown = best(lambda: whole(many), 3) / (100 * best(lambda: whole(two)))
    report("200 piers to 100 times 2 piers, all phases", grown, "1")
    import numpy as np

    widths = np.linspace(1.2, 1.8, 10_000)
    loop = best(lambda: [sweep(job, {"piers.west.pad.along": widths[i : i + 1]}) for i in range(20)], 1) * 500
    blocks = best(lambda: sweep(job, {"piers.west.pad.along": widths}), 3)
    report("10,000 pads in blocks to one by one", blocks / loop, "0.1")
    plan = Plan(job)
    book.pdf(plan)
    report("the gate's book after start-up [s]", best(lambda: book.pdf(Plan(job)), 3), "1")


def _after(made: Callable[[], Any], run: Callable[[Any], object], rounds: int = 3) -> float:
    """The best time of something on a thing that is made anew each time, outside the clock."""
    times = []
    for _ in range(rounds):
        thing = made()
        times.append(best(lambda thing=thing: run(thing), 1))  # type: ignore[misc]
    return min(times)


def _piers(job: object, count: int) -> object:
    """The job with so many piers in a row, and nothing on them."""
    pier = job.piers["west"]  # type: ignore[attr-defined]
    steps = [replace(pier.place[0], ahead=3.0 * i) for i in range(count)]
    piers = {f"p{i}": replace(pier, place=(steps[i], *pier.place[1:])) for i in range(count)}
    none: dict[str, object] = {}
    bare = {"beams": none, "posts": none, "leaves": none, "pipes": none, "piers": piers, "planned": None}
    pour = replace(job.pour, lifts=())  # type: ignore[attr-defined]
    return replace(job, pour=pour, **bare)  # type: ignore[type-var]


if __name__ == "__main__":
    processes()
    phases()
