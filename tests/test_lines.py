"""Where a key stands: the lines told for a TOML text, however it is written."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookplates.spec.lines import line_of, lines_of_keys, statements

AWKWARD = '''\
# a note = 1
title = """
[cover]
board = 3
""" # [tape]
maker = \'\'\'
# no note
[sewing] \'\'\'

[text_block]   # [measured]
leaf = [
  "100 mm",  # width ] }
  "150 mm",
]
folios = 8 # = 9
"caliper" = "#[0.1 mm"
'trim' = 'none'

  [ cover ]
square = { head = "2 mm", "tail" = "3 mm" }
tape.width = 3
tape . inside = "full"

[[sewing]]
stations = [ [1, 2],
  [3] ]
[[sewing]]
hole = 1
[sewing.deep.er]
thread = """a\\"""b"""
'''

EXPECTED = {
    "title": 2,
    "maker": 6,
    "text_block": 10,
    "text_block.leaf": 11,
    "text_block.folios": 15,
    "text_block.caliper": 16,
    "text_block.trim": 17,
    "cover": 19,
    "cover.square": 20,
    "cover.square.head": 20,
    "cover.square.tail": 20,
    "cover.tape": 21,
    "cover.tape.width": 21,
    "cover.tape.inside": 22,
    "sewing": 24,
}


class TestAwkward:
    @pytest.mark.parametrize("ending", ["\n", "\r\n"])
    @pytest.mark.parametrize(("where", "line"), list(EXPECTED.items()))
    def test_line(self, where, line, ending):
        text = AWKWARD.replace("\n", ending)
        tomllib.loads(text)
        assert line_of(lines_of_keys(text), where) == line

    def test_tables_of_an_array_are_counted(self):
        lines = lines_of_keys(AWKWARD)
        assert lines["sewing", 0, "stations"] == 25
        assert lines["sewing", 1, "hole"] == 28
        assert lines["sewing", 1, "deep", "er", "thread"] == 30

    def test_what_only_looks_like_a_key_is_none(self):
        lines = lines_of_keys(AWKWARD)
        assert ("board",) not in lines
        assert ("cover", "board") not in lines
        assert ("measured",) not in lines
        assert ("tape",) not in lines

    def test_a_key_with_a_dot_in_it(self):
        lines = lines_of_keys('[cover]\n"a.b" = 1\n')
        assert line_of(lines, "cover.a.b") == 2

    def test_no_final_newline(self):
        assert line_of(lines_of_keys("a = 1\nb = 2"), "b") == 2

    def test_statements_are_whole(self):
        begun = [line for line, _ in statements(AWKWARD)]
        assert begun == [2, 6, 10, 11, 15, 16, 17, 19, 20, 21, 22, 24, 25, 27, 28, 29, 30]


class TestMissing:
    LINES = lines_of_keys("title = 'x'\n\n[cover]\nstyle = 'taped'\n[cover.square]\n")

    @pytest.mark.parametrize(
        ("where", "line"),
        [("cover.board", 3), ("cover.square.head", 5), ("sewing.hole", 1), ("units", 1), ("", 1), ("cover.style.x", 4)],
    )
    def test_is_told_at_its_table_or_on_the_first_line(self, where, line):
        assert line_of(self.LINES, where) == line


BARE = st.text("abcdefgh-_0123456789", min_size=1, max_size=6)
QUOTED = st.text("ab .#=\"[]{}\\'é", min_size=1, max_size=5)
NAME = st.one_of(BARE, QUOTED)
TEXT = st.text("ab #=[]{}\n'é", max_size=12)
SCALAR = st.one_of(st.integers(-99, 99), st.booleans(), TEXT)
VALUE = st.recursive(
    SCALAR, lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(NAME, inner, max_size=3)), max_leaves=6
)
DOCUMENT = st.dictionaries(NAME, st.one_of(SCALAR, VALUE), max_size=5)


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


def _key(name: str) -> str:
    return name if all(c in "abcdefgh-_0123456789" for c in name) else _quoted(name)


def _value(value: Any, draw: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        if "'" not in value and draw(st.booleans()):
            return f"'''{value}'''" if "\n" in value else f"'{value}'"
        return '"""' + value + '"""' if "\\" not in value and '"' not in value and draw(st.booleans()) else _quoted(value)
    if isinstance(value, list):
        gap = draw(st.sampled_from(["", "\n  ", " # ] \n"]))
        return "[" + "".join(f"{gap}{_value(inner, draw)}," for inner in value) + gap + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_key(key)} = {_value(inner, draw)}" for key, inner in value.items()) + "}"
    return str(value)


def _lines(document: dict[str, Any], path: tuple[str, ...], draw: Any) -> list[str]:
    """Plain values first, as TOML asks, then each table as a header, inline, or by dotted keys."""
    plain, tables = [], []
    for name, value in document.items():
        how = draw(st.sampled_from(["header", "inline", "dotted"]))
        if isinstance(value, dict) and value and how == "header":
            header = ".".join(map(_key, (*path, name)))
            tables += [f"[{header}]", *_lines(value, (*path, name), draw)]
        elif isinstance(value, dict) and value and how == "dotted":
            plain += [f"{_key(name)} . {_key(inner)} = {_value(held, draw)}" for inner, held in value.items()]
        else:
            plain.append(f"{_key(name)} = {_value(value, draw)}{draw(st.sampled_from(['', ' # a = 1', '  ']))}")
    return [*plain, draw(st.sampled_from(["", "# x = 2"])), *tables]


@st.composite
def documents(draw: Any) -> str:
    return draw(st.sampled_from(["\n", "\r\n"])).join(_lines(draw(DOCUMENT), (), draw))


def _paths(value: Any, path: tuple[Any, ...] = ()) -> Any:
    steps = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, inner in steps:
        yield (*path, step)
        yield from _paths(inner, (*path, step))


@settings(deadline=None, derandomize=True, max_examples=200)
@given(documents())
def test_every_key_has_a_line_that_holds_its_name(text):
    found, lines = tomllib.loads(text), lines_of_keys(text)
    written = text.replace("\r\n", "\n").split("\n")
    starts = [line for line, _ in statements(text)]
    for path in _paths(found):
        line = lines[path]
        assert line in starts
        following = next((start for start in starts if start > line), len(written) + 1)
        statement = "\n".join(written[line - 1 : following - 1])
        name = next(step for step in reversed(path) if isinstance(step, str))
        assert _key(name) in statement
        if not isinstance(path[-1], int) and len(path) == 1:
            assert _key(name) in written[line - 1]
