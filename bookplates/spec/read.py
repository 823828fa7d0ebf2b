"""TOML text -> `Spec`, or every problem in it at once.

Each table is checked by its own model, so that a fault in one does not hide those in another. What a
misspelt key most likely meant is taken for the checks that follow, never for a result.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from bookplates.errors import BadSpec, Problem
from bookplates.kinds.keys import Keys
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES
from bookplates.lengths import shown
from bookplates.spec.faults import nearest, problems_of, unknown
from bookplates.spec.model import Spec
from bookplates.spec.tables import Head, Measured, Print, TextBlock

MOST_BYTES = 64 * 1024
LONGEST_LINE = 2000

Raw = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Reading:
    """What came of reading a spec.

    Attributes:
        spec: the book, as far as it can be told; None where too little is known.
        problems: what is wrong; where there is any, the spec serves only to look for more.
        lost: tables with a fault of value, of which nothing more can be said.
    """

    spec: Spec | None
    problems: tuple[Problem, ...]
    lost: frozenset[str]


def parse(source: bytes) -> Raw:
    """The tables of a TOML text. Raises BadSpec for what is no such text, or too large to be one."""
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


def _load(text: str) -> Raw:
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
    return Problem("", f"not TOML: {what[:1].lower()}{what[1:]}, at {shown(quoted)}", "see toml.io for how TOML is written", line)


def read_spec(source: bytes, *, for_printing: bool = True) -> Reading:
    """Read and check a spec.

    Args:
        source: the text of the file.
        for_printing: False where nothing will be printed; [print] is then never a reason to stop.

    Raises:
        BadSpec: it is not TOML, or too large.
    """
    raw = parse(source)
    tables = _Tables(raw)
    head = tables.read("", Head, {k: v for k, v in raw.items() if k not in _table_names()})
    tables.units = head.units if isinstance(head, Head) else "mm"
    text_block = tables.read("text_block", TextBlock)
    measured = tables.read("measured", Measured)
    cover = tables.cover()
    sewing = tables.sewing(cover)
    printing, notes = tables.printing(for_printing)
    spec = None
    if isinstance(text_block, TextBlock) and cover is not None and sewing is not None:
        spec = Spec(
            head=head if isinstance(head, Head) else Head(title="untitled", units=tables.units),
            text_block=text_block,
            measured=measured if isinstance(measured, Measured) else Measured(),
            cover=cover,
            sewing=sewing,
            print=printing,
            source=source,
            notes=notes,
        )
    return Reading(spec, tuple(tables.problems), frozenset(tables.lost))


def _table_names() -> tuple[str, ...]:
    own = [name for style in STYLES.values() for name in style.tables]
    return ("text_block", "measured", "cover", *own, "sewing", "print")


class _Tables:
    """Checks table after table, and keeps what is wrong with each."""

    def __init__(self, raw: Raw) -> None:
        self.raw = raw
        self.units = _units(raw)
        self.problems: list[Problem] = []
        self.lost: set[str] = set()

    def table(self, name: str) -> Raw | None:
        """The raw table, empty where there is none; None and a problem, told once, where it is something else."""
        value = self.raw.get(name, {})
        if isinstance(value, dict):
            return value
        if name not in self.lost:
            how = f"[{name}] on a line of its own, its keys below"
            self.fail(name, [Problem(name, f"{shown(value)} is not a table", how)])
        return None

    def fail(self, name: str, problems: list[Problem], *, lost: bool = True) -> None:
        self.problems += problems
        if lost:
            self.lost.add(name)

    def read(
        self, name: str, model: type[Keys], table: Raw | None = None, *, keep: Mapping[str, Any] | None = None
    ) -> Keys | None:
        """A table by its model; None where a value of it is at fault. `keep` holds keys that are read already."""
        table = self.table(name) if table is None else table
        if table is None:
            return None
        known = [key for key in model.model_fields if key not in (keep or {})]
        strangers = {key: value for key, value in table.items() if key not in known}
        self.problems += [
            unknown(f"{name}.{key}".lstrip("."), key, self._known(name, known), _elsewhere(name, model)) for key in strangers
        ]
        mended = {key: value for key, value in table.items() if key in known}
        for key, value in strangers.items():
            meant = nearest(key, known)
            if meant and meant not in mended:
                mended[meant] = value
        presence = list(_presence(name, model, mended))
        try:
            read = model.model_validate({**mended, **(keep or {})}, context={"units": self.units})
        except ValidationError as error:
            told = {problem.where for problem in presence}
            faults = [p for p in problems_of(error, name, model, {}) if p.where not in told and _written(p.where, name, table, p)]
            self.fail(name, [*presence, *faults])
            return None
        if presence:
            self.fail(name, presence)
            return None
        return read

    def _known(self, name: str, keys: list[str]) -> list[str]:
        return keys if name else [*keys, *_table_names()]

    def cover(self) -> Any:
        """The cover style with its own tables, or None."""
        table, theirs = self.table("cover"), {name for kind in STYLES.values() for name in kind.tables}
        for name in sorted(theirs):
            self.table(name)
        if table is None:
            return None
        style = self._choice("cover", "style", STYLES, table, None)
        for name in sorted(theirs & set(self.raw)):
            if style is not None and name not in style.tables:
                goes = ", ".join(key for key, kind in STYLES.items() if name in kind.tables)
                self.fail(
                    name,
                    [Problem(name, f"does not go with cover.style = {shown(_name(style, 'style'))}", f"it goes with {goes}")],
                )
        if style is None:
            return None
        own = {name: self.read(name, model) for name, model in style.tables.items()}
        kept = {name: keys if keys is not None else style.tables[name]() for name, keys in own.items()}
        return self.read("cover", style, _named(table, "style", style), keep=kept) or self._fallback("cover", style)

    def sewing(self, cover: Any) -> Any:
        """The sewing pattern, the cover style's own where none is written; or None."""
        table = self.table("sewing") or {}
        usual = cover.default_pattern if cover is not None else None
        pattern = self._choice("sewing", "pattern", PATTERNS, table, usual)
        if pattern is None:
            return PATTERNS[usual].model_validate({"pattern": usual}) if usual else None
        if cover is not None and cover.style not in pattern.goes_with:
            going = ", ".join(name for name, kind in PATTERNS.items() if cover.style in kind.goes_with)
            named = shown(_name(pattern, "pattern"))
            self.fail(
                "sewing",
                [Problem("sewing.pattern", f"{named} does not go with cover.style = {shown(cover.style)}", f"{going} do")],
            )
        return self.read("sewing", pattern, _named(table, "pattern", pattern)) or self._fallback("sewing", pattern)

    def _fallback(self, name: str, model: type[Keys]) -> Keys:
        """A table of defaults, to look at the other tables by."""
        self.lost.add(name)
        return model.model_validate({})

    def _choice(self, table: str, key: str, kinds: Mapping[str, Any], raw: Raw, usual: str | None) -> Any:
        if key not in raw:
            if usual is None:
                names = ", ".join(kinds)
                self.fail(table, [Problem(f"{table}.{key}", "is missing", f"one of {names}")] if table == "cover" else [])
                return None
            return kinds[usual]
        name = raw[key]
        if isinstance(name, str) and name in kinds:
            return kinds[name]
        self.fail(table, [Problem(f"{table}.{key}", f"there is no {key} {shown(name)}", f"there is {' and '.join(kinds)}")])
        return kinds.get(nearest(name, kinds) or "") if isinstance(name, str) else None

    def printing(self, needed: bool) -> tuple[Print, tuple[Problem, ...]]:
        """[print], and what is wrong with it where that is no reason to stop."""
        before = len(self.problems)
        read = self.read("print", Print)
        notes = self.problems[before:]
        if not needed:
            del self.problems[before:]
            self.lost.discard("print")
        return (read if isinstance(read, Print) and not notes else Print()), tuple(notes)


def _units(raw: Raw) -> Any:
    return raw.get("units") if raw.get("units") in ("mm", "in") else "mm"


def _name(kind: type[Keys], key: str) -> str:
    """What a style or a pattern is called in a spec."""
    return str(kind.model_fields[key].default)


def _named(table: Raw, key: str, kind: type[Keys]) -> Raw:
    """The table with the name of its kind spelt right."""
    return {**table, key: _name(kind, key)} if key in table else table


def _written(where: str, name: str, table: Raw, problem: Problem) -> bool:
    """Whether a fault belongs to a key as written: that of a misspelt one has been told already."""
    key = where.removeprefix(f"{name}.").split(".")[0]
    return key in table or problem.what == "is missing"


def _elsewhere(name: str, model: type[Keys]) -> dict[str, str]:
    """Keys of other kinds of the same table, and of other tables, each with where it belongs."""
    kinds: Mapping[str, type[Keys]] = STYLES if name == "cover" else PATTERNS if name == "sewing" else {}
    others: dict[str, str] = {}
    for key in dict.fromkeys(key for kind in kinds.values() for key in kind.model_fields if key not in model.model_fields):
        going = ", ".join(kind for kind, keys in kinds.items() if key in keys.model_fields)
        others[key] = f"it goes with {going}"
    return others


def _presence(name: str, model: type[Keys], table: Raw) -> Iterator[Problem]:
    """Keys that exclude or need each other: one problem for each key."""
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
        if not any(key in table for key in choice):
            yield Problem(f"{name}.{choice[0]}", f"is missing, and so is {' and '.join(choice[1:])}", f"{' or '.join(choice)}")
