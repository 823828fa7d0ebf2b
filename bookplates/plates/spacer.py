"""The spacer that holds two boards, or a board and the spine piece, apart while they are laid."""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.kinds.cautions import GLUE_AGAIN, KNIFE_AGAIN
from bookplates.kinds.parts import Layout
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import dimension
from bookplates.plates.drawing import Drawing
from bookplates.plates.notes import finished, notes_or_name
from bookplates.plates.pad import Pad
from bookplates.plates.words import cut_count, cut_piece, height_of, mm_and_inches, of_board, width_of


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """One drawing for each spacer of the plan."""
    return tuple(_spacer(plan, setup, layout) for layout in plan.layouts_of("spacer"))


def _spacer(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    pad, box = Pad(layout, setup), cut_piece(layout).box
    apart = mm_and_inches(box.size.width, plan, layout.title or "boards apart")
    dimension(pad, (box.left, box.top), (box.right, box.top), apart, "above")
    dimension(pad, (box.left, box.bottom), (box.left, box.top), height_of(box, plan), "left")
    notes_or_name(pad, "Spacer", _use(plan, layout), box, (f"Spacer: {width_of(box, plan)}", "Spacer"))
    return finished(pad, "spacer", "spacer")


def _use(plan: Plan, layout: Layout) -> tuple[str, ...]:
    return (cut_count(layout, of_board(plan, "board offcuts")), *(layout.use or UNDER_TAPE), KNIFE_AGAIN, GLUE_AGAIN)


UNDER_TAPE = (
    "Made twice: glue this outline on an offcut, printed side up, and cut; mark the second from the first.",
    "Cover the face towards the tape with the tape's own backing paper, its dull side glued down, its slick side out.",
    "One goes into the gap from the head, one from the tail. Their outer ends stand out, to draw them out by.",
    "No head or tail: either lies either way round.",
)
"""How a spacer is used where a tape comes over it; where none does, its layout says how."""
