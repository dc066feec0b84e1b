"""What must the tape read, and what is a reading worth?

    true(tools, 5.00)       5.001    the distance that was taped, when the tape read 5.00
    to_read(tools, 5.00)    4.999    what it has to read, so that 5.00 is set out

The sign turns between the two: that is the most frequent mistake with a tape. A wrong length of which nobody knows is
no correction but an error, and stands in the vector.
"""

from typing import Any

from batterboard.job.schema import Instruments
from batterboard.standards import layout


def correction(tools: Instruments, length: Any) -> Any:
    """What is added to a reading of about this length. Broadcasts."""
    t = tools
    added = (
        layout.tape_length(length, t.tape_long)
        + layout.tape_temperature(length, t.tape_at, t.tape_standard)
        + layout.tape_pull(length, t.tape_pull, t.tape_standard_pull, t.tape_section, layout.STEEL_STIFF)
    )
    if t.tape_hangs is not None:
        added = added + layout.tape_sag(length, t.tape_hangs, t.tape_weight, t.tape_pull)
    return added


def true(tools: Instruments, reading: Any) -> Any:
    """The distance of which the tape said this."""
    return reading + correction(tools, reading)


def to_read(tools: Instruments, length: Any) -> Any:
    """What the tape has to say at this distance."""
    return length - correction(tools, length)
