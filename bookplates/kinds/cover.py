"""The sizes of a cover, whatever its style. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """The cover, laid open. What a style has none of is None.

    Attributes:
        board_width, board_height, board_thickness: of each of its two boards, or of a wrapper's card its thickness.
        boards_apart: between the boards' back edges.
        spine_piece_width: of the stiff piece between the boards.
        gap: board to spine piece, or as the spec gave it.
        open_width, open_height: of the whole.
        joint: spine edge of the leaves to the back edge of the board.
        square_head, square_tail, square_fore_edge: how far a board stands beyond the leaves.
        closed_square: the fore-edge square that results when the tape follows the fold.
        turn_in_head, turn_in_tail, turn_in_fore_edge: what of the covering is folded over.
        mitre: board corner to the cut, square to it.
        corner_lap: width of the band in which two turn-ins overlap at a folded corner.
        lining_margin: board showing round the lining.
        join: how far turn-ins that are cut and made up by strips go under the lining, over the strips.
        cloth_on_board: cloth lying on each board, and overlap: how far a side paper lies over it.
        hinge, hinge_gap: width of the strip that stays at the spine, and from it to the main board.
        flap: what is turned in at a wrapper's fore-edge.
    """

    style: str
    board_width: float | None = None
    board_height: float | None = None
    board_thickness: float | None = None
    boards_apart: float | None = None
    spine_piece_width: float | None = None
    gap: float | None = None
    open_width: float
    open_height: float
    joint: float | None = None
    square_head: float
    square_tail: float
    square_fore_edge: float
    closed_square: float | None = None
    turn_in_head: float | None = None
    turn_in_tail: float | None = None
    turn_in_fore_edge: float | None = None
    mitre: float | None = None
    corner_lap: float | None = None
    lining_margin: float | None = None
    join: float | None = None
    cloth_on_board: float | None = None
    overlap: float | None = None
    hinge: float | None = None
    hinge_gap: float | None = None
    flap: float | None = None

    @property
    def in_two(self) -> bool:
        """Whether front and back are never joined, and so never laid open as one."""
        return self.board_width is not None and self.boards_apart is None


@dataclass(frozen=True, slots=True)
class TapeSizes:
    """The book tape over a taped spine.

    Attributes:
        width, length: as cut.
        on_board: how much of it lies on each board.
        guide_offset: its edge from the middle of the spine.
        inside: "full" or "turn-in".
        hang_head, hang_tail: how much hangs over at head and tail, to be folded in.
        overlap: how far the two ends overlap inside (full), or None.
        overlap_from_tail: tail edge of the board to the nearer end of that overlap, or None.
        lap: how far coverings that stop short of the spine edge reach under it, or None.
    """

    width: float
    length: float
    on_board: float
    guide_offset: float
    inside: str
    hang_head: float
    hang_tail: float
    overlap: float | None
    overlap_from_tail: float | None
    lap: float | None = None

    @property
    def short(self) -> float:
        """How far from the spine edge of the boards the coverings stop under the tape, mm; 0 where they reach it."""
        return 0.0 if self.lap is None else self.on_board - self.lap
