"""A hundred thousand gates set out, and both plates of each fitted on their bolts: how long, on one core?

    python benchmarks/setout.py [COUNT]

Every elementary error of the job is drawn: lines, tapes, squares, templates, drilling, bolts, levels, plumb. Of each
job come all stakes, all bolts, the opening at both hinges, and the best lie of both plates. Set against a loop
that does the same one job at a time, a few of them.
"""

import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(name, "1")

import numpy as np  # noqa: E402

HERE = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(HERE / "src"))

from batterboard.job import read_job  # noqa: E402
from batterboard.methods import errors, fit  # noqa: E402
from batterboard.phases.setout import Layout, Site  # noqa: E402
from batterboard.phases.setout.places import drilled  # noqa: E402
from batterboard.work.build import build  # noqa: E402

GATE = HERE / "examples" / "orchard-gate" / "job.toml"
ALONE = 40  # jobs of the loop
BLOCK = 4096  # samples at a time: their errors stay in the cache


def places(plan: Layout, site: Site) -> Iterator[Any]:
    """Holes of both plates in the job's plan, their bolts, then everything else that is set out."""
    for name, bolts in plan.bolts.items():
        template = site.template(name)
        for x, y in zip(*drilled(bolts, site.e)):
            yield from template.out(x, y)
        for x, y in site.bolts(name):
            yield from (x, y)
    for base in plan.work.bases:
        frame = site.base(base)
        yield from (frame.x, frame.y, site.top(base))
    for leaf in plan.work.leaves.values():
        for height in (leaf.low, leaf.high):
            for post in (leaf.hinge_post, leaf.latch_post):
                here = site.post(post, height)
                yield from (here.x, here.y)


def fitted(plan: Layout, rows: np.ndarray) -> list[fit.Fit]:
    """Both plates on their bolts."""
    made, at = [], 0
    for plate, bolts in plan.joints.values():
        n = len(bolts.x)
        holes, rods = rows[at : at + 2 * n], rows[at + 2 * n : at + 4 * n]
        hx, hy, bx, by = holes[::2], holes[1::2], rods[::2], rods[1::2]
        made.append(fit.minimax_fit(hx, hy, bx, by, (plate.hole - bolts.rod.diameter) / 2))
        at += 4 * n
    return made


def simulated(plan: Layout, vector: errors.ErrorVector, count: int) -> list[list[fit.Fit]]:
    """All of them, block by block: each block its own luck."""
    sizes = [min(BLOCK, count - start) for start in range(0, count, BLOCK)]
    return [
        fitted(plan, errors.sample(lambda e: places(plan, plan.under(e)), vector, size, seed))
        for seed, size in enumerate(sizes)
    ]


def main(count: int = 100_000) -> None:
    job = read_job(GATE)
    plan = Layout(build(job), job.instruments)
    vector = plan.asked_by(lambda site: places(plan, site))
    simulated(plan, vector, BLOCK)  # once, so that nothing is read for the first time
    start = time.process_time()
    made = simulated(plan, vector, count)
    together = time.process_time() - start
    start = time.process_time()
    for seed in range(ALONE):
        fitted(plan, errors.sample(lambda e: places(plan, plan.under(e)), vector, 1, seed))
    alone = (time.process_time() - start) / ALONE * count
    on = [np.concatenate([np.atleast_1d(block[i].drops_on) for block in made]).mean() for i in range(len(plan.joints))]
    print(f"{count} set-outs of {len(vector.names)} errors, {len(plan.joints)} plates fitted to each")
    print(f"  together        {together:8.2f} s of one core      goal 2 s")
    print(f"  one at a time   {alone:8.1f} s      from {ALONE} of them")
    print(f"  ratio           {alone / together:8.0f}")
    print("  drop on         " + ", ".join(f"{name} {share:.4f}" for name, share in zip(plan.joints, on)))


if __name__ == "__main__":
    main(*(int(text) for text in sys.argv[1:2]))
