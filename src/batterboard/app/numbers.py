"""Which few numbers of each step does he want without opening the book?

    ("west pad", "4'-6\" x 4'-6\", 5'-2\" deep")      what it is of, and what it comes to

Not the lists: those are the book's.
"""

import math
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from batterboard.plan import Plan
from batterboard.quantity import (
    Force,
    Length,
    Number,
    Pressure,
    System,
    Time,
    Volume,
    WaterContent,
    show,
    show_exact,
)
from batterboard.views import pour_page
from batterboard.views.order import sentences

Row = tuple[str, str]
Say = Callable[[Any, Any], str]


def key_numbers(plan: Plan, phase: str) -> list[Row]:
    """The rows of one phase, in words."""
    system: System = plan.job.job.units

    def say(value: Any, kind: Any) -> str:
        return show(value, kind, system)

    return list(_ROWS[phase](plan, say))


def _size(plan: Plan, say: Say) -> Iterator[Row]:
    system: System = plan.job.job.units
    for name, movement in plan.size.movements.items():
        droop, soil, post = (
            show_exact(v, Length, system) for v in (movement.droop, movement.droop_soil, movement.droop_post)
        )
        yield f"{name}, droop at the latch", f"{droop}: {soil} by the soil, {post} by the post"
        yield f"{name}, latch gap closes by", show_exact(movement.lean, Length, system)
    pushes = {push.name: push for load in plan.size.loads.values() for push in load.pushes}
    for push in pushes.values():
        yield f"wind on {push.name}", say(push.force, Force)


def _setout(plan: Plan, say: Say) -> Iterator[Row]:
    yield "measuring order", f"{len(plan.setout.readings)} readings, {len(plan.setout.stakes)} points"
    for opening in plan.setout.openings:
        yield (
            f"clear opening, {opening.name}",
            f"{say(opening.clear, Length)}, give or take {say(2 * opening.sigma, Length)}",
        )
    for diagonal in plan.setout.diagonals:
        yield f"tape {diagonal.name}", say(diagonal.length, Length)
    for plate in plan.setout.plates:
        yield f"plate of {plate.name} drops on", f"{say(100 * plate.chance, Number)} % of {plate.samples} trials"


def _dig(plan: Plan, say: Say) -> Iterator[Row]:
    for hole in plan.dig.holes:
        size = f"{say(hole.along, Length)} x {say(hole.across, Length)}"
        yield hole.name, f"{size} at the bottom, {say(hole.depth, Length)} deep"
    yield "spoil", f"{say(plan.dig.bank, Volume)} in the bank, {say(plan.dig.loose, Volume)} loose"


def _template(plan: Plan, say: Say) -> Iterator[Row]:
    for pattern in plan.template.patterns:
        square = f"{say(pattern.spacing_along, Length)} x {say(pattern.spacing_across, Length)}"
        yield f"{pattern.name}, bolts", f"{len(pattern.points)} x {pattern.rod}, {square} between centres"
        yield f"{pattern.name}, holes", say(pattern.hole, Length)
        budget = pattern.budget
        rod = f"{say(budget.length, Length)} long, {say(budget.proud, Length)} above the concrete"
        yield f"{pattern.name}, rod", rod


def _cage(plan: Plan, say: Say) -> Iterator[Row]:
    for bought in plan.bars.totals:
        total = bought.of
        stock = f"{bought.stock} stock bars of {say(total.stock_length, Length)}"
        yield f"{total.size} bars", f"{total.count} pieces, {say(total.weight, Force)}: {stock}"
    yield "all bars", say(plan.cage.weight, Force)


def _forms(plan: Plan, say: Say) -> Iterator[Row]:
    for box in plan.forms.boxes:
        pressure = f"{say(box.lateral.peak, Pressure)}, {box.lateral.governs}"
        yield f"{box.name}, pressure", pressure
        if box.frame:
            yield f"{box.name}, yokes", f"{len(box.yokes)} of {box.frame.size.name}"


def _concrete(plan: Plan, say: Say) -> Iterator[Row]:
    for mix in plan.concrete.mixes.values():
        parts = [say(mix.strength, Pressure), f"{say(mix.slump, Length)} slump"]
        if not math.isnan(mix.greatest):
            parts.append(f"w/cm {say(mix.greatest, Number)} at most")
        yield mix.name, ", ".join(parts)
        yield f"{mix.name}, initial set", f"about {say(mix.initial_set, Time)} after mixing"
    for water in plan.concrete.waters:
        if water.wetted == "water":
            what = "added" if water.logged else "would be added"
            yield f"{water.name}, water", f"{say(water.added, WaterContent)} {what}"


def _ordering(plan: Plan, say: Say) -> Iterator[Row]:
    for name, sentence in sentences(plan).items():
        yield f"order {name}", sentence
        amount = plan.ordering.amounts[name]
        yield f"{name}, chance it runs short", show(amount.chance, Number, plan.job.job.units, "0.1 %")


def _pour(plan: Plan, say: Say) -> Iterator[Row]:
    """The pour page, but for the order: that is told one step before."""
    for lift in plan.pour.lifts:
        if lift.cast:
            yield lift.name, "cast"
    page = pour_page.content(plan)
    if page is None:
        return
    yield "when", page["when"]
    for number, what, volume, slump, begins, ends in page["lifts"]:
        yield f"lift {number}", f"{begins} to {ends}: {what}, {volume}, {slump} slump"
    for hold in page["holds"]:
        yield "between lifts", hold
    for load in page["loads"]:
        name, _, rest = load.partition(", " if ": " not in load.partition(", ")[0] else ": ")
        yield name.lower(), rest
    yield "vibrator, bolts", page["after"]
    for told, asks in (*page["go"], *page["sky"]):
        yield "NOT YET" if asks else "in the morning", told
    for happens, then in page["ifs"]:
        yield f"if: {happens[:1].lower()}{happens[1:]}", then


def _cure(plan: Plan, say: Say) -> Iterator[Row]:
    for wait in plan.cure.waits:
        yield wait.name, f"{say(wait.at, Time)} after placing"


def _steel(plan: Plan, say: Say) -> Iterator[Row]:
    for post in plan.steel.posts:
        yield f"post {post.name}", f"cut {post.section} to {say(post.length, Length)}"
    for hang in plan.steel.hangs:
        left = f"{say(hang.left_low, Length)} at the lower hinge, {say(hang.left_high, Length)} at the upper one"
        yield f"{hang.name}, left at the latch", left


def _schedule(plan: Plan, say: Say) -> Iterator[Row]:
    for event in plan.schedule.events:
        starts = event.starts
        day = math.floor(float(event.start) / 86400)
        yield event.name, f"{starts:%a %d %b %Y}" if starts else "pour day" if day == 0 else f"day {day:+d}"


_ROWS: dict[str, Callable[[Plan, Say], Iterable[Row]]] = {
    "size": _size,
    "setout": _setout,
    "dig": _dig,
    "template": _template,
    "cage": _cage,
    "forms": _forms,
    "concrete": _concrete,
    "ordering": _ordering,
    "pour": _pour,
    "cure": _cure,
    "steel": _steel,
    "schedule": _schedule,
}
