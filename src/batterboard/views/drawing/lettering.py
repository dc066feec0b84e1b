"""How much room does a text take on paper?

    width("5'-6 1/2\\"", 2.5) : 18.6       millimetres, for capitals 2.5 mm high
    shortened("a long name", 2.5, 12)     "a lo…"
    wrapped("a long note", 2.5, 20)       ("a long", "note")

The lettering has ONE advance for every letter, so the room is known exactly and holds where a viewer puts another
fixed-width face in its place. The height of a text is the height of its capitals, as draftsmen count it.
"""

from functools import lru_cache
from unicodedata import category, combining, east_asian_width

FAMILY = "DejaVu Sans Mono, Menlo, Consolas, monospace"
ADVANCE = 0.60205  # of every letter, in ems. Read from the face's own table: 1233 of 2048 units
CAPITALS = 0.72900  # height of a capital in ems: 1493 of 2048 units
ABOVE, BELOW = 1.08, 0.33  # the room of a line above and below its foot, in heights: brackets, fractions, tails
PITCH = 1.75  # from line to line, in heights
SMALLEST = 2.5  # what is read at arm's length [mm]


@lru_cache(4096)  # places are tried by the hundred for one text
def width(text: str, height: float) -> float:
    """Room along the line for capitals of this height [mm]."""
    return sum(map(_advance, text)) / CAPITALS * height


def em(height: float) -> float:
    """The font size that gives capitals of this height [mm]."""
    return height / CAPITALS


def shortened(text: str, height: float, room: float) -> str:
    """The text, cut with an ellipsis where it does not fit the room [mm]."""
    if width(text, height) <= room:
        return text
    while text and width(text + "…", height) > room:
        text = text[:-1]
    return text.rstrip() + "…"


def wrapped(text: str, height: float, room: float) -> tuple[str, ...]:
    """The text in lines that fit the room [mm]; a word that does not is shortened."""
    lines: list[str] = []
    for word in text.split():
        if lines and width(f"{lines[-1]} {word}", height) <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(shortened(word, height, room))
    return tuple(lines)


def _advance(letter: str) -> float:
    if combining(letter) or category(letter) == "Cf":
        return 0.0
    return 1.0 if east_asian_width(letter) in "WF" else ADVANCE  # letters of another face, one em wide
