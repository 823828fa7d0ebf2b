"""The parts of a pack as an outside reader finds them: pdfminer, the interpreter beneath pdfplumber.

It follows the content, its matrices and its marked content by itself; nothing of the program is used.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pdfminer.pdfdevice import PDFDevice
from pdfminer.pdfinterp import PDFPageInterpreter, PDFResourceManager
from pdfminer.pdfpage import PDFPage
from pdfminer.psparser import literal_name
from pdfminer.utils import apply_matrix_pt

MM = 25.4 / 72

Point = tuple[float, float]


@dataclass(frozen=True)
class Drawn:
    """One marked part: where it is, what it is called, and where its lines and curves meet, mm from the page's lower left."""

    page: int
    plate: str
    name: str
    line: str
    points: tuple[Point, ...]

    @property
    def left(self) -> float:
        return min(x for x, _ in self.points)

    @property
    def low(self) -> float:
        return min(y for _, y in self.points)

    @property
    def size(self) -> tuple[float, float]:
        xs, ys = zip(*self.points, strict=True)
        return max(xs) - min(xs), max(ys) - min(ys)

    def measures(self, width: float, height: float, within: float = 0.01) -> bool:
        """Whether it is so large, as it stands or turned a quarter."""
        return any(
            abs(across - width) < within and abs(along - height) < within for across, along in (self.size, self.size[::-1])
        )


class _Listener(PDFDevice):  # type: ignore[misc]
    def __init__(self, manager: PDFResourceManager) -> None:
        super().__init__(manager)
        self.page = 0
        self.parts: list[Drawn] = []
        self._open: list[dict[str, str] | None] = []

    def begin_tag(self, tag: Any, props: Any = None) -> None:
        named = literal_name(tag) == "Part"
        self._open.append({key: _text(value) for key, value in props.items()} if named else None)

    def end_tag(self) -> None:
        self._open.pop()

    def paint_path(self, graphicstate: Any, stroke: bool, fill: bool, evenodd: bool, path: Any) -> None:
        marked = next((names for names in reversed(self._open) if names is not None), None)
        if marked is not None:
            ends = [step[-2:] for step in path if step[0] != "h"]
            points = tuple((x * MM, y * MM) for x, y in (apply_matrix_pt(self.ctm, end) for end in ends))
            self.parts.append(Drawn(self.page, marked["Plate"], marked["Name"], marked["Line"], points))


def _text(value: Any) -> str:
    return value.decode("latin-1") if isinstance(value, bytes) else str(literal_name(value))


def parts_in(data: bytes) -> tuple[Drawn, ...]:
    """Every part of a PDF, in the order in which it is drawn."""
    manager = PDFResourceManager()
    listener = _Listener(manager)
    interpreter = PDFPageInterpreter(manager, listener)
    for number, page in enumerate(PDFPage.get_pages(io.BytesIO(data)), 1):
        listener.page = number
        interpreter.process_page(page)
    return tuple(listener.parts)


def called(parts: tuple[Drawn, ...], plate: str, name: str, line: str = "cut") -> Iterator[Drawn]:
    """Those of one plate, name and line."""
    return (part for part in parts if (part.plate, part.name, part.line) == (plate, name, line))
