"""Sentences that several plates print: what is cut from what, and how large."""

from __future__ import annotations

from typing import Literal

from bookplates.book.record import Plan
from bookplates.geometry import Box
from bookplates.kinds.parts import Layout, Part
from bookplates.lengths import both, both_sizes, in_mm, told

Where = Literal["above", "below", "left", "right"]

THIN = 1.0
"""A card thinner than this is told in mm alone: nobody measures it in parts of an inch."""


def cut_piece(layout: Layout) -> Part:
    """The outline the template is made for: its first closed cut line. Raises LookupError where there is none."""
    for part in layout.parts:
        if part.line == "cut" and part.closed:
            return part
    raise LookupError(layout.plate)


def cut_count(layout: Layout, material: str) -> str:
    """How many to cut from what.

    >>> cut_count(Layout("spacer", "", (), 2), "board offcut")
    'Cut 2 for each book, from board offcut.'
    """
    each = " for each book," if layout.copies > 1 else ""  # of the template itself a page may hold several
    return f"Cut {layout.copies}{each} from {material}."


def of_board(plan: Plan, what: str) -> str:
    """What is cut from board, and how thick that is, in both units, where the cover has boards."""
    thick = plan.cover.board_thickness
    if thick is None:
        return what
    return f"{what} {in_mm(thick) if thick < THIN else told(thick, plan.units)} thick"


def hole_size(plan: Plan, layout: Layout) -> str:
    """How wide the holes of a guide are, which are drawn as they are pierced."""
    hole = layout.named("station ")[0]
    return f"The circles are as wide as the holes: {both(hole.box.size.width, plan.units)}."


def size_of(part: Part, plan: Plan) -> str:
    """Width and height of a part in both units."""
    return both_sizes(part.box.size, plan.units)


def width_of(box: Box, plan: Plan) -> str:
    """Width of a box in both units."""
    return both(box.size.width, plan.units)


def height_of(box: Box, plan: Plan) -> str:
    """Height of a box in both units."""
    return both(box.size.height, plan.units)


def mm_and_inches(mm: float, plan: Plan, what: str = "") -> str:
    """A length in both units, with what it is before it."""
    return f"{what} {both(mm, plan.units)}".strip()
