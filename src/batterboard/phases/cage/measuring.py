"""What is there, measured in each element: covers, gaps between bars, ties, feet in the pad."""

from collections.abc import Iterator, Mapping
from math import inf
from typing import Any

import numpy as np

from batterboard.job.schema import Mix
from batterboard.phases.cage.results import Cover, Foot, Gap, TieRun
from batterboard.standards import aci318
from batterboard.standards.tables import BarSize
from batterboard.work.records import Beam, Body, Pier, Slab
from batterboard.working import nan

Element = Pier | Slab | Beam


def covers_of(element: Element) -> Iterator[Cover]:
    """Of each body with steel: as planned, and as found where somebody looked."""
    found = element.cover_found if isinstance(element, Pier) else {}
    for body in element.bodies:
        if body.part == "step":
            continue  # no steel of its own: the uprights go through it to the mat
        mat = body.part in ("pad", "slab")
        bars = [bar for bar in element.bars if bar.role.startswith("pad") == mat]
        if not bars:
            continue
        outer = min(bars, key=lambda bar: (bar.role != "tie", bar.role != "pad along", -bar.size.diameter))
        planned = element.pad_cover if isinstance(element, Pier) and body.part == "pad" else element.cover
        against = "earth" if body.part == "slab" else body.against  # its underside lies on the ground
        alone_there = len(element.bodies) == 1  # else what lies below is the pad's
        looked = {face: at for face, at in found.items() if alone_there or (face == "bottom") == (body.part == "pad")}
        needed = aci318.least_cover(against, outer.size.diameter)
        for face, at in {"all": nan, **looked}.items():
            yield Cover(
                name=body.name,
                element=body.element,
                face=face,
                against=against,
                size=outer.size.name,
                diameter=outer.size.diameter,
                planned=planned,
                found=at,
                needed=needed,
                tolerance=aci318.cover_tolerance(depth(body, planned), needed),
            )


def depth(body: Body, cover: Any) -> Any:
    """From one face to the steel at the other: the depth that the placing tolerance goes by."""
    across = body.height if body.part in ("pad", "slab") else body.head.least
    return across - cover


def gaps_of(element: Element, mixes: Mapping[str, Mix]) -> Iterator[Gap]:
    for bar in element.bars:
        if bar.role == "tie" or bar.count < 2:
            continue
        body = element.bodies[0] if bar.role.startswith("pad") else element.bodies[-1]
        stone, d = mixes[body.mix].stone, bar.size.diameter
        x, y = (varied(v, 2)[:, -1] for v in (bar.x, bar.y))
        apart = np.hypot(x[:, None] - x[None], y[:, None] - y[None])
        apart[np.arange(bar.count), np.arange(bar.count)] = inf
        least = aci318.column_clear_spacing if bar.role == "up" else aci318.clear_spacing
        yield Gap(
            name=f"{bar.element} {bar.role}",
            element=bar.element,
            role=bar.role,
            size=bar.size.name,
            diameter=d,
            stone=stone,
            clear=alone(apart.min(axis=(0, 1)) - d),
            needed=least(d, stone),
        )


def ties_of(pier: Pier, bolted: bool) -> Iterator[TieRun]:
    ties = [bar for bar in pier.bars if bar.role == "tie" and bar.count]
    ups = [bar for bar in pier.bars if bar.role == "up"]
    if not ties or not ups:
        return
    heights = [varied(bar.z, 2)[:, 0] for bar in ties]
    at = np.sort(joined(heights), axis=0)
    gaps = np.diff(at, axis=0)
    if pier.pad is not None:
        gaps = np.concatenate([gaps, 2 * (at[:1] - pier.shaft.bottom)])
    thin = min((bar.size for bar in ties), key=_by_diameter)
    upright = ups[0].size.diameter
    near = [(pier.top - z <= aci318.NEAR_TOP + 1e-9).sum(axis=0).min() for z in heights]
    at_bolts = min((bar.size for bar, n in zip(ties, near, strict=True) if n), key=_by_diameter, default=thin)
    yield TieRun(
        name=pier.name,
        size=thin.name,
        diameter=thin.diameter,
        upright=upright,
        least_side=pier.shaft.head.least,
        count=len(at),
        widest=alone(gaps.max(axis=0)) if len(gaps) else 0.0,
        allowed=aci318.tie_spacing(upright, thin.diameter, pier.shaft.head.least),
        bolted=bolted,
        near_top=int(sum(near)),
        near_top_size=at_bolts.name,
        near_top_diameter=at_bolts.diameter,
        near_top_needed=int(aci318.ties_at_bolts(at_bolts.diameter)) if bolted else 0,
    )


def _by_diameter(size: BarSize) -> Any:
    return size.diameter


def feet_of(pier: Pier) -> Iterator[Foot]:
    for bar in pier.bars:
        if bar.role != "up" or bar.shape != "L" or pier.pad is None or not bar.count:
            continue
        d, pad = bar.size.diameter, pier.pad
        job_x, job_y = pier.frame.out(varied(bar.x, 2)[:, 0], varied(bar.y, 2)[:, 0])
        x, y = pad.frame.into(job_x, job_y)
        spare = np.minimum(pad.outline.along / 2 - np.abs(x), pad.outline.across / 2 - np.abs(y)).min(axis=0)
        D = aci318.bend_diameter(d)
        yield Foot(
            name=pier.name,
            size=bar.size.name,
            diameter=d,
            leg=bar.legs[0],
            needed=aci318.hook_leg(d, D),
            room=alone(bar.legs[0] + spare - np.nan_to_num(pier.pad_cover)),
        )


# ---- numbers with or without variants ----


def varied(values: Any, items: int) -> Any:
    """With an axis of variants at the end, one long where there are none."""
    values = np.asarray(values, float)
    return values if values.ndim > items else values[..., None]


def joined(parts: list[Any]) -> Any:
    deep = max(part.shape[-1] for part in parts)
    return np.concatenate([np.broadcast_to(part, (*part.shape[:-1], deep)) for part in parts])


def take(values: Any, at: Any) -> Any:
    """values[at] along the first axis, for each variant."""
    return np.take_along_axis(values, np.asarray(at)[None], axis=0)[0]


def alone(values: Any) -> Any:
    return float(np.ravel(values)[0]) if np.size(values) == 1 else values
