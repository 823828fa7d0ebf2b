"""Every cover style with every sewing that goes with it, on both papers and both ways up: specs to make packs of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from bookplates.kinds.pairs import patterns_for
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES


class Kind(NamedTuple):
    """A pair from the two tables, the paper, and which way the leaf stands."""

    style: str
    pattern: str
    paper: str
    orientation: str

    @property
    def spec(self) -> str:
        """A small book of that kind, its grain from head to tail."""
        grain = "long" if self.orientation == "upright" else "short"
        sections = 3 if PATTERNS[self.pattern].least_sections > 1 else 1
        return f"""\
title = "Rock pool notes: {self.style}, {self.pattern}"
[text_block]
sheet = "{self.paper}"
format = "quarto"
orientation = "{self.orientation}"
grain = "{grain}"
sheets = 6
sections = {sections}
[cover]
style = "{self.style}"
[sewing]
pattern = "{self.pattern}"
[print]
paper = "{self.paper}"
"""


def pairs() -> Iterator[tuple[str, str]]:
    """Every style with every pattern that goes with it."""
    return ((style, pattern) for style in STYLES for pattern in patterns_for(style))


def every_kind() -> tuple[Kind, ...]:
    """All pairs on both papers, both ways up."""
    ways = [(paper, orientation) for paper in ("Letter", "A4") for orientation in ("upright", "oblong")]
    return tuple(Kind(*pair, *way) for pair in pairs() for way in ways)


def some_of_each() -> tuple[Kind, ...]:
    """Each pair twice, so that both papers and both ways up are among them."""
    ways = (("Letter", "upright"), ("A4", "oblong")), (("Letter", "oblong"), ("A4", "upright"))
    return tuple(Kind(*pair, *way) for number, pair in enumerate(pairs()) for way in ways[number % 2])
