"""The JSON Schema of a spec, by a validator that shares no code with the program."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from bookplates.pipeline import problems_of, spec_schema
from bookplates.spec.starter import starter
from books import ATLAS, BOOKS, EXAMPLE
from commands import bookplates

# With the one key of [tape] that plays no part there
EVERY_KEY = EXAMPLE.replace('inside = "full"', 'inside = "full"\nturn_in = "1 in"')

OTHERWISE = """
title = "Beans"
[text_block]
leaf = ["4 in", 150]
folios = 8
grammage = 90
bulk = 1.3
trim = "2 mm"
[cover]
style = "taped"
gap = 14
square = { head = 3, fore_edge = "5 mm" }
turn_in = { tail = "20 mm" }
[sewing]
stations = ["20 mm", 75, "130 mm"]
[print]
bar_across = 99.5
"""


def paths(value: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The path of every table and key of a spec."""
    for key, inner in value.items():
        yield (*path, key)
        if isinstance(inner, dict):
            yield from paths(inner, (*path, key))


@pytest.fixture(scope="module")
def schema() -> Draft202012Validator:
    return Draft202012Validator(spec_schema())


def test_it_is_one_of_draft_2020_12() -> None:
    Draft202012Validator.check_schema(spec_schema())
    assert spec_schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_the_command_prints_it_the_same_every_time() -> None:
    said = [bookplates("schema", env={"PYTHONHASHSEED": number}).out for number in ("1", "2")]
    assert said[0] == said[1]
    assert json.loads(said[0]) == spec_schema()


@pytest.mark.parametrize("source", [EVERY_KEY, OTHERWISE, ATLAS, *BOOKS.values(), starter({})])
def test_it_takes_every_spec_that_is_taken(schema: Draft202012Validator, source: str) -> None:
    assert problems_of(source) == ()
    assert [error.message for error in schema.iter_errors(tomllib.loads(source))] == []


@pytest.mark.parametrize("path", list(paths(tomllib.loads(EVERY_KEY))))
def test_it_refuses_every_key_misspelt(schema: Draft202012Validator, path: tuple[str, ...]) -> None:
    spec = tomllib.loads(EVERY_KEY)
    table = spec
    for step in path[:-1]:
        table = table[step]
    table[f"{path[-1]}x"] = table.pop(path[-1])
    assert not schema.is_valid(spec)


@pytest.mark.parametrize(
    ("table", "key", "value"),
    [
        ("text_block", "sheets", 0),
        ("text_block", "sheets", 5001),
        ("text_block", "sheets", "ten"),
        ("text_block", "sheets", 1.5),
        ("text_block", "format", "duodecimo"),
        ("text_block", "caliper", True),
        ("text_block", "trim", []),
        ("cover", "style", "wooden"),
        ("cover", "square", {"top": 3}),
        ("cover", "covering", "full"),
        ("tape", "inside", "half"),
        ("sewing", "pattern", "zigzag"),
        ("sewing", "stations", "20 mm"),
        ("print", "paper", 4),
        ("print", "paper", [1, 2, 3]),
    ],
)
def test_it_refuses_what_a_key_cannot_hold(schema: Draft202012Validator, table: str, key: str, value: Any) -> None:
    spec = tomllib.loads(EVERY_KEY)
    spec[table][key] = value
    assert not schema.is_valid(spec)


@pytest.mark.parametrize("path", [("title",), ("text_block",), ("cover",), ("cover", "style")])
def test_it_refuses_a_spec_without_what_every_book_has(schema: Draft202012Validator, path: tuple[str, ...]) -> None:
    spec = tomllib.loads(EVERY_KEY)
    (spec if len(path) == 1 else spec[path[0]]).pop(path[-1])
    assert not schema.is_valid(spec)


def test_sewing_may_leave_its_pattern_out(schema: Draft202012Validator) -> None:
    spec = tomllib.loads(EVERY_KEY)
    del spec["sewing"]["pattern"]
    assert schema.is_valid(spec)
