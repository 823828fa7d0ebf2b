"""What covers a case: one piece round both boards, or a cloth spine with side papers, or corners of cloth as well.

A case lies open as it is made, inside up: the front board at the left, unless the book opens the other way. Side
papers and corners are drawn in the frame of one board first, its lower left corner at the origin and its spine edge at
x = 0, as a back board lies; a front piece is that turned over.

A corner of cloth has a slanted edge that stands `cloth` from the board's corner, square to itself (Bean & Brodhead
1918, handbook TI23), and runs on straight over the turn-ins. The side paper ends on a line parallel to it, nearer to
the corner by the overlap. Both go round the board's edge by the same fold, so the overlap stays what it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bookplates.geometry import Box, Outline, Point, Size, bounds, from_lower_left, mirrored, rectangle
from bookplates.kinds import corner
from bookplates.kinds.block import Opening
from bookplates.kinds.boards import Face, covering_all_round, spine_at_right
from bookplates.kinds.keys import TurnIns
from bookplates.lengths import close


@dataclass(frozen=True, slots=True)
class Case:
    """A case laid open. Lengths in mm.

    Attributes:
        board: width and height of a board.
        apart: the boards' back edges from each other.
        spine: width of the stiff spine piece between them; None where there is none.
        opening: on which side the spine is, seen from the front.
        turn_in: what is folded over.
        mitre: board corner to the cut, square to it.
        cloth: of the spine cloth, on each board; the width of a corner, too.
        overlap: how far a side paper lies over the cloth.
    """

    board: Size
    apart: float
    spine: float | None
    opening: Opening
    turn_in: TurnIns
    mitre: float
    cloth: float
    overlap: float

    @property
    def tall(self) -> float:
        """Height of whatever is turned in at head and tail, mm."""
        return self.board.height + self.turn_in.head + self.turn_in.tail

    @property
    def laid_open(self) -> Size:
        """Both boards and what is between them, mm."""
        return Size(2 * self.board.width + self.apart, self.board.height)

    @property
    def spine_cloth(self) -> Size:
        """The cloth down the spine, mm (Vaughn, fifth grade; handbook TI2)."""
        return Size(self.apart + 2 * self.cloth, self.tall)

    @property
    def side(self) -> Size:
        """The part of a board that a side paper lies on, mm (Vaughn, fifth and seventh grade; handbook TI3)."""
        return Size(self.board.width - self.cloth + self.overlap, self.board.height)

    @property
    def side_edge(self) -> float:
        """From a board's spine edge to where its side paper begins: the cloth that shows, mm."""
        return self.cloth - self.overlap

    @property
    def leg(self) -> float:
        """Of a corner along the board's edge, mm."""
        return corner.ROOT_2 * self.cloth

    @property
    def one_corner(self) -> bool:
        """Whether corners at head and tail are cut alike."""
        return close(self.turn_in.head, self.turn_in.tail)

    def board_at(self, face: Face, middle: float) -> Box:
        """A board's place on a drawing with the middle of the spine at x = `middle`, mm."""
        tail, half = self.turn_in.tail, self.apart / 2
        left = middle - half - self.board.width if spine_at_right(face, self.opening) else middle + half
        return Box(left, tail, left + self.board.width, tail + self.board.height)

    def spine_at(self, middle: float) -> Box | None:
        """The spine piece's place on such a drawing, mm."""
        if self.spine is None:
            return None
        tail = self.turn_in.tail
        return Box(middle - self.spine / 2, tail, middle + self.spine / 2, tail + self.board.height)


@dataclass(frozen=True, slots=True)
class Cut:
    """A piece as it is cut, its lower left at x = 0 and y = 0, and the board's place on it, which may go beyond it, mm."""

    paper: Outline
    board: Box


def covering(case: Case) -> Outline:
    """The one piece that goes round both boards: the case laid open, turned in on four sides."""
    return covering_all_round(case.laid_open, case.turn_in, case.mitre)


def side(case: Case, face: Face, *, corners: bool) -> Cut:
    """The side paper of a board; with cloth `corners` it ends on a slant where it lies over them."""
    return _settled(case, face, _side_over_corners(case) if corners else _side(case))


def _side(case: Case) -> Outline:
    """In the frame of the board, mm."""
    return tuple((x + case.side_edge, y) for x, y in corner.covering(case.side, case.turn_in, case.mitre))


def _side_over_corners(case: Case) -> Outline:
    """In the frame of the board, mm. In a small board the slants may meet before they meet the paper's edges."""
    across, up = case.board
    back = corner.ROOT_2 * case.side_edge  # along an edge of the board, from its corner to the slant
    turn = case.turn_in
    paper = rectangle(case.side_edge, -turn.tail, case.side.width + turn.fore_edge, case.tall)
    paper = _below_slant(paper, 1.0, across + up - back)
    return _below_slant(paper, -1.0, across - back)


def _below_slant(points: Outline, way: float, most: float) -> Outline:
    """A convex outline cut off along ``x + way y = most``, mm: what lies beyond is left out."""
    kept: list[Point] = []
    for p, q in zip(points, (*points[1:], points[0]), strict=True):
        beyond_p, beyond_q = (x + way * y - most for x, y in (p, q))
        if beyond_p <= 0:
            kept.append(p)
        if beyond_p * beyond_q < 0:
            share = beyond_p / (beyond_p - beyond_q)
            kept.append((p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])))
    return tuple(kept)


def corner_cloth(case: Case, end: str) -> Cut:
    """The cloth on the head or the tail corner of the front board: two edges turned in, a mitre, and the slanted edge."""
    head = _head_corner(case, case.turn_in.head if end == "head" else case.turn_in.tail)
    up = case.board.height
    return _settled(case, "front", head if end == "head" else tuple((x, up - y) for x, y in reversed(head)))


def _head_corner(case: Case, turn_in: float) -> Outline:
    """In the frame of the board, mm: turned in by `turn_in` at the board's upper edge."""
    across, up = case.board
    side, reach = case.turn_in.fore_edge, corner.ROOT_2 * case.mitre
    return (
        (across + side, up - case.leg - side),
        (across + side, up + reach - side),
        (across + reach - turn_in, up + turn_in),
        (across - case.leg - turn_in, up + turn_in),
    )


def side_slant(case: Case, end: str, cut: Cut) -> tuple[Point, Point]:
    """How far a side paper will lie over a corner of the front board: a line between the board's edges, as drawn, mm."""
    back, board = corner.ROOT_2 * case.side_edge, cut.board
    outer, way = (board.left, 1.0) if spine_at_right("front", case.opening) else (board.right, -1.0)
    y, down = (board.top, -1.0) if end == "head" else (board.bottom, 1.0)
    return (outer + way * back, y), (outer, y + down * back)


def _settled(case: Case, face: Face, points: Outline) -> Cut:
    """A piece in the frame of its board: turned over for a face with its spine edge at the right, moved to the origin."""
    turned = spine_at_right(face, case.opening)
    paper = mirrored(points, about=case.board.width / 2) if turned else from_lower_left(points)
    left, bottom, *_ = bounds(paper)
    board = Box(-left, -bottom, case.board.width - left, case.board.height - bottom)
    return Cut(_moved(paper, -left, -bottom), board)


def _moved(points: Sequence[Point], x: float, y: float) -> Outline:
    return tuple((px + x, py + y) for px, py in points)
