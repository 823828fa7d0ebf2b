"""A checked, frozen description of a book."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from bookplates.errors import Problem
from bookplates.geometry import Size
from bookplates.kinds.keys import EachSide, Keys, Named, Span
from bookplates.kinds.patterns import Pattern
from bookplates.kinds.styles import Style
from bookplates.lengths import Units, both, both_sizes, fits, in_mm
from bookplates.papers.printing import Margins, PageSetup
from bookplates.papers.sizes import sheet_size
from bookplates.spec.stock import Cutting, Stock
from bookplates.spec.tables import Head, Measured, Print, TextBlock
from bookplates.spec.taught import Class

if TYPE_CHECKING:
    from bookplates.letters import SecondFont

USUAL_CALIPER = 0.1
"""Thickness of ordinary 75 to 80 g/m2 text paper, mm: common practice, no source; near 20 lb bond (handbook PW7)."""


@dataclass(frozen=True, slots=True)
class Spec:
    """A book as its maker described it, every key read and in range.

    Attributes:
        head: title, maker and units.
        text_block, measured, print: the tables of that name.
        cover: the cover style with its keys, those of its own tables included.
        sewing: the sewing pattern with its keys.
        source: the text it was read from.
        notes: what is wrong with [print], where that was no reason to stop.
        second: the font for letters that the built-in one lacks, if there is one.
        stock: the paper on the table, entry by entry.
        cut_with: how it is cut, where that is written.
        taught: the class that makes the book, if there is one.
    """

    head: Head
    text_block: TextBlock
    measured: Measured
    cover: Style
    sewing: Pattern
    print: Print
    source: bytes
    notes: tuple[Problem, ...] = ()
    second: SecondFont | None = None
    stock: tuple[Stock, ...] = ()
    cut_with: Cutting | None = None
    taught: Class | None = None

    @property
    def shops(self) -> bool:
        """Whether it says what paper there is, or who makes the book: then there is something to buy and to cut up."""
        return bool(self.stock or self.taught)

    @property
    def cutting(self) -> Cutting:
        """How paper is cut."""
        return self.cut_with or Cutting()

    @property
    def units(self) -> Units:
        """The unit of bare numbers, shown first."""
        return self.head.units

    @property
    def paper_name(self) -> str:
        """The printer paper where none is written."""
        return "A4" if self.units == "mm" else "Letter"

    @property
    def paper(self) -> Size:
        """The paper in the printer."""
        return self.print.paper or sheet_size(self.paper_name)

    @property
    def setup(self) -> PageSetup:
        """The paper in the printer, upright."""
        return self._page(self.paper)

    @property
    def large_setup(self) -> PageSetup | None:
        """The larger paper, upright, where there is any."""
        return self._page(self.print.large_paper) if self.print.large_paper else None

    @property
    def idle(self) -> tuple[Problem, ...]:
        """What is written in [print] and of the stock, and changes nothing."""
        return (*self._idle_paper(), *self._idle_stock())

    def _idle_stock(self) -> Iterator[Problem]:
        for number, stock in enumerate(self.stock, 1):
            what = "plays no part on a roll" if stock.on_roll else "plays no part without a grain"
            yield from (Problem(f"stock.{number}.{key}", what, "leave it out") for key in stock.idle)

    def _idle_paper(self) -> tuple[Problem, ...]:
        paper, large = self.paper, self.print.large_paper
        if large is None or not (fits(min(large), min(paper)) and fits(max(large), max(paper))):
            return ()
        what = f"{both_sizes(large, self.units)} is no larger than the paper, {both_sizes(paper, self.units)}: nothing needs it"
        return (Problem("print.large_paper", what, "larger paper, or leave it out"),)

    def _page(self, paper: Size) -> PageSetup:
        sides, reading = self.print.margin, Size(self.print.bar_across, self.print.bar_along)
        margins = Margins(sides.top, sides.bottom, sides.left, sides.right)
        return PageSetup(Size(min(paper), max(paper)), margins, reading, self.print.overlap)

    def unwritten(self) -> Iterator[tuple[str, str]]:
        """Each key with a fixed default that was not written, dotted, and that default in words."""
        own = type(self.cover).tables
        tables: dict[str, Any] = {"": self.head, "text_block": self.text_block, "cover": self.cover}
        tables |= {name: getattr(self.cover, name) for name in own}
        tables |= {"sewing": self.sewing, "print": self.print}
        for name, keys in tables.items():
            for key, value in _defaults(keys, self.units):
                if key not in own and key not in ("style", "pattern", "bar_across", "bar_along"):
                    yield f"{name}.{key}".lstrip("."), value
        if "pattern" not in self.sewing.model_fields_set:
            yield "sewing.pattern", self.sewing.pattern


def _defaults(keys: Keys, units: Units) -> Iterator[tuple[str, str]]:
    for key, field in type(keys).model_fields.items():
        value = getattr(keys, key)
        if key not in keys.model_fields_set and value not in (None, ""):
            yield key, _in_words(value, field.metadata, units)


def _in_words(value: Any, metadata: list[Any], units: Units) -> str:
    spans = [mark for mark in metadata if isinstance(mark, Span)]
    if spans:  # nobody sets a thread or a hole by a ruler in inches
        return both(value, units) if spans[0].most > 10 else in_mm(value)
    if any(isinstance(mark, Named) for mark in metadata):
        return both_sizes(value, units)
    if any(isinstance(mark, EachSide) for mark in metadata):
        first = next(iter(type(value).model_fields))
        return both(getattr(value, first), units)
    return str(value)
