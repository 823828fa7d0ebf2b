"""From the bytes of a PDF to its parts: opening, pages, and what each page's scale bars say."""

from __future__ import annotations

import math
import zlib
from collections.abc import Generator, Sequence
from functools import reduce
from itertools import islice
from typing import Any

from bookplates.errors import BadFile, Problem
from bookplates.geometry import Box, Matrix, Outline, Size, bounds
from bookplates.lengths import POINT
from bookplates.readback.measured import Measured, MeasuredPart
from bookplates.readback.opening import opened
from bookplates.readback.operations import Operations, numbers, operations
from bookplates.readback.paths import Broken, extent, is_finite
from bookplates.readback.walk import MOST_OPERATORS, MarkedPart, Walk, entry

BAR = 100.0
"""Length of both scale bars on the plate, mm."""

EDGE = 0.001
"""How far a part may lie beyond the edge of its page and still count as on it, mm."""

MOST_OF_A_PAGE, MOST_PAGES = 2000, 32_000
"""Operators that each page may have beyond those of a pack, and of how many pages: a class of two thousand has so many."""

MOST_CONTENT = 64_000_000
"""Bytes of one content stream, inflated; a few kilobytes can be made to swell without end."""


def measure_pdf(data: bytes) -> Measured:
    """Every part marked in a PDF, measured in mm from its finished bytes.

    Points are measured in the page's unrotated user space times its UserUnit (ISO 32000-1, 8.3.2.3): the page's
    Rotate and its boxes change how it is shown, not how large anything is. What lies outside its boxes is not shown.

    Raises:
        BadFile: not a PDF, encrypted, cut short, damaged, or not to be followed.
    """
    with opened(data) as (reader, complaints):
        return _measure(list(reader.pages), complaints)


def count_pages(data: bytes) -> int:
    """How many pages there are. Raises BadFile for no PDF."""
    with opened(data) as (reader, _):
        return len(reader.pages)


def measure_runs(data: bytes, counts: Sequence[int]) -> Generator[Measured, None, None]:
    """The parts of a document that holds several, one after the other, each as `measure_pdf` would measure it alone.

    Args:
        data: the whole document.
        counts: how many pages each of them has.

    Raises:
        BadFile: the same as for one; also where there are fewer pages.
    """
    with opened(data) as (reader, complaints):
        pages = iter(reader.pages)
        for count in counts:
            yield _measure(list(islice(pages, count)), complaints)
            reader.resolved_objects.clear()  # or a class of a thousand would all be held


def _measure(pages: Sequence[Any], complaints: list[str]) -> Measured:
    if not pages:
        raise BadFile(Problem("", "the PDF has no pages"))
    parts: list[MeasuredPart] = []
    budget = MOST_OPERATORS + MOST_OF_A_PAGE * min(len(pages), MOST_PAGES)
    for number, page in enumerate(pages, 1):
        found, budget = _page(number, page, budget, complaints)
        parts += found
    return Measured(len(pages), tuple(parts))


def _page(number: int, page: Any, budget: int, complaints: list[str]) -> tuple[list[MeasuredPart], int]:
    """The parts of a page, and what is left of the work allowed. Raises BadFile with the page's number."""
    try:
        scale = _scale(page)
        marked, left = _marked(page, scale, budget)
        parts = _sized(number, marked, _sheet(page, scale))
    except Broken as fault:
        raise BadFile(Problem(f"page {number}", str(fault))) from fault
    except Exception as error:
        raise BadFile(Problem(f"page {number}", "its content is damaged")) from error
    if complaints:
        raise BadFile(Problem(f"page {number}", "its content is damaged"))
    return parts, left


def _scale(page: Any) -> float:
    """What a unit of the page's user space is in mm."""
    unit = entry(page, "/UserUnit")
    scale = POINT * (1.0 if unit is None else numbers([unit], 1)[0])
    if not (math.isfinite(scale) and scale > 0):
        raise Broken("its UserUnit is not a size")
    return scale


def _sheet(page: Any, scale: float) -> Box | None:
    """What of the page is shown and printed, mm (ISO 32000-1, 14.11.2); None where its boxes do not say."""
    boxes = [_box(entry(page, name), scale) for name in ("/MediaBox", "/CropBox")]
    known = [box for box in boxes if box]
    return reduce(Box.met, known) if known else None


def _box(array: Any, scale: float) -> Box | None:
    values = [value.get_object() for value in array] if isinstance(array, list) and len(array) == 4 else []
    if not values or not all(isinstance(value, (int, float)) for value in values):
        return None
    x0, y0, x1, y1 = (float(value) * scale for value in values)
    return Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))


def _marked(page: Any, scale: float, budget: int) -> tuple[list[MarkedPart], int]:
    """The parts of a page in the order of its content, and what is left of the work allowed."""
    content = entry(page, "/Contents")
    if content is None and "/Contents" in page:
        raise Broken("its content is missing from the file")
    walk = Walk(_operations, Matrix.scale(scale, scale), budget)
    if content is not None:
        walk.follow(_operations(content), entry(page, "/Resources"))
    return walk.parts, walk.budget


def _operations(stream: Any) -> Operations:
    for piece in stream if isinstance(stream, list) else [stream]:
        _check_whole(piece.get_object())
    return operations(stream)


def _check_whole(stream: Any) -> None:
    """Refuse a deflated stream that ends early or fails its checksum: pypdf returns what it can of either."""
    from pypdf.generic import StreamObject  # slow

    if not isinstance(stream, StreamObject):
        raise Broken("its content is no stream")
    packed = StreamObject.get_data(stream)
    if packed and entry(stream, "/Filter") in ("/FlateDecode", ["/FlateDecode"]):
        inflate = zlib.decompressobj()
        inflate.decompress(packed, MOST_CONTENT)
        if not inflate.eof:
            raise Broken("its content is cut short, or endless")


def _sized(page: int, marked: list[MarkedPart], sheet: Box | None) -> list[MeasuredPart]:
    stretch = Size(_stretch(marked, "bar across"), _stretch(marked, "bar along"))
    return [_part(page, part, stretch, sheet) for part in marked]


def _stretch(marked: list[MarkedPart], bar: str) -> float:
    """What the page's bar is multiplied by; 1 on a page without it. Raises Broken for a bar without length."""
    for part in marked:
        if part.name == bar:
            length = max(extent(part.path, (1.0, 0.0)))
            if not (math.isfinite(length) and length > 0):
                raise Broken(f"its {bar} has no length")
            return length / BAR
    return 1.0


def _part(page: int, part: MarkedPart, stretch: Size, sheet: Box | None) -> MeasuredPart:
    path, matrix = part.path, part.matrix
    undo = Matrix.scale(1 / stretch.width, 1 / stretch.height)
    on_plate = path.changed(undo)
    points, plate_points = tuple(path.points), tuple(on_plate.points)
    paper = extent(path, (matrix.a, matrix.b))
    plate = extent(on_plate, (matrix.a * undo.a, matrix.b * undo.d))
    if not is_finite((*points, *plate_points, paper, plate)):
        raise Broken(f"the part {part.name!r} lies off any paper")
    seen = _seen(points, part.window, sheet)
    window = bounds(map(undo.at, seen.corners)) if seen else None
    return MeasuredPart(page, part.plate, part.name, part.line, points, path.closed, plate_points, *plate, *paper, window)


def _seen(points: Outline, window: Box | None, sheet: Box | None) -> Box | None:
    """The rectangle outside which a part is not shown; None where it lies wholly on its page, and nothing clips it."""
    if sheet is None:
        return window
    left, bottom, right, top = bounds(points)
    whole = (
        sheet.left - EDGE <= left and sheet.bottom - EDGE <= bottom and right <= sheet.right + EDGE and top <= sheet.top + EDGE
    )
    if whole:
        return window
    return window.met(sheet) if window else sheet
