"""TOML text -> `Spec`, or every problem in it at once.

Each table is checked by its own model, so that a fault in one does not hide those in another. What a
misspelt key most likely meant is taken for the checks that follow, never for a result.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, TypeVar, get_args

from pydantic import ValidationError

from bookplates.errors import Problem
from bookplates.kinds.keys import Keys
from bookplates.kinds.pairs import goes, patterns_for
from bookplates.kinds.patterns import PATTERNS, Pattern
from bookplates.kinds.styles import STYLES, Style
from bookplates.lengths import Units, shown
from bookplates.spec.faults import alike, counts, nearest, presence_of, problems_of, unknown
from bookplates.spec.model import Spec
from bookplates.spec.parse import parse
from bookplates.spec.second import UNREAD, read_second
from bookplates.spec.stock import MOST_STOCK, Cutting, Stock
from bookplates.spec.tables import Head, Measured, Print, TextBlock
from bookplates.spec.taught import Class

Raw = dict[str, Any]
Table = TypeVar("Table", bound=Keys)


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


def read_spec(source: bytes, *, for_printing: bool = True, folder: Path | None = None, lettering: bool = True) -> Reading:
    """Read and check a spec.

    Args:
        source: the text of the file.
        for_printing: False where nothing will be printed; [print] is then never a reason to stop.
        folder: where the spec stands, for the font that it may name; None where that is not known.
        lettering: False where no letters will be printed; no font is then looked for, nor letters that it lacks.

    Raises:
        BadSpec: it is not TOML, or too large.
    """
    raw = parse(source)
    tables = _Tables(raw)
    tables.second = read_second(tables.raw.get("print"), Print.model_fields, folder) if lettering else UNREAD
    head = tables.read("", Head, {k: v for k, v in raw.items() if k not in _table_names(raw)})
    tables.units = head.units if head is not None else tables.units
    text_block = tables.read("text_block", TextBlock)
    measured = tables.read("measured", Measured)
    cover = tables.cover()
    sewing = tables.sewing(cover)
    printing, notes = tables.printing(for_printing)
    stock, cutting, taught = tables.stock(), tables.written("cutting", Cutting), tables.written("class", Class)
    spec = None
    if text_block is not None and cover is not None and sewing is not None:
        spec = Spec(
            head=head or Head(title="untitled", units=tables.units),
            text_block=text_block,
            measured=measured or Measured(),
            cover=cover,
            sewing=sewing,
            print=printing,
            source=source,
            notes=notes,
            second=tables.second.font,
            stock=stock,
            cut_with=cutting,
            taught=taught,
        )
    return Reading(spec, tuple(map(tables.as_written, tables.problems)), frozenset(tables.lost))


SHARED = ("text_block", "measured", "cover", "sewing", "print", "stock", "cutting", "class")
"""Tables that a book may have whatever its cover."""


def _own_tables(raw: Raw) -> tuple[str, ...]:
    """Tables of the cover style that is written; of every style where one is written that is none of these."""
    style = _style_written(raw)
    own = tuple(style.tables) if style else ()
    if style and all(name in own or name in SHARED for name, table in raw.items() if isinstance(table, dict)):
        return own  # other styles need not be looked at
    return tuple(dict.fromkeys(name for kind in STYLES.values() for name in kind.tables))


def _style_written(raw: Raw) -> type[Style] | None:
    table = raw.get("cover")
    return STYLES.get(str(table.get("style"))) if isinstance(table, dict) else None


def _table_names(raw: Raw) -> tuple[str, ...]:
    return (*SHARED[:3], *_own_tables(raw), *SHARED[3:])


class _Tables:
    """Checks table after table, and keeps what is wrong with each."""

    def __init__(self, raw: Raw) -> None:
        self.meant = _misspelt_tables(raw)
        self.raw = {**raw, **{name: raw[written] for name, written in self.meant.items()}}
        self.units = _units(raw)
        self.waived = _waived(self.raw)
        self.second = UNREAD
        self.problems: list[Problem] = []
        self.lost: set[str] = set()

    def as_written(self, problem: Problem) -> Problem:
        """The problem under the name that its table has in the file."""
        table, dot, key = problem.where.partition(".")
        return replace(problem, where=f"{self.meant[table]}.{key}") if dot and table in self.meant else problem

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
        self, name: str, model: type[Table], table: Raw | None = None, *, keep: Mapping[str, Any] | None = None
    ) -> Table | None:
        """A table by its model; None where a value of it is at fault. `keep` holds keys that are read already."""
        table = self.table(name) if table is None else table
        if table is None:
            return None
        known = [key for key in model.model_fields if key not in (keep or {})]
        strangers = {key: value for key, value in table.items() if key not in known}
        elsewhere = {} if all(alike(key, known) for key in strangers) else _elsewhere(name, model)
        names = self._known(name, known) if strangers else []
        self.problems += [unknown(f"{name}.{key}".lstrip("."), key, names, elsewhere) for key in strangers]
        mended = {key: value for key, value in table.items() if key in known}
        for key, value in strangers.items():
            meant = None if key in elsewhere else nearest(key, known)  # a key of another kind is misplaced, not misspelt
            if meant and meant not in mended:
                mended[meant] = value
        presence = list(presence_of(name, model, mended, self.waived))
        try:
            read = model.model_validate({**mended, **(keep or {})}, context={"units": self.units, "second": self.second})
        except ValidationError as error:
            faults = [fault for fault in problems_of(error, name, model) if counts(fault, name, table, presence)]
            self.fail(name, [*presence, *faults])
            return None
        if presence:
            self.fail(name, presence)
            return None
        return read

    def _known(self, name: str, keys: list[str]) -> list[str]:
        return keys if name else [*keys, *_table_names(self.raw)]

    def cover(self) -> Style | None:
        """The cover style with its own tables, or None."""
        table, theirs = self.table("cover"), set(_own_tables(self.raw))
        for name in sorted(theirs):
            self.table(name)
        if table is None:
            return None
        if "style" not in table:
            self.fail("cover", [Problem("cover.style", "is missing", _one_of(STYLES))])
        style = self._choice("cover", "style", STYLES, table) if "style" in table else None
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

    def sewing(self, cover: Style | None) -> Pattern | None:
        """The sewing pattern, the cover style's own where none is written; or None."""
        table = self.table("sewing") or {}
        usual = PATTERNS[cover.default_pattern] if cover is not None else None
        pattern = self._choice("sewing", "pattern", PATTERNS, table) if "pattern" in table else usual
        if pattern is None:
            return self._fallback("sewing", usual) if usual else None
        if cover is not None and not goes(cover.style, _name(pattern, "pattern")):
            going = _one_of(patterns_for(cover.style))
            named = shown(_name(pattern, "pattern"))
            self.fail(
                "sewing",
                [Problem("sewing.pattern", f"{named} does not go with cover.style = {shown(cover.style)}", going)],
            )
        return self.read("sewing", pattern, _named(table, "pattern", pattern)) or self._fallback("sewing", pattern)

    def stock(self) -> tuple[Stock, ...]:
        """Every [[stock]] entry that can be read; the first is `stock.1` in what is said of it."""
        entries = self.raw.get("stock", [])
        if not (isinstance(entries, list) and all(isinstance(entry, dict) for entry in entries)):
            how = "[[stock]], in two brackets, on a line of its own for each paper, its keys below"
            self.fail("stock", [Problem("stock", "is not a list of tables", how)])
            return ()
        if len(entries) > MOST_STOCK:
            self.fail("stock", [Problem("stock", f"has {len(entries):,} entries", f"{MOST_STOCK} at most")])
            return ()
        found = (self.read(f"stock.{number}", Stock, entry) for number, entry in enumerate(entries, 1))
        return tuple(entry for entry in found if entry is not None)

    def written(self, name: str, model: type[Table]) -> Table | None:
        """A table that only some books have, where it is written."""
        return self.read(name, model) if name in self.raw else None

    def _fallback(self, name: str, model: type[Table]) -> Table:
        """A table of defaults, to look at the other tables by."""
        self.lost.add(name)
        return model.model_validate({})

    def _choice(self, table: str, key: str, kinds: Mapping[str, type[Table]], raw: Raw) -> type[Table] | None:
        """The kind that is written; where there is none of that name a problem, and the nearest, to look for more by."""
        name = raw[key]
        if isinstance(name, str) and name in kinds:
            return kinds[name]
        self.fail(table, [Problem(f"{table}.{key}", f"there is no {key} {shown(name)}", f"there is {_one_of(kinds)}")])
        return kinds.get(nearest(name, kinds) or "") if isinstance(name, str) else None

    def printing(self, needed: bool) -> tuple[Print, tuple[Problem, ...]]:
        """[print], and what is wrong with it where that is no reason to stop."""
        before = len(self.problems)
        read = self.read("print", Print)
        notes = self.problems[before:]
        if not needed:
            del self.problems[before:]
            self.lost.discard("print")
        return (read if read is not None and not notes else Print()), tuple(notes)


def _misspelt_tables(raw: Raw) -> dict[str, str]:
    """Tables of an unknown name: what each is called, by the name that was most likely meant and is not written."""
    names = _table_names(raw)
    known = [name for name in names if name not in raw]
    strange = [name for name, table in raw.items() if isinstance(table, dict | list) and name not in names]
    found = {meant: name for name in strange if (meant := nearest(name, known))}
    return {meant: name for meant, name in found.items() if isinstance(raw[name], list) == (meant == "stock")}


def _waived(raw: Raw) -> frozenset[str]:
    """Keys of other tables that need not be written, as a key of the cover style stands for them, dotted."""
    style = _style_written(raw)
    return frozenset(where for key, where in style.stands_for.items() if key in raw["cover"]) if style else frozenset()


def _units(raw: Raw) -> Units:
    return next((unit for unit in get_args(Units) if raw.get("units") == unit), "mm")


def _one_of(names: Iterable[str]) -> str:
    """Names as they are written in a spec, to choose from."""
    quoted = [f'"{name}"' for name in names]
    return " or ".join(filter(None, (", ".join(quoted[:-1]), quoted[-1]))) if quoted else ""


def _name(kind: type[Keys], key: str) -> str:
    """What a style or a pattern is called in a spec."""
    return str(kind.model_fields[key].default)


def _named(table: Raw, key: str, kind: type[Keys]) -> Raw:
    """The table with the name of its kind spelt right."""
    return {**table, key: _name(kind, key)} if key in table else table


def _elsewhere(name: str, model: type[Keys]) -> dict[str, str]:
    """Keys of other tables, and of other kinds of the same table, each with where it belongs."""
    tables: dict[str, type[Keys]] = {"text_block": TextBlock, "measured": Measured, "print": Print}
    others = {key: f"it belongs in [{table}]" for table, keys in tables.items() if table != name for key in keys.model_fields}
    for table, kinds in (("cover", STYLES), ("sewing", PATTERNS)):
        for key in dict.fromkeys(key for kind in kinds.values() for key in kind.model_fields):
            going = ", ".join(kind for kind, keys in kinds.items() if key in keys.model_fields)
            others[key] = f"it goes with {going}" if table == name else f"it belongs in [{table}]"
    return {key: where for key, where in others.items() if key not in model.model_fields}
