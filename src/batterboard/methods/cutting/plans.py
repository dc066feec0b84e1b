"""The words of cutting: what is wanted, what it is cut from, and the plan.

    stock  : Stock("16 ft", 4.8768, price=14.5)             a length to buy, as many as are wanted
             Stock("offcut", 2.1, price=0.0, count=2)       two on hand
    stick  : Stick(stock, times=3, pieces=(Piece("W1", 1.56, 2), ...), left=0.41)
    sheet  : Sheet("form ply", 2.4384, 1.2192)              length runs along the face grain
    panel  : Panel("west A", 1.016, 0.5588, count=2)        turn=True where the grain does not matter
    layout : Layout(sheet, times=1, places=(Place("west A", x=0.0, y=0.0, ...), ...), offcut=...)

All lengths in m, prices in any money: a price of 1 each counts pieces of stock.
"""

from dataclasses import dataclass

from batterboard.methods.cutting.first import Piece


@dataclass(frozen=True)
class Stock:
    name: str
    length: float
    price: float = 1.0
    count: int | None = None  # on hand; None: bought, as many as are wanted


@dataclass(frozen=True)
class Stick:
    """Equal sticks."""

    stock: Stock
    times: int
    pieces: tuple[Piece, ...]  # in cutting order, each with how many of it one stick yields
    left: float  # after the last cut


@dataclass(frozen=True)
class LengthPlan:
    sticks: tuple[Stick, ...]
    cost: float
    bound: float  # no plan costs less
    useful: float  # offcuts long enough to keep, all together
    left_out: tuple[str, ...] = ()  # longer than any stock
    stopped: bool = False  # by hand, before the search was at its end

    @property
    def proved(self) -> bool:
        return self.cost <= self.bound + 1e-6 * max(abs(self.cost), 1.0)


@dataclass(frozen=True)
class Sheet:
    name: str
    length: float
    width: float
    price: float = 1.0
    count: int | None = None


@dataclass(frozen=True)
class Panel:
    name: str
    length: float  # along the grain of the sheet
    width: float
    count: int = 1
    turn: bool = False  # it may lie across the grain


@dataclass(frozen=True)
class Place:
    """A panel on a sheet: its corner nearest the sheet's first corner, and its sides as it lies."""

    panel: str
    x: float
    y: float
    length: float
    width: float
    turned: bool


@dataclass(frozen=True)
class Layout:
    """Equal sheets."""

    sheet: Sheet
    times: int
    places: tuple[Place, ...]
    offcut: tuple[float, float]  # the largest piece left in one: along, across

    @property
    def used(self) -> float:
        """Share of the sheet that becomes panels."""
        return sum(p.length * p.width for p in self.places) / (self.sheet.length * self.sheet.width)


@dataclass(frozen=True)
class SheetPlan:
    layouts: tuple[Layout, ...]
    cost: float
    bound: float  # no plan costs less
    left_out: tuple[str, ...] = ()  # larger than any sheet
    stopped: bool = False  # by hand, before the search was at its end

    @property
    def sheets(self) -> int:
        return sum(layout.times for layout in self.layouts)

    @property
    def proved(self) -> bool:
        return self.cost <= self.bound + 1e-6 * max(abs(self.cost), 1.0)
