"""With which pencil is it drawn, and on what?

    Layer : CONCRETE, BARS, DIMS, ...   a name, a line weight [mm], a pencil, dashes [mm on paper]
    INKS  : graphite, soft, string, red the four pencils; all of them read in black and white
    Paper : letter, A4, 11x17, A3       millimetres, upright
    Scale : 1/2" = 1'-0" (1:24)         millimetres of paper per metre drawn

The order of LAYERS is the order of drawing: what stands later covers what stands before.
"""

from dataclasses import dataclass

INKS = {"graphite": "#2b2a28", "soft": "#6f6a62", "string": "#24608c", "red": "#b0261c"}
PAPER = "#fbf8f1"
TONE = "#e9e4d8"  # a light wash: concrete that is cut, timber, a leaf

HEAVY, MEDIUM, LIGHT = 0.5, 0.35, 0.18


@dataclass(frozen=True)
class Layer:
    """A name that drawing programs keep, and the pencil it is drawn with."""

    name: str
    weight: float  # of the line [mm]
    ink: str = "graphite"
    dashes: tuple[float, ...] = ()  # stroke, gap, ... [mm on paper]; none: one full line


SHEET = Layer("SHEET", MEDIUM)
GROUND = Layer("GROUND", HEAVY)
CONCRETE = Layer("CONCRETE", HEAVY)
TIMBER = Layer("TIMBER", MEDIUM)
STEEL = Layer("STEEL", MEDIUM)
HIDDEN = Layer("HIDDEN", LIGHT, dashes=(2.4, 1.2))
PLANNED = Layer("PLANNED", LIGHT, "soft", dashes=(0.9, 1.1))  # where the plan had what was found elsewhere
BARS = Layer("BARS", MEDIUM)
PIPES = Layer("PIPES", MEDIUM)
BOLTS = Layer("BOLTS", MEDIUM)
CUT = Layer("CUT", MEDIUM)
DRILL = Layer("DRILL", MEDIUM)
CENTRE = Layer("CENTRE", LIGHT, dashes=(6.0, 1.2, 1.2, 1.2))
LINES = Layer("LINES", 0.25, "string", dashes=(9.0, 1.2, 0.6, 1.2, 0.6, 1.2))
DIMS = Layer("DIMS", LIGHT)
CHECK = Layer("CHECK", 0.25, "red")  # what must be checked with a tape: framed as well, for black and white
NOTES = Layer("NOTES", LIGHT)

LAYERS = (
    SHEET, GROUND, CONCRETE, TIMBER, STEEL, HIDDEN, PLANNED, BARS, PIPES, BOLTS, CUT, DRILL, CENTRE, LINES,
    DIMS, CHECK, NOTES,
)  # fmt: skip
WRITTEN = (LINES, DIMS, CHECK, NOTES)  # what is said of a thing, not the thing


@dataclass(frozen=True)
class Paper:
    """A sheet's size as it comes from the packet, upright [mm]."""

    name: str
    width: float
    height: float


LETTER = Paper("letter", 215.9, 279.4)
TABLOID = Paper("11x17", 279.4, 431.8)
A4 = Paper("A4", 210.0, 297.0)
A3 = Paper("A3", 297.0, 420.0)
PAPERS = {paper.name: paper for paper in (LETTER, TABLOID, A4, A3)}


@dataclass(frozen=True)
class Scale:
    """How much smaller the paper is than the thing; `ratio` 24 means 1:24."""

    ratio: float
    inches: str = ""  # of paper for one foot: "1/2"

    @property
    def mm(self) -> float:
        """Millimetres of paper for one metre of the thing."""
        return 1000 / self.ratio

    def label(self, system: str) -> str:
        """As it is written under a drawing: 1/2" = 1'-0" (1:24), or 1:20."""
        if self.ratio == 1:
            return "full size 1:1"
        if system == "us" and self.inches:
            return f'{self.inches}" = 1\'-0" (1:{self.ratio:g})'
        return f"1:{self.ratio:g}"


FULL_SIZE = Scale(1)

_FOOT_SCALES = (
    (4, "3"), (8, "1 1/2"), (12, "1"), (16, "3/4"), (24, "1/2"), (32, "3/8"), (48, "1/4"), (64, "3/16"), (96, "1/8"),
    (128, "3/32"), (192, "1/16"), (384, "1/32"), (768, "1/64"),
)  # fmt: skip
_METRE_SCALES = (2, 5, 10, 20, 25, 50, 75, 100, 200, 250, 500, 1000, 2000)
SCALES = {  # the standard scales of each system, largest first
    "us": (FULL_SIZE, Scale(2, "6"), *(Scale(ratio, inches) for ratio, inches in _FOOT_SCALES), Scale(1200)),
    "si": (FULL_SIZE, *(Scale(ratio) for ratio in _METRE_SCALES)),
}
