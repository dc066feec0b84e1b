"""The searches where the question is unkind: nothing, too much, too large, too small; and stopped by hand."""

import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest

from batterboard.methods.cutting import Piece, lengths, recount, sheets, watch
from batterboard.methods.cutting.plans import Panel, Sheet, Stock

ROOT = Path(__file__).parents[2]


def sticks(pieces, stocks, **said):
    plan = lengths.best(pieces, stocks, **said)
    assert recount.length_faults(plan, pieces, stocks, said.get("kerf", 0.0), said.get("keep", 0.0)) == ()
    return plan


def laid(panels, stock, **said):
    plan = sheets.best(panels, stock, **said)
    assert recount.sheet_faults(plan, panels, stock, said.get("kerf", 0.0), said.get("trim", 0.0)) == ()
    return plan


def test_nothing_wanted_costs_nothing():
    assert sticks([], [Stock("bar", 1.0)]).cost == sticks([Piece("A", 0.5, 0)], [Stock("bar", 1.0)]).cost == 0.0
    assert laid([Panel("A", 0.5, 0.5, 0)], [Sheet("ply", 1.0, 1.0)]).cost == 0.0


def test_a_kerf_wider_than_a_piece_is_counted():
    assert sticks([Piece("A", 0.05, 10)], [Stock("bar", 1.0)], kerf=0.1).cost == 2
    assert laid([Panel("A", 0.05, 0.04, 30)], [Sheet("ply", 1.0, 1.0)], kerf=0.1).sheets == 1


def test_a_panel_as_large_as_its_sheet_takes_one():
    assert laid([Panel("A", 2.4, 1.2, 3)], [Sheet("ply", 2.4, 1.2)], kerf=0.003).sheets == 3


def test_a_sheet_that_its_trim_eats_yields_nothing_and_does_not_hide_another():
    assert laid([Panel("A", 0.5, 0.4, 3)], [Sheet("ply", 1.0, 1.0)], trim=0.6).left_out == ("A",)
    hand = [Sheet("ply", 1.0, 1.0), Sheet("scrap", 0.1, 0.1, 0.0, 2)]
    assert laid([Panel("A", 0.5, 0.4, 3)], hand, trim=0.1).cost == 2


def test_prices_that_tie_are_settled_by_what_is_left():
    stocks = [Stock("a", 1.0, 5.0), Stock("b", 2.0, 10.0), Stock("c", 3.0, 15.0)]
    plan = sticks([Piece("A", 0.4, 5), Piece("B", 0.3, 7)], stocks, kerf=0.003, keep=0.4)
    assert plan.cost == plan.bound == 25.0 and plan.useful > 0.7


def test_panels_with_grain_and_offcuts_on_hand_of_three_sizes():
    panels = [Panel("A", 1.1, 0.5, 6), Panel("B", 0.5, 1.1, 3), Panel("C", 0.5, 1.0, 3, turn=True)]
    stock = [Sheet("ply", 2.4, 1.2, 40.0), Sheet("half", 1.2, 1.2, 0.0, 2), Sheet("rest", 0.6, 1.2, 0.0, 1)]
    plan = laid(panels, stock, kerf=0.003)
    assert plan.cost == plan.bound == 80.0


def test_a_dear_stock_is_not_counted_out_in_cents():
    assert sticks([Piece("A", 0.5, 3)], [Stock("a", 1.0, 1e7), Stock("b", 1.5, 1.4e7 + 0.01)]).proved


def test_a_thousand_pieces_of_a_thousand_lengths_come_with_their_gap():
    luck = Random(3)
    pieces = [Piece(f"P{n}", luck.uniform(0.2, 3.0), 1) for n in range(1000)]
    stocks = [Stock("a", 3.6576, 11.5), Stock("b", 4.8768, 15.2)]
    plan = sticks(pieces, stocks, kerf=0.003, keep=0.6, effort=lengths.Effort(cells=50_000_000))
    assert plan.bound > 0.9 * plan.cost


# ---- stopped by hand ----


def test_a_search_that_is_stopped_answers_with_its_first_plan_and_a_bound():
    luck = Random(5)
    panels = [Panel(f"P{n}", luck.uniform(0.2, 1.2), luck.uniform(0.2, 0.8)) for n in range(40)]
    pieces = [Piece(f"P{n}", luck.uniform(0.2, 3.0), 2) for n in range(40)]
    with watch.by_hand() as looking:
        os.kill(os.getpid(), signal.SIGINT)
        plans = (
            sticks(pieces, [Stock("bar", 4.8)], kerf=0.003, keep=0.5),
            laid(panels, [Sheet("ply", 2.4, 1.2)], kerf=0.003),
        )
        with pytest.raises(KeyboardInterrupt):
            os.kill(os.getpid(), signal.SIGINT)
            raise AssertionError
    assert looking.stopped
    for plan in plans:
        assert 0.6 * plan.cost < plan.bound <= plan.cost and plan.stopped is not plan.proved
    assert not watch.stopped() and signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_whoever_looks_on_changes_nothing_and_hears_of_each_better_plan():
    pieces = [Piece("A", 2.3, 9), Piece("B", 1.7, 8), Piece("C", 3.1, 7), Piece("D", 1.1, 9)]
    stocks, heard = [Stock("short", 6.0, 11.0), Stock("long", 8.0, 14.5)], []
    with watch.by_hand(heard.append):
        plan = lengths.best(pieces, stocks, keep=0.5, name="bars")
    assert plan == lengths.best(pieces, stocks, keep=0.5)
    assert [found.best for found in heard] == sorted((found.best for found in heard), reverse=True)
    assert heard[-1] == watch.Found("bars", plan.cost, plan.bound) and heard[-1].gap == 0.0


# ---- the same everywhere ----

ASKED = """
from random import Random
from batterboard.methods.cutting import Piece, lengths, sheets
from batterboard.methods.cutting.plans import Panel, Sheet, Stock
luck = Random(7)
panels = [Panel(f"P{n}", luck.uniform(0.2, 1.2), luck.uniform(0.2, 0.8), 1, n % 2 == 0) for n in range(30)]
pieces = [Piece(f"P{n}", luck.uniform(0.2, 3.0), 2) for n in range(25)]
print(sheets.best(panels, [Sheet("ply", 2.4, 1.2), Sheet("half", 1.2, 1.2, 0.0, 2)], kerf=0.003))
print(lengths.best(pieces, [Stock("a", 3.6576, 11.5), Stock("b", 4.8768, 15.2)], kerf=0.003, keep=0.5))
"""


def test_every_process_lays_out_the_same():
    told = {
        subprocess.run(
            [sys.executable, "-c", ASKED],
            env={**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "4242")
    }
    assert len(told) == 1


def test_the_benchmark_that_is_stopped_prints_the_totals_of_what_it_has(tmp_path):
    luck = Random(2)
    lists = [
        {
            "name": f"made_{n}", "unit": "mm", "goal": "bins", "sheet": [1000, 700], "kerf": 3,
            "pieces": [[luck.randint(50, 700), luck.randint(50, 500), 1, 0] for _ in range(80)],
        }
        for n in range(200)
    ]  # fmt: skip
    path = Path(tmp_path / "made.jsonl")
    path.write_text("\n".join(map(json.dumps, lists)))
    with subprocess.Popen(
        [sys.executable, "-u", str(ROOT / "benchmarks/packing.py"), str(path)], stdout=subprocess.PIPE, text=True
    ) as running:
        told = ""
        while "made_1 " not in told:
            told += running.stdout.readline()
        running.send_signal(signal.SIGINT)
        told += running.communicate()[0]
    assert running.returncode == 0 and told.endswith("stopped by hand\n")
    assert "totals" in told and "FAULT" not in told and "made_199" not in told
