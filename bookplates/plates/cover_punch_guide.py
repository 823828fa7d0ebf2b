"""The cover punch guide: a card strip laid on the spine of a cover or the spine edge of a board, a row of stations a fold."""

from __future__ import annotations

from collections.abc import Sequence

from bookplates.book.record import Plan
from bookplates.geometry import Box, around
from bookplates.kinds.cautions import AWL, AWL_CLAMPED, GLUE_AGAIN, KNIFE_AGAIN
from bookplates.kinds.parts import Layout, Part
from bookplates.lengths import both
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import dimension, overall
from bookplates.plates.drawing import Drawing
from bookplates.plates.marks import NORMAL, SMALL, head_sign, word
from bookplates.plates.notes import edge_word, finished, name_strip, notes
from bookplates.plates.pad import Pad, box_round, spots
from bookplates.plates.stations import number_holes, number_rows, number_stations
from bookplates.plates.words import cut_count, cut_piece, height_of, hole_size, mm_and_inches, size_of, width_of

FROM_CENTRE = 2.4
NUMBERS = 7.0
"""What the numbers take on either side of the rows, mm."""

SIGN, SIGN_CLEAR = 1.2, 0.3
"""Width of the triangle that marks the head of a strip too narrow for the word, and its least distance from lines, mm."""

USE = (
    "INSIDE OF THE COVER UP.",
    "Lay the cover open, inside up, and drop the strip into the groove between the boards: the dashed lines are their edges.",
    "Head to head, its ends level with the boards. Pierce straight down into foam.",
)
"""How a strip is used that does not say so itself: the first of them says which side is up."""


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """One drawing for each cover punch guide of the plan."""
    return tuple(_guide(plan, setup, layout) for layout in plan.layouts_of("cover punch guide"))


def _guide(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    pad, box, rows = Pad(layout, setup), cut_piece(layout).box, _rows(layout)
    side, *how = layout.use or USE
    awl = AWL_CLAMPED if plan.sewing.holes else AWL
    _number(pad, plan, rows)
    _name_ends(pad, rows, box)
    _name_sides(pad, layout, rows, box)
    _inset(pad, plan, layout, rows[0])
    name_strip(pad, _flank(rows, box), (f"Cover punch guide: {side.rstrip('.').lower()}", "Cover punch guide", "inside up"))
    overall(pad, box, width_of(box, plan), height_of(box, plan))
    notes(pad, "Cover punch guide", (*_facts(plan, layout, len(rows), side), *how, awl, KNIFE_AGAIN, GLUE_AGAIN))
    return finished(pad, "cover punch guide", "cover punch guide")


def _rows(layout: Layout) -> list[tuple[Part, ...]]:
    """The stations, row by row, the front section's first, as the plan has them."""
    rows: dict[str, list[Part]] = {}
    for part in layout.parts:
        section, station, _ = part.name.rpartition("station ")
        if station:
            rows.setdefault(section, []).append(part)
    return [tuple(row) for row in rows.values()]


def _number(pad: Pad, plan: Plan, rows: Sequence[tuple[Part, ...]]) -> None:
    """The stations numbered, one number a level: rows lie too near to each other for more."""
    distances = tuple(both(place, plan.units) for place in plan.sewing.cover_stations)
    if len(rows) == 1 and len(rows[0]) > len(distances):  # holes beside those in line
        number_holes(pad, rows[0], FROM_CENTRE, pad.core.top, plan.units)
    elif len(rows) == 1:
        number_stations(pad, rows[0], FROM_CENTRE, distances)
    else:
        number_rows(pad, rows, FROM_CENTRE, distances)


def _name_ends(pad: Pad, rows: Sequence[tuple[Part, ...]], box: Box) -> None:
    """HEAD and TAIL beside the stations within the strip, so that it keeps them when it is cut out.

    A strip too narrow for the words has them beyond its ends, and keeps a black triangle at its head.
    """
    holes = around(station.box for row in rows for station in row)
    inner = max(row[0].box.middle[0] for row in rows)
    above, below = Box(inner, holes.top, box.right, box.top), Box(inner, box.bottom, box.right, holes.bottom)
    if not _settled(pad, "HEAD", above):
        sign = (head_sign(SIGN),)
        pad.settle(sign, spots(above, box_round(sign).size, (inner, box.top)), SIGN_CLEAR)
        edge_word(pad, "HEAD", "above", box, bold=True)
    if not _settled(pad, "TAIL", below):
        edge_word(pad, "TAIL", "below", box)


def _settled(pad: Pad, text: str, room: Box) -> bool:
    """Whether a word that stands upright found room in its half of the strip."""
    sizes = (word(text, size, True, pad.upright) for size in (NORMAL, SMALL))
    return any(pad.settle(letters, spots(room, box_round(letters).size)) for letters in sizes)


def _name_sides(pad: Pad, layout: Layout, rows: Sequence[tuple[Part, ...]], box: Box) -> None:
    """FRONT and BACK where rows make the two sides differ, and the edge that goes to a board's spine edge."""
    for line in layout.named("spine edge place"):
        edge_word(pad, "spine edge", "left" if line.box.left < box.middle[0] else "right", box)
    if len(rows) > 1:
        at_left = rows[0][0].box.left < rows[-1][0].box.left
        edge_word(pad, "FRONT", "left" if at_left else "right", box, bold=True)
        edge_word(pad, "BACK", "right" if at_left else "left", box, bold=True)


def _flank(rows: Sequence[tuple[Part, ...]], box: Box) -> Box:
    """The wider part of the strip beside the numbers, or all of it where that is too narrow to write on."""
    across = [row[0].box.middle[0] for row in rows]
    left = Box(box.left, box.bottom, min(across) - NUMBERS, box.top)
    right = Box(max(across) + NUMBERS, box.bottom, box.right, box.top)
    flank = max(left, right, key=lambda room: round(room.size.width, 6))
    return flank if flank.size.width > NUMBERS else box


def _inset(pad: Pad, plan: Plan, layout: Layout, row: Sequence[Part]) -> None:
    """Dimension the row from the edge that is laid on a board's spine edge."""
    for line in layout.named("spine edge place"):
        edge, x, top = line.box.left, row[0].box.middle[0], line.box.top
        left, right = sorted((edge, x))
        dimension(pad, (left, top), (right, top), mm_and_inches(right - left, plan), "above")


def _facts(plan: Plan, layout: Layout, rows: int, side: str) -> tuple[str, ...]:
    stations, laid = len(layout.named("station ")), "board" if layout.named("spine edge place") else "cover"
    what = "holes" if plan.sewing.holes else "stations"
    counted = f"{rows} rows of {stations} {what}" if rows > 1 else f"{stations} {what}"
    several = "One row a section: section 1, the front one, is the row nearest to FRONT."
    return (
        f"{cut_count(layout, 'card')} {size_of(cut_piece(layout), plan)}. Glue it on card, then cut. {side}",
        f"{counted}, each with its distance from the head of the {laid}. {hole_size(plan, layout)}",
        *((several,) if rows > 1 else ()),
    )
