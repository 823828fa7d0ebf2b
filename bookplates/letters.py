"""How wide a text is, where it wraps, and which letters the fonts lack. Lengths in mm.

The fonts are Source Sans Pro Regular and Bold, the same files that the PDF embeds, so what is measured
here is what is printed. There is no shaping: letters stand one after another, left to right.
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

from bookplates.errors import BadFile, Problem
from bookplates.lengths import fits

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

FONT_PACKAGE = "font_source_sans_pro"
FONT_NAMES = ("SourceSansPro-Regular", "SourceSansPro-Bold")
"""Regular and bold, as reportlab knows them once `register` has run."""

ELLIPSIS = "…"
_UNSHAPED = frozenset({"R", "AL", "AN"})
_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Cn", "Zl", "Zp", "Mn", "Mc", "Me"})


def register() -> None:
    """Make the two fonts known to reportlab; a second call changes nothing.

    Raises:
        BadFile: the font files are not installed.
    """
    from reportlab.pdfbase import pdfmetrics  # slow to import, and a refused spec needs none

    known = pdfmetrics.getRegisteredFontNames()
    for name in FONT_NAMES:
        if name not in known:
            pdfmetrics.registerFont(_font(name))


def composed(text: str) -> str:
    r"""The text as it is drawn: letters and their marks joined where Unicode has one letter for both.

    >>> len(composed("e\u0301"))
    1
    """
    return unicodedata.normalize("NFC", text)


@lru_cache(maxsize=4096)
def width(text: str, size: float, bold: bool = False) -> float:
    """How wide a line of text is, mm, in letters `size` mm high (the em, not the capitals)."""
    return float(_font(FONT_NAMES[bold]).stringWidth(composed(text), size))


def wrap(text: str, size: float, room: float, bold: bool = False) -> tuple[str, ...]:
    """The text in lines no wider than `room` mm; a word that is too long for a line is broken.

    Lines end at spaces; a line break in the text is kept. A text of spaces has no lines.

    Raises:
        ValueError: `room` does not take a single letter.
    """
    paragraphs = (_wrap_words(_words(line, size, room, bold), size, room, bold) for line in text.split("\n"))
    return tuple(line for paragraph in paragraphs for line in paragraph)


def shortened(text: str, size: float, room: float, bold: bool = False) -> str:
    """The text if `room` mm takes it, else as much of it as goes with an ellipsis at its end.

    Raises:
        ValueError: `room` does not take even the ellipsis.
    """
    if _goes(text, size, room, bold):
        return text
    whole = composed(text)
    count = _letters_that_go(whole, size, room - width(ELLIPSIS, size, bold), bold)
    return whole[:count].rstrip() + ELLIPSIS


def missing(text: str) -> str:
    """The distinct letters of the text that cannot be printed, in their order.

    These are letters that a font lacks, control and formatting characters, letters written from right to
    left, and marks that do not join their letter into one.
    """
    return "".join(letter for letter in dict.fromkeys(composed(text)) if not _printable(letter))


def _printable(letter: str) -> bool:
    if unicodedata.category(letter) in _UNSEEN or unicodedata.bidirectional(letter) in _UNSHAPED:
        return False
    return all(ord(letter) in _font(name).face.charToGlyph for name in FONT_NAMES)


def _goes(text: str, size: float, room: float, bold: bool) -> bool:
    return fits(width(text, size, bold), room)


def _words(line: str, size: float, room: float, bold: bool) -> list[str]:
    """The words of a line, those too long for the room in pieces."""
    return [piece for word in re.split("[ \t]+", composed(line)) if word for piece in _broken(word, size, room, bold)]


def _broken(word: str, size: float, room: float, bold: bool) -> list[str]:
    pieces = []
    while not _goes(word, size, room, bold):
        count = _letters_that_go(word, size, room, bold)
        if count == 0:
            raise ValueError(f"{room:g} mm does not take a letter of {word!r} at {size:g} mm")
        pieces.append(word[:count])
        word = word[count:]
    return [*pieces, word]


def _letters_that_go(text: str, size: float, room: float, bold: bool) -> int:
    """How many letters, from the first, the room takes. Raises ValueError for a room below nothing."""
    if room < 0:
        raise ValueError(f"no room for {text!r} at {size:g} mm")
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if _goes(text[:middle], size, room, bold) else (low, middle - 1)
    return low


def _wrap_words(words: list[str], size: float, room: float, bold: bool) -> list[str]:
    """Lines as full as may be. A line is as wide as its words and spaces, so no word is measured twice."""
    space, used = width(" ", size, bold), 0.0
    lines: list[str] = []
    for word in words:
        wide = width(word, size, bold)
        if lines and fits(used + space + wide, room):
            lines[-1] += f" {word}"
            used += space + wide
        else:
            lines.append(word)
            used = wide
    return lines


@cache
def _font(name: str) -> TTFont:
    from reportlab.pdfbase.ttfonts import TTFont  # same

    path = _folder() / f"{name}.ttf"
    if not path.is_file():
        raise BadFile(Problem(str(path), "the font is not there", f"install {FONT_PACKAGE.replace('_', '-')} again"))
    return TTFont(name, str(path))


def _folder() -> Path:
    """Where the font package keeps its files; the package itself is not run."""
    spec = find_spec(FONT_PACKAGE)
    if spec is None or not spec.submodule_search_locations:
        package = FONT_PACKAGE.replace("_", "-")
        raise BadFile(Problem(package, "the fonts are not installed", f"python -m pip install {package}"))
    return Path(spec.submodule_search_locations[0]) / "files"
