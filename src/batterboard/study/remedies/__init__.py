"""What can be done about a check that does not hold as found? Each answer is tried: the whole chain runs again with it.

    proposal : ("raise the plate less: 3/4 in of grout", {("posts", "hinge", "joint", "grout"): 0.01905})
    remedy   : Remedy(says="raise the plate less ...", holds=True, breaks=())

    plates     bolts, holes, plates            cage       steel and its cover
    fresh      water, cold, heat, waits        ground     pads, depth, what pushes them over
    leaves     opening, droop, latch           forms      how fast they are filled, what holds them

A proposal changes the job as found at some keys, as if he had done it. It is offered only with what came of it: whether
the check holds then, and which others no longer do. What nobody can undo, concrete that is cast, is never changed:
where that closes a way it is said.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from batterboard.job.errors import JobError
from batterboard.plan import Plan
from batterboard.study.remedies import cage, forms, fresh, ground, leaves, plates
from batterboard.study.remedies.proposing import Changes, Path, Propose, changed, put
from batterboard.working import Check

__all__ = ["Remedies", "Remedy", "put"]

_PROPOSE: dict[str, Propose] = {
    **plates.PROPOSE,
    **cage.PROPOSE,
    **fresh.PROPOSE,
    **ground.PROPOSE,
    **leaves.PROPOSE,
    **forms.PROPOSE,
}


@dataclass(frozen=True)
class Remedy:
    """One thing to do, and what the chain says of the job once it is done."""

    check: tuple[str, ...]  # the key of the check it is for
    says: str
    changes: Mapping[Path, Any]
    after: Check | None  # the same check then; None where it is no longer asked
    breaks: tuple[str, ...]  # titles of checks that held as found and no longer do
    mends: tuple[str, ...]  # titles of others that did not hold as found and now do

    @property
    def holds(self) -> bool:
        return self.after is None or self.after.verdict == "holds"

    @property
    def works(self) -> bool:
        """It holds, and nothing else is worse for it."""
        return self.holds and not self.breaks


@dataclass(frozen=True)
class Remedies:
    """All that is proposed for the checks of one job as found."""

    found: Plan

    @cached_property
    def _before(self) -> dict[tuple[str, ...], str]:
        return {c.key: c.verdict for c in self.found.checks}

    def of(self, c: Check) -> tuple[tuple[Remedy, ...], tuple[str, ...]]:
        """Those for one check, what works first, in the order in which he would try them; and what is closed."""
        propose = _PROPOSE.get(c.name)
        proposals = list(propose(self.found, c)) if propose else []
        tried = [remedy for says, changes in proposals if changes and (remedy := self._tried(c, says, changes))]
        closed = tuple(dict.fromkeys(says for says, changes in proposals if not changes))
        return tuple(sorted(tried, key=lambda remedy: (not remedy.works, not remedy.holds))), closed

    @cached_property
    def _ran(self) -> dict[str, tuple[Check, ...] | None]:
        return {}

    def _run(self, changes: Changes) -> tuple[Check, ...] | None:
        """The checks of the changed job, worked out once; None where no job can be like that."""
        same = repr(changes)
        if same not in self._ran:
            try:
                self._ran[same] = Plan(changed(self.found.job, changes)).checks
            except JobError:
                self._ran[same] = None
        return self._ran[same]

    def _tried(self, c: Check, says: str, changes: Changes) -> Remedy | None:
        checks = self._run(changes)
        if checks is None:
            return None
        now = {one.key: one.verdict for one in checks}
        return Remedy(
            check=c.key,
            says=says,
            changes=changes,
            after=next((one for one in checks if one.key == c.key), None),
            breaks=tuple(one.title for one in checks if not one.holds and self._before.get(one.key) == "holds"),
            mends=tuple(
                one.title
                for one in self.found.checks
                if one.key != c.key and one.verdict != "holds" and now.get(one.key, "holds") == "holds"
            ),
        )
