"""A board in two pieces, side by side under one covering: a strip that stays at the spine, and the main board that swings.

    spine edge | hinge strip | hinge gap | main board | fore-edge

Pieces are seen with the inside up, as in `kinds.boards`: a front piece has its spine edge at the right. All in mm.
Sources: Bean & Brodhead, Problem VIII-A (handbook JT7, TI12); Buxton & Curran no. 413 (JT8).
"""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.geometry import Box, Size, rectangle
from bookplates.kinds.block import Opening
from bookplates.kinds.boards import (
    FACES,
    RECTANGLE_FIRST,
    Face,
    board_layout,
    covering_all_round,
    inset_lining_layouts,
    mitre_gauge_layout,
    pricks,
    spine_at_right,
    square_corners,
)
from bookplates.kinds.checks import LINING_TO_SPARE
from bookplates.kinds.keys import INCH, TurnIns
from bookplates.kinds.parts import Layout, Piece, outline

LAP = INCH / 2
"""How far the inner strip lies on the main board (handbook TI12), mm."""


@dataclass(frozen=True, slots=True)
class Hinged:
    """Two covers of two pieces each.

    Attributes:
        whole: spine edge to fore-edge, and height.
        strip, gap: width of the hinge strip, and from it to the main board.
        turn_in: of the covering; the spine side takes the one of the fore-edge.
        mitre: board corner to the cut.
        margin: main board showing round its lining.
    """

    whole: Size
    strip: float
    gap: float
    turn_in: TurnIns
    mitre: float
    margin: float

    @property
    def board(self) -> Size:
        """Width and height of the main board; its width is not above 0 where the strip leaves none."""
        return Size(self.whole.width - self.strip - self.gap, self.whole.height)

    @property
    def lining(self) -> Size:
        """Of the lining of a main board, the same margin on all four sides."""
        return Size(self.board.width - 2 * self.margin, self.board.height - 2 * self.margin)

    @property
    def inner_strip(self) -> Size:
        """Of the paper over the inside of strip and gap, which lies on the main board far enough for the lining to cover it."""
        lap = min(max(LAP, self.margin + LINING_TO_SPARE), self.board.width - self.margin)
        return Size(self.strip - self.margin + self.gap + lap, self.whole.height - 2 * self.margin)

    def places(self, face: Face, opening: Opening) -> dict[str, Box]:
        """Where main board and strip lie on their covering, by name."""
        left, foot = self.turn_in.fore_edge, self.turn_in.tail
        right, top = left + self.whole.width, foot + self.whole.height
        if spine_at_right(face, opening):
            board = Box(left, foot, left + self.board.width, top)
            strip = Box(right - self.strip, foot, right, top)
        else:
            strip = Box(left, foot, left + self.strip, top)
            board = Box(right - self.board.width, foot, right, top)
        return {f"{face} board": board, f"{face} hinge strip": strip}

    def pieces(self) -> tuple[Piece, ...]:
        """All that two covers are made of."""
        board, lining, inner = (rectangle(0, 0, *size) for size in (self.board, self.lining, self.inner_strip))
        strip = rectangle(0, 0, self.strip, self.whole.height)
        paper = covering_all_round(self.whole, self.turn_in, self.mitre)
        return (
            *(Piece(f"{face} board", "board", 1, board, "head to tail") for face in FACES),
            Piece("hinge strip", "board", 2, strip, "head to tail"),
            *(Piece(f"{face} covering", "cover paper", 1, paper, "head to tail") for face in FACES),
            Piece("inner strip", "cover paper", 2, inner, "head to tail"),
            *(Piece(f"{face} lining", "lining paper", 1, lining, "head to tail") for face in FACES),
        )

    def layouts(self, opening: Opening) -> tuple[Layout, ...]:
        """Board and strip, a wrap outline for each cover, the mitre gauge, the lining with its margin gauge."""
        return (
            board_layout(self.board),
            self._strip_layout(),
            *(self._wrap(face, opening) for face in FACES),
            mitre_gauge_layout(self.mitre),
            *inset_lining_layouts(self.board, self.lining, self.margin),
        )

    def _strip_layout(self) -> Layout:
        strip = outline("hinge strip", "cut", rectangle(0, 0, self.strip, self.whole.height))
        return Layout("board outline", "hinge strip", (strip,), copies=2, use=STRIP_USE)

    def _wrap(self, face: Face, opening: Opening) -> Layout:
        paper = covering_all_round(self.whole, self.turn_in, self.mitre)
        places = self.places(face, opening)
        parts = (
            outline(f"{face} covering", "cut", paper),
            *square_corners(face, paper),
            *(outline(f"{name} place", "place", place.corners) for name, place in places.items()),
            *(mark for name, place in places.items() for mark in pricks(name, place)),
        )
        return Layout("wrap outline", face, parts, use=WRAP_USE)


STRIP_USE = (
    "It stays at the spine, and the holes go through it. Either side up: both strips are alike.",
    "Lay this sheet on the board, the grain arrow along the board's grain.",
    "Prick through the four corners, take the sheet off, and rule from prick to prick. The middle of the line is the size.",
)

WRAP_USE = (
    "The dashed lines are the places of the board and of the hinge strip. Between them lies the hinge gap, which stays soft.",
    "Lay this sheet, printed side up, on the wrong side of the paper.",
    "Prick through the corners of board and strip, the small circles.",
    *RECTANGLE_FIRST,
    "Turned over like a page it serves for the other cover; turned round it does not.",
)
