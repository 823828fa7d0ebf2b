"""Flat guides for holes through the side: along the spine edge of the leaves, and of the covers. Lengths in mm."""

from __future__ import annotations

from bookplates.geometry import Point, rectangle
from bookplates.kinds.block import Block
from bookplates.kinds.guides import FLANK, numbered
from bookplates.kinds.keys import Squares
from bookplates.kinds.parts import Layout, Part, outline, rule
from bookplates.kinds.seam import Seam

BEYOND = 15.0
"""How far a guide reaches beyond its innermost holes at least, where the leaf is so wide, mm."""


def guide_width(block: Block, seam: Seam) -> float:
    """A handy strip that holds all holes; the whole leaf where that is narrower."""
    inmost = max((x for x, _ in seam.holes), default=0.0)
    return min(block.leaf_width, max(FLANK, inmost + BEYOND))


def leaf_guide(block: Block, seam: Seam, *, for_covers: bool) -> Layout:
    """The guide for the leaves, front up; `for_covers` where covers as tall as the leaves are pierced by it, too."""
    use = (*_laid("the leaves, the first page up", "their", "the leaves"), *((COVERS,) if for_covers else ()))
    return Layout("punch guide", "", _parts("punch guide", block, seam, guide_width(block, seam), Squares.all(0.0)), use=use)


def cover_guide(block: Block, seam: Seam, square: Squares, hinge: float | None) -> Layout:
    """The guide for the covers: the same holes, lower by the square at the head; as wide as a hinge strip where there is one."""
    wide = guide_width(block, seam) if hinge is None else hinge
    use = (OUTSIDE, *_laid("the front cover, its outside up", "the cover's", "the cover"), BACK)
    return Layout("cover punch guide", "", _parts("cover punch guide", block, seam, wide, square), use=use)


def _parts(plate: str, block: Block, seam: Seam, wide: float, square: Squares) -> tuple[Part, ...]:
    """A strip as it lies on the front of the book, spine edge where the book has it, and the holes in their order."""
    high, spine = block.height + square.head + square.tail, 0.0 if block.opening == "left" else wide
    return (
        outline(plate, "cut", rectangle(0, 0, wide, high)),
        rule("spine edge place", "place", (spine, 0.0), (spine, high)),
        *numbered(_places(block, seam, wide, high - square.head), seam.hole),
    )


def _places(block: Block, seam: Seam, wide: float, head: float) -> list[Point]:
    """The holes as seen from the front, the head of the leaves at `head`."""
    return [(x if block.opening == "left" else wide - x, head - y) for x, y in seam.holes]


def _laid(on: str, its: str, below: str) -> tuple[str, ...]:
    return (
        f"Lay it, printed side up, on {on}: its spine edge on {its} spine edge, HEAD to the head.",
        f"Clamp it to {below}, with waste board underneath.",
        "Pierce or drill every hole straight down.",
    )


COVERS = (
    "The covers are as tall as the leaves: pierce the front cover, outside up, and the back cover, inside up, by this guide, too."
)
OUTSIDE = "OUTSIDE OF THE FRONT COVER UP."
BACK = "For the back cover lay it printed side up on the inside: spine edge to spine edge, HEAD to the head."
