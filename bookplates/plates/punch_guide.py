"""The punch guide: folded as a valley and laid in the innermost fold; or flat, laid along the spine edge of loose leaves."""

from __future__ import annotations

from collections.abc import Sequence

from bookplates.book.record import Plan
from bookplates.geometry import Box, around
from bookplates.kinds.cautions import AWL, AWL_CLAMPED, DRILL, KNIFE
from bookplates.kinds.lots import in_words
from bookplates.kinds.parts import Layout, Part
from bookplates.lengths import both
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import dimension, overall
from bookplates.plates.drawing import Drawing
from bookplates.plates.marks import NORMAL, SMALL, word
from bookplates.plates.notes import edge_word, finished, name_strip, notes, notes_or_name, show_grain
from bookplates.plates.pad import Pad, box_round, spots
from bookplates.plates.stations import above_first, number_holes, number_stations
from bookplates.plates.words import Where, cut_count, cut_piece, height_of, hole_size, mm_and_inches, size_of, width_of

FROM_FOLD = 4.0
VALLEY = "valley fold"


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """One drawing for each punch guide of the plan."""
    return tuple(_guide(plan, setup, layout) for layout in plan.layouts_of("punch guide"))


def _guide(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    has_fold = any(part.line == "fold" for part in layout.parts)
    return (_folded if has_fold else _flat)(plan, setup, layout)


def _folded(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    pad, box = Pad(layout, setup), cut_piece(layout).box
    fold = layout.part("fold").box.left
    left, right = Box(box.left, box.bottom, fold, box.top), Box(fold, box.bottom, box.right, box.top)
    distances = tuple(both(place, plan.units) for place in plan.sewing.stations)
    number_stations(pad, layout.named("station "), FROM_FOLD, distances)
    _name_fold(pad, above_first(layout.named("station "), right))
    for flank in (left, right):
        edge_word(pad, "HEAD", "above", flank, bold=True)
        edge_word(pad, "TAIL", "below", flank)
    show_grain(pad, "head to tail", left)
    overall(pad, box, width_of(box, plan), height_of(box, plan))
    notes_or_name(pad, "Punch guide", _facts(plan, layout), left, ("Punch guide",))
    notes(pad, "How to use it", _use(), right, left)
    return finished(pad, "punch guide", "punch guide")


def _flat(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    """Holes beside an edge; which edge that is shows in where the first one stands."""
    pad, box, holes = Pad(layout, setup), cut_piece(layout).box, layout.named("station ")
    first = holes[0].box.middle
    at_left = first[0] < box.middle[0]
    edge: Where = "left" if at_left else "right"
    number_holes(pad, holes, FROM_FOLD, box.top, plan.units)
    edge_word(pad, "HEAD", "above", box, bold=True)
    edge_word(pad, "TAIL", "below", box)
    edge_word(pad, "spine edge", edge, box)
    overall(pad, box, width_of(box, plan), height_of(box, plan))
    for x in sorted({round(hole.box.middle[0], 6) for hole in holes}, key=lambda x: x != round(first[0], 6)):
        left, right = (box.left, x) if at_left else (x, box.right)
        dimension(pad, (left, box.top), (right, box.top), mm_and_inches(right - left, plan, "inset"), "above")
    name_strip(pad, _beside(holes, box, at_left=at_left), ("Punch guide: this side up", "Punch guide"))
    notes(pad, "Punch guide", _flat_facts(plan, layout, len(holes)))
    notes(pad, "How to use it", (*layout.use, AWL_CLAMPED, DRILL, KNIFE))
    return finished(pad, "punch guide", "punch guide")


def _beside(holes: Sequence[Part], box: Box, *, at_left: bool) -> Box:
    """What the holes leave of a flat guide, away from its spine edge."""
    taken = around(hole.box for hole in holes)
    return box._replace(left=taken.right) if at_left else box._replace(right=taken.left)


def _flat_facts(plan: Plan, layout: Layout, holes: int) -> tuple[str, ...]:
    sewn, size = plan.sewing.called, size_of(cut_piece(layout), plan)
    return (
        "Print this page on heavy paper; or glue the guide on card, then cut.",
        f"{cut_count(layout, 'heavy paper or card')} {size}, cut exactly at head, tail and spine edge.",
        f"{sewn[:1].upper()}{sewn[1:]}: {holes} holes, their distances from the head beside them. {hole_size(plan, layout)}",
    )


def _name_fold(pad: Pad, room: Box) -> None:
    """Say which way the fold goes, beside its line above the first station, or further down where that is too near the head."""
    lower = Box(room.left, pad.core.bottom, room.right, room.top)
    for size in (NORMAL, SMALL):
        letters = word(VALLEY, size)
        near = room.left + box_round(letters).size.width / 2, room.middle[1]
        if any(pad.settle(letters, spots(box.grown(-1.0), box_round(letters).size, near)) for box in (room, lower)):
            return


def _facts(plan: Plan, layout: Layout) -> tuple[str, ...]:
    sewn, count = plan.sewing.called, len(plan.sewing.stations)
    return (
        f"{cut_count(layout, 'heavy paper')} {size_of(cut_piece(layout), plan)}, cut exactly at head and tail.",
        "Print this page on heavy paper. Do not glue on card: the guide is folded.",
        f"{sewn[:1].upper()}{sewn[1:]}: {count} stations, each marked with its distance from the head of the leaf.",
        hole_size(plan, layout),
        *_lots(plan),
    )


def _lots(plan: Plan) -> tuple[str, ...]:
    """How many folded sheets are pierced at a time, section by section where they differ."""
    lots = plan.sewing.punching
    if len(set(lots)) == 1:
        return (
            f"Pierce {in_words(lots[0], ', then ')} folded sheets (folios) at a time{', each section' if len(lots) > 1 else ''}.",
        )
    return tuple(
        f"Section {number}: pierce {in_words(lot, ', then ')} folded sheets (folios) at a time."
        for number, lot in enumerate(lots, 1)
    )


def _use() -> tuple[str, ...]:
    return (
        "Fold it as a valley, printed side up: the words come inside.",
        "Lay it in the innermost fold of a section held open in a cradle.",
        "Knock everything up to the head.",
        "Pierce down and out along the fold, the same way up for every lot.",
        AWL,
        KNIFE,
    )
