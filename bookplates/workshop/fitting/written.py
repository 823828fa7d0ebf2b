"""Lengths and keys as one writes them into a spec: TOML lines ready to be pasted. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import tomli_w

from bookplates.geometry import Size
from bookplates.lengths import MM_PER_INCH, Units, close, in_inches, said
from bookplates.papers.sizes import SHEETS


def grid(units: Units) -> float:
    """What lengths are rounded to that somebody is to measure, mm: whole millimetres, or 1/16 in."""
    return 1.0 if units == "mm" else MM_PER_INCH / 16


def down(mm: float, units: Units) -> float:
    """A length rounded down to what a ruler shows, mm.

    >>> down(139.99, "mm"), down(25.4, "in")
    (139.0, 25.4)
    """
    return math.floor(mm / grid(units) + 1e-6) * grid(units)


def length_key(mm: float, units: Units) -> str:
    """A length as a spec has it.

    >>> length_key(12.7, "in"), length_key(12.7, "mm"), length_key(1.23456, "in")
    ('1/2 in', '12.7 mm', '1.23456 mm')
    """
    words = said(mm, units)
    return words if words.endswith("in") and close(mm, round(mm / _PART) * _PART) else f"{round(mm, 6):g} mm"


_PART = MM_PER_INCH / 32


def size_key(size: Size, units: Units) -> str:
    """A size as a spec has it, by the name of a sheet where it has one.

    >>> size_key(Size(215.9, 279.4), "mm"), size_key(Size(101.6, 139.7), "in"), size_key(Size(100.5, 140.0), "in")
    ('Letter', '4 x 5 1/2 in', '100.5 x 140 mm')
    """
    name = next((name for name, sheet in SHEETS.items() if all(close(a, b) for a, b in zip(sheet, size, strict=True))), "")
    if name:
        return name
    if units == "in" and all(close(side, round(side / _PART) * _PART) for side in size):
        return f"{in_inches(size.width).removesuffix(' in')} x {in_inches(size.height)}"
    return f"{round(size.width, 6):g} x {round(size.height, 6):g} mm"


def toml_lines(changes: Mapping[str, Any], without: Iterable[str] = ()) -> Iterator[str]:
    """The keys to write, table by table; what is to be taken out stands in comments.

    >>> list(toml_lines({"tape.lap": "1/2 in", "cover.gap": None}))
    ['[tape]', 'lap = "1/2 in"', '[cover]', '# take out: gap']
    """
    yield from (f"# take out the table [{name}]" for name in without)
    tables: dict[str, dict[str, Any]] = {}
    for where, value in changes.items():
        table, _, key = where.rpartition(".")
        tables.setdefault(table, {})[key] = value
    for table, keys in tables.items():
        yield from _table(table, keys)


def _table(table: str, keys: Mapping[str, Any]) -> Iterator[str]:
    lists = {key: value for key, value in keys.items() if not table and isinstance(value, list)}
    if not lists:
        yield _head(table)
    yield from _lines({key: value for key, value in keys.items() if value is not None and key not in lists})
    gone = [key for key, value in keys.items() if value is None]
    if gone:
        yield f"# take out: {', '.join(gone)}"
    for key, entries in lists.items():
        yield f"[[{key}]]"
        yield from _lines(entries[-1])


def _head(table: str) -> str:
    """The line that begins a table; of one of several, which it is."""
    name, _, number = table.partition(".")
    return f"[[{name}]]  # number {number}" if number.isdecimal() else f"[{table}]"


def _lines(keys: Mapping[str, Any]) -> Iterator[str]:
    for key, value in keys.items():
        if isinstance(value, dict):
            inner = ", ".join(tomli_w.dumps({name: one}).strip() for name, one in value.items())
            yield f"{key} = {{ {inner} }}"
        else:
            yield tomli_w.dumps({key: value}).strip()
