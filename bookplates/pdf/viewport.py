"""What a viewer's ruler reads: mm of the plate, whatever the printer's error is corrected by (ISO 32000-1, 12.9)."""

from __future__ import annotations

from reportlab.pdfbase import pdfdoc

from bookplates.geometry import Size
from bookplates.lengths import POINT, close
from bookplates.pdf.content import points
from bookplates.pdf.operators import literal, number, numbers

DIGITS = 10
"""Of a factor, so that a metre is read to a millionth of a mm."""


class Viewports:
    """One viewport over the whole of each page: pages alike share it, and its measure those of the same correction."""

    def __init__(self, document: pdfdoc.PDFDocument) -> None:
        self._document = document
        self._viewports: dict[tuple[Size, Size], pdfdoc.PDFObjectReference] = {}
        self._measures: dict[Size, pdfdoc.PDFObjectReference] = {}

    def over(self, page: Size, correction: Size) -> pdfdoc.PDFObjectReference:
        """The list of viewports of a page, mm (table 260)."""
        key = page, correction
        if key not in self._viewports:
            viewport = pdfdoc.PDFDictionary(
                {
                    "Type": "/Viewport",
                    "BBox": f"[0 0 {numbers(points(page))}]",
                    "Name": literal("True size"),
                    "Measure": self._measure(correction),
                }
            )
            self._viewports[key] = self._document.Reference(pdfdoc.PDFArray([viewport]))
        return self._viewports[key]

    def _measure(self, correction: Size) -> pdfdoc.PDFObjectReference:
        if correction not in self._measures:
            self._measures[correction] = self._document.Reference(_rectilinear(correction))
        return self._measures[correction]


def _rectilinear(correction: Size) -> pdfdoc.PDFDictionary:
    """How points are taken to mm across, and along where that differs, then to distances and areas (table 262)."""
    across, along = correction
    said = {"Type": "/Measure", "Subtype": "/RL", "R": literal(_scale(correction)), "X": _format("mm", POINT / across)}
    if not close(across, along):
        said |= {"Y": _format("mm", POINT / along), "CYX": "1"}
    return pdfdoc.PDFDictionary({**said, "D": _format("mm", 1.0), "A": _format("mm²", 1.0)})


def _scale(correction: Size) -> str:
    """The scale in words, across and along where they differ."""
    across, along = (f"{number(factor)} mm = 1 mm" for factor in correction)
    return across if close(*correction) else f"in X {across}, in Y {along}"


def _format(unit: str, factor: float) -> pdfdoc.PDFArray:
    """A number in one unit, shown to a hundredth (table 263)."""
    said = {"Type": "/NumberFormat", "U": literal(unit), "C": f"{factor:.{DIGITS}f}", "F": "/D", "D": 100}
    return pdfdoc.PDFArray([pdfdoc.PDFDictionary(said)])
