"""Where in a TOML text a key stands. Looked up only when there is something to say about it.

The standard library's reader gives no line for a value. So the text is cut into statements (a table's
header, or a key with all of its value), each of which is TOML by itself and says its own key.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from typing import Any

Path = tuple[str | int, ...]

_TOKEN = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}(?!")'
    r"|'''.*?'{3,5}(?!')"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'"
    r"|\#[^\n]*"
    r"|[\[\]{}\n]"
    r"|[^\"'\#\[\]{}\n]+"
    r"|.",
    re.DOTALL,
)


def statements(text: str) -> Iterator[tuple[int, str]]:
    """Each statement of a TOML text with the line it begins on, from 1."""
    line = begun = 1
    depth, held = 0, ""
    for token in _TOKEN.findall(text + "\n"):
        if token == "\n" and depth <= 0:
            if held.strip():
                yield begun, held.strip()
            held, depth, begun = "", 0, line + 1
        elif not token.startswith("#"):
            depth += (token in ("[", "{")) - (token in ("]", "}"))
            held += token
        line += token.count("\n")


def _keys_in(value: Any, path: Path) -> Iterator[Path]:
    yield path
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, held in inner:
        yield from _keys_in(held, (*path, step))


def lines_of_keys(text: str) -> dict[Path, int]:
    """The line on which every key and table of a TOML text that can be read begins its statement.

    What an array holds is counted from 0. A key with a dot in it is also found as if it were two.
    """
    lines: dict[Path, int] = {}
    table: Path = ()
    counted: dict[Path, int] = {}
    for line, source in statements(text):
        try:
            value = tomllib.loads(source)
        except (ValueError, RecursionError):
            continue
        if source.startswith("["):
            table = _header(value, source, counted)
            found: Iterator[Path] = iter([table[:n] for n in range(1, len(table) + 1)])
        else:
            found = (path for key, inner in value.items() for path in _keys_in(inner, (*table, key)))
        for path in found:
            lines.setdefault(path, line)
            lines.setdefault(tuple(".".join(map(str, path)).split(".")), line)
    return lines


def _header(value: dict[str, Any], source: str, counted: dict[Path, int]) -> Path:
    names: tuple[str, ...] = ()
    inner: Any = value
    while isinstance(inner, dict) and inner:
        name, inner = next(iter(inner.items()))
        names = (*names, name)
    *outer, last = names
    path = (*_in_the_latest(outer, counted), last)
    if not source.startswith("[["):
        return path
    counted[path] = counted.get(path, -1) + 1
    return (*path, counted[path])


def _in_the_latest(names: Iterable[str], counted: dict[Path, int]) -> Path:
    """The path to a table, by way of the latest table of each array on it."""
    path: Path = ()
    for name in names:
        path = (*path, name)
        path = (*path, counted[path]) if path in counted else path
    return path


def line_of(lines: dict[Path, int], where: str) -> int:
    """The line of a dotted key, else of the table that should hold it, else 1. Entries of a list are counted from 1."""
    path: Path = tuple(int(step) - 1 if step.isdecimal() else step for step in where.split("."))
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, 1)
