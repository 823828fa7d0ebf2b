"""Guides to pierce through, whatever the cover style. Lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence

from bookplates.geometry import Point, rectangle
from bookplates.kinds.block import Block
from bookplates.kinds.parts import Layout, Part, hole, outline, rule
from bookplates.kinds.seam import Seam

FLANK = 40.0
"""Width of a punch guide either side of its fold, where the paper does not take a whole dummy folio, mm."""


def fold_guide(block: Block, seam: Seam) -> Layout:
    """The guide for the folds: a whole dummy folio where the paper takes one; else a handy width, never wider than the leaf."""
    flank = block.leaf_width if block.dummy_folio else min(block.leaf_width, FLANK)
    return Layout(
        "punch guide",
        "",
        (
            outline("punch guide", "cut", rectangle(-flank, 0, 2 * flank, block.height)),
            rule("fold", "fold", (0.0, 0.0), (0.0, block.height)),
            *station_row(seam.stations, 0.0, block.height, seam.hole),
        ),
    )


def station_row(places: Sequence[float], x: float, height: float, size: float, prefix: str = "") -> tuple[Part, ...]:
    """Holes at `x`, their places from the head of a template `height` mm tall, numbered from the head.

    Args:
        places: from the head, mm.
        x: of the row.
        height: of the template's head edge over y = 0.
        size: diameter the holes are drawn.
        prefix: before each name, where a template has several rows, such as "section 2 ".
    """
    return numbered([(x, height - place) for place in places], size, prefix)


def numbered(centres: Sequence[Point], size: float, prefix: str = "") -> tuple[Part, ...]:
    """Holes about these points, named "station 1" and so on in their order."""
    return tuple(hole(f"{prefix}station {n}", at, size) for n, at in enumerate(centres, 1))
