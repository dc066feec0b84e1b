"""What stands on the concrete, and which way it swings."""

from pathlib import Path

from batterboard.job import read_text
from batterboard.work.build import build

GATE = (Path(__file__).parents[1] / "phases" / "gate.toml").read_text("utf-8")


def built(*changes):
    text = GATE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return build(read_text(text, "gate.toml")).leaves


def test_posts_turned_to_the_road_do_not_turn_round_which_way_a_leaf_swings():
    road = ('{ turn = "gate" }', '{ turn = "lane" }')
    other_way = (
        ('on = "west"\nsection', 'on = "X"\nsection'),
        ('on = "east"', 'on = "west"'),
        ('on = "X"', 'on = "east"'),
    )
    assert built()["leaf"].toward == built(road)["leaf"].toward == 1
    assert built(*other_way)["leaf"].toward == built(*other_way, road)["leaf"].toward == -1


def test_where_two_leaves_meet_a_drop_bolt_of_either_holds_both():
    other = GATE.partition("[leaves.leaf]")[2].partition("[pipes")[0]
    other = other.replace('on = "hinge"', 'on = "latch"').replace(
        'on = "latch", gap = "1 in", bolt', 'on = "leaf", gap = "1 in", bolt'
    )
    meet = ('shuts = { on = "latch"', 'shuts = { on = "other"')
    two = (meet, ("[pipes.power]", f"[leaves.other]{other}[pipes.power]"))
    assert built()["leaf"].held
    assert not any(leaf.held for leaf in built(*two).values())
    dropped = built(*two, ('on = "other", gap = "1 in", bolt = "side"', 'on = "other", gap = "1 in", bolt = "down"'))
    assert all(leaf.held for leaf in dropped.values())
