"""The little that a cover style or a sewing pattern may know of the book outside its own keys."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from typing import Literal

from bookplates.geometry import Size
from bookplates.kinds.parts import Grain
from bookplates.lengths import Units

Opening = Literal["left", "right"]
Fold = Literal["sharp", "round"]
Gathered = Literal["nested", "single leaves", "fore-edge folded", "panels"]


@dataclass(frozen=True, slots=True)
class Paper:
    """The text paper, as a style sees it that gathers its leaves in its own way. Lengths in mm.

    Attributes:
        leaf: width and height of a leaf.
        sheet: as bought; None where only the leaf is known.
        grain: which side of the sheet the grain follows, "long" or "short".
        folios: folded sheets; None where the spec leaves that to the style.
    """

    leaf: Size
    sheet: Size | None
    grain: Literal["long", "short"]
    folios: int | None


@dataclass(frozen=True, slots=True)
class Gathering:
    """How a style's leaves hang together.

    Attributes:
        kind: "nested": folios one inside the other, so that they creep; the others lie flat one on the other.
        leaves: how many there are where they are not two to a folio.
        endleaves: leaves of endpapers, which thicken the block but are not counted.
        grain: how the grain runs, where that does not follow from halving the sheet.
        sheets: how many it takes, where that does not follow from the folios.
    """

    kind: Gathered = "nested"
    leaves: int | None = None
    endleaves: int = 0
    grain: Grain | None = None
    sheets: int | None = None


@dataclass(frozen=True, slots=True)
class Block:
    """A text block, as a cover and a sewing see it. Lengths in mm.

    Attributes:
        width: outermost fold to fore-edge.
        leaf_width: of a whole leaf, untrimmed.
        height: along the spine, as a ruler found it where one did.
        thickness: at the spine, swell and endpapers included.
        caliper: of one sheet.
        folios_per_section: one number a section.
        fold: how its folds are modelled, "sharp" or "round".
        opening: on which side the spine is, seen from the front.
        units: the unit findings are written in first.
        measured: which sizes a ruler found.
        dummy_folio: whether the printer's paper takes a whole open folio as a guide.
        leaves: how many.
        gathered: how they hang together.
        endleaves: leaves of endpapers.
        sheet: the text paper as bought; None where only the leaf is known.
        sheet_grain: which side of the sheet the grain follows.
        cut_height: of a leaf as its paper is cut; None where that is `height`.
    """

    width: float
    leaf_width: float
    height: float
    thickness: float
    caliper: float
    folios_per_section: tuple[int, ...]
    fold: Fold
    opening: Opening
    units: Units
    measured: tuple[str, ...] = ()
    dummy_folio: bool = False
    leaves: int = 0
    gathered: Gathered = "nested"
    endleaves: int = 0
    sheet: Size | None = None
    sheet_grain: Literal["long", "short"] = "long"
    cut_height: float | None = None

    @property
    def cut_leaf(self) -> Size:
        """Width and height of a leaf as the paper is cut for it, before any trimming, mm."""
        return Size(self.leaf_width, self.height if self.cut_height is None else self.cut_height)

    @property
    def sections(self) -> int:
        """How many sections are sewn."""
        return len(self.folios_per_section)

    @property
    def through_a_fold(self) -> float:
        """Paper the needle meets in the fold of the thickest section, mm: each folio once."""
        return max(self.folios_per_section) * self.caliper

    def through(self, section: int) -> float:
        """Paper the needle meets in the fold of a section, counted from 1, mm: each folio once."""
        return self.folios_per_section[section - 1] * self.caliper

    @property
    def folds(self) -> tuple[float, ...]:
        """Where each section's fold lies across the spine, from the front of the block, mm.

        Each has its share of the block's thickness, and its fold in the middle of that; endpapers lie outside all.
        """
        shares = self.folios_per_section
        each = self.thickness / (sum(shares) + self.endleaves / 2)
        ends = accumulate(shares)
        return tuple(each * (self.endleaves / 4 + end - share / 2) for end, share in zip(ends, shares, strict=True))
