"""Pages become a PDF here; with `readback` the only room that knows points."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bookplates.pages.sheets import Pack
    from bookplates.pdf.apart import Apart

__all__ = ["write_pdf"]


def write_pdf(pack: Pack, apart: Apart | None = None) -> bytes:
    """The pack as a PDF 1.7 document, true to size. The same pack gives the same bytes, always.

    Args:
        pack: its pages.
        apart: of the book, where packs are made of it that differ in their frames: what lies below these is written apart
            from them, and only once.

    Raises:
        BadFile: the fonts are not installed.
        BadSpec: a text has letters that the fonts lack.
    """
    from bookplates.pdf.document import written  # reportlab takes 0.1 s to import

    return written(pack, apart)
