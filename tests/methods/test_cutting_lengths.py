from collections import Counter
from itertools import combinations_with_replacement

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batterboard.methods.cutting import Piece, first_fit, lengths, recount
from batterboard.methods.cutting.knapsack import Knapsack
from batterboard.methods.cutting.plans import Stock
from batterboard.quantity import ft, inch

lists = st.lists(st.tuples(st.integers(3, 60), st.integers(1, 9)), min_size=1, max_size=6)
quick = settings(deadline=None, max_examples=30)


def pieces_of(wanted):
    return [Piece(f"P{n}", length / 10, k) for n, (length, k) in enumerate(wanted, 1)]


def cut(pieces, stocks, **said):
    plan = lengths.best(pieces, stocks, **said)
    assert recount.length_faults(plan, pieces, stocks, said.get("kerf", 0.0), said.get("keep", 0.0)) == ()
    return plan


@quick
@given(lists, st.sampled_from([0.0, 0.003]), st.sampled_from([0.0, 0.5]))
def test_every_plan_survives_the_recount_and_stands_between_bound_and_first_fit(wanted, kerf, keep):
    pieces = pieces_of(wanted)
    plan = cut(pieces, [Stock("bar", 6.0)], kerf=kerf, keep=keep)
    assert plan.bound <= plan.cost <= sum(c.times for c in first_fit(pieces, 6.0, kerf))


@quick
@given(lists)
def test_no_plan_of_a_search_is_worse_than_the_one_before(wanted):
    pieces, stocks = pieces_of(wanted), [Stock("short", 6.0, 11.0), Stock("long", 8.0, 14.0)]
    plans = list(lengths.search(pieces, stocks, keep=1.0))
    order = [(plan.cost, -plan.useful) for plan in plans]
    assert all(b <= (a[0] + 1e-9, a[1] + 1e-9) for a, b in zip(order, order[1:]))


@settings(deadline=None, max_examples=15)
@given(st.lists(st.tuples(st.integers(15, 60), st.integers(1, 3)), min_size=1, max_size=3))
def test_a_bound_is_never_above_the_best_there_is(wanted):
    pieces, stocks = pieces_of(wanted), (Stock("short", 6.0, 11.0), Stock("long", 8.0, 14.0))
    assert cut(pieces, stocks).bound <= best_by_trying(pieces, stocks) + 1e-9


def best_by_trying(pieces, stocks):
    """Every mixture of stocks in order of cost, until one holds the pieces, each of them tried in every stick."""
    each = sorted((round(10 * p.length) for p in pieces for _ in range(p.count)), reverse=True)
    mixtures = [m for n in range(1, len(each) + 1) for m in combinations_with_replacement(stocks, n)]
    for mixture in sorted(mixtures, key=lambda m: sum(s.price for s in m)):
        rooms = {tuple(sorted(round(10 * s.length) for s in mixture))}
        for length in each:
            rooms = {
                tuple(sorted((*room[:i], room[i] - length, *room[i + 1 :])))
                for room in rooms
                for i in range(len(room))
                if room[i] >= length
            }
        if rooms:
            return sum(s.price for s in mixture)
    raise AssertionError


def test_strips_of_two_lengths_come_out_of_three_sticks():
    pieces = [Piece("long", 40 * inch, 4), Piece("short", 22 * inch, 4)]
    plan = cut(pieces, [Stock("8 ft", 8 * ft)], kerf=inch / 8)
    assert plan.cost == plan.bound == 3


def test_bars_of_three_lengths_come_out_of_eight_and_no_fewer():
    pieces = [Piece("A", 78 * inch, 8), Piece("B", 48 * inch, 12), Piece("C", 56.5 * inch, 10)]
    plan = cut(pieces, [Stock("20 ft", 240 * inch)])
    assert plan.cost == plan.bound == 8


def test_offcuts_on_hand_go_first_and_no_more_of_them_than_there_are():
    stocks = [Stock("bar", 6.0, 20.0), Stock("offcut", 2.5, 0.0, count=2)]
    plan = cut([Piece("A", 2.4, 6)], stocks)
    used = Counter()
    for stick in plan.sticks:
        used[stick.stock.name] += stick.times
    assert used == {"offcut": 2, "bar": 2} and plan.cost == plan.bound == 40


def test_waste_is_gathered_into_an_offcut_of_use():
    plan = cut([Piece("A", 1.0, 6)], [Stock("bar", 4.0)], keep=1.5)
    assert plan.cost == 2 and plan.useful == pytest.approx(2.0)


def test_fewer_sticks_are_dearer_where_the_long_stock_is():
    plan = cut([Piece("A", 3.0, 2)], [Stock("short", 3.0, 1.0), Stock("long", 6.0, 3.0)])
    assert [(s.stock.name, s.times) for s in plan.sticks] == [("short", 2)]


def test_lengths_without_a_common_measure_are_never_overspent():
    pieces = [Piece("A", 1.23456789, 7), Piece("B", 0.7071067811, 11), Piece("C", 2.718281828, 3)]
    plan = cut(pieces, [Stock("bar", 6.096)], kerf=0.0031)
    assert plan.bound <= plan.cost <= 5


@pytest.mark.parametrize("stocks", [(4.8768, 3.6576), (4.8768, 3.14159265), (2.718281828, 3.14159265)])
def test_a_piece_as_long_as_a_stock_fits_it_though_nothing_has_a_common_measure(stocks):
    pieces = [Piece("A", stocks[0], 2), Piece("B", 1.234567891, 5), Piece("C", stocks[1], 1)]
    plan = cut(pieces, [Stock("a", stocks[0], 3.0), Stock("b", stocks[1], 2.0)], kerf=0.0031)
    assert plan.left_out == ()


def test_what_is_longer_than_any_stock_is_named():
    assert cut([Piece("A", 7.0, 1), Piece("B", 2.0, 1)], [Stock("bar", 6.0)]).left_out == ("A",)


def test_a_rack_of_offcuts_alone_is_refused():
    with pytest.raises(ValueError, match="bought"):
        lengths.best([Piece("A", 1.0, 1)], [Stock("offcut", 2.0, count=1)])


def test_the_same_question_gets_the_same_plan():
    pieces = pieces_of([(23, 9), (17, 8), (31, 7), (11, 9)])
    stocks = [Stock("short", 6.0, 11.0), Stock("long", 8.0, 14.5)]
    assert lengths.best(pieces, stocks, keep=0.5) == lengths.best(pieces, stocks, keep=0.5)


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(1, 12), st.integers(1, 3)), min_size=1, max_size=4))
def test_a_filling_is_worth_what_the_knapsack_says(things):
    values, sizes, counts = zip(*things)
    sack = Knapsack([float(v) for v in values], sizes, counts, 20)
    for room in range(21):
        filling = sack.filling(room)
        assert sum(n * s for n, s in zip(filling, sizes)) <= room
        assert all(n <= most for n, most in zip(filling, counts))
        assert sum(n * v for n, v in zip(filling, values)) == sack.best[room]
