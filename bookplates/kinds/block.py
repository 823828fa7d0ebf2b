"""The little that a cover style or a sewing pattern may know of the book outside its own keys."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bookplates.lengths import Units

Opening = Literal["left", "right"]
Fold = Literal["sharp", "round"]


@dataclass(frozen=True, slots=True)
class Block:
    """A text block, as a cover and a sewing see it. Lengths in mm.

    Attributes:
        width: outermost fold to fore-edge.
        leaf_width: of a whole leaf, untrimmed.
        height: along the spine.
        thickness: at the spine, swell included.
        caliper: of one sheet.
        folios_per_section: one number a section.
        fold: how its folds are modelled, "sharp" or "round".
        opening: on which side the spine is, seen from the front.
        units: the unit findings are written in first.
        measured: which sizes a ruler found.
        dummy_folio: whether the printer's paper takes a whole open folio as a guide.
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

    @property
    def sections(self) -> int:
        """How many sections are sewn."""
        return len(self.folios_per_section)

    @property
    def through_a_fold(self) -> float:
        """Paper the needle meets in the fold of the thickest section, mm: each folio once."""
        return max(self.folios_per_section) * self.caliper
