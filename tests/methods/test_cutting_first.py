from collections import Counter
from itertools import count

from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from batterboard.methods.cutting import Piece, first_fit, least

lists = st.lists(st.tuples(st.integers(1, 60), st.integers(1, 9)), min_size=1, max_size=8)


def pieces_of(wanted):
    return [Piece(f"P{n}", length / 10, k) for n, (length, k) in zip(count(1), wanted)]


def one_by_one(pieces, stock):
    """First fit with every piece by itself."""
    sticks = []
    for length in sorted((p.length for p in pieces for _ in range(p.count)), reverse=True):
        place = next((i for i, left in enumerate(sticks) if left + 1e-9 >= length), None)
        if place is None:
            sticks.append(stock - length)
        else:
            sticks[place] -= length
    return len(sticks)


@given(lists)
def test_every_piece_is_cut_once_and_no_stick_is_overspent(wanted):
    pieces = pieces_of(wanted)
    cuts = first_fit(pieces, 6.0)
    got = Counter()
    for cut in cuts:
        used = sum(p.length * p.count for p in cut.pieces)
        assert used <= 6.0 + 1e-9
        assert cut.left == approx(6.0 - used, abs=1e-9)
        for piece in cut.pieces:
            got[piece.name] += piece.count * cut.times
    assert got == {p.name: p.count for p in pieces}


@given(lists)
def test_the_plan_needs_no_more_sticks_than_the_plain_rule_and_no_fewer_than_the_bound(wanted):
    pieces = pieces_of(wanted)
    used = sum(cut.times for cut in first_fit(pieces, 6.0))
    assert used == one_by_one(pieces, 6.0)
    assert least(pieces, 6.0) <= used


@given(lists, st.floats(0, 0.05))
def test_a_saw_eats_between_the_pieces(wanted, kerf):
    for cut in first_fit(pieces_of(wanted), 6.0, kerf):
        n = sum(p.count for p in cut.pieces)
        assert sum(p.length * p.count for p in cut.pieces) + (n - 1) * kerf <= 6.0 + 1e-6


def test_pieces_that_fill_a_stick_exactly_fit():
    assert [cut.times for cut in first_fit([Piece("A", 6.096 / 3, 6)], 6.096)] == [2]
    assert least([Piece("A", 4.064, 2), Piece("B", 2.032, 2)], 6.096) == 2


def test_no_two_long_pieces_share_a_stick():
    assert least([Piece("A", 3.2, 5)], 6.0) == 5


def test_what_is_longer_than_the_stock_is_left_out():
    assert first_fit([Piece("A", 7.0, 2)], 6.0) == ()
