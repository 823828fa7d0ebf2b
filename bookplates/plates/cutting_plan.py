"""The cutting plan: a diagram of each different sheet, its cuts in the order in which to make them, and what is left.

Nothing on it is at true scale: whoever cuts works by the measurements. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from bookplates.geometry import Size
from bookplates.handout.cutting_words import after, cautions, for_whom, intro, left_over, pieces, settings
from bookplates.handout.roll_words import roll_words
from bookplates.lengths import Units
from bookplates.letters import width
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Item, Label
from bookplates.plates.flow import Entry, action, cells, columns, heading, kept, paragraph, whole_pages
from bookplates.plates.flow import pages as flowing
from bookplates.plates.marks import LEADING, LIST, NORMAL, lines, text_block
from bookplates.plates.pad import ASCENT, box_round, moved
from bookplates.plates.sheet_picture import high_enough, sheet_picture
from bookplates.workshop.cuts import MaterialCuts, RollCuts, SheetCuts
from bookplates.workshop.cutting.tree import Cut, CutSheet
from bookplates.workshop.table import Table

PLATE = "cutting plan"
HIGHEST = 0.46
"""What of a page the diagram may take,"""
HIGHER = (0.62, 0.54, HIGHEST)
"""and where the lists below it then take no more pages: the largest of these."""
SMALLER = (HIGHEST, 0.38, 0.32)
"""The same where page by page is filled: the largest that saves a page."""
MOST_ON_TOP = 0.75
"""What of a page words and diagram may take together, the lists below them."""
BETWEEN = 3.0
LEAST_INSET = 8.0
"""How far words stand in from the numbers of cuts at least, mm."""
OFF_A_ROLL = ("Measure each length off the roll.", "Measure each length off the roll. Cut tape square to its edges.")
SHARES = (0.11, 0.65, 0.24)
"""Shares of a column: a letter or what to do with it, what it is, and how many."""


def draw(table: Table, setup: PageSetup, units: Units) -> tuple[Drawing, ...]:
    """A drawing for each different way in which a sheet is cut, and one for all that comes on rolls."""
    teller = _Teller(setup.room.size, units, table.cutting.offcut, table.spare)
    sheets = (drawing for cuts in table.materials for drawing in teller.material(cuts))
    return (*sheets, *teller.rolls(table)) or teller.nothing()


@dataclass(frozen=True, slots=True)
class _Teller:
    """The page that is filled, the unit that comes first, the least side of an offcut worth keeping, and how many spare books."""

    page: Size
    units: Units
    usable: float
    spare: int = 0

    @property
    def column(self) -> float:
        return columns(self.page)[1]

    def nothing(self) -> tuple[Drawing, ...]:
        """What is said where no stock is written for anything."""
        said = "Nothing is cut from the stock that is written in the spec: the shopping list says which sizes to buy."
        entries = (*heading("Cutting plan", self.column), *paragraph(said, self.column))
        return tuple(self.titled(PLATE, flowing(entries, self.page)))

    def material(self, material: MaterialCuts) -> Iterator[Drawing]:
        """All the ways in which the sheets of a material are cut."""
        for cuts in material.sheets:
            for number, way in enumerate(cuts.ways, 1):
                of = f", {number} of {len(cuts.ways)}" if len(cuts.ways) > 1 else ""
                title = f"{PLATE}, {material.material}, {cuts.entry.stock.name}{of}"
                yield from self.titled(title, self.way(title, cuts, way))

    def titled(self, title: str, contents: Iterator[tuple[Item, ...]]) -> Iterator[Drawing]:
        """Whole pages with a title of their own."""
        for number, drawing in enumerate(whole_pages(PLATE, contents, self.page), 1):
            yield replace(drawing, title=title if number == 1 else f"{title}, page {number}")

    def way(self, title: str, cuts: SheetCuts, way: CutSheet) -> Iterator[tuple[Item, ...]]:
        """The words and the diagram over the whole width of the first page, and the lists below it in columns."""
        page, named = self.page, f"{title[:1].upper()}{title[1:]}"
        words = text_block(intro(cuts, way, self.units), page.width, NORMAL, named)
        said, listed = -box_round(words).bottom, tuple(self.lists(cuts, way))
        if columns(page)[0] == 1 or said + self.high(cuts, HIGHEST) > MOST_ON_TOP * page.height:
            tried = [list(flowing((*self.in_column(named, cuts, way, share), *listed), page)) for share in SMALLER]
            yield from min(tried, key=len)
            return
        highs = [self.high(cuts, share) for share in HIGHER]
        below = [list(flowing(listed, page, (said + high + 2 * BETWEEN,), level=True)) for high in highs]
        high, contents = min(zip(highs, below, strict=True), key=lambda tried: len(tried[1]))
        shown = sheet_picture(cuts, way, Size(page.width, high), self.units)
        top = (*moved(words, 0.0, page.height), *moved(shown, 0.0, page.height - said - BETWEEN - high))
        yield from ((*(() if number else top), *items) for number, items in enumerate(contents))

    def high(self, cuts: SheetCuts, share: float) -> float:
        """How high the diagram is over the whole width of the page where it may take that share of it."""
        return high_enough(cuts.size, self.page.width, share * self.page.height)

    def in_column(self, named: str, cuts: SheetCuts, way: CutSheet, share: float) -> Iterator[Entry]:
        """Words and diagram one below the other, on a page too small for more; the diagram takes that share of it at most."""
        yield from heading(named, self.column)
        for sentences in intro(cuts, way, self.units):
            yield from paragraph(sentences, self.column)
        high = high_enough(cuts.size, self.column, share * self.page.height)
        shown = sheet_picture(cuts, way, Size(self.column, high), self.units)
        yield Entry(tuple(moved(shown, 0.0, -high - 0.5)), high + BETWEEN)

    def lists(self, cuts: SheetCuts, way: CutSheet) -> Iterator[Entry]:
        """Pieces, offcuts, and the cuts one by one."""
        yield from heading("What comes out", self.column)
        listed = pieces(cuts, way, self.units)
        yield from kept(entry for row in listed for entry in cells(row, SHARES, self.column))
        if any(map(for_whom, cuts.kinds)):
            yield from paragraph(self.whose(), self.column)
        yield from self.offcuts(way)
        if isinstance(way.tree, Cut):
            yield from heading("The cuts, in this order", self.column)
            yield from action("!", f"Take care. {cautions(cuts.entry.stock.material)}", self.column)
            yield from self.cuts(cuts, way)
        for sentence in after(cuts, self.units):
            yield from paragraph(sentence, self.column)

    def whose(self) -> str:
        """What the numbers of students mean."""
        spare = f" Pieces beyond theirs are for the spare book{'s' if self.spare > 1 else ''}." if self.spare else ""
        return f"Students have their numbers in the class list.{spare}"

    def offcuts(self, way: CutSheet) -> Iterator[Entry]:
        """What is left over."""
        found = left_over(way, self.usable, self.units)
        if found:
            yield from heading("What is left over", self.column)
            yield from kept(entry for row in found for entry in cells(row, SHARES, self.column))
        else:
            yield from paragraph("Nothing is left over.", self.column)

    def cuts(self, cuts: SheetCuts, way: CutSheet) -> Iterator[Entry]:
        """The cuts in their order, each stop over what is cut with it."""
        told = settings(cuts, way, self.units, self.usable)
        inset = max(LEAST_INSET, 1.5 + max(width(numbers, LIST, True) for setting in told for numbers, _ in setting.rows))
        for setting in told:
            yield from cells((setting.title,), (1.0,), self.column, bold=True)
            yield from kept(_numbered(numbers, words, inset, self.column) for numbers, words in setting.rows)

    def rolls(self, table: Table) -> Iterator[Drawing]:
        """Tape and thread, whatever stock they come from, together."""
        cuts = [(material.material, roll) for material in table.materials for roll in material.rolls]
        if not cuts:
            return
        named = " and ".join(dict.fromkeys(name for name, _ in cuts))
        entries = [
            *heading(f"Cutting plan, {named}", self.column),
            *paragraph(OFF_A_ROLL["tape" in named], self.column),
            *(entry for name, roll in cuts for entry in self.roll(name, roll)),
        ]
        yield from self.titled(f"{PLATE}, {named}", flowing(entries, self.page))

    def roll(self, material: str, cuts: RollCuts) -> Iterator[Entry]:
        """How the rolls of one stock are cut."""
        yield from heading(f"{material[:1].upper()}{material[1:]}: {cuts.entry.stock.name}", self.column)
        for sentence in roll_words(cuts, self.units):
            yield from paragraph(sentence, self.column)
        if any(map(for_whom, cuts.kinds)):
            yield from paragraph(self.whose(), self.column)


def _numbered(numbers: str, words: str, inset: float, column: float) -> Entry:
    """The number of a cut, or of several alike, in bold, and beside it what it makes."""
    wrapped = lines(words, LIST, column - inset)
    first = -ASCENT * LIST
    labels = (Label(text, (inset, first - n * LEADING * LIST), LIST) for n, text in enumerate(wrapped))
    return Entry((Label(numbers, (0.0, first), LIST, bold=True), *labels), LEADING * LIST * len(wrapped) + 0.6)
