"""A printer page before it is PDF: drawings and where they stand, in mm from the page's lower left corner."""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.geometry import TRUE, Box, Matrix, Size
from bookplates.plates.drawing import Drawing


@dataclass(frozen=True, slots=True)
class Placement:
    """A drawing and the turn and move that put it on the page, mm; what lies outside `clip`, on the page, is not seen."""

    drawing: Drawing
    matrix: Matrix
    clip: Box | None = None


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page. `correction` stretches everything on it, across and along, to undo the printer's error."""

    size: Size
    title: str
    placements: tuple[Placement, ...]
    correction: Size = TRUE


@dataclass(frozen=True, slots=True)
class Pack:
    """All pages of a book and what the document says of itself.

    Attributes:
        title: the book's title.
        maker: who makes it, or empty.
        pages: in printing order.
        spec: the text the pack was made from, byte for byte.
        numbers: of the pages, where they are not all of the pack from 1.
        excerpt: which part of the pack this is, in words; empty where it is all of it.
    """

    title: str
    maker: str
    pages: tuple[Sheet, ...]
    spec: bytes
    numbers: tuple[int, ...] = ()
    excerpt: str = ""
