"""TOML text -> tables, or why it is no TOML, in words for somebody who has never heard of it."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from bookplates.errors import BadSpec, Problem
from bookplates.lengths import shown
from bookplates.spec import MOST_BYTES

LONGEST_LINE = 2000


def parse(source: bytes) -> dict[str, Any]:
    """The tables of a TOML text. Raises BadSpec for what is no such text, or too large to be one."""
    if source.startswith(b"%PDF"):
        raise BadSpec(Problem("", "is a PDF, not a spec", "the TOML file that describes the book"))
    if len(source) > MOST_BYTES:
        raise BadSpec(Problem("", "the spec is too long", f"{MOST_BYTES // 1024} KiB at most"))
    try:
        text = source.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = source.count(b"\n", 0, error.start) + 1
        raise BadSpec(Problem("", "the spec is not UTF-8 text", "save it as UTF-8", line)) from None
    for number, line_text in enumerate(text.replace("\r\n", "\n").split("\n"), 1):
        if len(line_text) > LONGEST_LINE:
            raise BadSpec(Problem("", f"the line is {len(line_text):,} characters long", f"{LONGEST_LINE:,} at most", number))
    return _load(text)


def _load(text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadSpec(_syntax(str(error), text)) from None
    except RecursionError:
        raise BadSpec(Problem("", "tables or lists are nested too deep", "a spec needs two levels")) from None
    except ValueError as error:
        raise BadSpec(Problem("", f"a number cannot be read ({str(error).split(';')[0].lower()})", "a shorter number")) from None


def _syntax(message: str, text: str) -> Problem:
    at = re.search(r"\(at line (\d+), column \d+\)$", message)
    lines = text.split("\n")
    line = int(at.group(1)) if at else max(1, len(text.rstrip().split("\n")))
    quoted = lines[line - 1].strip() if line <= len(lines) else ""
    what = re.sub(r"\s*\(at .*\)$", "", message)
    return Problem("", f"not TOML: {what[:1].lower()}{what[1:]}, at {shown(quoted)}", _mend(what, quoted), line)


_DECIMAL_COMMA = re.compile(r"=\s*[+-]?\d+,\d")
_UNQUOTED = re.compile(r"^([\w.-]+)\s*=\s*([^\s\"'\[{#][^#\"]*)")


def _mend(what: str, line: str) -> str:
    """What to do about a line that is no TOML: most often a quote is missing."""
    unquoted = _UNQUOTED.match(line)
    if "overwrite" in what or "twice" in what:
        return "the key or table is there already: write it once"
    if _DECIMAL_COMMA.search(line):
        return "write decimals with a point"
    if unquoted:
        return f'text and lengths with a unit stand in quotes: {unquoted[1]} = "{unquoted[2].strip()}"'
    return "see toml.io for how TOML is written"
