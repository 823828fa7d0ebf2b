"""Sample specs that the tests share, and short ways to read and plan them.

A spec is held as its dotted keys with Python values; `toml` writes it out. All are of our own invention.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from shapely.geometry import Polygon

from bookplates.book.plan import plan, problems_beyond
from bookplates.book.record import Plan
from bookplates.errors import BadSpec, Problem
from bookplates.geometry import Outline
from bookplates.spec.lines import line_of, lines_of_keys
from bookplates.spec.read import read_spec

Written = Mapping[str, Any]

# A notebook for a walk along the rock pools: leaves 100 x 150 mm, 8 folios of 0.1 mm, so 1.6 mm thick; all else by default
POOL: dict[str, Any] = {
    "title": "Tide pool notes",
    "text_block.leaf": "100 x 150 mm",
    "text_block.folios": 8,
    "text_block.caliper": "0.1 mm",
    "cover.style": "taped",
}

# The book of the design's example: ten sheets of Letter as quarto in one section, every key written
ORCHARD: dict[str, Any] = {
    "title": "Orchard notebook",
    "maker": "Quince Street Bindery",
    "units": "in",
    "text_block.sheet": "Letter",
    "text_block.format": "quarto",
    "text_block.orientation": "upright",
    "text_block.grain": "long",
    "text_block.sheets": 10,
    "text_block.sections": 1,
    "text_block.opening": "left",
    "text_block.caliper": "0.1 mm",
    "text_block.fold": "sharp",
    "text_block.trim": "flush",
    "cover.style": "taped",
    "cover.board": "2 mm",
    "cover.square": "1/8 in",
    "cover.joint": "1/4 in",
    "cover.turn_in": "1 in",
    "cover.mitre": "3 mm",
    "cover.lining_margin": "3/8 in",
    "tape.width": "4 in",
    "tape.inside": "full",
    "tape.overlap": "1/2 in",
    "sewing.pattern": "chain",
    "sewing.spacing": "1/2 in",
    "sewing.end_margin": "1/2 in",
    "sewing.hole": "1 mm",
    "sewing.punch_at_once": 10,
    "sewing.thread": "0.6 mm",
    "sewing.thread_end": "4 in",
    "print.paper": "Letter",
    "print.margin": "1/4 in",
    "print.bar_across": "100 mm",
    "print.bar_along": "100 mm",
}


def _source(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {_source(inner)}" for key, inner in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(_source, value)) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else repr(value)


def changed(base: Written, changes: Written) -> dict[str, Any]:
    """The keys with some added, replaced, or (None) taken out."""
    return {key: value for key, value in {**base, **changes}.items() if value is not None}


def toml(keys: Written) -> str:
    """The spec as text: one key a line, each table under its header."""
    lines: dict[str, list[str]] = {"": []}
    for dotted, value in keys.items():
        table, _, key = dotted.rpartition(".")
        lines.setdefault(table, []).append(f"{key} = {_source(value)}")
    return "\n".join(line for table, held in lines.items() for line in ([f"[{table}]"] if table else []) + held) + "\n"


def planned(changes: Written | None = None, base: Written = POOL) -> Plan:
    """The plan of a book that can be made. Fails the test where something is wrong with it."""
    reading = read_spec(toml(changed(base, changes or {})).encode())
    assert reading.problems == ()
    assert reading.spec is not None
    return plan(reading.spec)


def problems_in(text: str | bytes) -> list[tuple[int, Problem]]:
    """Everything that is wrong with a spec, each with its line."""
    source = text if isinstance(text, bytes) else text.encode()
    try:
        reading = read_spec(source)
    except BadSpec as error:
        return [(problem.line or 1, problem) for problem in error.problems]
    found = list(reading.problems)
    if reading.spec is not None:
        found += problems_beyond(reading.spec, reading.lost)
    lines = lines_of_keys(source.decode("utf-8-sig"))
    return [(line_of(lines, problem.where), problem) for problem in found]


def refusals(changes: Written, base: Written = POOL) -> dict[str, Problem]:
    """What is wrong with a changed book, by key."""
    return {problem.where: problem for _, problem in problems_in(toml(changed(base, changes)))}


def warnings(changes: Written, base: Written = POOL) -> dict[str, Problem]:
    """What is said of a changed book that can be made all the same, by key."""
    return {problem.where: problem for problem in planned(changes, base).warnings}


def polygon(outline: Outline) -> Polygon:
    """The outline for another library to judge."""
    return Polygon(outline)


def assert_true_outline(outline: Outline) -> None:
    """Assert a simple outline, counter-clockwise from its lower left, its tail edge at y = 0 and its left edge at x = 0."""
    shape = polygon(outline)
    assert shape.is_valid, "the outline crosses or touches itself"
    assert shape.exterior.is_ccw
    assert shape.bounds[:2] == (0, 0)
    lowest = [point for point in outline if point[1] == 0]
    assert outline[0] == min(lowest)
