"""How well does it cut? Answers, bounds, a peer's answers and times of one run, every plan recounted piece by piece.

    python benchmarks/packing.py FILE.jsonl…            1-D and 2-D, as the lines say
    python benchmarks/packing.py --turn FILE.jsonl      2-D: pieces may be turned
    python benchmarks/packing.py --stages 0 FILE.jsonl  2-D: any number of stages (3 unless said)
    python benchmarks/packing.py --every 5 FILE.jsonl   only every fifth instance
    python benchmarks/packing.py --solver 10 FILE.jsonl HiGHS, a general solver, on the textbook model, for 10 s each

The peer of lengths is first-fit decreasing (of each stock length alone, the cheapest counts); the peer of sheets is
first-fit decreasing on shelves: plain rules of `peers`, as the solver's models are. Ctrl-C ends the list at hand with
the best so far, prints the totals of those done, and stops. Best-known values come from a best_known_*.csv beside the
file. No job of this program asks the goals of one sheet (best value, all of it filled): they are answered by filling it
in many orders, the same in every run. More is better there; the bound is what its area would hold if pieces were sand,
and "above" counts what falls short.
"""

import argparse
import csv
import json
import random
import re
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from math import gcd
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(HERE / "src"))

import peers  # noqa: E402

from batterboard.methods.cutting import lengths, recount, sheets, strips  # noqa: E402
from batterboard.methods.cutting.knapsack import Knapsack  # noqa: E402
from batterboard.methods.cutting.plans import Layout, Panel, Place, Sheet, SheetPlan, Stock  # noqa: E402
from batterboard.methods.cutting.watch import by_hand, stopped  # noqa: E402

Row = dict[str, Any]


def main() -> int:
    ask = argparse.ArgumentParser(description="Answers, bounds and times of the cutting searches.")
    ask.add_argument("files", nargs="+", type=Path)
    ask.add_argument("--turn", action="store_true", help="2-D pieces may be turned")
    ask.add_argument("--stages", type=int, default=3, help="2-D stages of cuts, 0 for any number")
    ask.add_argument("--every", type=int, default=1, help="only every so-manieth instance")
    ask.add_argument("--solver", type=float, default=0.0, metavar="SECONDS", help="ask HiGHS too, so long for each")
    said = ask.parse_args()
    faults = 0
    with by_hand() as watch:
        for path in said.files:
            if not watch.stopped:
                faults += _file(path, said.turn, said.stages or None, said.every, said.solver)
    if watch.stopped:
        print("stopped by hand")
    return 1 if faults else 0


def _file(path: Path, turn: bool, stages: int | None, every: int, solver: float) -> int:
    known = _known(path.parent)
    print(f"\n{path.name}" + (", pieces may be turned" if turn else ""))
    head = ("answer", "bound", "best known", "peer", "HiGHS", "first [s]", "time [s]", "peer [s]", "as good [s]")
    print(f"{'':<18}" + "".join(f"{word:>12}" for word in head))
    totals: dict[str, list[Row]] = defaultdict(list)
    faults = 0
    for number, line in enumerate(path.read_text().splitlines()):
        if number % every or not line.strip():
            continue
        if stopped():
            break
        instance = json.loads(line)
        if "stock" in instance:
            row = _lengths(instance, known, solver)
        else:
            row = _sheets(instance, known, turn, stages, solver)
        totals[_class_of(instance["name"])].append(row)
        cells = [row[key] for key in ("answer", "bound", "known", "peer", "solver")]
        cells += [f"{row[key]:.3f}" for key in ("first", "time", "peer_time", "as_good")]
        print(f"{instance['name']:<18}" + "".join(f"{_cell(cell):>12}" for cell in cells) + f"  {row['note']}")
        faults += len(row["faults"])
        for fault in row["faults"]:
            print(f"    FAULT {fault}")
    print("\ntotals")
    for name, rows in totals.items():
        _total(name, rows)
    if totals:
        _total("all", [row for rows in totals.values() for row in rows])
    return faults


def _total(name: str, rows: list[Row]) -> None:
    with_known = [row for row in rows if row["known"] is not None]
    above = [_worse(row, "known") for row in with_known]
    sums = [sum(row[key] for row in rows) for key in ("answer", "bound")]
    best = sum(row["known"] for row in with_known) if len(with_known) == len(rows) else None
    peer = sum(row["peer"] for row in rows)
    solved = [row for row in rows if row["solver"] is not None]
    solver = sum(row["solver"] for row in solved) if len(solved) == len(rows) else None
    print(
        f"{name:<18}"
        + "".join(f"{_cell(cell):>12}" for cell in (*sums, best, peer, solver))
        + f"   of {len(rows)}: proved {sum(_worse(row, 'bound') <= 0 for row in rows)}"
        + f", above best known {sum(a > 0 for a in above)} (most {max(above, default=0):g})"
        + f", below {sum(a < 0 for a in above)}"
        + f", above the peer {sum(_worse(row, 'peer') > 0 for row in rows)}"
        + (f", above HiGHS {sum(_worse(row, 'solver') > 0 for row in solved)} of {len(solved)}" if solved else "")
        + f"; longest {max(row['time'] for row in rows):.2f} s"
    )


def _worse(row: Row, than: str) -> float:
    """By how much the answer is worse."""
    return (row[than] - row["answer"]) if row.get("more") else (row["answer"] - row[than])


# ---- lengths ----


def _lengths(instance: Row, known: Row, solver: float) -> Row:
    kerf = float(instance["kerf"])
    pieces = [lengths.Piece(f"P{n}", float(size), count) for n, (size, count) in enumerate(instance["pieces"], 1)]
    stocks = [Stock(f"S{n}", float(size), float(price)) for n, (size, price) in enumerate(instance["stock"], 1)]
    peer, peer_time = _timed(lambda: peers.cheapest_first_fit(pieces, stocks, kerf))
    plans = list(_watched(lengths.search(pieces, stocks, kerf=kerf, keep=float(instance["min_offcut"]))))
    plan, spent = plans[-1]
    best = known.get((instance["name"], "cost"), known.get((instance["name"], "bins")))
    note = "proved" if plan.proved else f"gap {plan.cost - plan.bound:g}"
    if instance["min_offcut"]:
        note += f"; useful offcuts {plan.useful:g}"
    return {
        "answer": plan.cost, "bound": plan.bound, "known": best, "peer": peer,
        "solver": peers.highs_lengths(pieces, stocks, kerf, solver) if solver else None,
        "first": plans[0][1], "time": spent,
        "peer_time": peer_time, "as_good": next((t for p, t in plans if p.cost <= peer), spent), "note": note,
        "faults": recount.length_faults(plan, pieces, stocks, kerf, float(instance["min_offcut"])),
    }  # fmt: skip


# ---- sheets ----


def _sheets(instance: Row, known: Row, turn: bool, stages: int | None, solver: float) -> Row:
    if instance["goal"] != "bins":
        return _one_sheet(instance, known, turn, stages)
    kerf = float(instance["kerf"])
    length, width = instance["sheet"]
    panels = [
        Panel(f"P{n}", float(l), float(w), count, turn) for n, (l, w, count, _) in enumerate(instance["pieces"], 1)
    ]
    peer, peer_time = _timed(lambda: peers.shelves(panels, length + kerf, width + kerf, kerf))
    stuffs = [Sheet("sheet", float(length), float(width))]
    plans = list(_watched(sheets.search(panels, stuffs, kerf=kerf, stages=stages)))
    plan, spent = plans[-1]
    assert isinstance(plan, SheetPlan)
    deep = "guillotine3" if stages == 3 else "guillotine"
    names = [name + "-rotation" * turn for name in (deep, "guillotine", "guillotine3")]
    best = next((known[instance["name"], name] for name in names if (instance["name"], name) in known), None)
    offcut = max((layout.offcut for layout in plan.layouts), key=lambda s: s[0] * s[1], default=(0.0, 0.0))
    proof = "proved" if plan.proved else f"gap {plan.cost - plan.bound:g}"
    return {
        "answer": plan.sheets, "bound": round(plan.bound), "known": best, "peer": peer, "first": plans[0][1],
        "solver": peers.highs_levels(panels, length + kerf, width + kerf, kerf, solver) if solver else None,
        "time": spent, "peer_time": peer_time, "as_good": next((t for p, t in plans if p.cost <= peer), spent),
        "note": f"{proof}; offcut {offcut[0]:g} x {offcut[1]:g}",
        "faults": recount.sheet_faults(plan, panels, stuffs, kerf, 0.0, stages),
    }  # fmt: skip


ORDERS = 600  # in which the pieces are laid on one sheet


def _one_sheet(instance: Row, known: Row, turn: bool, stages: int | None) -> Row:
    """The best that many orders give; the peer is the first of them."""
    kerf, (length, width) = int(instance["kerf"]), instance["sheet"]
    room = (length + kerf, width + kerf)
    sides = [(l + kerf, w + kerf) for l, w, _, _ in instance["pieces"]]
    worth = [value if instance["goal"] == "value" else l * w for l, w, _, value in instance["pieces"]]
    most = [count or room[0] * room[1] // (l * w) for (l, w), (_, _, count, _) in zip(sides, instance["pieces"])]
    kinds = [_kind(sides, room, across, turn) for across in (False, True)]
    luck = random.Random(1)
    best, best_value, first, as_good, start = None, -1.0, 0.0, 0.0, time.perf_counter()
    peer = 0.0
    for number in range(ORDERS):
        shake = [1.0 if number < len(kinds) else luck.uniform(0.5, 1.5) for _ in sides]
        order = sorted(range(len(sides)), key=lambda i: -worth[i] / (sides[i][0] * sides[i][1]) ** 0.5 * shake[i])
        kind = kinds[number % len(kinds)]
        filling = strips.fill(
            [i for i in order for _ in range(most[i])], kind, stages or sheets.UNLIMITED, strips.Taste()
        )
        value = float(sum(worth[taken[0]] for taken in filling.taken))
        if number == 0:
            peer, first, as_good = value, time.perf_counter() - start, time.perf_counter() - start
        if value > best_value:
            best, best_value = (filling, kind), value
    spent = time.perf_counter() - start
    assert best is not None
    areas = [l * w for l, w in sides]
    step = gcd(*areas, room[0] * room[1])
    sand = Knapsack(worth, [area // step for area in areas], most, room[0] * room[1] // step)
    deep = "guillotine3" if stages == 3 else "guillotine"
    names = [name + "-rotation" * turn for name in (deep, "guillotine", "guillotine, no limits", "free")]
    top = next((known[instance["name"], name] for name in names if (instance["name"], name) in known), None)
    if top is not None and instance["goal"] == "fill":
        top *= length * width  # it is told as a share
    return {
        "more": True, "answer": best_value, "bound": float(sand.best[-1]), "known": top, "peer": peer, "solver": None,
        "first": first,
        "time": spent, "peer_time": first, "as_good": as_good, "note": "one sheet: more is better",
        "faults": _one_sheet_faults(*best, instance, kerf, turn, stages),
    }  # fmt: skip


def _kind(sides: list[tuple[int, int]], room: tuple[int, int], across: bool, turn: bool) -> strips.Kind:
    options = []
    for l, w in sides:
        lies = dict.fromkeys([(l, w), (w, l)] if turn else [(l, w)])
        options.append(tuple(lie[::-1] if across else lie for lie in lies if lie[0] <= room[0] and lie[1] <= room[1]))
    L, W = room[::-1] if across else room
    return strips.Kind(0, L, W, tuple(options), across, (1, 1))


def _one_sheet_faults(
    filling: strips.Filling, kind: strips.Kind, instance: Row, kerf: int, turn: bool, stages: int | None
) -> tuple[str, ...]:
    """The same recount that every plan passes."""
    places, panels = [], []
    for number, (piece, x, y, l, w) in enumerate(filling.taken):
        if kind.across:
            x, y, l, w = y, x, w, l
        long, wide = (float(side) for side in instance["pieces"][piece][:2])
        places.append(Place(f"P{number}", float(x), float(y), float(l - kerf), float(w - kerf), (l - kerf) != long))
        panels.append(Panel(f"P{number}", long, wide, 1, turn))
    sheet = Sheet("sheet", *(float(side) for side in instance["sheet"]))
    plan = SheetPlan((Layout(sheet, 1, tuple(places), (0.0, 0.0)),), 1.0, 1.0)
    return recount.sheet_faults(plan, panels, [sheet], float(kerf), 0.0, stages)


# ---- the run ----


def _watched(search: Iterator[Any]) -> Iterator[tuple[Any, float]]:
    start = time.perf_counter()
    for plan in search:
        yield plan, time.perf_counter() - start


def _timed(run: Callable[[], Any]) -> tuple[Any, float]:
    start = time.perf_counter()
    answer = run()
    return answer, time.perf_counter() - start


def _known(folder: Path) -> Row:
    known = {}
    for path in sorted(folder.glob("best_known_*.csv")):
        with path.open() as file:
            for row in csv.DictReader(file):
                known[row["name"], row["variant"]] = int(float(row["best_known"]))
    return known


def _class_of(name: str) -> str:
    return re.sub(r"(_\d+)?_\d+$", "", name)


def _cell(value: Any) -> str:
    return "-" if value is None else f"{value:.10g}" if isinstance(value, float) else str(value)


if __name__ == "__main__":
    sys.exit(main())
