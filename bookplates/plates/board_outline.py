"""The board outline: pricked at its corners and ruled between; turned over it serves for the other board."""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.handout.cautions import AWL_AGAIN, CLASS_KNIFE, KNIFE
from bookplates.kinds.parts import Layout, Part
from bookplates.lengths import both
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import overall
from bookplates.plates.drawing import Drawing
from bookplates.plates.marks import cross
from bookplates.plates.notes import edge_word, finished, head_and_tail, notes, show_grain
from bookplates.plates.pad import Pad
from bookplates.plates.words import Where, cut_count, cut_piece, height_of, size_of, width_of

USE = (
    "Lay this sheet on the board, printed side up, the grain arrow along the board's grain.",
    "Prick through the four corners, take the sheet off, and rule from prick to prick. The middle of the line is the size.",
    f"{KNIFE} {CLASS_KNIFE}",
    AWL_AGAIN,
)

SIDES: dict[str, tuple[Where, Where]] = {"left": ("right", "left"), "right": ("left", "right")}
"""Where the spine edge and the fore-edge of a front board lie, inside up, by the side on which the book opens."""


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """One drawing for each board outline of the plan."""
    return tuple(_board(plan, setup, layout) for layout in plan.layouts_of("board outline"))


def _board(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    board, pad = cut_piece(layout), Pad(layout, setup.room.size)
    pad.put(*(stroke for corner in board.points for stroke in cross(corner)))
    box = board.box
    overall(pad, box, width_of(box, plan), height_of(box, plan))
    head_and_tail(pad, box)
    spine, fore_edge = SIDES[plan.opening]
    edge_word(pad, "spine edge", spine, box)
    edge_word(pad, "fore-edge", fore_edge, box)
    show_grain(pad, plan.piece(board.name).grain, box)
    notes(pad, board.name.capitalize(), _facts(plan, layout, board), box)
    notes(pad, "How to cut it", USE, box)
    return finished(pad, "board outline", "board outline")


def _facts(plan: Plan, layout: Layout, board: Part) -> tuple[str, ...]:
    thick = both(plan.cover.board_thickness, plan.units)
    return (
        cut_count(layout, f"{plan.piece(board.name).material} {thick} thick"),
        size_of(board, plan),
        "THIS SIDE UP: the inside of the front board. It serves for both boards: turned over like a page it is the back board.",
    )
