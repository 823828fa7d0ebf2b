"""The largest book that the paper on the table makes: of the formats its sheets give, and in its own proportions.

Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from bookplates.book.text_block import leaf_of
from bookplates.errors import Problem
from bookplates.geometry import Size
from bookplates.spec.tables import HALVINGS, Format
from bookplates.workshop.cuts import Entry
from bookplates.workshop.fitting.leaf_search import FoundLeaf, largest_leaf
from bookplates.workshop.fitting.trial import Changes, Trial
from bookplates.workshop.fitting.written import size_key
from bookplates.workshop.needs import Need
from bookplates.workshop.sheets import same_sheet
from bookplates.workshop.table import text_sheet


@dataclass(frozen=True, slots=True)
class FormatFit:
    """A sheet of text paper halved so often, and whether the rest of the paper is enough for such a book.

    Attributes:
        entry: the sheet.
        format: how often it is halved.
        leaf: its size.
        changes: keys of the spec for it.
        trial: the book made so; None where there is no such book.
        sheets: of text paper that all books take.
        warnings: what a binder warns of then, and does not of the book as written.
        refused: why there is no such book.
    """

    entry: Entry
    format: Format
    leaf: Size
    changes: Changes
    trial: Trial | None
    sheets: int
    warnings: tuple[Problem, ...] = ()
    refused: tuple[Problem, ...] = ()

    @property
    def works(self) -> bool:
        """Whether every piece can be cut from what is on hand."""
        return self.trial is not None and self.trial.works

    @property
    def lacking(self) -> tuple[str, ...]:
        """What is lacking, in words."""
        if self.trial is None:
            return tuple(f"no book: {problem}" for problem in self.refused[:1])
        return tuple(lack.what for lack in self.trial.lacks)


@dataclass(frozen=True, slots=True)
class Largest:
    """The largest book of the paper on hand.

    Attributes:
        formats: each sheet of text paper in each format; none where the book does not divide a sheet.
        leaf: the largest leaf of the book's own proportions; None where none works.
    """

    formats: tuple[FormatFit, ...]
    leaf: FoundLeaf | None

    @property
    def format(self) -> FormatFit | None:
        """The format with the largest leaf that works; of such, the one that takes the fewest sheets."""
        fits = [one for one in self.formats if one.works and one.trial is not None]
        return min(
            fits, key=lambda one: (-round(one.leaf.width * one.leaf.height), one.trial.sheets if one.trial else 0), default=None
        )

    @property
    def pieces(self) -> tuple[Need, ...]:
        """What the largest book of all takes."""
        best = self.best
        return best.table.needs if best else ()

    @property
    def best(self) -> Trial | None:
        """The largest book: by format where the book divides a sheet, else by its proportions."""
        return self.format.trial if self.format else self.leaf.trial if self.leaf else None


def largest(now: Trial) -> Largest:
    """The largest book that the paper on hand makes, counts kept to."""
    return Largest(tuple(_formats(now)), largest_leaf(now))


def _formats(now: Trial) -> Iterator[FormatFit]:
    if now.spec.text_block.sheet is None:
        return
    for entry in now.stock_of("text paper"):
        for name in HALVINGS:
            changes = dict(_keys(now, entry, name))
            trial = now.after(changes) if changes else now
            leaf = leaf_of(trial.spec.text_block).size if trial else _leaf_of(now, entry, name)
            used = sum(one.used for one in trial.table.of("text paper").cuts) if trial else 0
            warned, refused = (trial.new_warnings(now), ()) if trial else ((), now.refused(changes))
            yield FormatFit(entry, name, leaf, changes, trial, used, warned, refused)


def _is_the_sheet(now: Trial, entry: Entry) -> bool:
    sheet = text_sheet(now.spec)
    return sheet is not None and same_sheet(entry.stock, sheet.stock)


def _keys(now: Trial, entry: Entry, name: Format) -> Iterator[tuple[str, Any]]:
    raw: Mapping[str, Any] = now.raw["text_block"]
    if name == now.spec.text_block.format and (entry.number is None or _is_the_sheet(now, entry)):
        return  # it is as written
    if entry.stock.size is not None and entry.number is not None:
        yield "text_block.sheet", size_key(entry.stock.size, now.spec.units)
        if entry.stock.grain != "none":
            yield "text_block.grain", entry.stock.grain
    yield "text_block.format", name
    if "sheets" in raw:
        yield "text_block.sheets", None
        yield "text_block.folios", now.plan.text_block.folios
    yield from ((f"measured.{key}", None) for key in ("width", "height") if key in now.raw.get("measured", {}))


def _leaf_of(now: Trial, entry: Entry, name: Format) -> Size:
    """The leaf of a book that cannot be made."""
    keys = now.spec.text_block.model_copy(update={"sheet": entry.stock.size, "format": name})
    return leaf_of(keys).size
