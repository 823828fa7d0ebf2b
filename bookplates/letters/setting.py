"""How wide a text is, and where it wraps. Lengths in mm."""

from __future__ import annotations

import re
from functools import lru_cache

from bookplates.lengths import fits
from bookplates.letters.fonts import FONT_NAMES, built_in, composed, font_named, runs, second

ELLIPSIS = "…"


def width(text: str, size: float, bold: bool = False) -> float:
    """How wide a line of text is, mm, in letters `size` mm high (the em, not the capitals)."""
    if text.isascii() or second() is None:
        return _built_in_width(text, size, bold)
    return sum(float(font_named(name).stringWidth(letters, size)) for name, letters in runs(text, bold))


@lru_cache(maxsize=4096)
def _built_in_width(text: str, size: float, bold: bool) -> float:
    """The width of what the built-in font alone prints: the same for every pack, so that it can be kept."""
    return float(built_in(FONT_NAMES[bold]).stringWidth(composed(text), size))


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
