"""Lengths as people read them."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from bookplates.lengths.unit import MM_PER_INCH, Units

_PARTS_OF_AN_INCH = 32
_SHOWN_REMAINDER = 0.05  # less than this no ruler shows,
_SHOWN_ALONE = 0.005  # unless it is all there is


def in_mm(mm: float) -> str:
    """A length in mm, at most two decimals.

    >>> in_mm(139.7), in_mm(104.775), in_mm(-0.001)
    ('139.7 mm', '104.78 mm', '0 mm')
    """
    return f"{_mm_digits(mm)} mm"


def in_inches(mm: float) -> str:
    """A length in inches to the nearest 1/32, and in mm what is left over, where that is 0.05 mm or more.

    >>> in_inches(139.7), in_inches(140), in_inches(25.38)
    ('5 1/2 in', '5 1/2 in +0.3 mm', '1 in')
    """
    parts, rest = _inches_and_rest(mm)
    return f"{_inch_digits(parts)} in{_remainder(parts, rest)}"


def both(mm: float, units: Units) -> str:
    """A length in both units, the user's own first.

    >>> both(139.7, "in"), both(140, "mm"), both(0.3, "in")
    ('5 1/2 in (139.7 mm)', '140 mm (5 1/2 in +0.3 mm)', '0.3 mm')
    """
    return in_mm(mm) if _under_a_part(mm) else _user_first(in_inches(mm), in_mm(mm), units)


def said(mm: float, units: Units) -> str:
    """A length as one says it in a sentence: in the user's unit where it is exact in that, else in mm.

    >>> said(12.7, "in"), said(12.7, "mm"), said(1.65, "in")
    ('1/2 in', '12.7 mm', '1.65 mm')
    """
    exact = not _remainder(*_inches_and_rest(mm))
    return in_inches(mm) if units == "in" and exact else in_mm(mm)


def told(mm: float, units: Units) -> str:
    """A length as a sentence of instruction gives it: in both units where inches are exact, else about so many.

    >>> told(12.7, "in"), told(12.7, "mm"), told(3, "in")
    ('1/2 in (12.7 mm)', '12.7 mm (1/2 in)', '3 mm (about 1/8 in)')
    """
    parts, rest = _inches_and_rest(mm)
    return both(mm, units) if not parts or not _remainder(parts, rest) else f"{in_mm(mm)} (about {_inch_digits(parts)} in)"


def both_sizes(size: tuple[float, float], units: Units) -> str:
    """A width and a height, mm, in both units, the user's own first.

    The unit is written once where it can be; an inch value that is not exact carries its remainder.

    >>> both_sizes((107.95, 139.7), "in")
    '4 1/4 × 5 1/2 in (107.95 × 139.7 mm)'
    >>> both_sizes((108, 139.7), "mm")
    '108 × 139.7 mm (4 1/4 in +0.1 mm × 5 1/2 in)'
    """
    width, height = size
    metric = f"{_mm_digits(width)} × {in_mm(height)}"
    exact = not any(_remainder(*_inches_and_rest(side)) for side in size)
    first = _inch_digits(_inches_and_rest(width)[0]) if exact else in_inches(width)
    return _user_first(f"{first} × {in_inches(height)}", metric, units)


def _under_a_part(mm: float) -> bool:
    """Whether a length is nearer to nothing than to 1/32 in: no ruler in inches shows it."""
    return not _inches_and_rest(mm)[0] and abs(mm) >= _SHOWN_ALONE


def _user_first(inches: str, metric: str, units: Units) -> str:
    return f"{inches} ({metric})" if units == "in" else f"{metric} ({inches})"


def _mm_digits(mm: float) -> str:
    # Half up, from the digits as written: 3.175 is a hair below itself in binary, and a reader expects 3.18.
    digits = str(Decimal(repr(round(mm, 6))).quantize(Decimal("0.01"), ROUND_HALF_UP)).rstrip("0").rstrip(".")
    return "0" if digits == "-0" else digits


def _inches_and_rest(mm: float) -> tuple[int, float]:
    """Whole 1/32 in nearest to the length, and what is left over, mm."""
    part = MM_PER_INCH / _PARTS_OF_AN_INCH
    parts = round(mm / part)
    return parts, round(mm - parts * part, 9)


def _inch_digits(parts: int) -> str:
    whole, over = divmod(abs(parts), _PARTS_OF_AN_INCH)
    words = [str(whole)] if whole or not over else []
    if over:
        words.append(str(Fraction(over, _PARTS_OF_AN_INCH)))
    return ("-" if parts < 0 else "") + " ".join(words)


def _remainder(parts: int, rest: float) -> str:
    if abs(rest) >= _SHOWN_REMAINDER:
        return f" {rest:+.1f} mm"
    return f" {rest:+.2f} mm" if not parts and abs(rest) >= _SHOWN_ALONE else ""
