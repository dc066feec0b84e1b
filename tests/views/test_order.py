"""The order as one sentence to read on the phone."""

from dataclasses import replace
from pathlib import Path

from batterboard import read_job
from batterboard.job.schema import Order
from batterboard.plan import Plan
from batterboard.quantity import yd3
from batterboard.study.sweep import varied
from batterboard.views import tables
from batterboard.views.order import sentences, yards

GATE = read_job(Path(__file__).parents[1] / "phases" / "gate.toml")
ORDER = Order(address="the north gate", signs="the owner", washout="the north stake", admixtures="mid-range reducer")


def said(**changes) -> str:
    job = varied(GATE, {path.replace("__", "."): value for path, value in changes.items()})
    return sentences(Plan(job))["stiff"]


def test_the_sentence_says_what_the_plant_writes_down_in_its_order():
    sentence = said(pour__order=ORDER)
    parts = (
        *("4 1/4 yd,", "4000 psi,", "3/4 in stone,", "5 % air,", "4 in slump at the chute,", "w/c 0.55 at most,"),
        *("mid-range reducer,", "no water without the owner;", "Monday 12 April, first concrete at 09:00,"),
        *("min per yd to unload", "to the north gate;", "wash-out at the north stake."),
    )
    places = [sentence.index(part) for part in parts]
    assert places == sorted(places)


def test_an_admixture_that_a_lift_is_wetted_with_is_asked_for():
    assert "plasticizer on the truck for 6 in in lift 2" in sentences(Plan(GATE))["stiff"]


def test_without_a_name_the_signer_below_decides():
    assert "no water without the signer below" in said()


def test_without_a_limit_or_air_none_is_asked_for():
    sentence = said(site__exposed=("F0",))
    assert "w/c" not in sentence and "no air asked for" in sentence


def test_the_waiting_charge_is_expected_only_where_trucks_stand_longer_than_is_free():
    assert "expect the waiting charge" in said()
    assert "expect the waiting charge" not in said(pour__order=replace(ORDER, free=3600.0))


def test_yards_are_said_in_quarters():
    assert yards(5.25 * yd3, "us") == "5 1/4 yd"
    assert yards(3.25, "si") == "3.25 m3"


def test_the_chapter_holds_the_slip_the_sizes_and_what_was_asked_of_whom():
    names = [table.name for table in tables.of(Plan(GATE), "ordering")]
    assert names[:2] == ["order", "order-sizes"] and {"bags", "classes", "testing", "load-log"} <= set(names)
    assert "order-costs" not in names  # nobody said a price
    priced = Plan(varied(GATE, {"pour.order.price": 160.0}))
    assert "order-costs" in [table.name for table in tables.of(priced, "ordering")]
