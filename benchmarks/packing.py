"""How well does it cut? Answers, bounds, a peer's answers and times of one run, every plan recounted piece by piece.

    python benchmarks/packing.py FILE.jsonl…            1-D and 2-D, as the lines say
    python benchmarks/packing.py --turn FILE.jsonl      2-D: pieces may be turned
    python benchmarks/packing.py --stages 0 FILE.jsonl  2-D: any number of stages (3 unless said)
    python benchmarks/packing.py --every 5 FILE.jsonl   only every fifth instance

The peer of lengths is first-fit decreasing (of each stock length alone, the cheapest counts); the peer of sheets is
first-fit decreasing on shelves: both our own plain baselines. Best-known values come from a best_known_*.csv beside the
file. Goals other than fewest sheets (best value, filling one sheet) are not answered: no job of this program asks them.
"""

import argparse
import csv
import json
import re
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(HERE / "src"))

from batterboard.methods.cutting import first_fit, lengths, recount, sheets  # noqa: E402
from batterboard.methods.cutting.plans import Panel, Sheet, SheetPlan, Stock  # noqa: E402

Row = dict[str, Any]


def main() -> int:
    ask = argparse.ArgumentParser(description="Answers, bounds and times of the cutting searches.")
    ask.add_argument("files", nargs="+", type=Path)
    ask.add_argument("--turn", action="store_true", help="2-D pieces may be turned")
    ask.add_argument("--stages", type=int, default=3, help="2-D stages of cuts, 0 for any number")
    ask.add_argument("--every", type=int, default=1, help="only every so-manieth instance")
    said = ask.parse_args()
    faults = 0
    for path in said.files:
        faults += _file(path, said.turn, said.stages or None, said.every)
    return 1 if faults else 0


def _file(path: Path, turn: bool, stages: int | None, every: int) -> int:
    known = _known(path.parent)
    print(f"\n{path.name}" + (", pieces may be turned" if turn else ""))
    head = ("answer", "bound", "best known", "peer", "first [s]", "time [s]", "peer [s]", "as good [s]")
    print(f"{'':<18}" + "".join(f"{word:>12}" for word in head))
    totals: dict[str, list[Row]] = defaultdict(list)
    faults = 0
    for number, line in enumerate(path.read_text().splitlines()):
        if number % every or not line.strip():
            continue
        instance = json.loads(line)
        row = _lengths(instance, known) if "stock" in instance else _sheets(instance, known, turn, stages)
        totals[_class_of(instance["name"])].append(row)
        if "answer" in row:
            cells = [row[key] for key in ("answer", "bound", "known", "peer")]
            cells += [f"{row[key]:.3f}" for key in ("first", "time", "peer_time", "as_good")]
            print(f"{instance['name']:<18}" + "".join(f"{_cell(cell):>12}" for cell in cells) + f"  {row['note']}")
        else:
            print(f"{instance['name']:<18}  not answered: {row['note']}")
        faults += len(row.get("faults", ()))
        for fault in row.get("faults", ()):
            print(f"    FAULT {fault}")
    print("\ntotals")
    for name, rows in totals.items():
        _total(name, rows)
    _total("all", [row for rows in totals.values() for row in rows])
    return faults


def _total(name: str, rows: list[Row]) -> None:
    done = [row for row in rows if "answer" in row]
    if not done:
        return
    with_known = [row for row in done if row["known"] is not None]
    above = [row["answer"] - row["known"] for row in with_known]
    sums = [sum(row[key] for row in done) for key in ("answer", "bound")]
    best = sum(row["known"] for row in with_known) if len(with_known) == len(done) else None
    peer = sum(row["peer"] for row in done)
    print(
        f"{name:<18}"
        + "".join(f"{_cell(cell):>12}" for cell in (*sums, best, peer))
        + f"   of {len(done)}: proved {sum(row['answer'] <= row['bound'] for row in done)}"
        + f", above best known {sum(a > 0 for a in above)} (most {max(above, default=0):g})"
        + f", below {sum(a < 0 for a in above)}"
        + f", above the peer {sum(row['answer'] > row['peer'] for row in done)}"
        + f"; longest {max(row['time'] for row in done):.2f} s"
    )


# ---- lengths ----


def _lengths(instance: Row, known: Row) -> Row:
    kerf = float(instance["kerf"])
    pieces = [lengths.Piece(f"P{n}", float(size), count) for n, (size, count) in enumerate(instance["pieces"], 1)]
    stocks = [Stock(f"S{n}", float(size), float(price)) for n, (size, price) in enumerate(instance["stock"], 1)]
    peer, peer_time = _timed(lambda: min(_first_fit(pieces, stock, kerf) for stock in stocks if _holds(stock, pieces)))
    plans = list(_watched(lengths.search(pieces, stocks, kerf=kerf, keep=float(instance["min_offcut"]))))
    plan, spent = plans[-1]
    best = known.get((instance["name"], "cost"), known.get((instance["name"], "bins")))
    note = "proved" if plan.proved else f"gap {plan.cost - plan.bound:g}"
    if instance["min_offcut"]:
        note += f"; useful offcuts {plan.useful:g}"
    return {
        "answer": plan.cost, "bound": plan.bound, "known": best, "peer": peer, "first": plans[0][1], "time": spent,
        "peer_time": peer_time, "as_good": next((t for p, t in plans if p.cost <= peer), spent), "note": note,
        "faults": recount.length_faults(plan, pieces, kerf),
    }  # fmt: skip


def _holds(stock: Stock, pieces: list[lengths.Piece]) -> bool:
    return max(piece.length for piece in pieces) <= stock.length


def _first_fit(pieces: list[lengths.Piece], stock: Stock, kerf: float) -> float:
    return stock.price * sum(cut.times for cut in first_fit(pieces, stock.length, kerf))


# ---- sheets ----


def _sheets(instance: Row, known: Row, turn: bool, stages: int | None) -> Row:
    if instance["goal"] != "bins":
        return {"note": f"the goal {instance['goal']!r} is not one of this program"}
    kerf = float(instance["kerf"])
    length, width = instance["sheet"]
    panels = [
        Panel(f"P{n}", float(l), float(w), count, turn) for n, (l, w, count, _) in enumerate(instance["pieces"], 1)
    ]
    peer, peer_time = _timed(lambda: _shelves(panels, length + kerf, width + kerf, kerf))
    plans = list(
        _watched(sheets.search(panels, [Sheet("sheet", float(length), float(width))], kerf=kerf, stages=stages))
    )
    plan, spent = plans[-1]
    assert isinstance(plan, SheetPlan)
    deep = "guillotine3" if stages == 3 else "guillotine"
    names = [name + "-rotation" * turn for name in (deep, "guillotine", "guillotine3")]
    best = next((known[instance["name"], name] for name in names if (instance["name"], name) in known), None)
    offcut = max((layout.offcut for layout in plan.layouts), key=lambda s: s[0] * s[1], default=(0.0, 0.0))
    proof = "proved" if plan.proved else f"gap {plan.cost - plan.bound:g}"
    return {
        "answer": plan.sheets, "bound": round(plan.bound), "known": best, "peer": peer, "first": plans[0][1],
        "time": spent, "peer_time": peer_time, "as_good": next((t for p, t in plans if p.cost <= peer), spent),
        "note": f"{proof}; offcut {offcut[0]:g} x {offcut[1]:g}",
        "faults": recount.sheet_faults(plan, panels, kerf, 0.0, stages),
    }  # fmt: skip


def _shelves(panels: list[Panel], length: float, width: float, kerf: float) -> int:
    """First-fit decreasing height on shelves, shelves first-fit on sheets; a piece that may turn lies flat."""
    pieces = []
    for panel in panels:
        l, w = panel.length + kerf, panel.width + kerf
        if panel.turn and w > l and w <= length and l <= width:
            l, w = w, l
        pieces += [(w, l)] * panel.count
    room: list[float] = []  # width left on each sheet
    shelves: list[list[float]] = []  # height, length left
    for w, l in sorted(pieces, reverse=True):
        shelf = next((s for s in shelves if w <= s[0] and l <= s[1]), None)
        if shelf is None:
            sheet = next((n for n, left in enumerate(room) if w <= left), None)
            if sheet is None:
                sheet = len(room)
                room.append(width)
            room[sheet] -= w
            shelf = [w, length]
            shelves.append(shelf)
        shelf[1] -= l
    return len(room)


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
