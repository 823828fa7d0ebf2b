"""How wide a text is, where it wraps, and which letters the fonts lack. Lengths in mm.

The fonts are Source Sans Pro Regular and Bold, the same files that the PDF embeds, and for letters that these lack
a second font, if somebody names one: what is measured here is what is printed. There is no shaping: letters stand
one after another, left to right.
"""

from __future__ import annotations

from bookplates.letters.fonts import (
    FONT_NAMES,
    FONT_PACKAGE,
    composed,
    font_named,
    missing,
    register,
    runs,
    second,
    second_font,
    unshaped,
)
from bookplates.letters.reading import LARGEST_FONT, SecondFont, read_font
from bookplates.letters.setting import ELLIPSIS, shortened, width, wrap
from bookplates.letters.truetype import UnfitFont

__all__ = [
    "ELLIPSIS",
    "FONT_NAMES",
    "FONT_PACKAGE",
    "LARGEST_FONT",
    "SecondFont",
    "UnfitFont",
    "composed",
    "font_named",
    "missing",
    "read_font",
    "register",
    "runs",
    "second",
    "second_font",
    "shortened",
    "unshaped",
    "width",
    "wrap",
]
