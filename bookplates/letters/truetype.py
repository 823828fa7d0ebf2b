"""Whether a file is a TrueType font that may be embedded and can be read: looked at before reportlab does.

reportlab believes what a font says of itself, and would count through letters without end where it is damaged.
Tables and their fields: the OpenType specification (ISO/IEC 14496-22).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from struct import error as TooShort  # noqa: N812  # what it says here
from struct import unpack_from

TRUETYPE = "a TrueType font with glyf outlines, most often a .ttf file"

_OTHERS = {
    b"OTTO": "is an OpenType font with CFF outlines",
    b"wOFF": "is a web font (WOFF)",
    b"wOF2": "is a web font (WOFF2)",
}
_TRUETYPE = (b"\0\1\0\0", b"true")
_COLLECTION = b"ttcf"
_NEEDED = ("head", "hhea", "maxp", "hmtx", "cmap", "name", "post", "loca")

LETTERS = 0x110000
"""How many letters Unicode has room for."""

Tables = Mapping[str, memoryview]


class UnfitFont(ValueError):
    """A file that cannot serve as a font: what is wrong, and what would do."""

    def __init__(self, what: str, hint: str = TRUETYPE) -> None:
        super().__init__(f"{what}; {hint}")
        self.what, self.hint = what, hint


def checked(data: bytes) -> Tables:
    """The tables of a TrueType font, of a collection those of its first.

    Raises:
        UnfitFont: it is none, may not be embedded, or is damaged where it would do harm.
    """
    try:
        tables = _tables(data)
        _check_outlines(tables)
        _check_leave(tables)
        _check_letters(tables["cmap"])
    except TooShort:
        raise UnfitFont("is damaged: it ends too early") from None
    return tables


def components(glyph: memoryview) -> Iterator[int]:
    """The glyphs that a glyph is put together from, none for one drawn by itself. Raises struct.error beyond its end."""
    at, more = 10, _short(glyph, 0) >= 0x8000
    while more:
        flags, index = unpack_from(">HH", glyph, at)
        yield index
        at += 4 + (4 if flags & 0x01 else 2) + (2 if flags & 0x08 else 4 if flags & 0x40 else 8 if flags & 0x80 else 0)
        more = bool(flags & 0x20)


def _short(data: bytes | memoryview, at: int) -> int:
    return int(unpack_from(">H", data, at)[0])


def _long(data: bytes | memoryview, at: int) -> int:
    return int(unpack_from(">L", data, at)[0])


def _tables(data: bytes) -> Tables:
    start = _long(data, 12) if data[:4] == _COLLECTION else 0
    kind = data[start : start + 4]
    if kind not in _TRUETYPE:
        raise UnfitFont(_OTHERS.get(kind, "is no TrueType font"))
    whole, tables = memoryview(data), {}
    for record in range(_short(data, start + 4)):
        tag, _, offset, length = unpack_from(">4sLLL", data, start + 12 + 16 * record)
        if offset + length > len(data):
            raise TooShort
        tables[tag.decode("latin-1")] = whole[offset : offset + length]
    return tables


def _check_outlines(tables: Tables) -> None:
    if "glyf" not in tables:
        raise UnfitFont("has no glyf outlines")
    lacking = [tag for tag in _NEEDED if tag not in tables]
    if lacking:
        raise UnfitFont(f"is damaged: its {lacking[0]} table is not there")
    if not 16 <= _short(tables["head"], 18) <= 16384:  # units to the em, in the range that the specification gives
        raise UnfitFont("is damaged: its size is no size")


def _check_leave(tables: Tables) -> None:
    """Whether its maker lets it be embedded, in part: fsType in the OS/2 table; a font that says nothing may be."""
    leave = _short(tables["OS/2"], 8) if "OS/2" in tables else 0
    if leave & 0x000E == 0x0002 or leave & 0x0200:
        raise UnfitFont("may not be embedded in a PDF: its maker does not allow it", "a font whose licence allows it")
    if leave & 0x0100:
        raise UnfitFont("may be embedded only whole: its maker does not allow a part of it", "a font whose licence allows it")


def _check_letters(cmap: memoryview) -> None:
    """Whether letters can be looked up by Unicode, in the table that reportlab will take: the last that suits it."""
    records = [unpack_from(">HHL", cmap, 4 + 8 * record) for record in range(_short(cmap, 2))]
    suiting = [record for record in records if record[0] == 3 or (record[0] == 0 and record[1] != 5) or record[:2] == (1, 1)]
    if not suiting or not (suiting[-1][0] == 0 or suiting[-1][:2] in ((3, 1), (3, 10))):
        raise UnfitFont("does not list its letters by Unicode")
    at = suiting[-1][2]
    spans = {4: _spans, 12: _wide_spans}.get(_short(cmap, at))
    if spans is None:
        raise UnfitFont("lists its letters in an unusual way", f"{TRUETYPE}, its cmap of format 4 or 12")
    count = 0
    for first, last in spans(cmap, at):
        count += max(0, last - first + 1)
        if last >= LETTERS or count > LETTERS:
            raise UnfitFont("is damaged: it lists letters that there are none of")


def _spans(cmap: memoryview, at: int) -> Iterator[tuple[int, int]]:
    """First and last letter of each run in a cmap of format 4."""
    double = _short(cmap, at + 6) // 2 * 2
    for segment in range(0, double, 2):
        yield _short(cmap, at + 16 + double + segment), _short(cmap, at + 14 + segment)


def _wide_spans(cmap: memoryview, at: int) -> Iterator[tuple[int, int]]:
    """First and last letter of each run in a cmap of format 12."""
    for group in range(_long(cmap, at + 12)):
        first, last = unpack_from(">LL", cmap, at + 16 + 12 * group)
        yield first, last
