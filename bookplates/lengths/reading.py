"""Lengths as people write them."""

from __future__ import annotations

import math
import re
import unicodedata
from fractions import Fraction

from bookplates.lengths.unit import MM_PER_INCH, Units

LONGEST_TEXT = 60
_FARTHEST = 1_000_000

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
    found = re.search("[0-9][0-9.]*,[0-9.,]*[0-9]", tidy)
    if found is None:
        return
    written = found[0]
    if "." in written or written.count(",") > 1:
        raise NotALength(f"{shown(tidy)} has commas or points between thousands", f"write {_without_thousands(written)}")
    thousands = f" (or {written.replace(',', '')}, if thousands are meant)" if re.search(",[0-9]{3}$", written) else ""
    raise NotALength(f"{shown(tidy)} has a decimal comma", f"write {written.replace(',', '.')}{thousands}")


def _without_thousands(written: str) -> str:
    """A number with points and commas in figures and at most one point: the last mark, where no other is like it."""
    last = max(",.", key=written.rfind)
    whole, _, rest = written.rpartition(last)
    return re.sub("[.,]", "", whole) + (f".{rest}" if last not in whole else rest)


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
