"""Tables of the order: how sure it is, what it costs, bags, what classes ask for; water at the drum; trial batches."""

from math import isclose
from typing import TYPE_CHECKING, Any

from batterboard.phases.concrete.watering import Card, Left
from batterboard.phases.ordering import Amount, Choice
from batterboard.phases.proportions import Trial
from batterboard.quantity import (
    Flow,
    Length,
    Mass,
    MassDensity,
    Number,
    Pressure,
    Time,
    Volume,
    WaterContent,
    show,
)
from batterboard.standards import astm_c172, c94, durability, trade
from batterboard.views.tables.model import Column, Table, alone, known, pairs, sideways, span, table

if TYPE_CHECKING:
    from batterboard.plan import Plan

YARDS = ("0.01 yd3", "0.01 m3")
GALLONS = ("0.1 gal", "0.5 L")
CONTENT = ("0.1 gal/yd3", "0.5 L/m3")
STRENGTH = ("10 psi", "0.1 MPa")
SHARE = ("0.1 %", "0.1 %")
POUNDS = ("1 lb", "0.5 kg")


# ---- how much ----


def sums(plan: "Plan") -> Table:
    amounts = plan.ordering.amounts
    rows = (
        (t.mix, t.net, t.overdug, t.waste, t.gross, amounts[t.mix].ordered, amounts[t.mix].spare)
        for t in plan.pour.tickets.values()
    )
    headings = ("as designed", "over-dug, as found", "waste", "together", "ordered", "to spare")
    columns = (Column("mix"), *(Column(heading, Volume, YARDS) for heading in headings))
    return table("order-sums", "How the volume adds up", columns, rows)


def choices(plan: "Plan") -> Table:
    order = plan.ordering
    several, priced = len(order.amounts) > 1, any(amount.priced for amount in order.amounts.values())
    rows = (
        (
            *((name,) if several else ()),
            c.volume,
            c.spare,
            c.chance if c.chance >= 0.0005 else "hardly ever",
            c.lacks if alone(c.lacks) > 0 else "nothing",
            *((c.bill.total, known(c.more, "the first")) if priced else ()),
            _which(c, amount),
        )
        for name, amount in order.amounts.items()
        for c in amount.choices
    )
    columns = (
        *((Column("mix"),) if several else ()),
        Column("order", Volume, ("1/4 yd3", "0.25 m3")),
        Column("to spare", Volume, YARDS),
        Column("chance it runs short", Number, SHARE),
        Column("then short by", Volume, YARDS),
        *((Column("costs", Number), Column("more than the size before", Number)) if priced else ()),
        Column("which"),
    )
    return table("order-sizes", "How much to order", columns, rows, note=_sure(plan))


def _which(choice: Choice, amount: Amount) -> str:
    near = (("ordered", amount.ordered), ("short 1 in 20 at most", amount.enough))
    words = ", ".join(word for word, volume in near if isclose(choice.volume, volume))
    if words:
        return words
    return "too little" if choice.spare < 0 else "more than that" if choice.volume > amount.ordered else "just enough"


def _sure(plan: "Plan") -> str:
    system = plan.job.job.units

    def volume(value: Any) -> str:
        return show(alone(value), Volume, system, YARDS[0 if system == "us" else 1])

    parts = (
        f"{a.mix}: {volume(a.gross)} are needed, give or take {volume(a.spread)} (one standard deviation: holes and"
        f" forms {volume(a.holes)}, waste {volume(a.waste)}, what a load really holds {volume(a.yield_)})."
        for a in plan.ordering.amounts.values()
    )
    return " ".join((*parts, "Then short by: one time in twenty it is that much, or more."))


def bills(plan: "Plan") -> Table:
    """What the costs are made of, where there are any."""
    rows = (
        (name, c.volume, c.bill.concrete, c.bill.short, c.bill.waiting, c.bill.total)
        for name, amount in plan.ordering.amounts.items()
        if amount.priced
        for c in amount.choices
    )
    columns = (
        Column("mix"),
        Column("order", Volume, ("1/4 yd3", "0.25 m3")),
        *(Column(heading, Number) for heading in ("concrete", "short load", "waiting", "together")),
    )
    return table("order-costs", "What an order costs", columns, rows, note="By the plant's fees in the job file.")


def bags(plan: "Plan") -> Table:
    system = plan.job.job.units
    priced = plan.job.pour.order.bag_price is not None
    rows = (
        (
            name,
            b.name,
            b.makes,
            int(alone(b.count)),
            b.mass,
            span(b.least, b.most, Time, system),
            int(alone(b.mixers)),
            *((known(b.cost, "not priced"),) if priced else ()),
        )
        for name, amount in plan.ordering.amounts.items()
        for b in amount.bags
    )
    columns = (
        Column("mix"),
        Column("bag"),
        Column("makes", Volume, ("0.01 ft3", "0.1 L")),
        Column("bags"),
        Column("to carry", Mass, ("10 lb", "1 kg")),
        Column("with one mixer"),
        Column("mixers to keep up"),
        *((Column("costs", Number),) if priced else ()),
    )
    return table(
        "bags", "Or bags instead of a truck", columns, rows,
        note="As many mixers as place each lift before the next must follow. "
        f"{span(*trade.ONE_MIXER, Flow, system)} with one mixer is common practice, and so is the yield of a bag: "
        "look at the bag, and at the strength and air printed on it.",
    )  # fmt: skip


def classes(plan: "Plan") -> Table:
    """The same letters meant other limits in other editions: so that a plant's answer can be told apart."""
    rows = {
        one.name: (
            one.name,
            known(one.greatest, "none"),
            one.least,
            known(one.greatest_then, "not tabulated"),
            known(one.least_then, "not tabulated"),
        )
        for amount in plan.ordering.amounts.values()
        for one in amount.classes
    }
    columns = (
        Column("class"),
        Column("w/cm at most", Number),
        Column("strength at least", Pressure, STRENGTH),
        Column("w/cm, 318-08 and -11", Number),
        Column("strength, 318-08 and -11", Pressure, STRENGTH),
    )
    source = durability.EXPOSURE
    return table(
        "classes", "Exposure classes, and what the same letters once asked for", columns, rows.values(),
        note=f"{source}: not seen, check the edition. The last two columns are no limits of this job: they tell a "
        "plant that speaks of another edition.",
    )  # fmt: skip


def testing(plan: "Plan") -> Table:
    system = plan.job.job.units
    if not plan.pour.tickets:
        return pairs("testing", "At the truck", ())
    sample = show(astm_c172.SAMPLE, Volume, system)
    together, begun, moulded = (
        show(t, Time, system) for t in (astm_c172.TOGETHER, astm_c172.TESTED, astm_c172.MOULDED)
    )
    repeats = show(c94.SLUMP_REPEATS, Length, system)
    return pairs(
        "testing", "At the truck",
        (
            ("ticket", "hold it against the order before anything is placed: strength, w/cm, air, stone, time"),
            ("slump is low", "water once, before anything is tested, then 30 turns at mixing speed; signed for"),
            ("sample", f"{sample} from the middle of the load, its portions within {together}"),
            ("slump, air, temperature", f"begun within {begun}; cylinders made within {moulded}, and no water after"),
            ("a test fails", f"once more from the same sample, at once: two tests differ by up to {repeats}"),
        ),
        note=f"{astm_c172.SAMPLING}, {c94.SLUMP}: from memory, check the edition.",
    )  # fmt: skip


# ---- water at the drum ----


def water_costs(plan: "Plan") -> Table:
    system = plan.job.job.units
    side = 0 if system == "us" else 1
    labels = (
        "slump comes, is wanted", "water for it, a gallon a yard for an inch",
        "if the slump test is off by as much as two differ",
        "by the water table of ACI 211.1", "most that may go in", "w/cm then", "f'c left: balance, smooth curve",
        "f'c left: balance, table", "f'c left: common rule", "f'c left with the most", "by an admixture instead",
    )  # fmt: skip

    def strength(value: Any) -> str:
        return show(alone(value), Pressure, system, STRENGTH[side])

    def content(value: Any) -> str:
        return show(alone(value), WaterContent, system, CONTENT[side])

    def said(card: Card) -> tuple[str, ...]:
        none = alone(card.rule) == 0
        left: Left = card.planned
        limited = known(card.most, "") != ""
        return (
            f"{show(alone(card.from_slump), Length, system)}, {show(alone(card.to_slump), Length, system)}",
            "none" if none else content(card.rule),
            "none" if none else f"{content(card.rule_low)} to {content(card.rule_high)}",
            "none" if none else content(card.table),
            content(card.most) if limited else "no limit on w/cm",
            f"{alone(left.ratio):.2f}",
            strength(left.curve),
            strength(left.table) if known(left.table, "") != "" else "outside the table",
            strength(left.rule_low) if none else f"{strength(left.rule_low)} to {strength(left.rule_high)}",
            f"{strength(card.at_most.least)} or more" if limited else "no limit on w/cm",
            f"no water, {strength(card.without)}; ask the plant for kind and dose" if not none else "none needed",
        )

    cards = {f"{card.name}, {card.mix}": said(card) for card in plan.watering.cards}
    return sideways(
        "water-costs", "What water costs, said in three ways", labels, cards,
        note="The ways differ because the truth scatters: take the least water and believe the least strength. "
        f"Slump tests: {c94.REPEATS} ({c94.REPEATS.remark}).",
    )  # fmt: skip


def doses(plan: "Plan") -> Table:
    """By what is left in the drum, to read off at the truck."""
    cards = {
        (alone(card.rule), alone(card.most) if known(card.most, "") != "" else None): card
        for card in plan.watering.cards
        if alone(card.rule) > 0
    }
    rows = (
        (
            ", ".join((card.name, card.mix)),
            d.left,
            d.rule,
            known(d.most, "no limit"),
            _allowed(card),
        )
        for card in cards.values()
        for d in card.doses
    )
    columns = (
        Column("for"),
        Column("left in the drum", Volume, ("0.5 yd3", "0.5 m3")),
        Column("water for the slump", Volume, GALLONS),
        Column("at most", Volume, GALLONS),
        Column("for the slump"),
    )
    return table(
        "doses", "Water by what is left in the drum", columns, rows, found=("PUT IN",),
        note="By the rule of a gallon a yard for an inch. Never above the most, and never once cylinders are made. "
        "What has gone in before counts too. The most is by the greatest w/cm on the order and the strength that the"
        " exposure classes ask for; where a class gives them, ACI 318-19 was not seen: check the edition.",
    )  # fmt: skip


def _allowed(card: Card) -> str:
    if not card.within:
        return "too much"
    return "only where the admixture does not come" if card.wetted == "admixture" else "allowed"


def loads(plan: "Plan") -> Table:
    rows = (
        (
            load.name,
            load.lift,
            load.wanted,
            known(load.slump, "not logged"),
            known(load.added, "none logged"),
            load.ratio,
            load.strength,
            known(load.away, "not logged"),
        )
        for load in plan.concrete.loads
    )
    columns = (
        Column("load"),
        Column("into"),
        Column("slump wanted", Length),
        Column("slump", Length),
        Column("water put in", WaterContent, CONTENT),
        Column("w/cm then", Number),
        Column("strength then", Pressure, STRENGTH),
        Column("age when out", Time),
    )
    return table(
        "loads",
        "Loads as they came",
        columns,
        rows,
        note="The wettest load speaks for its lift: forms, strength and waits.",
    )


# ---- mixed on site ----


def proportions(plan: "Plan") -> Table:
    labels = (
        "average strength to aim at", "w/c", "which is ruled by", "water", "cement", "stone, dry",
        "sand, dry, by volumes", "sand, dry, by weight", "air", "stone, damp", "sand, damp", "water to put in",
        "weight when fresh", "sand and stone",
    )  # fmt: skip
    system = plan.job.job.units

    def said(t: Trial) -> tuple[str, ...]:
        def dense(value: Any) -> str:
            return show(alone(value), MassDensity, system, "lb/yd3" if system == "us" else "kg/m3")

        def whole(value: Any) -> str:
            return "outside the table" if known(value, "") == "" else dense(value).replace("not known", "outside")

        m = t.materials
        return (
            f"{show(alone(t.average), Pressure, system)}, {'by records' if t.by_records else 'without records'}",
            f"{alone(t.ratio):.2f}" if known(t.ratio, "") != "" else "outside the table",
            t.governs,
            *(whole(v) for v in (t.water, t.cement, t.stone, t.sand, t.sand_by_mass)),
            f"{show(alone(t.air), Number, system, '0.5 %')} {'entrained' if t.airy else 'entrapped'}",
            *(whole(v) for v in (t.stone_damp, t.sand_damp, t.water_in, t.weight)),
            f"{'typical, invented' if t.assumed else 'by the job file'}: fineness {m.fineness:g}, "
            f"sand {show(alone(m.sand_wet), Number, system, '0.1 %')} wet, "
            f"stone {show(alone(m.stone_wet), Number, system, '0.1 %')} wet",
        )

    trials = {name: said(t) for name, t in plan.proportions.trials.items()}
    told = [i for i in range(len(labels)) if any(trial[i] != "outside the table" for trial in trials.values())]
    kept = {name: tuple(trial[i] for i in told) for name, trial in trials.items()}
    return sideways(
        "proportions", "A first trial where it is mixed on site", tuple(labels[i] for i in told), kept,
        note="By ACI 211.1-91, whose tables were seen in notes and partly not at all: a trial, not a recipe. Mix one "
        "batch, measure its slump and its weight, then correct. "
        + " ".join(f"{n[:1].upper()}{n[1:]}." for n in plan.proportions.notes),
    )  # fmt: skip


def batches(plan: "Plan") -> Table:
    rows = (
        (name, b.name, b.concrete, b.cement, b.stone, b.sand, b.water)
        for name, trial in plan.proportions.trials.items()
        if trial.governs != "outside the table"
        for b in trial.batches
    )
    columns = (
        Column("mix"),
        Column("for"),
        Column("makes", Volume, ("0.1 ft3", "1 L")),
        *(Column(what, Mass, POUNDS) for what in ("cement", "stone, damp", "sand, damp", "water")),
    )
    return table("batches", "By the batch", columns, rows, note="Weighed damp, as it lies there today.")
