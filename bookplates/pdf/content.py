"""A page as the operators of its content stream. Everything is drawn in mm under the page's one matrix."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from bookplates.geometry import Box, Matrix, Size
from bookplates.lengths import POINT
from bookplates.letters import width
from bookplates.pages.sheets import Placement, Sheet
from bookplates.pdf.lines import STYLES
from bookplates.pdf.operators import circle, literal, number, numbers, polyline, string, transform
from bookplates.plates.drawing import Fill, Item, Label, Stroke

Shown = Callable[[str, bool], Iterable[tuple[str, bytes]]]
"""Gives a text, bold or not, as runs: the name of an embedded font and the codes of its letters."""

_BEFORE_ANCHOR = {"start": 0.0, "middle": 0.5, "end": 1.0}


def points(size: Size) -> Size:
    """A size in mm, in points."""
    return Size(size.width / POINT, size.height / POINT)


def content(sheet: Sheet, shown: Shown) -> Iterable[str]:
    """The operators of a page.

    The page's matrix takes mm to points and undoes the printer's error, the only place that does either.
    """
    across, along = sheet.correction
    yield f"q {transform(Matrix.scale(across / POINT, along / POINT))}"
    for placement in sheet.placements:
        yield from _placed(placement, shown)
    yield "Q"


def _placed(placement: Placement, shown: Shown) -> Iterable[str]:
    yield f"q {_window(placement.clip)}{transform(placement.matrix)}"
    yield from _drawn(placement.drawing.items, placement.drawing.plate, shown)
    yield "Q"


def _window(clip: Box | None) -> str:
    """What keeps everything after it within a rectangle of the page (ISO 32000-1, 8.5.4)."""
    return f"{numbers((clip.left, clip.bottom, *clip.size))} re W n " if clip else ""


def _drawn(items: Sequence[Item], plate: str, shown: Shown) -> Iterable[str]:
    """The items in order; what sets line or grey is written only where it changes."""
    line, grey = "", 0.0
    for item in items:
        if isinstance(item, Stroke):
            if item.line != line:
                line = item.line
                yield STYLES[item.line].operators
            yield _stroke(item, plate)
            continue
        wanted = item.grey if isinstance(item, Fill) else 0.0
        if abs(wanted - grey) > 0:
            grey = wanted
            yield f"{number(grey)} g"
        yield f"{polyline(item.points, closed=True)} f" if isinstance(item, Fill) else _label(item, shown)


def _stroke(stroke: Stroke, plate: str) -> str:
    """A painted path; a part says in marked content (ISO 32000-1, 14.6) which it is, and holds nothing else."""
    path = circle(stroke.points) if stroke.line == "hole" else polyline(stroke.points, stroke.closed)
    if stroke.part is None:
        return f"{path} S"
    named = f"/Plate {literal(plate)} /Name {literal(stroke.part)} /Line /{stroke.line}"
    return f"/Part << {named} >> BDC {path} S EMC"


def _label(label: Label, shown: Shown) -> str:
    """A line of text, turned about its anchor (ISO 32000-1, 9.4)."""
    before = _BEFORE_ANCHOR[label.anchor] * width(label.text, label.size, label.bold)
    place = Matrix.move(*label.at).after(Matrix.turn(label.angle)).after(Matrix.move(-before, 0.0))
    runs = " ".join(f"/{font} {number(label.size)} Tf {string(codes)} Tj" for font, codes in shown(label.text, label.bold))
    return f"BT {transform(place).removesuffix('cm')}Tm {runs} ET"
