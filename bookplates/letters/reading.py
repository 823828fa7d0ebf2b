"""A font of somebody's own, for letters that the built-in one lacks."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass, field
from io import BytesIO
from struct import error as TooShort  # noqa: N812  # what it says here
from typing import TYPE_CHECKING

from bookplates.letters.truetype import UnfitFont, checked, components

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

LARGEST_FONT = 64 * 1024 * 1024
"""Bytes of a font that is read: those with all of Chinese have about 20 MiB, from memory."""

LONGEST_GLYPH = 0x10000
"""Bytes of one glyph; more is no drawing of a letter."""

DEEPEST = 8
"""How often glyphs may be put together of glyphs."""

WIDEST = 3000
"""The widest that a letter may be, in thousandths of the em: common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class SecondFont:
    """A TrueType font, read from its bytes alone.

    Attributes:
        name: what it is called in the PDF: its own name, and a digest of its bytes, so that no two fonts share one.
        font: it, as reportlab knows it; not registered, so that it goes with the last who holds it.
        glyf: its table of outlines.
    """

    name: str
    font: TTFont
    glyf: memoryview
    _whole: dict[int, bool] = field(default_factory=dict)

    def has(self, letter: str) -> bool:
        """Whether the font draws a letter: one that is listed but empty, or whose outline is damaged, is not drawn."""
        face = self.font.face
        glyph = face.charToGlyph.get(ord(letter), 0)
        if not 0 < glyph < face.numGlyphs or face.getCharWidth(ord(letter)) > WIDEST:
            return False
        return self._is_whole(glyph) and (letter.isspace() or self._has_outline(glyph))

    def _outline(self, glyph: int) -> memoryview | None:
        """The glyph's bytes, none of an empty one; None where the font has them not."""
        start, end = self.font.face.glyphPos[glyph : glyph + 2]
        return self.glyf[start:end] if start <= end <= min(len(self.glyf), start + LONGEST_GLYPH) else None

    def _has_outline(self, glyph: int) -> bool:
        return any(self._outline(glyph) or b"")

    def _is_whole(self, glyph: int, above: tuple[int, ...] = ()) -> bool:
        """Whether a glyph and all it is put together from can be read, and none holds itself."""
        if glyph not in self._whole:
            within = glyph < self.font.face.numGlyphs and glyph not in above and len(above) < DEEPEST
            self._whole[glyph] = within and self._parts_are_whole(glyph, above)
        return self._whole[glyph]

    def _parts_are_whole(self, glyph: int, above: tuple[int, ...]) -> bool:
        outline = self._outline(glyph)
        try:
            return outline is not None and all(self._is_whole(part, (*above, glyph)) for part in _parts(outline))
        except TooShort:
            return False


def _parts(outline: memoryview) -> tuple[int, ...]:
    return tuple(dict.fromkeys(components(outline))) if outline else ()


def read_font(data: bytes) -> SecondFont:
    """A TrueType font from the bytes of its file.

    Raises:
        UnfitFont: it is none, is damaged, or may not be embedded.
    """
    tables = checked(data)
    from reportlab.pdfbase.ttfonts import TTFont  # slow to import, and needed only where a font is named

    try:
        # without the ASCII letters, which it would else embed whether they are used or not
        font = TTFont("second", BytesIO(data), asciiReadable=False)
        font.face.makeSubset([0, ord(" ")])
        own = re.sub("[^A-Za-z0-9-]", "", font.face.name.decode("ascii", "ignore"))[:40]
    except Exception:  # a damaged font makes reportlab fail in a dozen ways
        raise UnfitFont("is damaged, or no TrueType font") from None
    font.fontName = f"{own or 'Font'}-{hashlib.sha256(data).hexdigest()[:8]}"
    font.face.name = font.fontName.encode("ascii")
    return SecondFont(font.fontName, font, tables["glyf"])
