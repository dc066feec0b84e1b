"""The short forms of the trade."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batterboard.job import shorthand
from batterboard.job.schema import BarRun, BoltSet


@pytest.mark.parametrize(
    "text, run",
    [
        ("8 #5", BarRun("#5", 8)),
        ("8#5", BarRun("#5", 8)),
        (" 8 x #5 ", BarRun("#5", 8)),
        ("3 #3 @ 2 in from top", BarRun("#3", 3, 0.0508, "top")),
        ("6 #3 @ 4 in from each  end", BarRun("#3", 6, 0.1016, "each end")),
        ("#3 @ 10 in", BarRun("#3", None, 0.254)),
        ("#4@1'-2\"", BarRun("#4", None, 0.3556)),
        ("8 ø16", BarRun("ø16", 8)),
        ("8 Ø 16", BarRun("ø16", 8)),
        ("⌀10 @ 200 mm from bottom", BarRun("ø10", None, 0.2, "bottom")),
    ],
)
def test_bars_are_read_as_the_trade_writes_them(text: str, run: BarRun) -> None:
    read = shorthand.bar_run(text)
    assert (read.size, read.count, read.start) == (run.size, run.count, run.start)
    assert read.spacing == (None if run.spacing is None else pytest.approx(run.spacing, rel=1e-12))


@pytest.mark.parametrize(
    "text", ["", "#5", "8", "8 5", "0 #5", "8 #5 @", "8 #5 @ 2", "8 #5 @ 2 in from left", "#5 @ -2 in"]
)
def test_what_is_no_run_of_bars_says_how_it_is_written(text: str) -> None:
    with pytest.raises(shorthand.ShortFormError) as caught:
        shorthand.bar_run(text)
    assert caught.value.problem and caught.value.remedy


def test_bolts_are_read_in_inches_and_millimetres() -> None:
    assert shorthand.bolt_set("4 x 3/4 in F1554-36") == BoltSet(4, pytest.approx(0.01905), "F1554-36")
    assert shorthand.bolt_set('6 × 1 1/4" F1554-105') == BoltSet(6, pytest.approx(0.03175), "F1554-105")
    assert shorthand.bolt_set("4 x M20 8.8") == BoltSet(4, 0.02, "8.8")
    for text in (
        "",
        "4",
        "4 x",
        "x 3/4 in A",
        "4 x 3/4 in",
        "0 x 3/4 in F1554-36",
        "4 x 0 in F1554-36",
        "4 x 3/4 F1554-36",
    ):
        with pytest.raises(shorthand.ShortFormError):
            shorthand.bolt_set(text)


def test_leans_stubs_and_wires() -> None:
    assert shorthand.lean("1/8 in in 4 in") == pytest.approx(1 / 32)
    assert shorthand.lean("3 mm in 100 mm") == pytest.approx(0.03)
    assert shorthand.stub("6 in above top") == pytest.approx(0.1524)
    assert shorthand.wires("3 #12") == "3 #12"
    for read, text in [
        (shorthand.lean, "1/8 in"),
        (shorthand.lean, "1 in in 0 in"),
        (shorthand.stub, "6 in"),
        (shorthand.wires, "a few"),
    ]:
        with pytest.raises(shorthand.ShortFormError):
            read(text)


@given(st.text(max_size=40) | st.text("0123456789 #øxM@in/-.fromtpeachd\"'", max_size=40))
def test_any_text_is_read_or_refused(text: str) -> None:
    for read in (shorthand.bar_run, shorthand.bolt_set, shorthand.lean, shorthand.stub, shorthand.wires):
        try:
            read(text)
        except shorthand.ShortFormError as wrong:
            assert wrong.problem and wrong.remedy
