"""The largest leaf of a book's own proportions whose pieces all come from the paper on the table. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from bookplates.book.text_block import leaf_of
from bookplates.geometry import Size
from bookplates.lengths import Units, fits
from bookplates.workshop.fitting.search import Answer, last_that_works
from bookplates.workshop.fitting.trial import Changes, Trial
from bookplates.workshop.fitting.written import down, grid, size_key
from bookplates.workshop.table import text_sheet

LEAST, MOST = 20.0, 1000.0
"""The least and the greatest side of a leaf that can be written, mm."""


@dataclass(frozen=True, slots=True)
class FoundLeaf:
    """A leaf that works.

    Attributes:
        size: of the leaf.
        changes: keys of the spec for it.
        trial: the book made so.
        next_size: one step larger.
        lacking: what that would lack, in words; empty where there is no such book, or no such step.
    """

    size: Size
    changes: Changes
    trial: Trial
    next_size: Size
    lacking: tuple[str, ...]


def largest_leaf(now: Trial, *, no_larger: bool = False) -> FoundLeaf | None:
    """The largest leaf of the book's proportions, in whole steps of its height; None where no leaf works.

    `no_larger`: only what is smaller than the leaf is.
    """
    scale = _Scale(now)
    found = last_that_works(*scale.ends(no_larger=no_larger), scale.ask, scale.begin)
    if found is None:
        return None
    trial = scale.trial(found)
    if trial is None:
        return None
    above = scale.trial(found + 1)
    lacking = tuple(lack.what for lack in above.lacks) if above else ()
    return FoundLeaf(scale.size(found), scale.changes(found), trial, scale.size(found + 1), lacking)


class _Scale:
    """Leaves of one proportion, by the number of steps in their height."""

    def __init__(self, now: Trial) -> None:
        self._now = now
        self._units: Units = now.spec.units
        self._leaf = leaf_of(now.spec.text_block).size
        self._tried: dict[int, Trial | None] = {}

    @property
    def begin(self) -> int:
        """The leaf as it is, rounded down."""
        return math.floor(self._leaf.height / grid(self._units) + 1e-6)

    def ends(self, *, no_larger: bool) -> tuple[int, int]:
        """The first and the last step whose sides can be written."""
        step, ratio = grid(self._units), self._leaf.width / self._leaf.height
        least = math.ceil(max(LEAST, (LEAST + step) / ratio) / step - 1e-6)
        most = math.floor(min(MOST, MOST / ratio) / step + 1e-6)
        if no_larger:
            whole = fits(self._leaf.height, self.size(self.begin).height) and fits(self._leaf.width, self.size(self.begin).width)
            most = min(most, self.begin - whole)
        return least, most

    def size(self, steps: int) -> Size:
        """The leaf of so many steps, its width rounded down."""
        height = steps * grid(self._units)
        return Size(down(height * self._leaf.width / self._leaf.height, self._units), height)

    def changes(self, steps: int) -> dict[str, Any]:
        """The keys of the spec for it."""
        return dict(leaf_keys(self._now, self.size(steps)))

    def trial(self, steps: int) -> Trial | None:
        """The book made so."""
        if steps not in self._tried:
            self._tried[steps] = self._now.after(self.changes(steps))
        return self._tried[steps]

    def ask(self, steps: int) -> Answer:
        """Whether it works."""
        trial = self.trial(steps)
        return "none" if trial is None else "works" if trial.works else "too large"


def leaf_keys(now: Trial, size: Size) -> Iterator[tuple[str, Any]]:
    """What changes for another leaf: the sheet that was divided becomes stock, to cut folios from."""
    units, raw = now.spec.units, now.raw["text_block"]
    yield "text_block.leaf", size_key(size, units)
    yield from ((f"text_block.{key}", None) for key in ("sheet", "format", "orientation", "grain", "sheets") if key in raw)
    if "sheets" in raw:
        yield "text_block.folios", now.plan.text_block.folios
    yield from ((f"measured.{key}", None) for key in ("width", "height") if key in now.raw.get("measured", {}))
    sheet = text_sheet(now.spec)
    if sheet is not None and sheet in now.stock and sheet.stock.size is not None:
        stock = {"material": "text paper", "name": sheet.stock.name, "size": size_key(sheet.stock.size, units)}
        yield "stock", [*now.raw.get("stock", []), {**stock, "grain": sheet.stock.grain}]
