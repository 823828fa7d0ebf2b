"""Paper by its weight: pounds of a basic ream to g/m2, and grammage to caliper.

A US weight is what 500 sheets of the kind's own basic size weigh, so the same number of pounds means another paper
for each kind (handbook PW6). The pound is 453.59237 g exactly (international yard and pound agreement, 1959).
"""

from __future__ import annotations

import re

from bookplates.lengths import MM_PER_INCH, NotALength, checked_text, shown

_GRAMS_PER_POUND = 453.59237
_SHEETS_IN_A_REAM = 500

BASIC_SIZES: dict[str, tuple[float, float]] = {
    "bond": (17, 22),
    "book": (25, 38),
    "cover": (20, 26),
    "index": (25.5, 30.5),
    "tag": (24, 36),
    "bristol": (22.5, 28.5),
}
"""The basic sheet of each kind of paper, in."""

_SAME_AS = {"text": "book", "offset": "book"}
_EXAMPLE = 'write it like "20 lb bond"'
_WRITTEN = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?(?:lbs?\.?|pounds?|#) ?(.*)", re.IGNORECASE)


def read_weight(value: object) -> float:
    """The grammage of paper whose US weight is given, such as "20 lb bond", g/m2.

    Args:
        value: pounds (lb, lb. or #) and the kind: bond, book (also text, offset), cover, index, tag, bristol.

    Raises:
        NotALength: it is not written so, or the kind is unknown.

    Source: the exact definitions of the pound and the inch (handbook PW5), which agree with PrintWiki, "Grammage" (PW1).

    >>> round(read_weight("20 lb bond"), 1), round(read_weight("65# cover"), 1)
    (75.2, 175.8)
    """
    if not isinstance(value, str):
        raise NotALength(f"{shown(value)} is not a weight", _EXAMPLE)
    written = _WRITTEN.fullmatch(checked_text(value, _EXAMPLE))
    if written is None:
        raise NotALength(f"{shown(value)} is not a weight", _EXAMPLE)
    pounds, kind = float(written[1]), written[2].casefold()
    if kind not in BASIC_SIZES and kind not in _SAME_AS:
        raise NotALength(f"{shown(value)} does not name a kind of paper known here", f"one of {_known_kinds()}")
    return pounds * _GRAMS_PER_POUND / _ream_area(_SAME_AS.get(kind, kind))


def _known_kinds() -> str:
    return ", ".join([*BASIC_SIZES, *_SAME_AS])


def _ream_area(kind: str) -> float:
    """Area of a basic ream, m2."""
    width, height = BASIC_SIZES[kind]
    return _SHEETS_IN_A_REAM * width * height * (MM_PER_INCH / 1000) ** 2


def caliper(grammage: float, bulk: float) -> float:
    """Thickness of one sheet, mm.

    Args:
        grammage: g/m2.
        bulk: cm3/g, as the maker gives it.

    Source: the relation is from memory; ISO 534 defines bulk as caliper over grammage.

    >>> round(caliper(90, 1.3), 6)
    0.117
    """
    return grammage * bulk / 1000
