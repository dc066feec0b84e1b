"""Where does a number come from?

    document : Document("ACI 318-19", "American Concrete Institute, 2019", scale="fine")
    source   : document.clause("22.5.5.1", "memory")     prints "ACI 318-19 22.5.5.1 (from memory, check the edition)"

`how` says whether anybody saw the page: "read: <where>", "memory", "derived", "common practice". What else is to be
said follows a colon.
"""

from typing import Literal

from batterboard.record import ordered

_HOW = {
    "memory": "from memory, check the edition",
    "derived": "derived",
    "common practice": "common practice, no source",
}


@ordered
class Document:
    """A book on the shelf. `scale` says in which coherent units its working prints: inches and mm, or feet and m."""

    name: str
    title: str = ""
    scale: Literal["fine", "coarse"] = "coarse"

    def clause(self, number: str, how: str = "memory") -> "Source":
        return Source(self, number, how)

    def table(self, number: str, how: str = "memory") -> "Source":
        return Source(self, f"table {number}", how)

    def equation(self, number: str, how: str = "memory") -> "Source":
        return Source(self, f"eq. {number}", how)


@ordered
class Source:
    """One place in a document and how its content was got."""

    document: Document
    place: str
    how: str = "memory"

    def __str__(self) -> str:
        return f"{self.document.name} {self.place}".strip()

    @property
    def remark(self) -> str:
        """How far to trust it: the words after the citation."""
        kind, _, detail = self.how.partition(": ")
        return self.how if kind == "read" else "; ".join(filter(None, (_HOW[kind], detail)))


STATICS = Document("Statics", "equilibrium and beam theory").clause("", "derived")
GEOMETRY = Document("Geometry", "plane and solid geometry", scale="fine").clause("", "derived")
PRACTICE = Document("Common practice").clause("", "common practice")
