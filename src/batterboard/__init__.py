"""Small concrete foundations for steel that is bolted or welded on: one job file in, every number of the job out.

    from batterboard import Plan, read_job

    plan = Plan(read_job("examples/orchard-gate/job.toml"))
    plan.checks[0].title         the check nearest to failing

The three names are fetched when first asked for, so that `batterboard --help` does not wait for arrays.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from batterboard.job import read_job
    from batterboard.plan import Plan
    from batterboard.study.compare import compare

__all__ = ["Plan", "compare", "read_job"]

_HOMES = {"read_job": "batterboard.job", "Plan": "batterboard.plan", "compare": "batterboard.study.compare"}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
