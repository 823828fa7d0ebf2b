"""From the bytes of a PDF to its parts: opening, pages, and what each page's scale bars say."""

from __future__ import annotations

import logging
import math
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from threading import Lock
from typing import Any

from bookplates.errors import BadFile, Problem
from bookplates.geometry import Matrix, Size, bounds
from bookplates.lengths import POINT
from bookplates.readback.measured import Measured, MeasuredPart
from bookplates.readback.paths import Broken, extent, is_finite
from bookplates.readback.walk import MOST_OPERATORS, MarkedPart, Operations, Walk, entry, numbers

BAR = 100.0
"""Length of both scale bars on the plate, mm."""

MOST_CONTENT = 64_000_000
"""Bytes of one content stream, inflated; a few kilobytes can be made to swell without end."""

_ONE_AT_A_TIME = Lock()
"""pypdf complains to one logger for the whole process: in another thread it would be heard of the wrong file."""

_ENDS = 1024
"""Header and end-of-file marker stand within so many bytes of a PDF's ends, as readers allow."""


def measure_pdf(data: bytes) -> Measured:
    """Every part marked in a PDF, measured in mm from its finished bytes.

    Points are measured in the page's unrotated user space times its UserUnit (ISO 32000-1, 8.3.2.3): the page's
    Rotate and its boxes change how it is shown, not how large anything is.

    Raises:
        BadFile: not a PDF, encrypted, cut short, damaged, or not to be followed.
    """
    import pypdf  # noqa: F401  # late, since it is slow; were it missing, the file were not at fault

    with _ONE_AT_A_TIME, _listening() as complaints:
        try:
            return _measure(data, complaints)
        except BadFile:
            raise
        except Exception as error:  # pypdf says itself that broken files may cause any exception
            raise BadFile(Problem("", "the PDF is damaged and cannot be read")) from error


def _measure(data: bytes, complaints: list[str]) -> Measured:
    reader = _opened(data)
    complaints.clear()  # a mended cross-reference table does no harm; a mended number on a page does
    pages = list(reader.pages)
    if not pages:
        raise BadFile(Problem("", "the PDF has no pages"))
    parts: list[MeasuredPart] = []
    budget = MOST_OPERATORS
    for number, page in enumerate(pages, 1):
        found, budget = _page(number, page, budget, complaints)
        parts += found
    return Measured(len(pages), tuple(parts))


def _page(number: int, page: Any, budget: int, complaints: list[str]) -> tuple[list[MeasuredPart], int]:
    """The parts of a page, and what is left of the work allowed. Raises BadFile with the page's number."""
    try:
        marked, left = _marked(page, budget)
        parts = _sized(number, marked)
    except Broken as fault:
        raise BadFile(Problem(f"page {number}", str(fault))) from fault
    except Exception as error:
        raise BadFile(Problem(f"page {number}", "its content is damaged")) from error
    if complaints:
        raise BadFile(Problem(f"page {number}", "its content is damaged"))
    return parts, left


def _opened(data: bytes) -> Any:
    from pypdf import PdfReader  # slow

    if b"%PDF-" not in data[:_ENDS]:
        raise BadFile(Problem("", "this is not a PDF"))
    if b"%%EOF" not in data[-_ENDS:]:
        raise BadFile(Problem("", "the PDF is cut short: its end is missing"))
    reader = PdfReader(BytesIO(data))
    if reader.is_encrypted:
        raise BadFile(Problem("", "the PDF is encrypted", "save it without a password"))
    return reader


@contextmanager
def _listening() -> Iterator[list[str]]:
    """Keep pypdf's warnings off the screen, and collect them."""
    heard: list[str] = []

    class Ear(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            heard.append(record.name)

    logger, ear = logging.getLogger("pypdf"), Ear()
    before = logger.propagate, logger.handlers, logger.level
    logger.propagate, logger.handlers = False, [ear]
    logger.setLevel(logging.WARNING)
    try:
        yield heard
    finally:
        logger.propagate, logger.handlers = before[:2]
        logger.setLevel(before[2])


def _marked(page: Any, budget: int) -> tuple[list[MarkedPart], int]:
    """The parts of a page in the order of its content, and what is left of the work allowed."""
    unit = entry(page, "/UserUnit")
    scale = POINT * (1.0 if unit is None else numbers([unit], 1)[0])
    if not (math.isfinite(scale) and scale > 0):
        raise Broken("its UserUnit is not a size")
    content = entry(page, "/Contents")
    if content is None and "/Contents" in page:
        raise Broken("its content is missing from the file")
    walk = Walk(_operations, Matrix.scale(scale, scale), budget)
    if content is not None:
        walk.follow(_operations(content), entry(page, "/Resources"))
    return walk.parts, walk.budget


def _operations(stream: Any) -> Operations:
    from pypdf.generic import ContentStream  # slow

    for piece in stream if isinstance(stream, list) else [stream]:
        _check_whole(piece.get_object())
    return ContentStream(stream, None).operations


def _check_whole(stream: Any) -> None:
    """Refuse a deflated stream that ends early or fails its checksum: pypdf returns what it can of either."""
    from pypdf.generic import StreamObject  # slow

    if not isinstance(stream, StreamObject):
        raise Broken("its content is no stream")
    if entry(stream, "/Filter") in ("/FlateDecode", ["/FlateDecode"]):
        inflate = zlib.decompressobj()
        inflate.decompress(StreamObject.get_data(stream), MOST_CONTENT)
        if not inflate.eof:
            raise Broken("its content is cut short, or endless")


def _sized(page: int, marked: list[MarkedPart]) -> list[MeasuredPart]:
    stretch = Size(_stretch(marked, "bar across"), _stretch(marked, "bar along"))
    return [_part(page, part, stretch) for part in marked]


def _stretch(marked: list[MarkedPart], bar: str) -> float:
    """What the page's bar is multiplied by; 1 on a page without it. Raises Broken for a bar without length."""
    for part in marked:
        if part.name == bar:
            length = max(extent(part.path, (1.0, 0.0)))
            if not (math.isfinite(length) and length > 0):
                raise Broken(f"its {bar} has no length")
            return length / BAR
    return 1.0


def _part(page: int, part: MarkedPart, stretch: Size) -> MeasuredPart:
    path, matrix = part.path, part.matrix
    undo = Matrix.scale(1 / stretch.width, 1 / stretch.height)
    on_plate = path.changed(undo)
    points, plate_points = tuple(path.points), tuple(on_plate.points)
    paper = extent(path, (matrix.a, matrix.b))
    plate = extent(on_plate, (matrix.a * undo.a, matrix.b * undo.d))
    if not is_finite((*points, *plate_points, paper, plate)):
        raise Broken(f"the part {part.name!r} lies off any paper")
    window = bounds(map(undo.at, part.window.corners)) if part.window else None
    return MeasuredPart(page, part.plate, part.name, part.line, points, path.closed, plate_points, *plate, *paper, window)
