"""The board outline: pricked at its corners and ruled between; turned over it serves for the other board.

A layout that is used otherwise says so: cards of a soft cover, strips that are alike.
"""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.kinds.boards import FACES
from bookplates.kinds.cautions import AWL_AGAIN, CLASS_KNIFE, KNIFE
from bookplates.kinds.parts import Layout, Part
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import overall
from bookplates.plates.drawing import Drawing
from bookplates.plates.marks import ARM, cross
from bookplates.plates.notes import finished, head_and_tail, notes, show_grain, spine_and_fore_edge
from bookplates.plates.pad import Pad
from bookplates.plates.words import cut_count, cut_piece, height_of, of_board, size_of, width_of

USE = (
    "THIS SIDE UP: the inside of the front board. It serves for both boards: turned over like a page it is the back board.",
    "Lay this sheet on the board, printed side up, the grain arrow along the board's grain.",
    "Prick through the four corners, take the sheet off, and rule from prick to prick. The middle of the line is the size.",
)
CAUTIONS = (f"{KNIFE} {CLASS_KNIFE}", AWL_AGAIN)


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """One drawing for each board outline of the plan."""
    return tuple(_board(plan, setup, layout) for layout in plan.layouts_of("board outline"))


def _board(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    board, pad = cut_piece(layout), Pad(layout, setup, beyond=ARM)
    pad.put(*(stroke for corner in board.points for stroke in cross(corner, ARM, "cut")))
    box = board.box
    overall(pad, box, width_of(box, plan), height_of(box, plan))
    head_and_tail(pad, box)
    if board.name.startswith(FACES):
        spine_and_fore_edge(pad, box, board, plan.opening)
    show_grain(pad, plan.piece(board.name).grain, box)
    side, *how = layout.use or USE
    notes(pad, _named(board), _facts(plan, layout, board, side), box)
    notes(pad, "How to cut it", (*how, *CAUTIONS), box)
    return finished(pad, "board outline", f"board outline, {layout.title}" if layout.title else "board outline")


def _named(board: Part) -> str:
    """What the piece is called; a soft cover's covering is the cover itself."""
    return (
        f"{board.name.removesuffix(' covering').capitalize()} cover"
        if board.name.endswith("covering")
        else board.name.capitalize()
    )


def _facts(plan: Plan, layout: Layout, board: Part, side: str) -> tuple[str, ...]:
    """What to cut; `side` says which side is up, and for what it serves."""
    return cut_count(layout, of_board(plan, plan.piece(board.name).material)), size_of(board, plan), side
