"""The document round the pages: fonts, what it says of itself, outline, page labels, the attached spec.

reportlab has no calls for an attached file, nor for all the viewer's preferences, but its catalog takes any
object under these keys and writes it out. That is used here: to finish the file with pypdf instead gives the
same document, but took two thirds as long again (13 ms on top of 18 for sixteen pages).
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from io import BytesIO
from threading import Lock

from reportlab import rl_config
from reportlab.pdfbase import pdfdoc, pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from bookplates.errors import BadSpec, Problem
from bookplates.letters import FONT_NAMES, composed, missing, register
from bookplates.pages.sheets import Pack, Sheet
from bookplates.pdf.content import content, points
from bookplates.pdf.operators import literal
from bookplates.plates.drawing import Label

PROGRAM = "bookplates"
SUBJECT = "Templates for a hand-made book, to be printed at 100 %"
ATTACHED = "spec.toml"

_ONE_AT_A_TIME = Lock()
"""reportlab keeps settings, and what it embeds of a font, for the whole process; packs may be made in several threads."""


def written(pack: Pack) -> bytes:
    """The pack as the bytes of a PDF.

    Raises:
        BadFile: the fonts are not installed.
        BadSpec: a text has letters that the fonts lack; they would be left out without a word.
    """
    register()
    _check_letters(pack)
    with _ONE_AT_A_TIME, _plain_streams():
        canvas = Canvas(BytesIO(), invariant=1, pdfVersion=(1, 7), initialFontName=FONT_NAMES[0], pageCompression=1, lang="en-GB")
        _describe(canvas, pack)
        _catalogue(canvas, pack.spec)
        _draw(canvas, pack)
        data: bytes = canvas.getpdfdata()
    return data


def _check_letters(pack: Pack) -> None:
    items = (item for page in pack.pages for placement in page.placements for item in placement.drawing.items)
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


def _document(canvas: Canvas) -> pdfdoc.PDFDocument:
    """The document behind a canvas, where everything goes that a canvas has no call for."""
    return canvas._doc  # noqa: SLF001  # reportlab's fonts want it too, and no public name leads to it


def _describe(canvas: Canvas, pack: Pack) -> None:
    """What the document says of itself, without dates: reportlab would write one that is not true."""
    document = _document(canvas)
    entries = {"Title": pack.title, "Author": pack.maker, "Subject": SUBJECT, "Creator": PROGRAM, "Producer": PROGRAM}
    document.info = _Information({key: literal(text) for key, text in entries.items()})


class _Information(pdfdoc.PDFDictionary):  # type: ignore[misc]  # reportlab has no types
    """The information dictionary as it stands; reportlab's own adds a date and words of its own."""

    def digest(self, _signature: object) -> None:
        """The file's identifier is made elsewhere, from what the pack holds."""


def _catalogue(canvas: Canvas, spec: bytes) -> None:
    catalog = _document(canvas).Catalog
    catalog.ViewerPreferences = _viewer_preferences()
    catalog.Names = pdfdoc.PDFDictionary({"EmbeddedFiles": _attachment(canvas, spec)})
    catalog.PageMode = "/UseOutlines"
    canvas.addPageLabel(0, style="ARABIC", start=1)


def _viewer_preferences() -> pdfdoc.PDFDictionary:
    """Print at 100 %, on the paper of the page's size, one side, and no asking (ISO 32000-1, 12.2)."""
    return pdfdoc.PDFDictionary(
        {
            "DisplayDocTitle": "true",
            "Duplex": "/Simplex",
            "Enforce": pdfdoc.PDFArray(["/PrintScaling"]),
            "PickTrayByPDFSize": "true",
            "PrintScaling": "/None",
        }
    )


def _attachment(canvas: Canvas, spec: bytes) -> pdfdoc.PDFDictionary:
    """The name tree with the spec as an embedded file, named as the document's source (ISO 32000-1, 7.11.4)."""
    embedded = _document(canvas).Reference(_embedded_file(spec))
    described = {
        "Type": "/Filespec",
        "F": literal(ATTACHED),
        "UF": literal(ATTACHED),
        "Desc": literal("The description this pack was made from"),
        "AFRelationship": "/Source",
        "EF": pdfdoc.PDFDictionary({"F": embedded, "UF": embedded}),
    }
    file = _document(canvas).Reference(pdfdoc.PDFDictionary(described))
    return pdfdoc.PDFDictionary({"Names": pdfdoc.PDFArray([literal(ATTACHED), file])})


def _embedded_file(spec: bytes) -> pdfdoc.PDFStream:
    checksum = hashlib.md5(spec, usedforsecurity=False).hexdigest()
    about = {
        "Type": "/EmbeddedFile",
        "Subtype": "/application#2Ftoml",
        "Params": pdfdoc.PDFDictionary({"Size": len(spec), "CheckSum": f"<{checksum}>"}),
    }
    return pdfdoc.PDFStream(pdfdoc.PDFDictionary(about), spec, [pdfdoc.PDFZCompress])


def _draw(canvas: Canvas, pack: Pack) -> None:
    shown = partial(_runs, canvas)
    streams = ["\n".join(content(sheet, shown)) for sheet in pack.pages]
    _document(canvas)._ID = _file_id(pack, streams)  # noqa: SLF001  # its own would hold the time
    marked: set[str] = set()
    for sheet, stream in zip(pack.pages, streams, strict=True):
        canvas.setPageSize(points(sheet.size))
        _bookmark(canvas, sheet, marked)
        canvas.addLiteral(stream)
        canvas.showPage()


def _file_id(pack: Pack, streams: Sequence[str]) -> bytes:
    """The file's identifier (ISO 32000-1, 14.4): a digest of what it holds, so no clock and no environment gets in."""
    digest = hashlib.md5(pack.spec, usedforsecurity=False)
    for text in (pack.title, pack.maker, *streams):
        digest.update(text.encode("utf-8"))
    name = digest.hexdigest().encode("ascii")
    return b"[<" + name + b"> <" + name + b">]"


def _bookmark(canvas: Canvas, sheet: Sheet, marked: set[str]) -> None:
    """An outline entry for each plate that begins on the page; what has no title, as the frame, gets none."""
    titles = dict.fromkeys(placement.drawing.title for placement in sheet.placements)
    for title in (title for title in titles if title and title not in marked):
        key = f"plate {len(marked)}"
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(title, key)
        marked.add(title)


def _runs(canvas: Canvas, text: str, bold: bool) -> Iterable[tuple[str, bytes]]:
    """A text as runs of letters that lie in one subset of the embedded font."""
    font = pdfmetrics.getFont(FONT_NAMES[bold])
    for subset, codes in font.splitString(composed(text), _document(canvas)):
        yield font.getSubsetInternalName(subset, _document(canvas)).removeprefix("/"), codes
