"""Positions of keys and values, held against an independent parser."""

import tomllib
from pathlib import Path

import pytest
import tree_sitter_toml
from hypothesis import given
from hypothesis import strategies as st
from tree_sitter import Language, Node, Parser

from batterboard.job.positions import line_and_column, line_starts, positions

EXAMPLES = sorted(Path(__file__).parents[2].glob("examples/*/*.toml"))

ODD = """\
# a comment with [brackets] and "quotes"
plain = 1 # behind
dotted . "quoted.key" . 'literal' = 1979-05-27T07:32:00Z
"esc\\u00e9\\"d" = "a \\"quoted\\" # no comment"
'' = 'empty key'
date = 1979-05-27
time = 07:32:00.5
local = 1979-05-27 07:32:00
multi = \"\"\"
[not.a.table]
key = "not a key" ""
\"\"\"
literal = '''
it's ''not'' # over
'''
ends = \"\"\"with quotes\"\"\"\"\"
nested = [ [1, 2], # comment ] }
  [ "a,]", 'b' ], { x = 1, y = [ {z = 2}, ] }, [],
]
inline = { a.b = 1, c = { d = "}" } }
inf = -inf
[ table . sub ] # after
k=true
[[list]]
a = 1
[[list]]
a = 2
[list.below]
b = 3
[[list.deeper]]
c = 4
[[list.deeper]]
c = 5
["quoted [table]"]
x = 0xff
"""


@pytest.mark.parametrize(
    "text", [ODD, *(p.read_text("utf-8") for p in EXAMPLES)], ids=["odd", *(p.stem for p in EXAMPLES)]
)
def test_every_key_and_value_stands_where_another_parser_finds_it(text: str) -> None:
    tomllib.loads(text)
    starts = line_starts(text)
    mine = {
        path: (line_and_column(text, place.key, starts), line_and_column(text, place.value, starts))
        for path, place in positions(text).items()
    }
    found = _oracle(text)
    assert found
    for path, (key, value) in found.items():
        assert mine[path] == (key, value), path
    assert set(mine) == set(_paths(tomllib.loads(text)))


def test_a_carriage_return_does_not_shift_a_position() -> None:
    text = "a = 1\r\n[t]\r\nb = [ 1,\r\n 2 ]\r\n"
    places = positions(text)
    assert line_and_column(text, places["t", "b", 1].value, line_starts(text)) == (4, 2)


keys = st.text("abc-_", min_size=1, max_size=4) | st.text(max_size=4).map(lambda t: _quoted(t))
values = st.recursive(
    st.sampled_from(["1", "true", "1.5", "1979-05-27", "'lit#'", '"""m\n"ulti"""', "-inf", "[]", "{}"])
    | st.text(max_size=6).map(lambda t: _quoted(t)),
    lambda inner: (
        st.lists(inner, max_size=3).map(lambda v: "[\n" + " # c\n,".join(v) + "\n]")
        | st.dictionaries(st.text("xyz", min_size=1), inner, max_size=3).map(
            lambda d: "{ " + ", ".join(f"{k} = {v}" for k, v in d.items()) + " }"
        )
    ),
    max_leaves=8,
)


def _quoted(text: str) -> str:
    import json

    return json.dumps(text).replace("\x7f", "\\u007f")


@given(st.lists(st.tuples(st.sampled_from(["", "[{}]", "[[{}]]"]), keys, values), max_size=8))
def test_whatever_toml_accepts_has_a_place_for_each_of_its_paths(parts: list[tuple[str, str, str]]) -> None:
    text = "".join(f"{header.format(key)}\n{key} = {value}\n" for header, key, value in parts)
    try:
        read = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    assert set(positions(text)) == set(_paths(read))


def _paths(value: object, path: tuple = ()) -> list[tuple]:
    members = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [found for k, v in members for found in ((*path, k), *_paths(v, (*path, k)))]


# ---- the other parser ----


def _oracle(text: str) -> dict[tuple, tuple[tuple[int, int], tuple[int, int]]]:
    """Key and value of every pair and list member by its path."""
    data = text.encode()
    tree = Parser(Language(tree_sitter_toml.language())).parse(data)
    assert not tree.root_node.has_error
    found: dict[tuple, tuple[tuple[int, int], tuple[int, int]]] = {}
    counts: dict[tuple, int] = {}

    def at(node: Node) -> tuple[int, int]:
        row, column = node.start_point
        return row + 1, len(data.split(b"\n")[row][:column].decode()) + 1

    def parts(node: Node) -> list[Node]:
        if node.type == "dotted_key":
            return [p for child in node.named_children for p in parts(child)]
        return [node]

    def name(node: Node) -> str:
        word = node.text.decode()
        return next(iter(tomllib.loads(f"{word} = 1"))) if word[:1] in "\"'" else word

    def value(node: Node, path: tuple, key: Node | None) -> None:
        found[path] = (at(key or node), at(node))
        if node.type == "array":
            for number, child in enumerate(c for c in node.named_children if c.type != "comment"):
                value(child, (*path, number), None)
        elif node.type == "inline_table":
            for child in node.named_children:
                pair(child, path)

    def pair(node: Node, base: tuple) -> None:
        if node.type == "pair":
            key, what = [c for c in node.named_children if c.type != "comment"]
            names = parts(key)
            value(what, (*base, *map(name, names)), names[-1])

    for node in tree.root_node.named_children:
        if node.type == "pair":
            pair(node, ())
        elif node.type in ("table", "table_array_element"):
            key, *rest = [c for c in node.named_children if c.type != "comment"]
            base: tuple = ()
            names = parts(key)
            for number, part in enumerate(names):
                base = (*base, name(part))
                if node.type == "table_array_element" and number == len(names) - 1:
                    counts[base] = counts.get(base, -1) + 1
                if base in counts:
                    base = (*base, counts[base])
            for child in rest:
                pair(child, base)
    return found
