"""A leaf by halving a sheet, and which way the grain then runs.

Each halving divides the longer side; where the sides are the same it may divide either, and a square sheet or
leaf may be turned. Of such ways the one is taken that gives folios, and then the one that the grain likes. Two leaves
that hang together are a folio: so the sheet must give spreads two leaves wide, and the leaves must lie side by side on
it in pairs.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bookplates.geometry import Size
from bookplates.kinds.parts import Grain
from bookplates.lengths import fits
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
    ways = [
        _leaf(Size(max(sheet), min(sheet)), parts, height_on_long, grain)
        for parts in _parts(max(sheet), min(sheet), halvings)
        for height_on_long in (True, False)
    ]
    standing = [leaf for leaf in ways if _stands(leaf.size, orientation)]
    return max(standing, key=lambda leaf: (leaf.spread_fits, leaf.grain == "head to tail"))


def _parts(long: float, short: float, halvings: int) -> Iterator[tuple[int, int]]:
    """Into how many parts the sheet's two sides are divided; where both are the same, either may be halved."""
    if halvings == 0:
        yield 1, 1
        return
    if fits(short, long):
        yield from ((2 * on_long, on_short) for on_long, on_short in _parts(long / 2, short, halvings - 1))
    if fits(long, short):
        yield from ((on_long, 2 * on_short) for on_long, on_short in _parts(long, short / 2, halvings - 1))


def _leaf(sheet: Size, parts: tuple[int, int], height_on_long: bool, grain: SheetGrain) -> Leaf:
    """A part of a sheet, its long side first, as a leaf whose height lies on the sheet's long side or on its short one."""
    on_long, on_short = sheet.width / parts[0], sheet.height / parts[1]
    size = Size(on_short, on_long) if height_on_long else Size(on_long, on_short)
    beside_each_other = parts[1] if height_on_long else parts[0]
    with_the_grain = height_on_long == (grain == "long")
    return Leaf(size, "head to tail" if with_the_grain else "across", parts[0] * parts[1] // 2, beside_each_other > 1)


def _stands(leaf: Size, orientation: Orientation) -> bool:
    """Whether a leaf is upright or oblong as asked; a square one is both."""
    return fits(leaf.width, leaf.height) if orientation == "upright" else fits(leaf.height, leaf.width)
