"""Gauges by which a distance is marked along an edge: strips of card as wide as that distance."""

from __future__ import annotations

from collections.abc import Sequence

from bookplates.book.record import Plan
from bookplates.geometry import Box
from bookplates.kinds.cautions import GLUE_AGAIN, KNIFE_AGAIN
from bookplates.kinds.parts import Layout
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import dimension
from bookplates.plates.drawing import Drawing
from bookplates.plates.notes import finished, notes_or_name
from bookplates.plates.pad import Pad
from bookplates.plates.words import cut_count, cut_piece, width_of


def gauge(plan: Plan, setup: PageSetup, layout: Layout, use: Sequence[str]) -> Drawing:
    """A gauge with its width; `use` says how to mark by it, `{edge}` standing for the edge that runs head to tail."""
    pad, box, name = Pad(layout, setup), cut_piece(layout).box, layout.title.capitalize()
    dimension(pad, (box.left, box.top), (box.right, box.top), width_of(box, plan), "above")
    words = (
        f"{cut_count(layout, 'card')} Glue it on card before cutting. Either side up.",
        *(sentence.format(edge=along_its(box)) for sentence in use),
        KNIFE_AGAIN,
        GLUE_AGAIN,
    )
    notes_or_name(pad, name, words, box, (f"{name}: {width_of(box, plan)}", name))
    return finished(pad, layout.plate, layout.title)


def along_its(box: Box) -> str:
    """Which edge of a gauge runs from head to tail as it is drawn.

    >>> along_its(Box(0, 0, 10, 60)), along_its(Box(0, 0, 70, 60))
    ('long', 'short')
    """
    return "long" if box.size.width <= box.size.height else "short"
