"""Which font prints which letter: the built-in one, else the second, else none."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from importlib.util import find_spec
from itertools import groupby
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING

from bookplates.errors import BadFile, Problem

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

    from bookplates.letters.reading import SecondFont

FONT_PACKAGE = "font_source_sans_pro"
FONT_NAMES = ("SourceSansPro-Regular", "SourceSansPro-Bold")
"""Regular and bold, as reportlab knows them once `register` has run."""

_UNSHAPED = frozenset({"R", "AL", "AN"})
_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Cn", "Zl", "Zp", "Mn", "Mc", "Me"})

_SECOND: ContextVar[SecondFont | None] = ContextVar("second font", default=None)
"""Of the pack in work; each thread has its own."""

_OPENED: dict[str, TTFont] = {}
_ONE_AT_A_TIME = Lock()


@contextmanager
def second_font(font: SecondFont | None) -> Iterator[None]:
    """While this is open, a font serves for letters that the built-in one lacks, in this thread alone; None: none does."""
    before = _SECOND.set(font)
    try:
        yield
    finally:
        _SECOND.reset(before)


def second() -> SecondFont | None:
    """The font that serves at the moment for letters that the built-in one lacks."""
    return _SECOND.get()


def register() -> None:
    """Make the two built-in fonts known to reportlab; a second call changes nothing.

    Raises:
        BadFile: the font files are not installed.
    """
    from reportlab.pdfbase import pdfmetrics  # slow to import, and a refused spec needs none

    known = pdfmetrics.getRegisteredFontNames()
    for name in FONT_NAMES:
        if name not in known:
            pdfmetrics.registerFont(built_in(name))


def composed(text: str) -> str:
    r"""The text as it is drawn: letters and their marks joined where Unicode has one letter for both.

    >>> len(composed("e\u0301"))
    1
    """
    return unicodedata.normalize("NFC", text)


def runs(text: str, bold: bool = False) -> tuple[tuple[str, str], ...]:
    """A text as it is drawn, in runs of letters of one font: the font's name, and the letters.

    Letters that no font has stand in the built-in one; `missing` tells them.
    """
    name, other = FONT_NAMES[bold], None if text.isascii() else second()
    if other is None:
        return ((name, composed(text)),) if text else ()
    fonts = groupby(composed(text), lambda letter: other.name if _from(other, letter) else name)
    return tuple((font, "".join(letters)) for font, letters in fonts)


def font_named(name: str) -> TTFont:
    """The font of a run. Raises BadFile where it is a built-in one that is not installed."""
    other = second()
    return other.font if other is not None and name == other.name else built_in(name)


def missing(text: str) -> str:
    """The distinct letters of the text that cannot be printed, in their order.

    These are letters that every font lacks, control and formatting characters, letters written from right to
    left, and marks that do not join their letter into one.
    """
    other = second()
    letters = dict.fromkeys(composed(text))
    return "".join(c for c in letters if _is_unshaped(c) or not (_is_built_in(c) or (other is not None and other.has(c))))


def unshaped(text: str) -> str:
    """Those of the missing letters that no font would help: they would need shaping, or are not seen.

    >>> unshaped("שa書")
    'ש'
    """
    return "".join(letter for letter in dict.fromkeys(composed(text)) if _is_unshaped(letter))


def _is_unshaped(letter: str) -> bool:
    return unicodedata.category(letter) in _UNSEEN or unicodedata.bidirectional(letter) in _UNSHAPED


def _is_built_in(letter: str) -> bool:
    """Whether both built-in fonts have a letter, so that it looks alike in plain and in bold type."""
    return all(ord(letter) in built_in(name).face.charToGlyph for name in FONT_NAMES)


def _from(other: SecondFont, letter: str) -> bool:
    return not _is_built_in(letter) and other.has(letter)


@cache
def built_in(name: str) -> TTFont:
    """A built-in font by its name, one for the whole process. Raises BadFile where it is not installed."""
    with _ONE_AT_A_TIME:  # two threads that ask at once get the same, or a PDF would have two of it
        if name not in _OPENED:
            _OPENED[name] = _open(name)
    return _OPENED[name]


def _open(name: str) -> TTFont:
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
