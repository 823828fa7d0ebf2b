"""Layers, which a viewer can hide: optional content (ISO 32000-1, 8.11)."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import get_args

from reportlab.pdfbase import pdfdoc

from bookplates.pdf.operators import literal
from bookplates.plates.drawing import Layer

CALLED: Mapping[Layer, str] = {
    "cut": "Cut lines",
    "fold": "Fold lines",
    "place": "Places and centre lines",
    "holes": "Holes",
    "dimensions": "Dimensions",
    "notes": "Notes",
}
"""What a viewer lists them as. The content calls them by their short names."""


def groups(document: pdfdoc.PDFDocument, used: Collection[Layer]) -> dict[Layer, pdfdoc.PDFObjectReference]:
    """An optional content group for each layer that is used, in the order in which they are listed (table 98)."""
    layers = [layer for layer in get_args(Layer) if layer in used]
    return {layer: document.Reference(_group(CALLED[layer])) for layer in layers}


def _group(name: str) -> pdfdoc.PDFDictionary:
    return pdfdoc.PDFDictionary({"Type": "/OCG", "Name": literal(name)})


def properties(listed: Collection[pdfdoc.PDFObjectReference]) -> pdfdoc.PDFDictionary:
    """What the document says of its layers: all of them are shown until somebody hides one (tables 100 and 101)."""
    every = pdfdoc.PDFArray(listed)
    shown = {"Name": literal("Everything"), "BaseState": "/ON", "ON": every, "OFF": pdfdoc.PDFArray([]), "Order": every}
    return pdfdoc.PDFDictionary({"OCGs": every, "D": pdfdoc.PDFDictionary(shown)})
