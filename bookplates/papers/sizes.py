"""Sheets as they are bought, by name or by size, mm.

ISO 216 (A, B), ISO 269 (C) and JIS P 0138 (B) set an area for the first sheet, sides in the ratio 1 : sqrt 2,
and halve: each sheet is the one before cut across its long side, the odd half millimetre dropped (handbook PS1,
PS2, PS4). The areas of ISO B0 and C0 are from memory. ANSI/ASME Y14.1 gives A to E in inches (PS6).

From memory, without a source at hand: Legal, Executive, Junior legal; the craft pads; the traditional British sheets
(Imperial, Royal, Medium, Demy, Crown, Foolscap: printing papers, and makers differ). Measure the sheet you have.
"""

from __future__ import annotations

import difflib
import math
import re

from bookplates.geometry import Size
from bookplates.lengths import MM_PER_INCH, NotALength, Units, checked_text, close, read_length, shown, unit_written

_EXAMPLE = 'write "8.5 x 11 in", the name of a sheet, or a pair, width first'
_AREAS = {"A": 1.0, "B": math.sqrt(2), "C": math.sqrt(math.sqrt(2)), "JIS B": 1.5}
"""Area of the first sheet of each series, m2."""

_INCHES = {
    "Letter": (8.5, 11),
    "Legal": (8.5, 14),
    "Tabloid": (11, 17),
    "Ledger": (11, 17),
    "Half letter": (5.5, 8.5),
    "Junior legal": (5, 8),
    "Executive": (7.25, 10.5),
    "ANSI A": (8.5, 11),
    "ANSI B": (11, 17),
    "ANSI C": (17, 22),
    "ANSI D": (22, 34),
    "ANSI E": (34, 44),
    "Craft 6 in": (6, 6),
    "Craft 8 in": (8, 8),
    "Craft 12 in": (12, 12),
    "Imperial": (22, 30),
    "Half imperial": (15, 22),
    "Quarter imperial": (11, 15),
    "Royal": (20, 25),
    "Medium": (18, 23),
    "Demy": (17.5, 22.5),
    "Crown": (15, 20),
    "Foolscap": (13.5, 17),
}


def _series(name: str, area: float) -> dict[str, Size]:
    """The eleven sheets of a series whose first has an area of `area` m2."""
    short = 1000 * math.sqrt(area / math.sqrt(2))
    sheet = Size(round(short), round(short * math.sqrt(2)))
    sheets = {}
    for number in range(11):
        sheets[f"{name}{number}"] = Size(float(sheet.width), float(sheet.height))
        sheet = Size(sheet.height // 2, sheet.width)
    return sheets


def _all_sheets() -> dict[str, Size]:
    sheets = {name: size for series, area in _AREAS.items() for name, size in _series(series, area).items()}
    return sheets | {name: Size(w * MM_PER_INCH, h * MM_PER_INCH) for name, (w, h) in _INCHES.items()}


SHEETS: dict[str, Size] = _all_sheets()
"""Every sheet known by name, short side first, mm."""


def _plain(name: str) -> str:
    return re.sub("^(iso|us)", "", re.sub(r"[\s_-]", "", name).casefold())


_BY_PLAIN_NAME = {_plain(name): name for name in SHEETS}


def sheet_size(name: str) -> Size:
    """The sheet of this name, short side first, mm. Capitals, spaces and hyphens do not matter.

    Raises:
        NotALength: there is no such sheet; the hint has the names nearest to it.

    >>> sheet_size("a4"), sheet_size("JIS-B5"), sheet_size("iso b5")
    (Size(width=210.0, height=297.0), Size(width=182.0, height=257.0), Size(width=176.0, height=250.0))
    """
    known = _BY_PLAIN_NAME.get(_plain(checked_text(name, _EXAMPLE)))
    if known is None:
        raise NotALength(f"{shown(name)} is no sheet known here", f"{_nearest(name)}, or a size such as 8.5 x 11 in")
    return SHEETS[known]


def called(size: Size) -> str:
    """What paper of that size, upright, is called: by the first name known for it, else by its sides.

    >>> called(Size(297.0, 420.0)), called(Size(150.0, 220.5))
    ('A3', '150 × 220.5 mm')
    """
    alike = (name for name, sheet in SHEETS.items() if all(close(a, b, 0.01) for a, b in zip(sheet, size, strict=True)))
    return next(alike, f"{size.width:g} × {size.height:g} mm")


def _nearest(name: str) -> str:
    near = difflib.get_close_matches(_plain(name), _BY_PLAIN_NAME, n=3)
    return " or ".join(_BY_PLAIN_NAME[plain] for plain in near) or "A4, Letter, Craft 12 in"


_LYING = re.compile(r"(.*?)(?:[\s,]+(portrait|landscape))?", re.DOTALL | re.IGNORECASE)


def read_size(value: object, units: Units) -> Size:
    """A size as somebody wrote it, mm, its order kept: width first. It may be negative: the range is the caller's.

    Args:
        value: "8.5 x 11 in", "8 1/2 in x 11 in", a sheet's name (short side first; long side first with "landscape" after
            it), or a pair of lengths.
            A unit after the last number counts for both where the first has none.
        units: what bare numbers count.

    Raises:
        NotALength: it is none of these.

    >>> read_size("297 × 210", "mm"), read_size([8, "10 cm"], "in")
    (Size(width=297.0, height=210.0), Size(width=203.2, height=100.0))
    >>> read_size("A4 landscape", "mm")
    Size(width=297.0, height=210.0)
    """
    if isinstance(value, str):
        return _read_text(value, units)
    if isinstance(value, list | tuple) and len(value) == 2:
        return Size(read_length(value[0], units), read_length(value[1], units))
    raise NotALength(f"{shown(value)} is not a size", _EXAMPLE)


def _read_text(text: str, units: Units) -> Size:
    tidy = checked_text(text, _EXAMPLE)
    if not _begins_with_a_number(tidy):
        name, way = _LYING.fullmatch(tidy).groups()  # type: ignore[union-attr]  # it matches any text
        return sheet_size(name).turned if way and way.casefold() == "landscape" else sheet_size(name)
    sides = [side.strip() for side in re.split("[xX×]", tidy)]
    if len(sides) != 2:
        raise NotALength(f"{shown(text)} is not a size", _EXAMPLE)
    width, height = sides
    first, last = unit_written(width), unit_written(height)
    if first and not last:
        raise NotALength(f"{shown(text)} has a unit at the first number only", "write it at the last, or at both")
    return Size(read_length(width if first else f"{width} {last}".strip(), units), read_length(height, units))


def _begins_with_a_number(text: str) -> bool:
    return text[0].isnumeric() or text[0] in "+-\u2212."
