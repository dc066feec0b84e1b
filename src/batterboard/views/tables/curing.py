"""Tables of curing: how it is kept, what waits, its own heat, welding."""

from typing import TYPE_CHECKING, Any

from batterboard.phases.cure import Wait
from batterboard.quantity import (
    Celsius,
    Length,
    Mass,
    Number,
    Pressure,
    System,
    TemperatureDifference,
    Time,
    hour,
    show,
)
from batterboard.standards import trade
from batterboard.views.tables.concrete import STRENGTH
from batterboard.views.tables.model import Column, Table, alone, known, span, table, together
from batterboard.working import Source

if TYPE_CHECKING:
    from batterboard.phases.cure.warmth import Run
    from batterboard.plan import Plan

APART = ("1 F", "0.5 K")
WARM = ("1 F", "0.5 C")


def kept(plan: "Plan") -> Table:
    rows = (
        (
            k.name,
            alone(k.air),
            alone(k.coldest),
            alone(k.placed),
            alone(k.as_placed) if alone(k.cold) else "not cold",
            alone(k.moist),
            alone(k.protect) if alone(k.cold) else "not cold",
            alone(k.concrete) if k.warm else "as the air",
            ("yes" if alone(k.blankets) else "no") if k.warm else "left open",
            alone(k.most_drop),
            known(k.found, "none"),
        )
        for k in plan.cure.kept.values()
    )
    columns = (
        Column("lift"),
        Column("mean air", Celsius),
        Column("coldest hour", Celsius),
        Column("placed at", Celsius),
        Column("at least", Celsius),
        Column("keep moist", Time, ("d", "d")),
        Column("keep from frost", Time, ("d", "d")),
        Column("kept at", Celsius),
        Column("blankets"),
        Column("a day may cool it", TemperatureDifference, ("F", "K")),
        Column("broke at", Number, ("1 %", "1 %")),
    )
    from batterboard.phases.cure.curves import federal
    from batterboard.standards import aci306, durability, ufgs

    system = plan.job.job.units
    longer, rain = show(federal(plan.concrete), Time, system), show(ufgs.RAIN, Time, system)
    return table(
        "curing", "Curing and protection", columns, together(rows), found=("FOUND LOWEST",),
        note=f"Moist by the building code. A federal guide ({ufgs.CURING}) asks for {longer}, and keeps rain off for "
        f"{rain}. Broke at: cylinders over what was forecast. {unseen(durability.CURING, aci306.TEMPERATURES)}",
    )  # fmt: skip


def waits(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = (
        (
            w.name,
            str(w.lift),
            _habit(w, system),
            known(w.by_rule, "no rule"),
            _band(w, system),
            known(w.own, "none"),
            known(w.needs, "none"),
            _ever(w.at),
            known(w.reaches, "never"),
        )
        for w in plan.cure.waits
    )
    columns = (
        Column("act"),
        Column("lift"),
        Column("habit at 70 F" if system == "us" else "habit at 21 C"),
        Column("by rule", Time),
        Column("by strength"),
        Column("its own load needs", Pressure, STRENGTH),
        Column("strength asked for", Pressure, STRENGTH),
        Column("WAIT", Time),
        Column("strength then", Pressure, STRENGTH),
    )
    loads = dict.fromkeys(f"{w.act}: {w.load}" for w in plan.cure.waits if w.load)
    own = f" Own loads, by the plain section: {'; '.join(loads)}." if loads else ""
    return table(
        "waits", "When to strip, weld and load", columns, together(rows), found=("DONE",),
        note=f"Ages from the end of placing, for which {show(trade.POURING, Time, system)} from the start of the pour "
        f"are taken; the days and the calendar plan each for the next time of day at which the pour began. "
        f"{plan.cure.gain}.{own} {unseen(*rules())}",
    )  # fmt: skip


def rules() -> tuple[Source, ...]:
    """What the waits rest on."""
    from batterboard.standards import aci306, durability, form_removal, osha, plain, ufgs

    return (
        *(form_removal.REMOVAL, aci306.FROST, durability.CURING, plain.SECTION, plain.SOIL),
        *(osha.ERECTION, ufgs.WELDING),
    )


def unseen(*sources: Source) -> str:
    """Those of them that nobody here has read."""
    told = [f"{source} ({source.how})" for source in sources if "memory" in source.how]
    return f"Not seen, check the edition: {'; '.join(told)}."


def _habit(w: Wait, system: System) -> str:
    if known(w.habit_low, "") == "":
        return "none"
    return span(w.habit_low, w.habit_high, Time, system)


def _band(w: Wait, system: System) -> str:
    """From the quickest of the functions to the slowest, which rules."""
    if not w.strength:
        return "no strength"
    if _ever(w.by_strength) == "never":
        return "never" if _ever(w.earliest) == "never" else f"{_age(w.earliest, system)} to never"
    low, high = _age(w.earliest, system), _age(w.by_strength, system)
    return low if low == high else f"{low} to {high}"


def _age(t: Any, system: System) -> str:
    """An age, no finer than minutes."""
    t = alone(t)
    return show(t, Time, system, "1 min" if t < hour else None)


def _ever(t: Any) -> Any:
    t = known(t, "never")
    return "never" if t == float("inf") else t


def opinions(plan: "Plan") -> Table:
    """Strength by every published function."""
    from batterboard.phases.cure.opinions import AGES

    system = plan.job.job.units
    rows = (
        (one.lift, one.function, "yes" if one.rules else "beside", *(known(f, "no fit") for f in one.at))
        for one in plan.opinions
    )
    columns = (
        Column("lift"),
        Column("function"),
        Column("in band"),
        *(Column(f"at {show(age, Time, system, 'd')}", Pressure, STRENGTH) for age in AGES),
    )
    return table(
        "opinions", "How strong, by every published function", columns, together(rows), found=("FOUND BROKEN",)
    )


# ---- its own heat, and welding ----


def heat(plan: "Plan") -> Table:
    rows = []
    for one in plan.heat.bodies:
        rows.append((_names(one.name, one.like), "blankets" if one.blankets else "bare", *_run(one.run)))
        rows.append((_names(one.name, one.like), "bare" if one.blankets else "blankets", *_run(one.other)))
    columns = (
        Column("block"),
        Column("under"),
        Column("hottest inside", Celsius, WARM),
        Column("after", Time),
        Column("core to face", TemperatureDifference, APART),
        Column("greatest after", Time),
        Column("coldest while young", Celsius, WARM),
        Column("edge frost-proof after", Time),
        Column("frozen"),
    )
    limit = plan.heat.bodies[0] if plan.heat.bodies else None
    system = plan.job.job.units
    note = ""
    if limit is not None:
        from batterboard.standards import aci207

        hottest, apart = show(limit.hottest, Celsius, system), show(limit.apart, TemperatureDifference, system)
        note = (
            f"Specifications for mass concrete stop at {hottest} inside and {apart} between core and face "
            f"({aci207.LIMITS}; {aci207.LIMITS.how}). "
            f"Heat in three dimensions, {plan.heat.cells} cells; its own account closes to {plan.heat.balance:.0e} of "
            f"the heat that moved. {' '.join(f'{text[:1].upper()}{text[1:]}.' for text in plan.heat.notes)}"
        )
    return table("heat", "Its own heat, and what blankets buy", columns, rows, note=note)


def _run(run: "Run") -> tuple[Any, ...]:
    return (
        run.peak, run.peak_at, run.difference, run.difference_at, run.coldest,
        known(run.proof_at, "not in two weeks"), "FREEZES" if run.frozen else "no",
    )  # fmt: skip


def _names(name: str, like: tuple[str, ...]) -> str:
    return ", ".join((name, *like))


def inputs(plan: "Plan") -> Table:
    system = plan.job.job.units
    rows = ((one.name, show(alone(one.value), one.kind, system), one.source) for one in plan.heat.inputs)
    columns = (Column("what"), Column("taken as"), Column("from"))
    return table("heat-inputs", "What the heat model takes", columns, rows)


def welds(plan: "Plan") -> Table:
    rows = (
        (w.name, w.length, w.mass, w.rise, w.edge, "NEAR THE EDGE" if w.near else "far enough", w.gap, w.after)
        for w in plan.welds
    )
    columns = (
        Column("post"),
        Column("fillet all round", Length),
        Column("plate weighs", Mass, ("1 lb", "0.1 kg")),
        Column("plate warmer by at most", TemperatureDifference, APART),
        Column("plate to edge", Length),
        Column("edge"),
        Column("gap under it", Length),
        Column("not before", Time),
    )
    return table(
        "welding", "Welding over the concrete", columns, rows,
        note="The mean of the plate, if all heat stayed in it: near the weld it is far hotter, so weld in short runs "
        "and let it cool. Distance to the edge, and plate and concrete dry: common practice, no source. No welding "
        "while it cures: the federal guide.",
    )  # fmt: skip
