"""A leaf by halving a sheet, and which way the grain then runs.

Each halving divides the longer side. Two leaves that hang together are a folio: so the sheet must give
spreads two leaves wide, and the leaves must lie side by side on it in pairs.
"""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.geometry import Size
from bookplates.kinds.parts import Grain
from bookplates.lengths import close, fits
from bookplates.spec.tables import Orientation, SheetGrain


@dataclass(frozen=True, slots=True)
class Leaf:
    """A leaf of a divided sheet.

    Attributes:
        size: width across the book and height along the spine, mm.
        grain: how the grain runs in the book.
        folios_per_sheet: how many folded sheets one sheet gives.
        spread_fits: whether the sheet takes folios two leaves wide at all.
    """

    size: Size
    grain: Grain
    folios_per_sheet: int
    spread_fits: bool


def halved(sheet: Size, halvings: int, orientation: Orientation, grain: SheetGrain) -> Leaf:
    """The leaf of a sheet halved so often.

    Args:
        sheet: width and height as bought, mm; the order does not matter.
        halvings: 1 for folio, 2 for quarto, 3 for octavo, 4 for sextodecimo.
        orientation: whether the leaf's longer side is its height (upright) or its width (oblong).
        grain: which side of the sheet the grain follows.

    >>> halved(Size(215.9, 279.4), 2, "upright", "long").size
    Size(width=107.95, height=139.7)
    """
    long, short = max(sheet), min(sheet)
    along_long = along_short = 1
    for _ in range(halvings):
        if fits(short / along_short, long / along_long):
            along_long *= 2
        else:
            along_short *= 2
    on_long, on_short = long / along_long, short / along_short
    higher_is_long_side = on_long > on_short
    height_on_long = higher_is_long_side == (orientation == "upright")
    if close(on_long, on_short):  # a square leaf stands either way: as the folios and the grain like it
        height_on_long = along_short > 1 and (grain == "long" or along_long == 1)
    size = Size(on_short, on_long) if height_on_long else Size(on_long, on_short)
    beside_each_other = along_short if height_on_long else along_long
    square = close(long, short)  # such a sheet can be turned before it is folded, as the grain likes it
    with_the_grain = square or height_on_long == (grain == "long")
    return Leaf(size, "head to tail" if with_the_grain else "across", 2 ** (halvings - 1), beside_each_other > 1)
