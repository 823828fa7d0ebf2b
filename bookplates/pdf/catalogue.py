"""What the document says of itself, beside its pages: title, language, how to print it, its outline, the attached spec."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from itertools import pairwise

from reportlab.pdfbase import pdfdoc

from bookplates.pages.sheets import Pack, Sheet
from bookplates.pdf.operators import literal

PROGRAM = "bookplates"
SUBJECT = "Templates for a hand-made book, to be printed at 100 %"
ATTACHED = "spec.toml"


def describe(document: pdfdoc.PDFDocument, pack: Pack) -> None:
    """Everything that does not hang on the pages."""
    document.info = _information(pack)
    in_catalogue(document, "ViewerPreferences", _viewer_preferences())
    in_catalogue(document, "Names", pdfdoc.PDFDictionary({"EmbeddedFiles": _attachment(document, pack.spec)}))
    in_catalogue(document, "PageMode", "/UseOutlines")
    in_catalogue(document, "PageLabels", _page_labels(pack.numbers or range(1, len(pack.pages) + 1)))


def in_catalogue(document: pdfdoc.PDFDocument, key: str, value: object) -> None:
    """Put an entry into the catalogue (ISO 32000-1, 7.7.2). reportlab writes those alone that it has in its list."""
    catalogue = document.Catalog
    if key not in catalogue.__NoDefault__:
        catalogue.__NoDefault__ = (*catalogue.__NoDefault__, key)
    setattr(catalogue, key, value)
    if key == "Outlines":
        document.Outlines = value


class _Information(pdfdoc.PDFDictionary):  # type: ignore[misc]  # reportlab has no types
    """The information dictionary as it stands; reportlab's own adds a date and words of its own."""

    def digest(self, _signature: object) -> None:
        """The file's identifier is made elsewhere, from what the pack holds."""


def _information(pack: Pack) -> _Information:
    """What the document says of itself, without dates: reportlab would write one that is not true."""
    entries = {"Title": pack.title, "Author": pack.maker, "Subject": SUBJECT, "Creator": PROGRAM, "Producer": PROGRAM}
    entries["PageCount"] = str(len(pack.pages))  # a key of our own, as 14.3.3 allows: a page that is lost later is missed
    excerpt = {"Excerpt": pack.excerpt} if pack.excerpt else {}
    return _Information({key: literal(text) for key, text in (entries | excerpt).items()})


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


def _page_labels(numbers: Sequence[int]) -> pdfdoc.PDFDictionary:
    """Pages numbered as their title blocks are: an entry wherever a run of numbers begins (ISO 32000-1, 12.4.2)."""
    begins = [at for at, number in enumerate(numbers) if at == 0 or number != numbers[at - 1] + 1]
    entries = (entry for at in begins for entry in (at, pdfdoc.PDFDictionary({"S": "/D", "St": numbers[at]})))
    return pdfdoc.PDFDictionary({"Nums": pdfdoc.PDFArray(entries)})


def _attachment(document: pdfdoc.PDFDocument, spec: bytes) -> pdfdoc.PDFDictionary:
    """The name tree with the spec as an embedded file, named as the document's source (ISO 32000-1, 7.11.4)."""
    embedded = document.Reference(_embedded_file(spec))
    described = {
        "Type": "/Filespec",
        "F": literal(ATTACHED),
        "UF": literal(ATTACHED),
        "Desc": literal("The description this pack was made from"),
        "AFRelationship": "/Source",
        "EF": pdfdoc.PDFDictionary({"F": embedded, "UF": embedded}),
    }
    file = document.Reference(pdfdoc.PDFDictionary(described))
    return pdfdoc.PDFDictionary({"Names": pdfdoc.PDFArray([literal(ATTACHED), file])})


def _embedded_file(spec: bytes) -> pdfdoc.PDFStream:
    checksum = hashlib.md5(spec, usedforsecurity=False).hexdigest()
    about = {
        "Type": "/EmbeddedFile",
        "Subtype": "/application#2Ftoml",
        "Params": pdfdoc.PDFDictionary({"Size": len(spec), "CheckSum": f"<{checksum}>"}),
    }
    return pdfdoc.PDFStream(pdfdoc.PDFDictionary(about), spec, [pdfdoc.PDFZCompress])


class Outline(pdfdoc.PDFOutlines):  # type: ignore[misc]  # reportlab has no types
    """The outline (ISO 32000-1, 12.3.3): an entry for each plate wherever a run of pages with it begins."""

    def __init__(self) -> None:
        super().__init__()
        self._begun: list[tuple[str, pdfdoc.PDFObjectReference]] = []
        self._on_last_page: frozenset[str] = frozenset()

    def begin(self, page: pdfdoc.PDFObjectReference, sheet: Sheet) -> None:
        """Note the plates that begin on a page; what has no title, as the frame, gets no entry."""
        titles = dict.fromkeys(placement.drawing.title for placement in sheet.placements if placement.drawing.title)
        self._begun += [(title, page) for title in titles if title not in self._on_last_page]
        self._on_last_page = frozenset(titles)

    def prepare(self, document: pdfdoc.PDFDocument, _canvas: object) -> None:
        """Link the entries; reportlab asks for this when the pages are complete. Below 0, `ready` says there are none."""
        if not self._begun:
            self.ready = -1
            return
        parent, self.count, self.ready = document.Reference(self), len(self._begun), 1
        entries = [
            pdfdoc.PDFDictionary({"Title": literal(title), "Parent": parent, "Dest": pdfdoc.PDFArray([page, "/Fit"])})
            for title, page in self._begun
        ]
        places = [document.Reference(entry) for entry in entries]
        for (one, at), (other, after) in pairwise(zip(entries, places, strict=True)):
            one["Next"], other["Prev"] = after, at
        self.first, self.last = places[0], places[-1]
