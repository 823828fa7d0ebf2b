"""The plan: every size of a book as numbers, complete and inert. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.errors import Problem
from bookplates.geometry import Point, Size
from bookplates.kinds.block import Gathered, Opening
from bookplates.kinds.cover import Cover, TapeSizes
from bookplates.kinds.parts import Grain, Layout, Piece
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.thread import ThreadPath
from bookplates.lengths import Units

__all__ = ["Cover", "Default", "Plan", "Sewing", "TapeSizes", "TextBlock"]


@dataclass(frozen=True, slots=True)
class TextBlock:
    """The leaves, sewn. Widths run from the outermost fold, heights along the spine, mm.

    Attributes:
        leaf_width, leaf_height: of the outermost leaf, untrimmed; the height is the measured one where given.
        block_width: outermost fold to fore-edge as it will be in the book, measured where given.
        folios, leaves, pages: totals, endpapers not counted.
        sections, folios_per_section: how the folios are shared out.
        caliper: of one sheet.
        section_thickness: of the thickest section at its fore-edge.
        thickness: of the whole block, measured where given.
        creep: how far the innermost leaf stands out.
        fore_edge_trim: what is cut off the innermost leaf.
        grain: "head to tail" or "across".
        sheets, sheet, format: how the text paper is bought and divided; None where the leaf was given.
        measured: which of "width", "height", "thickness" a ruler found; the others are computed.
        gathered: how the leaves hang together.
        endleaves: leaves of endpapers, counted in the thickness only.
        sheet_grain: which side of the sheet the grain follows, "long" or "short"; None where only the leaf is known.
        cut_height: of a leaf as its paper is cut, whatever a ruler found later.
    """

    leaf_width: float
    leaf_height: float
    block_width: float
    folios: int
    leaves: int
    pages: int
    sections: int
    folios_per_section: tuple[int, ...]
    caliper: float
    section_thickness: float
    thickness: float
    creep: float
    fore_edge_trim: float
    grain: Grain
    sheets: int | None
    sheet: Size | None
    format: str | None
    measured: tuple[str, ...]
    gathered: Gathered = "nested"
    endleaves: int = 0
    sheet_grain: str | None = None
    cut_height: float | None = None


@dataclass(frozen=True, slots=True)
class Sewing:
    """Where and how it is sewn.

    Attributes:
        pattern: its key in the spec; `called` says it in words, as printed.
        stations: from the head of the leaf.
        cover_stations: from the head of the cover.
        holes: for side-sewn books, x from the spine edge, y from the head; else empty.
        hole: diameter the hole is drawn.
        thread: its thickness.
        thread_end: left at each end.
        thread_length: as computed; `thread_to_cut` has the learner's quarter more.
        punching: how many folios are pierced at a time, lot by lot, for each section.
        supports: sewing tapes on the spine, upper and lower edge of each from the head of the leaf.
        path: the sewing leg by leg.
    """

    pattern: str
    called: str
    stations: tuple[float, ...]
    cover_stations: tuple[float, ...]
    holes: tuple[Point, ...]
    hole: float
    thread: float
    thread_end: float
    thread_length: float
    thread_to_cut: float
    punching: tuple[tuple[int, ...], ...]
    path: ThreadPath
    supports: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Default:
    """A key that was not written, and the value used for it, in words."""

    where: str
    value: str


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything the templates show, as numbers.

    Attributes:
        title, maker, units, opening: as in the spec; `maker` may be empty.
        pieces: what to cut for one book.
        layouts: the true-scale shapes of each template.
        provisional: names of sizes that hang on the thickness or the trimmed width, to be measured first.
        defaults: keys that were not written.
        warnings: what the trade would shake its head at.
        work: the whole work in its order, with the names of stages that all books share.
        laid_in: how block and cover lie to each other while they are sewn, sentence by sentence.
        sides: what the two sides of the sewing are called, in a sentence.
    """

    title: str
    maker: str
    units: Units
    opening: Opening
    text_block: TextBlock
    cover: Cover
    pieces: tuple[Piece, ...]
    layouts: tuple[Layout, ...]
    sewing: Sewing
    tape: TapeSizes | None
    provisional: tuple[str, ...]
    defaults: tuple[Default, ...]
    warnings: tuple[Problem, ...]
    work: tuple[Step | Stage, ...] = ()
    laid_in: tuple[str, ...] = ()
    sides: str = ""

    def piece(self, name: str) -> Piece:
        """The piece of that name. Raises KeyError where there is none."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(name)

    def layouts_of(self, plate: str) -> tuple[Layout, ...]:
        """The layouts that share a plate, in order."""
        return tuple(layout for layout in self.layouts if layout.plate == plate)
