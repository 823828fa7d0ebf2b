"""Which sewing goes with which cover: a pattern names the styles it goes with, or a style the patterns it takes."""

from __future__ import annotations

from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES


def goes(style: str, pattern: str) -> bool:
    """Whether a pair of names from the two tables goes together.

    >>> goes("taped", "chain")
    True
    """
    return style in PATTERNS[pattern].goes_with or pattern in STYLES[style].takes


def patterns_for(style: str) -> tuple[str, ...]:
    """The patterns that go with a style, in the order of their table."""
    return tuple(pattern for pattern in PATTERNS if goes(style, pattern))
