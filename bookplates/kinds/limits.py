"""Limits in words: rounded to the safe side, so that what is written as advised no longer offends."""

from __future__ import annotations

import math

from bookplates.lengths import Units, fits, in_mm, read_length, said


def at_least(mm: float, units: Units) -> str:
    """A least length as one says it; rounded up to 0.01 mm where rounding would fall short of it.

    >>> at_least(67.1642, "mm"), at_least(77.87, "in"), at_least(25.4, "in")
    ('67.17 mm', '77.87 mm', '1 in')
    """
    words = said(mm, units)
    return words if fits(mm, read_length(words, units)) else in_mm(math.ceil(mm * 100) / 100)


def at_most(mm: float, units: Units) -> str:
    """A greatest length as one says it; rounded down to 0.01 mm where rounding would pass it.

    >>> at_most(15.875, "mm"), at_most(15.875, "in")
    ('15.87 mm', '5/8 in')
    """
    words = said(mm, units)
    return words if fits(read_length(words, units), mm) else in_mm(math.floor(mm * 100) / 100)
