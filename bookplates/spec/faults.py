"""pydantic's findings in a binder's words."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from pydantic import ValidationError

from bookplates.errors import Problem
from bookplates.kinds.keys import Keys
from bookplates.lengths import shown


def problems_of(error: ValidationError, table: str, model: type[Keys]) -> Iterator[Problem]:
    """Each fault pydantic found in a table.

    Args:
        error: what pydantic raised.
        table: the table's name, empty for what stands above the first.
        model: the table's keys.
    """
    for found in error.errors(include_url=False):
        path = [str(step) for step in found["loc"] if not isinstance(step, int)]
        entry = next((f"entry {step + 1} " for step in found["loc"] if isinstance(step, int)), "")
        where = ".".join([table, *path] if table else path)
        if found["type"] == "extra_forbidden":
            yield unknown(where, path[-1], keys_at(model, path[:-1]), {})
        else:
            what, hint = _words(found)
            yield Problem(where, f"{entry}{what}", hint)


def keys_at(model: type[Keys], path: Iterable[str]) -> tuple[str, ...]:
    """The keys a table, or a table within it, may hold."""
    for step in path:
        annotation = model.model_fields[step].annotation
        if not (isinstance(annotation, type) and issubclass(annotation, Keys)):
            return ()
        model = annotation
    return tuple(model.model_fields)


def unknown(where: str, key: str, known: Iterable[str], elsewhere: Mapping[str, str]) -> Problem:
    """A key nobody knows, with the nearest that is known, or where it belongs."""
    table = where.removesuffix(key).rstrip(".")
    name, _, entry = table.rpartition(".")
    place = f"[[{name}]]" if entry.isdecimal() else f"[{table}]" if table else "a spec"
    near = nearest(key, known)
    otherwise = f"the nearest is {near}" if near else f"known are {', '.join(known)}"
    hint = elsewhere.get(key, otherwise)
    return Problem(where, f"{shown(key)} is no key of {place}", hint)


def nearest(key: str, known: Iterable[str]) -> str | None:
    """The known key most like this one, if any is."""
    return next(iter(difflib.get_close_matches(key, list(known), n=1)), None)


def alike(key: str, known: Iterable[str]) -> bool:
    """Whether a key is so like a known one that it is surely misspelt: nobody need look for it among other kinds.

    >>> alike("miter", ["mitre", "board"]), alike("inset", ["hinge"])
    (True, False)
    """
    return bool(difflib.get_close_matches(key, list(known), n=1, cutoff=0.75))


_BOUNDS = {
    "greater_than_equal": ("ge", "at least"),
    "less_than_equal": ("le", "at most"),
}
_TYPES = {
    "string_type": "text in quotes",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "float_type": "a number",
    "finite_number": "a finite number",
    "model_type": "a table of keys",
    "tuple_type": "a list of lengths in square brackets",
}


def _words(found: Any) -> tuple[str, str]:
    kind, context = found["type"], found.get("ctx", {})
    if kind == "bookplates":
        return context["what"], context["hint"]
    if kind == "missing":
        return "is missing", "it has no default"
    if kind == "literal_error":
        return f"{shown(found['input'])} is not one of its values", str(context["expected"]).replace("'", '"')
    if kind in _BOUNDS:
        bound, words = _BOUNDS[kind]
        return f"{shown(found['input'])} is out of range", f"{words} {context[bound]:g}"
    if kind in _TYPES:
        return f"{shown(found['input'])} is of the wrong kind", _TYPES[kind]
    return f"{shown(found['input'])} will not do", found["msg"][:1].lower() + found["msg"][1:]


def presence_of(name: str, model: type[Keys], table: Mapping[str, Any], waived: frozenset[str]) -> Iterator[Problem]:
    """Keys that exclude or need each other: one problem for each key; `waived` ones need not be written."""
    told: set[str] = set()
    for key, other in model.excludes:
        if key in table and other in table and key not in told:
            told.add(key)
            yield Problem(f"{name}.{key}", f"excludes {other}, and both are written", f"{key} or {other}")
    for key, partners in model.needs:
        if key in table and key not in told and not any(partner in table for partner in partners):
            told.add(key)
            yield Problem(f"{name}.{key}", f"needs {' or '.join(partners)} beside it", f"write {' or '.join(partners)} too")
    for choice in model.one_of:
        if not any(key in table or f"{name}.{key}" in waived for key in choice):
            yield Problem(f"{name}.{choice[0]}", f"is missing, and so is {' and '.join(choice[1:])}", f"{' or '.join(choice)}")


def counts(fault: Problem, name: str, table: Mapping[str, Any], presence: Iterable[Problem]) -> bool:
    """Whether a fault of value is worth telling: of a key as written, not of a misspelt one, or of one that has to go."""
    key = fault.where.removeprefix(f"{name}.").split(".")[0]
    going = any(problem.where == fault.where and problem.what.startswith("excludes") for problem in presence)
    return not going and (key in table or fault.what == "is missing")
