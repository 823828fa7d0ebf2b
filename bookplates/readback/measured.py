"""What was found in a PDF, in mm."""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.geometry import Box, Outline


@dataclass(frozen=True, slots=True)
class MeasuredPart:
    """One outline, line or hole, as marked in the PDF. All lengths in mm.

    Attributes:
        page: counted from 1.
        plate, name, line: as the PDF names them.
        points: where its lines and curves meet, as printed, from the origin of the page's unrotated user space,
            x to the right and y up. A hole has four.
        closed: whether it ends where it began.
        plate_points: the same with the error that the page's own scale bars show divided out.
        width, height: along the part's own axes, as on the plate: a plate turned on the page keeps its sizes.
        paper_width, paper_height: the same as printed.
        window: the rectangle outside which the page does not show it, where `plate_points` are; None where all is shown.
    """

    page: int
    plate: str
    name: str
    line: str
    points: Outline
    closed: bool
    plate_points: Outline
    width: float
    height: float
    paper_width: float
    paper_height: float
    window: Box | None = None


@dataclass(frozen=True, slots=True)
class Measured:
    """A whole PDF: how many pages it has, and its parts in the order in which they are drawn."""

    pages: int
    parts: tuple[MeasuredPart, ...]

    @property
    def has_parts(self) -> bool:
        """Whether anything in the PDF names itself as a part."""
        return bool(self.parts)


def as_json(measured: Measured) -> dict[str, object]:
    """The parts and their sizes as `measure --json` prints them, mm, rounded to a millionth."""
    return {"pages": measured.pages, "parts": [_entry(part) for part in measured.parts]}


def _entry(part: MeasuredPart) -> dict[str, object]:
    return {
        "page": part.page,
        "plate": part.plate,
        "name": part.name,
        "line": part.line,
        "width": round(part.width, 6),
        "height": round(part.height, 6),
        "paper_width": round(part.paper_width, 6),
        "paper_height": round(part.paper_height, 6),
    }
