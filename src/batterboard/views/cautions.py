"""What must be said beside the numbers: the trade's cautions, and what nobody checked.

    PHASES     : ("size", "setout", ...)                 the trade's order
    QUESTIONS  : {"size": ("Size", "Will it stand ...")}  title and question of each
    ALWAYS     : what stands on every book, card and screen with a check
    foremost   : what stands on the first page of this job
    cautions   : of one phase of this job, the trench rules that its depths bring in included
    UNCHECKED  : what a phase does not look at

One home: book, lists and app read it here.
"""

from typing import TYPE_CHECKING

from batterboard import quantity
from batterboard.work.names import several

if TYPE_CHECKING:
    from batterboard.phases.dig import Caution
    from batterboard.plan import Plan

QUESTIONS: dict[str, tuple[str, str]] = {
    "size": ("Size", "Will it stand up, in this wind, on this soil, and will the leaf still latch?"),
    "setout": ("Set out", "Where exactly, in what order do I measure, and will the plate drop on the bolts?"),
    "dig": ("Dig", "How much, how deep, how safe?"),
    "template": ("Template", "One drilled pattern for bolts and plate: where are its holes, how long are the bolts?"),
    "cage": ("Cage", "Does all that steel, pipe and bolt fit in one box, with cover?"),
    "forms": ("Forms", "What shape, what cuts, and will it hold?"),
    "concrete": ("Concrete", "What mix, how wet, and what does added water cost?"),
    "ordering": ("Order", "How much of what do I order, and what do I hold the delivery ticket against?"),
    "pour": ("Pour", "In what order, how fast, and when to wait?"),
    "cure": ("Cure", "When do I strip, weld, load?"),
    "steel": ("Steel", "How long is the post, where are the hinges, what is left at the latch?"),
    "schedule": ("Days and holds", "What waits for what, and on which day?"),
}
PHASES = tuple(QUESTIONS)

ALWAYS = (
    "This prepares and explains. It does not replace a licensed engineer, an electrician or the local codes,"
    " which decide.",
    "Every number rests on what the job file says and on what was assumed. If the ground, the steel or the weather is"
    " not as written, stop and change the file first.",
    "Have the buried utilities marked before the first shovel, and wait until every one has answered.",
)

_CAUTIONS: dict[str, tuple[str, ...]] = {
    "size": (
        "Soil, frost and wind figures are inputs. Look at the bottom of the hole: soft, wet or filled ground is not"
        " what was computed.",
        "A post that holds people, traffic or a roof, or that can fall on them, wants an engineer's seal.",
    ),
    "setout": (
        "Measure every diagonal and every bolt distance a second time, by somebody else, with another tape.",
        "String lines and stakes trip people: flag them.",
    ),
    "dig": (
        "Have the buried utilities marked before digging; dig by hand beside the marks.",
        "Nobody goes into an unprotected trench of 5 ft (1.5 m) or more. Shallower cuts cave in too: look at them each"
        " morning and after rain.",
        "Keep people out from under the bucket, and the machine away from the edge.",
        "Cover or fence the open hole at night.",
    ),
    "template": (
        "Measure the check square on the print both ways before drilling. A printer that fits to the page shrinks it.",
        "Bolts are never bent to fit, heated or cut without the engineer's word.",
        "Clamp the plate before drilling; eye protection.",
    ),
    "cage": (
        "Cap every upright bar that somebody could fall on.",
        "Keep oil off the bars; cut and bend with eye protection and gloves.",
        "Lift a cage with two people or a sling; a cage that rolls breaks wrists.",
    ),
    "forms": (
        "Fresh concrete is as heavy as wet stone, and a form opens all at once. Nobody stands in front of a brace.",
        "Look at every nail, wedge, tie and stake before the truck comes, and again while it fills. A form that creaks,"
        " bulges or lifts: stop filling, everybody steps back, and only then look.",
        "A pier on a pad that was placed today stands on a liquid: no hand, no foot beside its form while it fills.",
        "Pull or bend over the nails of stripped lumber.",
    ),
    "concrete": (
        "Wet cement burns skin and eyes: waterproof gloves, boots and glasses; wash at once.",
        "Nobody but the one named on the order may have water put in.",
    ),
    "ordering": (
        "The driver is no party to the mix: water that nobody signed for is the owner's loss, and nobody's remedy.",
        "Walk the truck's way beforehand: soft ground, septic tanks, overhead lines, the edge of the hole.",
        "A short load is no reason to stretch it with water: stop at the joint that was planned.",
    ),
    "pour": (
        "Keep people out from behind the truck and from under the chute.",
        "Boom, chute and raised body stay 10 ft (3 m) from overhead lines up to 50 kV, 15 ft (4.6 m) up to 200 kV,"
        " further where the utility says so (29 CFR 1926.1408, Table A, of cranes). Not sure which line it is: ask.",
        "Do not fill faster than the rate that the forms were designed for.",
        "Wet cement burns skin and eyes; silica dust from dry cutting harms lungs.",
    ),
    "cure": (
        "Times are forecasts for the temperatures named. Colder is slower: measure, and wait longer.",
        "Nothing hangs, leans or pulls on green concrete; early loads crack it where nobody sees.",
        "Heaters in an enclosure: carbon monoxide and fire.",
    ),
    "steel": (
        "Heat of welding spalls concrete and harms fresh concrete: weld post to plate first if that can be done.",
        "Galvanized steel gives off fumes that make ill; helmet, gloves, fire watch, no wet ground.",
        "A hung leaf falls or swings: block it until both hinges and the stop are closed. Nobody stands between leaf"
        " and post.",
        "A powered gate needs entrapment protection and its own electrical permit.",
    ),
    "schedule": (
        "Notices, permits and inspections are local: the lead times here are guesses until the offices have answered.",
        "A locate ticket expires; ask again when it does.",
    ),
}

_SHORES = (
    "Shores carry all of it for weeks: a qualified person plans them and looks at them before, while and after the beam"
    " is filled (29 CFR 1926.703(b), from memory). One that settles, leans or creaks: stop, everybody away, then look.",
    "Shores on fill, mud or frozen ground sink when it rains or thaws. Nobody takes one out, loosens it or sets it anew"
    " before its time, and nothing is stacked on the beam until then.",
)

_TRENCH = {
    "spoil": "spoil, stone and boards stay at least 2 ft (0.6 m) back from the edge",
    "ladder": "a ladder, ramp or steps within 25 ft (7.6 m) of everybody in it",
    "ladder top": "its ladder stands out at least 3 ft (0.9 m) above the edge",
    "air": "where bad air can gather, it is tested before anybody goes in",
    "slope or shore": "sides are sloped or shored before anybody goes in, and a competent person looks at it each day",
    "engineer": "an engineer designs the protection",
    "cover": "covered or fenced whenever nobody works at it",
}

AS_BUILT = (
    "Cast concrete cannot be measured into place again. Where no remedy mends a check, stop and ask the engineer.",
    "Never burn a hole wider, bend a bolt by heat or weld to one whose steel you do not know.",
)
UNCHECKED_AS_BUILT = (
    "what a wider hole and its washer carry in shear: plate washers under the nuts, welded where the engineer says so",
    "bending of a plate, pull-out of a bolt that was coupled or that stands low",
    "what was cast and never looked at",
)

UNCHECKED: dict[str, tuple[str, ...]] = {
    "size": (
        "earthquake, ice, flood, vehicle impact, fatigue",
        "strength of posts, plates, hinges and welds under wind",
        "bending, shear and splitting of the concrete and its bars, most of all where a blockout weakens it",
        "pull-out, breakout and side blow-out of the anchor bolts",
        "settlement over years, swelling or collapsing soil, slopes nearby",
    ),
    "setout": ("property lines, easements and setbacks", "a tape's own error until it has been tested"),
    "dig": ("buried utilities", "ground water, pumping and shoring", "footings of neighbours within reach of the hole"),
    "template": ("breakout and pull-out of the bolts", "bending of the plate"),
    "cage": ("what the bars carry", "laps and couplers of bars longer than a stock bar", "room for the vibrator"),
    "forms": (
        "the ground under the stakes, and what a stake holds in it: that is an assumption until one was pulled",
        "tubes, straps, bands and ties beyond the load entered for them; a tube or a band that none was entered for",
        "joints of wales",
        "nails of stakes and kickers",
        "boxes set into a form that the job file does not name: they float",
        "a bought box: whether it stands the pressure, and what holds it",
        "yokes that slide up a leaning form: cleat each; all are reckoned as wide as the lowest",
        "ground under shores beyond its class: fill, water, frost; motor carts and heaps of concrete on a soffit",
        "people and hoses that lean on a form, trucks that bump it",
    ),
    "concrete": ("the plant's materials", "heat of hydration", "alkalis of the stone"),
    "ordering": ("what the plant can really deliver, and its fees", "access of the truck"),
    "pour": (
        "access of the truck, and what its wheels do to the edge of a trench",
        "what the weather turns to after the forecast, sun on the forms",
        "strength and footing of what a chute, hose or barrow stands on",
    ),
    "cure": (
        "what this cement really makes of heat: the model takes a typical one",
        "wind and rain on a bare top, sun on the forms",
        "strength by test cylinders: have them made, and write what they break at under [found.pour.breaks]",
    ),
    "steel": ("sag of the leaf itself", "weld sequence and shrinkage", "corrosion"),
    "schedule": ("holidays", "weather", "what offices and suppliers really answer"),
}


def foremost(plan: "Plan") -> tuple[str, ...]:
    """What stands on the first page: for every job, and the first of the steps that hurt most."""
    return (*ALWAYS, *_trenches(plan)[:1], *(_CAUTIONS[phase][0] for phase in ("cage", "forms", "cure")))


def cautions(plan: "Plan", phase: str) -> tuple[str, ...]:
    """What hurts people in this phase of this job, the worst first."""
    shored = _SHORES if phase in ("forms", "cure") and plan.forms.shored else ()
    return (*(_trenches(plan) if phase == "dig" else ()), *shored, *_CAUTIONS[phase])


def _trenches(plan: "Plan") -> tuple[str, ...]:
    return tuple(_trench(one, plan.job.job.units) for one in _grouped(plan))


def _grouped(plan: "Plan") -> list[tuple[str, list["Caution"]]]:
    by_rule: dict[str, list[Caution]] = {}
    for one in plan.dig.cautions:
        by_rule.setdefault(one.rule, []).append(one)
    order = list(_TRENCH)[::-1]
    return sorted(by_rule.items(), key=lambda pair: order.index(pair[0]))


def _trench(group: tuple[str, list["Caution"]], system: quantity.System) -> str:
    rule, ones = group
    deepest = max(ones, key=lambda one: float(one.depth))
    holes = several([one.hole for one in ones])
    depth = quantity.show(deepest.depth, quantity.Length, system)
    return f"{holes}: {_TRENCH[rule]} (deepest {depth}; {deepest.source})."
