"""How a concertina's panels are cut out of sheets: strips along one side of the sheet, joined by tabs. Lengths in mm.

A strip holds as many panels as go on the side it is cut along, with a tab beyond them that the next strip is pasted to; the
last strip needs none. Own arithmetic.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from bookplates.geometry import Size, rectangle
from bookplates.kinds.block import Block, Paper
from bookplates.kinds.parts import Grain, Piece

MEASURED_OFF = 1.0
"""By how much a ruler may find a leaf taller than the paper it was cut from, mm: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Strips:
    """Panels shared out to strips.

    Attributes:
        panel: width and height of one.
        tab: what stands beyond the panels of every strip but the last.
        full, each: how many strips have a tab, and how many panels each of those holds.
        last: panels of the last strip.
        grain: how the grain runs in the book: along the folds ("head to tail") or across them.
        sheets: how many it takes; None where no sheet is known.
        possible: whether the sheet gives such strips at all.
    """

    panel: Size
    tab: float
    full: int
    each: int
    last: int
    grain: Grain
    sheets: int | None = None
    possible: bool = True

    @property
    def full_length(self) -> float:
        """Of a strip with its tab."""
        return self.each * self.panel.width + self.tab

    @property
    def last_length(self) -> float:
        """Of the last strip."""
        return self.last * self.panel.width

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The strips; the last one is its own piece where there are others."""
        full, last = (rectangle(0, 0, length, self.panel.height) for length in (self.full_length, self.last_length))
        if not self.full:
            return (Piece("panel strip", "text paper", 1, last, self.grain),)
        return (
            Piece("panel strip", "text paper", self.full, full, self.grain),
            Piece("last panel strip", "text paper", 1, last, self.grain),
        )


def of_block(block: Block, tab: float) -> Strips:
    """The strips of a text block; a height that a ruler found may pass the paper's by a little."""
    off = MEASURED_OFF if "height" in block.measured else 0.0
    paper = Paper(Size(block.leaf_width, block.height), block.sheet, block.sheet_grain, None)
    return divided(block.leaves, paper, tab, off)


def divided(panels: int, paper: Paper, tab: float, off: float = 0.0) -> Strips:
    """Cut along whichever side of the sheet gives most panels to a strip, and of equal ones along the folds' grain.

    Where no sheet is known it is one strip in one piece.

    Args:
        panels: how many in all.
        paper: the panel as its leaf, and the sheet.
        tab: width of a tab.
        off: by how much the panel may be taller than the sheet allows.

    >>> strips = divided(8, Paper(Size(74.25, 105), Size(210, 297), "short", 4), 12.7)
    >>> strips.full, strips.each, strips.last, strips.grain
    (2, 3, 2, 'head to tail')
    """
    if paper.sheet is None:
        return Strips(paper.leaf, tab, 0, 0, panels, "head to tail")
    long, short = max(paper.sheet), min(paper.sheet)
    along_long: Grain = "across" if paper.grain == "long" else "head to tail"
    along_short: Grain = "head to tail" if paper.grain == "long" else "across"
    ways = (
        _way(Strips(paper.leaf, tab, 0, 0, panels, along_long), Size(long, short), off),
        _way(Strips(paper.leaf, tab, 0, 0, panels, along_short), Size(short, long), off),
    )
    return max(ways, key=lambda strips: (strips.possible, _to_a_strip(strips), strips.grain == "head to tail"))


def _to_a_strip(strips: Strips) -> int:
    return strips.each if strips.full else strips.last


def _way(whole: Strips, sheet: Size, off: float) -> Strips:
    """One long strip divided into such as go along the sheet's width, the panels' height across it."""
    panels, panel = whole.last, whole.panel
    each, most = (int(max(0.0, room) / panel.width + 1e-6) for room in (sheet.width - whole.tab, sheet.width))
    to_a_sheet = int((sheet.height + off) / panel.height + 1e-6)
    if not to_a_sheet or (panels > most and not each):
        return replace(whole, possible=False)
    full = math.ceil((panels - most) / each) if panels > most else 0
    return replace(whole, full=full, each=each, last=panels - full * each, sheets=math.ceil((full + 1) / to_a_sheet))


def takes_a_panel(panel: Size, sheet: Size, tab: float) -> bool:
    """Whether a strip along either side of the sheet gives one panel and a tab."""
    needed = Size(panel.width + tab, panel.height)
    return needed.goes_into(sheet) or needed.goes_into(sheet.turned)


def in_half_again(panels: int) -> bool:
    """Whether a strip of so many panels can be folded by halving it again and again.

    >>> [n for n in range(2, 20) if in_half_again(n)]
    [2, 4, 8, 16]
    """
    return panels > 1 and panels.bit_count() == 1
