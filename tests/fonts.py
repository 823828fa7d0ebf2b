"""Small fonts made for the tests: every letter a box, so that no font file need be kept."""

from __future__ import annotations

import io

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTCollection, TTFont

LETTERS = "書本ქარ𠀋"
"""Not in Source Sans Pro: two of Chinese, three Georgian, and one beyond U+FFFF."""

EM = 1000
ADVANCE = 900


def _box(pen, tall: int):
    pen.moveTo((50, 0))
    pen.lineTo((50, tall))
    pen.lineTo((850, tall))
    pen.lineTo((850, 0))
    pen.closePath()
    return pen


def font(letters: str = LETTERS, *, empty: str = "", leave: int = 0, cff: bool = False, named: str = "BoxLetters") -> bytes:
    """A font in which every letter is a box 800 wide in 900 thousandths of the em; those in `empty` have no outline.

    `leave` is the fsType of its OS/2 table: what its maker allows.
    """
    names = [".notdef", *(f"u{ord(letter):04X}" for letter in letters)]
    boxes = {name: 500 + 10 * n for n, name in enumerate(names)}
    hollow = {f"u{ord(letter):04X}" for letter in empty}
    builder = FontBuilder(EM, isTTF=not cff)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({ord(letter): f"u{ord(letter):04X}" for letter in letters})
    if cff:
        drawn = {name: _box(T2CharStringPen(ADVANCE, None), tall).getCharString() for name, tall in boxes.items()}
        builder.setupCFF(named, {}, drawn, {})
    else:
        pens = {name: TTGlyphPen(None) if name in hollow else _box(TTGlyphPen(None), tall) for name, tall in boxes.items()}
        builder.setupGlyf({name: pen.glyph() for name, pen in pens.items()})
    builder.setupHorizontalMetrics(dict.fromkeys(names, (ADVANCE, 50)))
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": named, "styleName": "Regular", "psName": named})
    builder.setupOS2(sTypoAscender=800, sTypoDescender=-200, fsType=leave)
    builder.setupPost()
    builder.font["head"].created = builder.font["head"].modified = 3_600_000_000  # no clock: seconds from 1904
    return saved(builder.font)


def saved(made: TTFont | TTCollection) -> bytes:
    made.recalcTimestamp = False
    held = io.BytesIO()
    made.save(held)
    return held.getvalue()


def opened(data: bytes) -> TTFont:
    return TTFont(io.BytesIO(data), recalcTimestamp=False)


def collection(*fonts: bytes) -> bytes:
    """Fonts in one file (TTC)."""
    made = TTCollection()
    made.fonts = [opened(data) for data in fonts]
    return saved(made)


def without(data: bytes, table: str) -> bytes:
    """A font that lacks a table."""
    made = opened(data)
    del made[table]
    return saved(made)


def composite(parts: dict[str, str]) -> bytes:
    """A font whose letters are put together from others: each of `parts` from the one it is given."""
    made = opened(font())
    for letter, part in parts.items():
        pen = TTGlyphPen({name: made["glyf"][name] for name in made.getGlyphOrder()})
        pen.addComponent(f"u{ord(part):04X}", (1, 0, 0, 1, 0, 0))
        made["glyf"][f"u{ord(letter):04X}"] = pen.glyph()
    return saved(made)


def holding(data: bytes, letter: str, part: str) -> bytes:
    """A font of `composite` whose letter is put together from another part than it was, by its bytes alone.

    A composite glyph begins with ten bytes and the flags of its first part; then comes that part's number (OpenType, glyf).
    """
    made = opened(data)
    names, numbers = made.getBestCmap(), made.getReverseGlyphMap()
    begin = made.reader.tables["glyf"].offset + made["loca"][numbers[names[ord(letter)]]]
    return data[: begin + 12] + numbers[names[ord(part)]].to_bytes(2, "big") + data[begin + 14 :]
