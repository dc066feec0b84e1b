"""Which strips and sticks of the forms are cut from which lengths that the yard sells or that lie about?

    stick : CutStick(of="2x4", length=3.6576, times=3, pieces=(StickPiece("west yoke", 0.773, 4), ...), left=0.55)
    total : StickTotal(of="2x4", buys=((3.6576, 5), (2.4384, 1)), cost, least, ...)

What lies about goes first, then what costs least; where the job names no price for each, what is least in length. Of
plans that cost the same the one stands that leaves the longest offcuts worth keeping. What sticks there are to cut, and
which stakes are bought instead, stands in `framing`. A search, asked for where a list is printed.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, cast

import numpy as np

from batterboard.job.errors import JobError, Problem
from batterboard.job.reader import problem_at
from batterboard.job.schema import Job, Stick, Stock
from batterboard.phases.forms.framing import Joined, Member, members_of
from batterboard.phases.forms.results import Box, Forms, Strip
from batterboard.quantity import Length, Number, ft
from batterboard.record import record
from batterboard.work.names import pooled

if TYPE_CHECKING:
    from batterboard.methods.cutting.first import Piece
    from batterboard.methods.cutting.plans import LengthPlan
    from batterboard.methods.cutting.plans import Stock as Stuff

# What stands in where the file names none. Common practice, no source.
USUAL_LUMBER = (8 * ft, 10 * ft, 12 * ft, 16 * ft)
USUAL_STRIP = 10 * ft
MILLIMETRE = 0.001


@record
class StickPiece:
    mark: str  # "west yoke", "west corner a"
    length: Length  # to cut; of a strip long point to long point
    count: int  # out of one stick


@record
class CutStick:
    """Equal sticks."""

    of: str  # "2x4", "chamfer strip"
    legs: tuple[Length, Length] | None  # of a chamfer strip, the longer first
    length: Length
    on_hand: bool
    times: int
    pieces: tuple[StickPiece, ...]  # in cutting order
    left: Length


@record
class StickTotal:
    """All sticks of one kind."""

    of: str
    legs: tuple[Length, Length] | None
    buys: tuple[tuple[Length, int], ...]  # how many of which length
    priced: bool  # cost and least are money; else lengths
    cost: Number
    least: Number  # no plan costs less
    usual: bool  # the lengths are assumed: the file names none
    kept: Length  # offcuts worth keeping, all together
    too_long: tuple[str, ...]  # pieces that no stick yields
    stopped: bool  # by hand, before the search was at its end


@record
class Lumber:
    sticks: tuple[CutStick, ...]
    totals: tuple[StickTotal, ...]
    members: tuple[Member, ...]  # what is cut, form by form; chamfer strips are not among them
    joined: tuple[Joined, ...]  # what is longer than any stick, and where its parts meet
    kerf: Length
    keep: Length  # the shortest offcut worth keeping


def lumber(job: Job, forms: Forms) -> Lumber:
    """All sticks of the job's forms. A batch is cut for its longest pieces.

    Raises JobError where the job names its sticks and a piece is longer than all of them.
    """
    from batterboard.methods.cutting import lengths, recount

    stock = job.stock
    kerf, keep = _most(stock.kerf), _most(stock.keep)
    sticks: list[CutStick] = []
    totals = []
    longest = max(stuff.length for stuff in _stuffs(stock.brace, None, stock)[0])
    made = [members_of(box, longest) for box in forms.boxes]
    members = [member for few, _ in made for member in few]
    for (of, legs), pieces in _wanted(forms, members).items():
        stuffs, priced, usual = _stuffs(of, legs, stock)
        plan = lengths.best(pieces, stuffs, kerf=kerf, keep=keep, name=of)
        faults = recount.length_faults(plan, pieces, stuffs, kerf, keep)
        if faults:
            raise AssertionError("; ".join(faults))  # never print a plan that the recount refuses
        sticks += _sticks(of, legs, plan)
        totals.append(_total(of, legs, plan, priced, usual))
    if wrong := list(_too_long(job, totals)):
        raise JobError(wrong)
    return Lumber(
        sticks=tuple(sticks),
        totals=tuple(totals),
        members=tuple(members),
        joined=tuple(joined for _, few in made for joined in few),
        kerf=kerf,
        keep=keep,
    )


def _too_long(job: Job, totals: Sequence[StickTotal]) -> Iterator[Problem]:
    for total in totals:
        if total.too_long and not total.usual:
            words = f"no {total.of} is long enough for {', '.join(total.too_long)}"
            yield problem_at(job, ("stock", "sticks"), words, "name a longer one that the yard has")


Kind = tuple[str, tuple[float, float] | None]


def _wanted(forms: Forms, members: Sequence[Member]) -> dict[Kind, list["Piece"]]:
    """Pieces by what they are cut from."""
    from batterboard.methods.cutting.first import Piece

    wanted: dict[Kind, list[tuple[str, float, int]]] = {}
    for box in forms.boxes:
        for strip in box.strips:
            short, long = sorted(round(_most(leg), 6) for leg in (strip.leg, strip.other_leg))
            piece = strip.mark, round(_most(strip.long), 9), strip.count
            wanted.setdefault((_stuff(box, strip), (long, short)), []).append(piece)
    for member in members:
        wanted.setdefault((member.of, None), []).append((member.mark, round(member.length, 9), member.count))
    return {
        kind: [Piece(pool.name, pool.like, pool.many) for pool in pooled(pieces)] for kind, pieces in wanted.items()
    }


def _stuff(box: Box, strip: Strip) -> str:
    """What a strip is cut from: its faces stand square, but in the corners of many sides."""
    if box.kind != "polygon" or strip.edge != "corner":
        return "chamfer strip"
    n = len(box.panels[0].sides)
    return f"chamfer strip of {180 * (n - 2) / n:g}°"


def _stuffs(of: str, legs: tuple[float, float] | None, stock: Stock) -> tuple[list["Stuff"], bool, bool]:
    """Those on hand cost nothing; where nothing is named to buy, the yard's usual lengths are."""
    from batterboard.methods.cutting.plans import Stock as Stuff

    named = [stick for stick in stock.sticks if stick.of == ("strip" if legs else of)]
    named = [stick for stick in named if stick.legs is None or (legs and _alike(stick.legs, legs))]
    named = [] if legs and of != "chamfer strip" else named  # nobody sells those: he rips them himself
    bought = [stick for stick in named if stick.have is None]
    usual = not bought
    if usual:
        wanted = "strip" if legs else of
        bought = [Stick(of=cast(Any, wanted), long=long) for long in ((USUAL_STRIP,) if legs else USUAL_LUMBER)]
    priced = all(stick.price is not None for stick in bought)
    made = [
        Stuff(f"{n}", _most(s.long), _most(s.price) if priced else _most(s.long) / MILLIMETRE)
        for n, s in enumerate(bought, 1)
    ]
    lying = [stick for stick in named if stick.have]
    made += [Stuff(f"on hand {n}", _most(s.long), 0.0, s.have) for n, s in enumerate(lying, 1)]
    return made, priced, usual


def _alike(one: tuple[Length, Length], other: tuple[Length, Length]) -> bool:
    return all(abs(_most(leg) - _most(told)) < MILLIMETRE for leg, told in zip(one, other))


def _sticks(of: str, legs: tuple[float, float] | None, plan: "LengthPlan") -> Iterator[CutStick]:
    for stick in plan.sticks:
        yield CutStick(
            of=of,
            legs=legs,
            length=stick.stock.length,
            on_hand=stick.stock.count is not None,
            times=stick.times,
            pieces=tuple(StickPiece(mark=p.name, length=p.length, count=p.count) for p in stick.pieces),
            left=stick.left,
        )


def _total(of: str, legs: tuple[float, float] | None, plan: "LengthPlan", priced: bool, usual: bool) -> StickTotal:
    buys: Counter[float] = Counter()
    for stick in plan.sticks:
        if stick.stock.count is None:
            buys[stick.stock.length] += stick.times
    unit = 1.0 if priced else MILLIMETRE
    return StickTotal(
        of=of,
        legs=legs,
        buys=tuple(sorted(buys.items())),
        priced=priced,
        cost=plan.cost * unit,
        least=plan.bound * unit,
        usual=usual,
        kept=plan.useful,
        too_long=plan.left_out,
        stopped=plan.stopped,
    )


def _most(value: Length) -> float:
    return float(np.max(value))
