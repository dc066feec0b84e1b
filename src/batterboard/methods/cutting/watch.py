"""Who looks on while the searches run, and may end them?

    with by_hand(say) as watch:      say(Found("3/4 in plywood", best=12, bound=11)) whenever something is found
        plan.sheets, plan.lumber     Ctrl-C: this search and all that follow answer with the best they have
    watch.stopped                    True then; pressed once more, Ctrl-C stops the program as it always does

A search asks `stopped` at every round. It changes nothing else: whom nobody stops finds the same, looked at or not.
"""

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from types import FrameType
from typing import NamedTuple


class Found(NamedTuple):
    """The best so far of one search."""

    name: str  # what is cut
    best: float
    bound: float  # no plan can do with less

    @property
    def gap(self) -> float:
        """How much of it may be too much, as a share."""
        return max(self.best - self.bound, 0.0) / self.best if self.best else 0.0


@dataclass
class Watch:
    """One run of searches."""

    say: Callable[[Found], None] | None
    stopped: bool = False


_watch: ContextVar[Watch | None] = ContextVar("watch", default=None)


@contextmanager
def by_hand(say: Callable[[Found], None] | None = None) -> Iterator[Watch]:
    """While it lasts, Ctrl-C ends the searches, not the program. For the main thread, which alone hears it."""
    watch = Watch(say)

    def heard(number: int, frame: FrameType | None) -> None:
        if watch.stopped:
            raise KeyboardInterrupt
        watch.stopped = True

    before = signal.getsignal(signal.SIGINT)
    deaf = before is signal.SIG_IGN  # a job in the background is left alone
    token = _watch.set(watch)
    if not deaf:
        signal.signal(signal.SIGINT, heard)
    try:
        yield watch
    finally:
        if not deaf:
            signal.signal(signal.SIGINT, before)
        _watch.reset(token)


def stopped() -> bool:
    watch = _watch.get()
    return watch is not None and watch.stopped


def found(name: str, best: float, bound: float) -> None:
    """Tell whoever looks on."""
    watch = _watch.get()
    if watch is not None and watch.say is not None:
        watch.say(Found(name, best, bound))
