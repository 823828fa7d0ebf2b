"""PDFs put together by hand for the tests: raw content streams, wrapped by pikepdf, which the program never uses."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pikepdf

MM = "2.834645669291"  # 72 / 25.4, points in a millimetre
BAR_PT = "283.464566929"  # 100 mm: 100 x 72 / 25.4

# radius 14 pt about (72, 72), controls 14 x 0.55228 = 7.732 pt off; from the right, counter-clockwise, not closed
CIRCLE = (
    "86 72 m 86 79.7320 79.7320 86 72 86 c 64.2680 86 58 79.7320 58 72 c "
    "58 64.2680 64.2680 58 72 58 c 79.7320 58 86 64.2680 86 72 c"
)

Form = tuple[str, dict[str, Any]]
"""A form's content, and what its dictionary holds besides; None takes a key away."""


def part(path: str, name: str = "front covering", line: str = "cut", plate: str = "wrap outline") -> str:
    """The path as a part of its own."""
    return f"/Part << /Plate ({plate}) /Name ({name}) /Line /{line} >> BDC {path} EMC\n"


def bars(plate: str = "wrap outline", across: str = BAR_PT, along: str = BAR_PT) -> str:
    """Both scale bars, along the foot and the left edge."""
    return part(f"0 0 m {across} 0 l S", "bar across", "bar", plate) + part(f"0 0 m 0 {along} l S", "bar along", "bar", plate)


def pdf(*contents: str, compress: bool = False, size: tuple[float, float] = (595.276, 841.89), **page_keys: Any) -> bytes:
    """A PDF with one page for each content; `page_keys` go into every page's dictionary."""
    document = pikepdf.new()
    for content in contents:
        page = document.add_blank_page(page_size=size)
        page.obj.Contents = document.make_stream(content.encode("latin-1"))
        for key, value in page_keys.items():
            page.obj["/" + key] = value
    return saved(document, compress)


def saved(document: pikepdf.Pdf, compress: bool = False) -> bytes:
    """Its bytes."""
    out = BytesIO()
    document.save(out, compress_streams=compress, deterministic_id=True)
    return out.getvalue()


def with_forms(content: str, *forms: Form, properties: dict[str, Any] | None = None) -> bytes:
    """One page whose resources hold the forms /F0, /F1, ...; each form may draw the next ones."""
    document = pikepdf.new()
    page = document.add_blank_page(page_size=(595.276, 841.89))
    resources = document.make_indirect(pikepdf.Dictionary(XObject=pikepdf.Dictionary()))
    if properties:
        resources.Properties = pikepdf.Dictionary({f"/{key}": value for key, value in properties.items()})
    for number, (drawn, keys) in enumerate(forms):
        form = document.make_stream(drawn.encode("latin-1"))
        form.Type, form.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
        form.BBox = pikepdf.Array([-5000, -5000, 5000, 5000])
        form.Resources = resources
        for key, value in keys.items():
            if value is None:
                del form["/" + key]
            else:
                form["/" + key] = value
        resources.XObject[f"/F{number}"] = form
    page.obj.Resources, page.obj.Contents = resources, document.make_stream(content.encode("latin-1"))
    return saved(document)
