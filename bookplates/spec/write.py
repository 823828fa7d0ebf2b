"""A spec with some keys changed, as TOML text: what `fit` tries, and what a student's own book is made from."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from copy import deepcopy
from typing import Any

import tomli_w

from bookplates.kinds.keys import SIDES
from bookplates.spec.tables import PageMargins

_SIDED = {"square": SIDES, "turn_in": SIDES, "margin": tuple(PageMargins.model_fields)}
"""Keys that hold one length for several sides, or a table of them."""


def changed(source: bytes, changes: Mapping[str, Any], *, without: Iterable[str] = ()) -> bytes:
    """The spec with keys set, or taken out.

    Args:
        source: a spec that is TOML. Its comments are lost.
        changes: values by dotted key ("cover.turn_in", "stock.1.grain", counted from 1); None takes a key out.
        without: tables to leave out.

    Returns:
        TOML text; what is read from it is what was asked for.

    >>> print(changed(b'title = "Tide pools"', {"cover.style": "case"}).decode(), end="")
    title = "Tide pools"
    <BLANKLINE>
    [cover]
    style = "case"
    """
    raw = tomllib.loads(source.decode("utf-8-sig"))
    kept = deepcopy({key: value for key, value in raw.items() if key not in set(without)})
    for where, value in changes.items():
        *path, key = where.split(".")
        table = _table(kept, path)
        if value is None:
            table.pop(key, None)
        else:
            table[key] = value
    return tomli_w.dumps(kept).encode()


def _table(raw: dict[str, Any], path: list[str]) -> dict[str, Any]:
    """The table of that path, made where there is none; one length for all sides becomes a table of them."""
    inner: Any = raw
    for step in path:
        if isinstance(inner, list):
            inner = inner[int(step) - 1]
            continue
        there = inner.get(step, {})
        if not isinstance(there, dict | list):
            there = dict.fromkeys(_SIDED.get(step, ()), there)
        inner[step] = there
        inner = there
    return inner if isinstance(inner, dict) else {}
