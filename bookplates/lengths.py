"""The unit (mm), and lengths as people write and read them.

1 in is 25.4 mm exactly (international yard and pound agreement, 1959); a point is 1/72 in
(ISO 32000-1, 8.3.2.3). No other module holds either number.
"""

from __future__ import annotations

import math
import re
import unicodedata
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Literal

Units = Literal["mm", "in"]

MM_PER_INCH = 25.4
POINT = MM_PER_INCH / 72

LONGEST_TEXT = 60
_FARTHEST = 1_000_000
_TOLERANCE = 1e-6
_PARTS_OF_AN_INCH = 32
_SHOWN_REMAINDER = 0.05  # less than this no ruler shows,
_SHOWN_ALONE = 0.005  # unless it is all there is

_EXAMPLES = 'write it like "140 mm", "14 cm" or "5 1/2 in"'
_UNITS = {"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(str(MM_PER_INCH))}
_SPELLINGS = {"inch": "in", "inches": "in", '"': "in", "\u201d": "in", "\u2033": "in"}
_VULGAR = "\u00bc\u00bd\u00be\u2150\u2151\u2152\u2153\u2154\u2155\u2156\u2157\u2158\u2159\u215a\u215b\u215c\u215d\u215e\u2189"
_PLAIN = str.maketrans({"\u2212": "-", "\u2010": "-", "\u2011": "-", "\u2013": "-", "\u2044": "/", "\u2215": "/"})

_FRACTION = re.compile(r"([+-]?)(?:([0-9]+)[ -])?([0-9]+)/([0-9]+)")
_DECIMAL = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
_WITH_REMAINDER = re.compile(r"(.*[0-9] in) ([+-])([0-9.]+ mm)")


class NotALength(ValueError):
    """What is written is not the length, the size or the weight that belongs there.

    Attributes:
        what: what is wrong, as a clause without a full stop.
        hint: what to write instead.
    """

    def __init__(self, what: str, hint: str = "") -> None:
        super().__init__(f"{what}; {hint}" if hint else what)
        self.what = what
        self.hint = hint


def read_length(value: object, units: Units) -> float:
    """A length as somebody wrote it, mm. It may be negative: the range is the caller's to check.

    Args:
        value: text with a unit ("5 1/2 in", "5-1/2 in", "14 cm"), what `in_inches` writes ("5 1/2 in +0.3 mm"),
            or a bare number, also as text.
        units: what a bare number counts.

    Raises:
        NotALength: it is none of these, or not finite.

    >>> read_length("5 1/2 in", "mm"), read_length(14, "mm")
    (139.7, 14.0)
    """
    if isinstance(value, str):
        return _read_text(value, units)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise NotALength(f"{shown(value)} is not a length", _EXAMPLES)
    number = _clipped(value)
    if not math.isfinite(number):
        raise NotALength(f"{shown(value)} is not a length", "a finite number")
    return _in_reach(Fraction(repr(number)) * _UNITS[units], value)


def unit_written(text: str) -> str:
    """The unit that stands after the first number of a length, as it is written; empty for a bare number.

    >>> unit_written("8 1/2 in"), unit_written("11")
    ('in', '')
    """
    unit = _number_then_unit(_tidied(text))[1]
    return unit.split()[0] if unit else ""


def shown(value: object) -> str:
    """What was written, short and without control characters, to quote in a message.

    >>> shown("14,5 mm"), shown(True), shown([1, 2])
    ("'14,5 mm'", 'true', 'a list')
    """
    if isinstance(value, str):
        return repr(value if len(value) <= LONGEST_TEXT else f"{value[:20]}...")
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return repr(value) if abs(_clipped(value)) <= _FARTHEST or isinstance(value, float) else "a number so large"
    return "a list" if isinstance(value, list | tuple) else "a table" if isinstance(value, dict) else f"a {type(value).__name__}"


def checked_text(text: str, hint: str = _EXAMPLES) -> str:
    """The text with its spaces made single; `hint` is what to write where there is none.

    Raises:
        NotALength: it is empty, or longer than 60 characters.
    """
    if len(text) > LONGEST_TEXT:
        raise NotALength(f"{shown(text)} is too long", f"at most {LONGEST_TEXT} characters")
    if not text.strip():
        raise NotALength("nothing is written here", hint)
    return " ".join(text.split())


def _read_text(text: str, units: Units) -> float:
    tidy = _tidied(checked_text(text))
    _refuse_comma(tidy)
    if summed := _WITH_REMAINDER.fullmatch(tidy):
        inches, sign, rest = summed.groups()
        return _read_text(inches, units) + _read_text(sign + rest, units)
    number, unit = _number_then_unit(tidy)
    if not any(character.isdigit() for character in number):
        raise NotALength(f"{shown(text)} does not begin with a number", _EXAMPLES)
    return _in_reach(_value(number, text) * _factor(unit or units, text), text)


def _tidied(text: str) -> str:
    """Vulgar fractions written out, dashes and slashes made plain, spaces made single."""
    for vulgar in filter(text.__contains__, _VULGAR):
        written_out = unicodedata.normalize("NFKC", vulgar)
        text = re.sub(f"(?<=[0-9]){vulgar}", f" {written_out} ", text).replace(vulgar, f"{written_out} ")
    return re.sub(" ?/ ?", "/", " ".join(text.translate(_PLAIN).split()))


def _number_then_unit(tidy: str) -> tuple[str, str]:
    number = re.match("[-+0-9./ ]*", tidy)
    end = number.end() if number else 0
    return tidy[:end].strip(), tidy[end:].strip()


def _refuse_comma(tidy: str) -> None:
    comma = re.search("([0-9]+),([0-9]+)", tidy)
    if comma is None:
        return
    before, after = comma.groups()
    thousands = f" (or {before}{after}, if thousands are meant)" if len(after) == 3 else ""
    raise NotALength(f"{shown(tidy)} has a decimal comma", f"write {before}.{after}{thousands}")


def _factor(unit: str, text: str) -> Fraction:
    name = unit.lower().removesuffix(".")
    factor = _UNITS.get(_SPELLINGS.get(name, name))
    if factor is None:
        raise NotALength(f"{shown(text)} has an unknown unit, {shown(unit)}", 'mm, cm or in (also inch, inches, ")')
    return factor


def _value(number: str, text: str) -> Fraction:
    if _DECIMAL.fullmatch(number):
        return Fraction(number)
    parts = _FRACTION.fullmatch(number)
    if parts is None:
        raise NotALength(f"{shown(text)} is not a length", _EXAMPLES)
    sign, whole, over, under = parts.groups()
    if int(under) == 0:
        raise NotALength(f"{shown(text)} divides by zero", _EXAMPLES)
    if whole and int(over) >= int(under):
        raise NotALength(f"{shown(text)} has a fraction of one or more after a whole number", _EXAMPLES)
    return (int(whole or 0) + Fraction(int(over), int(under))) * (-1 if sign == "-" else 1)


def _in_reach(mm: Fraction, written: object) -> float:
    if abs(mm) > _FARTHEST:
        raise NotALength(f"{shown(written)} is too much", "no length here comes near a kilometre")
    return float(mm)


def _clipped(number: float) -> float:
    """The number as a float, infinite where an integer is too large to be one."""
    try:
        return float(number)
    except OverflowError:
        return math.inf


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

    >>> both(139.7, "in"), both(140, "mm")
    ('5 1/2 in (139.7 mm)', '140 mm (5 1/2 in +0.3 mm)')
    """
    return _user_first(in_inches(mm), in_mm(mm), units)


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
    return both(mm, units) if not _remainder(parts, rest) else f"{in_mm(mm)} (about {_inch_digits(parts)} in)"


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
