"""The cover punch guide: a card strip that drops into the groove between the boards."""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.geometry import Box
from bookplates.handout.cautions import AWL, GLUE_AGAIN, KNIFE_AGAIN
from bookplates.kinds.parts import Layout
from bookplates.lengths import both
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import overall
from bookplates.plates.drawing import Drawing
from bookplates.plates.marks import NORMAL, SMALL, head_sign, word
from bookplates.plates.notes import edge_word, finished, name_strip, notes
from bookplates.plates.pad import Pad, box_round, spots
from bookplates.plates.stations import number_stations
from bookplates.plates.words import cut_count, cut_piece, height_of, size_of, width_of

FROM_CENTRE = 2.4
SIGN, SIGN_CLEAR = 1.2, 0.3
"""Width of the triangle that marks the head of a strip too narrow for the word, and its least distance from lines, mm."""


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """One drawing for each cover punch guide of the plan."""
    return tuple(_guide(plan, setup, layout) for layout in plan.layouts_of("cover punch guide"))


def _guide(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    pad, box = Pad(layout, setup.room.size), cut_piece(layout).box
    distances = tuple(both(place, plan.units) for place in plan.sewing.cover_stations)
    number_stations(pad, layout.named("station "), FROM_CENTRE, distances)
    _name_ends(pad, layout, box)
    name_strip(pad, box, ("Cover punch guide, inside up", "Cover punch guide", "inside up"))
    overall(pad, box, width_of(box, plan), height_of(box, plan))
    notes(pad, "Cover punch guide", (*_facts(plan, layout), *_use()))
    return finished(pad, "cover punch guide", "cover punch guide")


def _name_ends(pad: Pad, layout: Layout, box: Box) -> None:
    """HEAD and TAIL beside the centre line within the strip, so that it keeps them when it is cut out.

    A strip too narrow for the words has them beyond its ends, and keeps a black triangle at its head.
    """
    heights = [station.box.middle[1] for station in layout.named("station ")]
    middle = box.middle[0]
    above, below = Box(middle, max(heights), box.right, box.top), Box(middle, box.bottom, box.right, min(heights))
    if not _settled(pad, "HEAD", above):
        sign = (head_sign(SIGN),)
        pad.settle(sign, spots(above, box_round(sign).size, (middle, box.top)), SIGN_CLEAR)
        edge_word(pad, "HEAD", "above", box, bold=True)
    if not _settled(pad, "TAIL", below):
        edge_word(pad, "TAIL", "below", box)


def _settled(pad: Pad, text: str, room: Box) -> bool:
    """Whether a word that stands upright found room in its half of the strip."""
    sizes = (word(text, size, True, pad.upright) for size in (NORMAL, SMALL))
    return any(pad.settle(letters, spots(room, box_round(letters).size)) for letters in sizes)


def _facts(plan: Plan, layout: Layout) -> tuple[str, ...]:
    return (
        f"{cut_count(layout, 'card')} {size_of(cut_piece(layout), plan)}. Glue it on card, then cut. INSIDE OF THE COVER UP.",
        f"{len(plan.sewing.cover_stations)} stations, each with its distance from the head of the cover.",
    )


def _use() -> tuple[str, ...]:
    return (
        "Lay the cover open, inside up, and drop the strip into the groove between the boards: the dashed lines are their edges.",
        "Head to head, its ends level with the boards. Pierce straight down into foam.",
        AWL,
        KNIFE_AGAIN,
        GLUE_AGAIN,
    )
