"""The fold guide: one panel wide to its notches, by which a strip is marked panel after panel."""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.geometry import Box
from bookplates.kinds.cautions import GLUE_AGAIN, KNIFE_AGAIN
from bookplates.kinds.parts import Layout
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import dimension, overall
from bookplates.plates.drawing import Drawing
from bookplates.plates.notes import edge_word, finished, name_strip, notes
from bookplates.plates.pad import Pad
from bookplates.plates.words import cut_count, cut_piece, height_of, mm_and_inches, width_of


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """One drawing for each fold guide of the plan."""
    return tuple(_guide(plan, setup, layout) for layout in plan.layouts_of("fold guide"))


def _guide(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    pad, box = Pad(layout, setup), cut_piece(layout).box
    fold = layout.part("fold").box.left
    panel, tab = Box(box.left, box.bottom, fold, box.top), Box(fold, box.bottom, box.right, box.top)
    overall(pad, box, width_of(box, plan), height_of(box, plan))
    for part, name in ((panel, "panel"), (tab, "beyond")):
        dimension(pad, (part.left, box.top), (part.right, box.top), mm_and_inches(part.size.width, plan, name), "above")
    edge_word(pad, "HEAD", "above", panel, bold=True)
    edge_word(pad, "TAIL", "below", panel)
    edge_word(pad, "plain end", "left", panel)
    name_strip(pad, tab, ("fold line at the notches", "fold line"))
    facts = (f"{cut_count(layout, 'card')} Glue it on card before cutting. Either side up.", *layout.use, KNIFE_AGAIN, GLUE_AGAIN)
    notes(pad, "Fold guide", facts, panel)
    return finished(pad, "fold guide", "fold guide")
