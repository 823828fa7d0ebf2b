"""The unit, and when two lengths count as the same.

1 in is 25.4 mm exactly (international yard and pound agreement, 1959); a point is 1/72 in
(ISO 32000-1, 8.3.2.3). No other module holds either number.
"""

from __future__ import annotations

from typing import Literal

Units = Literal["mm", "in"]

MM_PER_INCH = 25.4
POINT = MM_PER_INCH / 72

_TOLERANCE = 1e-6


def fits(needed: float, available: float) -> bool:
    """Whether a length goes into another, mm, forgiving the last bit of the arithmetic.

    >>> fits(0.1 + 0.2, 0.3), fits(10.001, 10)
    (True, False)
    """
    return needed <= available + _TOLERANCE


def close(a: float, b: float, within: float = _TOLERANCE) -> bool:
    """Whether two lengths are the same, mm.

    >>> close(0.1 + 0.2, 0.3), close(10, 10.05), close(10, 10.05, within=0.1)
    (True, False, True)
    """
    return abs(a - b) <= within
