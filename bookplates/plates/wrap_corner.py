"""The wrap outline of a corner of cloth, laid under one corner of a board. Lengths in mm."""

from __future__ import annotations

import math

from bookplates.book.record import Plan
from bookplates.geometry import Box, Point, bounds
from bookplates.kinds.cautions import AWL_AGAIN, KNIFE_AGAIN
from bookplates.kinds.parts import Layout
from bookplates.lengths import both
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import dimension, overall, slanted_dimension
from bookplates.plates.drawing import Drawing
from bookplates.plates.notes import edge_word, finished, notes
from bookplates.plates.pad import Pad
from bookplates.plates.words import Where, cut_count, cut_piece, height_of, mm_and_inches, size_of, width_of
from bookplates.plates.wrap_dimensions import mitre, say_mitres, square_to

PLACE = "board corner place"


def is_corner(layout: Layout) -> bool:
    """Whether a layout shows the place of one corner of a board only."""
    return any(part.name == PLACE for part in layout.parts)


def draw_corner(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    """A corner with its turn-ins, its mitre and its width."""
    pad, paper = Pad(layout, setup), cut_piece(layout)
    along, at, up = layout.part(PLACE).points
    place = bounds((along, at, up))
    overall(pad, paper.box, width_of(paper.box, plan), height_of(paper.box, plan))
    _edges(pad, plan, paper.box, place, at)
    _width(pad, plan, layout, at)
    mitre(pad, plan, layout, place)
    say_mitres(pad, layout)
    ends = "head" if at[1] > place.middle[1] else "tail"
    name = f"{ends} edge" if paper.name.startswith(ends) else "head or tail edge"
    edge_word(pad, name, "above" if ends == "head" else "below", place)
    edge_word(pad, "fore-edge", "left" if at[0] < place.middle[0] else "right", place)
    facts = (f"{cut_count(layout, plan.piece(paper.name).material)} WRONG SIDE OF THE CLOTH UP.", size_of(paper, plan))
    notes(pad, paper.name.capitalize(), facts)
    notes(pad, "How to use it", (*layout.use, KNIFE_AGAIN, AWL_AGAIN))
    return finished(pad, layout.plate, f"{layout.plate}, {layout.title}")


def _edges(pad: Pad, plan: Plan, paper: Box, place: Box, at: Point) -> None:
    """The two turn-ins, and how far the cloth reaches along the board's edges."""
    left, high = at[0] < place.middle[0], at[1] > place.middle[1]
    upright: Where = "left" if left else "right"
    level: Where = "above" if high else "below"
    x, y = (paper.left if left else paper.right), (paper.top if high else paper.bottom)
    for one, other, what in ((x, at[0], "turn-in"), (place.left, place.right, "along the board")):
        dimension(pad, (one, y), (other, y), mm_and_inches(abs(other - one), plan, what), level)
    for one, other, what in ((y, at[1], "turn-in"), (place.bottom, place.top, "along the board")):
        dimension(pad, (x, one), (x, other), mm_and_inches(abs(other - one), plan, what), upright)


def _width(pad: Pad, plan: Plan, layout: Layout, at: Point) -> None:
    """From the board's corner to the slanted edge, square to it."""
    along, _, up = layout.part(PLACE).points
    foot = square_to(at, along, up)
    slanted_dimension(pad, at, foot, f"width {both(math.dist(at, foot), plan.units)}", bounds((along, at, up)).grown(-1.0))
