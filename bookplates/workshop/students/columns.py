"""What the columns of a class's table may hold: any key of a spec in which one student's book may differ from another's."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from bookplates.kinds.keys import EachSide
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES
from bookplates.spec.faults import nearest
from bookplates.spec.tables import Head, Measured, Print, TextBlock

Holds = Literal["number", "whole number", "list", "text", "length"]

NAMES = ("name", "student")
"""Headers of the column of names, in small or capital letters."""

SHARED = {
    "units": "bare numbers",
    "print.font": "letters",
    "stock": "the paper",
    "cutting": "how it is cut",
    "class": "the class",
}
"""What is one for the whole class: a key or a table, and what hangs on it."""

_DECIMAL_COMMA = re.compile(r"(?<![0-9,.])([0-9]+),([0-9]{1,2}|[0-9]{4,})(?![0-9,.])")
"""Three figures after a comma may be thousands: whoever reads the length asks."""

_LINE_BREAK = re.compile(r"\s*[\r\n]\s*")


@cache
def known_keys() -> dict[str, Holds]:
    """Every key that may head a column, dotted, with what it holds."""
    tables: list[tuple[str, type[BaseModel]]] = [("", Head), ("text_block", TextBlock), ("measured", Measured), ("print", Print)]
    tables += [("cover", style) for style in STYLES.values()]
    tables += [(name, model) for style in STYLES.values() for name, model in style.tables.items()]
    tables += [("sewing", pattern) for pattern in PATTERNS.values()]
    own = {name for style in STYLES.values() for name in style.tables}
    found: dict[str, Holds] = {}
    for table, model in tables:
        for key, field in model.model_fields.items():
            if table != "cover" or key not in own:
                found.update(_keys_of(f"{table}.{key}".lstrip("."), field))
    return {key: holds for key, holds in found.items() if key not in SHARED}


def _keys_of(where: str, field: FieldInfo) -> Iterator[tuple[str, Holds]]:
    yield where, _holds(field)
    for mark in field.metadata:
        if isinstance(mark, EachSide):
            yield from ((f"{where}.{side}", "length") for side in mark.sides)


def _holds(field: FieldInfo) -> Holds:
    within = [*_within(field.annotation), *field.metadata]
    if any(get_origin(inner) is tuple for inner in within):
        return "list"
    if int in within:
        return "whole number"
    if float in within:
        return "length" if any(hasattr(mark, "read") for mark in within) else "number"
    return "text" if str in within or any(isinstance(inner, str) for inner in within) else "length"


def _within(annotation: Any) -> Iterator[Any]:
    yield annotation
    for inner in (*get_args(annotation), *getattr(annotation, "__metadata__", ())):
        yield from _within(inner)


def value_of(cell: str, holds: Holds, *, decimal_comma: bool) -> Any:
    """What a cell says of a key, as it would stand in a spec; what will not do is left to whoever checks the spec.

    Args:
        cell: its text.
        holds: what the key holds.
        decimal_comma: whether a comma may stand in a number.

    >>> value_of("12,5", "length", decimal_comma=True), value_of("20", "whole number", decimal_comma=False)
    ('12.5', 20)
    """
    if holds == "text":
        return _LINE_BREAK.sub(" ", cell)  # as in a name
    if holds == "list":
        return [value_of(part.strip(), "length", decimal_comma=decimal_comma) for part in _parts(cell, decimal_comma)]
    plain = _DECIMAL_COMMA.sub(r"\1.\2", cell) if decimal_comma else cell
    if holds == "whole number" and re.fullmatch("[-+]?[0-9]{1,9}", plain):
        return int(plain)
    if holds == "number" and re.fullmatch(r"[-+]?[0-9]{1,9}(\.[0-9]{1,9})?", plain):
        return float(plain)
    return plain if holds == "length" else cell  # a fault is told of as it was written


def _parts(cell: str, decimal_comma: bool) -> list[str]:
    between = ";" if ";" in cell else ", " if decimal_comma else ","
    return cell.strip("[] ").split(between)


def unknown_header(header: str) -> tuple[str, str]:
    """What is wrong with a header that is no key, and what may have been meant."""
    key = header.casefold()
    for shared, what in SHARED.items():
        if key == shared or key.startswith(f"{shared}."):
            return f"{shared} cannot differ from student to student: {what} {_is(what)} the same for all", "write it in the spec"
    last = key.rpartition(".")[2]
    ends = [known for known in known_keys() if known.rpartition(".")[2] == last and "." in known]
    meant = nearest(key, (*known_keys(), *NAMES))
    near = meant if "." in key and meant else " or ".join(ends) or meant
    hint = (
        f"the nearest is {near}" if near else 'headers are "name" and keys of a spec with their table, such as text_block.sheets'
    )
    return "is no key of a spec", hint


def _is(what: str) -> str:
    return "are" if what in ("bare numbers", "letters") else "is"
