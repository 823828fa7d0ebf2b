"""The document round the pages: fonts, pages, what it says of itself.

reportlab's canvas has no calls for layers, viewports, an attached file or all the viewer's preferences. The document
behind it takes any object and writes it out, and is used here without the canvas: that is quicker to load, and lets each
page be written and packed before the next is begun. To finish the file with pypdf instead gives the same document, but
took two thirds as long again (13 ms on top of 18 for sixteen pages).
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache, partial
from threading import Lock

from reportlab import rl_config
from reportlab.pdfbase import pdfdoc

from bookplates.errors import BadSpec, Problem
from bookplates.letters import missing, register, second
from bookplates.pages.sheets import Pack, Sheet
from bookplates.pdf.apart import Apart, Stream
from bookplates.pdf.catalogue import Outline, describe, in_catalogue
from bookplates.pdf.content import Contents, points
from bookplates.pdf.fonts import coded, mend_far_letters
from bookplates.pdf.layers import groups, properties
from bookplates.pdf.operators import numbers
from bookplates.pdf.viewport import Viewports
from bookplates.plates.drawing import Label

_ONE_AT_A_TIME = Lock()
"""reportlab keeps settings, and what it embeds of a font, for the whole process; packs may be made in several threads."""


def written(pack: Pack, apart: Apart | None = None) -> bytes:
    """The pack as the bytes of a PDF; `apart` knows what packs of the same book hold alike, and keeps more of it.

    Raises:
        BadFile: the fonts are not installed.
        BadSpec: a text has letters that the fonts lack; they would be left out without a word.
    """
    register()
    _check_letters(pack)
    with _ONE_AT_A_TIME, _plain_streams():
        document = pdfdoc.PDFDocument(invariant=1, compression=1, pdfVersion=(1, 7), lang="en-GB")
        describe(document, pack)
        _draw(document, pack, apart)
        data: bytes = document.GetPDFData(None)
    return data


def _check_letters(pack: Pack) -> None:
    drawings = {id(placement.drawing): placement.drawing for page in pack.pages for placement in page.placements}
    items = (item for drawing in drawings.values() for item in drawing.items)
    lacking = missing("".join(dict.fromkeys("".join(item.text for item in items if isinstance(item, Label)))))
    if lacking:
        named = ", ".join(f"{letter!r} (U+{ord(letter):04X})" for letter in lacking)
        raise BadSpec(Problem("", f"the fonts cannot print {named}", "use other letters"))


@contextmanager
def _plain_streams() -> Iterator[None]:
    """Streams compressed only, not written in ASCII digits besides: a quarter smaller, and quicker both ways."""
    before, rl_config.useA85 = rl_config.useA85, 0
    try:
        yield
    finally:
        rl_config.useA85 = before


def _draw(document: pdfdoc.PDFDocument, pack: Pack, apart: Apart | None) -> None:
    """All pages, and what can be said only when they are drawn: the layers they use, and the file's identifier."""
    shown = cache(partial(coded, document))
    contents = Contents(pack.pages, shown)
    outline, viewports, resources = Outline(), Viewports(document), pdfdoc.PDFResourceDictionary()
    in_catalogue(document, "Outlines", outline)
    digest = hashlib.md5(pack.spec, usedforsecurity=False)
    other = second()
    for text in (pack.title, pack.maker, pack.excerpt, other.name if other else ""):
        digest.update(text.encode("utf-8"))
    for letters, bold in apart.letters if apart else ():
        shown(letters, bold)  # gives them their codes
    for sheet in pack.pages:
        streams = contents.of(sheet, apart)
        digest.update(b"\n".join(stream.plain for stream in streams))
        page = _Page(document, sheet, streams)
        page.Resources, page.VP = document.Reference(resources), viewports.over(sheet.size, sheet.correction)
        document.addPage(page)
        outline.begin(document.Reference(page), sheet)
    mend_far_letters(document)
    document._ID = _identifier(digest.hexdigest())  # noqa: SLF001  # its own would hold the time
    resources.basicFonts()
    resources.Properties = groups(document, contents.layers)
    if contents.layers:
        in_catalogue(document, "OCProperties", properties(resources.Properties.values()))


class _Page(pdfdoc.PDFPage):  # type: ignore[misc]  # reportlab has no types
    """A page whose stream is packed already. reportlab's own has no viewports, and keeps all streams as they are to the end."""

    Override_default_compilation = 1
    __NoDefault__ = (*pdfdoc.PDFPage.__NoDefault__, "VP")

    def __init__(self, document: pdfdoc.PDFDocument, sheet: Sheet, streams: Sequence[Stream]) -> None:
        super().__init__()
        self.Parent = document.Reference(document.Pages)
        self.MediaBox = f"[0 0 {numbers(points(sheet.size))}]"
        packed = [pdfdoc.PDFStream(pdfdoc.PDFDictionary({"Filter": "/FlateDecode"}), stream.packed) for stream in streams]
        self.Contents = packed[0] if len(packed) == 1 else pdfdoc.PDFArray([document.Reference(each) for each in packed])


def _identifier(digest: str) -> bytes:
    """The file's identifier (ISO 32000-1, 14.4): a digest of what it holds, so no clock and no environment gets in."""
    return f"[<{digest}> <{digest}>]".encode("ascii")
