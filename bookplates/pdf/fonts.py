"""Texts as the codes of embedded fonts, and what reportlab writes of those fonts that has to be mended."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reportlab.pdfbase import pdfdoc

from bookplates.letters import font_named, runs


def coded(document: pdfdoc.PDFDocument, text: str, bold: bool) -> Sequence[tuple[str, bytes]]:
    """A text as runs of letters that lie in one subset of an embedded font: its name on the page, and their codes."""
    fonts = ((font_named(name), letters) for name, letters in runs(text, bold))
    return [
        (font.getSubsetInternalName(subset, document).removeprefix("/"), codes)
        for font, letters in fonts
        for subset, codes in font.splitString(letters, document)
    ]


def mend_far_letters(document: pdfdoc.PDFDocument) -> None:
    """Have letters beyond U+FFFF told by two numbers of UTF-16 (ISO 32000-1, 9.10.3), where reportlab writes one.

    Without it such a letter is printed, but neither found nor copied.
    """
    document.delayedFonts.append(_FarLetters())


class _FarLetters:
    """Takes its turn after the fonts, when what they say of their letters is there and not yet written out."""

    def addObjects(self, document: pdfdoc.PDFDocument) -> None:  # noqa: N802  # reportlab's word
        for name, said in document.idToObject.items():
            if name.startswith("toUnicodeCMap:"):
                said.content = re.sub("<([0-9A-F]{5,6})>", _in_two, said.content)


def _in_two(number: re.Match[str]) -> str:
    return f"<{chr(int(number[1], 16)).encode('utf-16-be').hex().upper()}>"
