"""Rows of stations across the spine of a cover that sections are sewn through: one for each section. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from bookplates.errors import Finding, warn
from bookplates.kinds.block import Block
from bookplates.kinds.guides import station_row
from bookplates.kinds.limits import at_least
from bookplates.kinds.parts import Part
from bookplates.lengths import fits, said, told

NEAREST_ROWS = 1.5
"""Rows of holes nearer than this leave a spine little to hold by, mm: common practice, no source."""


def front_side(block: Block) -> float:
    """Where the front of a cover lies that is laid open with its inside up: -1 at the left, 1 at the right."""
    return -1.0 if block.opening == "left" else 1.0


def across_spine(block: Block) -> tuple[float, ...]:
    """Where each section's fold lies from the middle of the spine, seen with the inside of the cover up, front section first."""
    return tuple(front_side(block) * (block.thickness / 2 - fold) for fold in block.folds)


def section_rows(block: Block, places: Sequence[float], height: float, size: float) -> tuple[Part, ...]:
    """The stations of every section on a template of the spine that is `height` mm tall, its middle at x = 0, inside up.

    Those of the front section are "station 1" and so on, those of the others "section 2 station 1" and so on.
    """
    rows = enumerate(across_spine(block), 1)
    return tuple(hole for n, x in rows for hole in station_row(places, x, height, size, f"section {n} " if n > 1 else ""))


def row_findings(block: Block) -> Iterator[Finding]:
    """Rows so near to each other that the spine may tear between them."""
    apart = min((abs(b - a) for a, b in pairwise(across_spine(block))), default=NEAREST_ROWS)
    if not fits(NEAREST_ROWS, apart):
        paper = 2 * sum(block.folios_per_section) * block.caliper
        most = max(1, int(min(paper, block.thickness) / NEAREST_ROWS))
        what = f"the rows of holes lie {said(apart, block.units)} apart across the spine, which may tear between them"
        thicker = f"{most} at most, so that each is thicker" if most < block.sections else "thicker sections"
        yield warn("text_block.sections", what, f"{thicker}: {at_least(NEAREST_ROWS, block.units)} from fold to fold holds")


def laid_in_rows(cover: str, square: float, block: Block) -> tuple[str, ...]:
    """How several sections lie in a cover that each is sewn through; `square` is the one at the head, mm."""
    return (
        f"Lay {cover} open, inside up. The row of holes nearest to the front is that of section 1, the front section.",
        "The sections are sewn in one after the other. Each lies with its fold on its own row, head to head.",
        f"Each section begins {told(square, block.units)} below the head of the cover: station meets station.",
        "Open the section that you sew in the middle, and hold it to the cover with two clips.",
    )
