"""The bars by which a print is checked: the same for every book."""

from __future__ import annotations

from bookplates.kinds.parts import Layout, rule
from bookplates.lengths import MM_PER_INCH
from bookplates.papers.printing import BAR

INCH_BAR = 4 * MM_PER_INCH
APART = 11.5
"""From the 100 mm bars to the inch bars outside them, their names between them and outside, mm."""


def scale_layout() -> Layout:
    """Two sides and both diagonals of a square of 100 mm, and bars of 4 in outside it."""
    return Layout(
        "scale page",
        "",
        (
            rule("bar across", "bar", (0.0, 0.0), (BAR, 0.0)),
            rule("bar along", "bar", (0.0, 0.0), (0.0, BAR)),
            rule("diagonal bar rising", "bar", (0.0, 0.0), (BAR, BAR)),
            rule("diagonal bar falling", "bar", (0.0, BAR), (BAR, 0.0)),
            rule("inch bar across", "bar", (0.0, -APART), (INCH_BAR, -APART)),
            rule("inch bar along", "bar", (-APART, 0.0), (-APART, INCH_BAR)),
        ),
    )
