"""Pictures of piercing, drilling and threading: all that comes before the stitches. Lengths in mm."""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.geometry import Box
from bookplates.handout.sewing_steps import to_cut
from bookplates.kinds.cautions import DRILL
from bookplates.kinds.step import Step
from bookplates.lengths import said as length
from bookplates.plates.drawing import Anchor
from bookplates.plates.pictures.marks import (
    BOARD,
    TEXT,
    WOOD,
    Items,
    awl,
    bow,
    box,
    drawn,
    go,
    hatched,
    inside,
    layers,
    leaf_of,
    left_spine,
    needle,
    said,
    shape,
    span,
    together,
)
from bookplates.plates.pictures.marks import drill as hand_drill


def pierce(plan: Plan, w: float, h: float) -> Items:  # noqa: ARG001  # seen from the end all sections look alike
    """A section open in a cradle, seen from the head: guide on top, the awl straight down along the fold."""
    x, low = w * 0.46, h * 0.2
    cradle = ((2.0, 1.0), (w * 0.92 - 2.0, 1.0), (w * 0.92 - 2.0, h * 0.62), (x + 1.0, low), (x - 1.0, low), (2.0, h * 0.62))
    sheets = [drawn((4.0, h * 0.62 + n), (x, low + 1.2 + n), (w * 0.92 - 4.0, h * 0.62 + n), line="medium") for n in range(3)]
    guide = drawn((7.0, h * 0.62 + 1.4), (x, low + 4.6), (w * 0.92 - 7.0, h * 0.62 + 1.4), line="place")
    return (
        *shape(cradle, BOARD),
        *together(sheets),
        *guide,
        *awl(x, low + 1.0),
        *go((x + 4.5, h - 1.0), (x + 4.5, h - 6.0)),
        *said("cradle", x, 2.6),
        *said("guide", w - 0.3, h * 0.62 + 3.6, "end"),
        *said("section", 0.3, h * 0.62 + 4.8, "start"),
    )


def thread(plan: Plan, w: float, h: float) -> Items:
    """A needle and the length of thread to cut."""
    y = h * 0.55
    wave = (*bow((1.0, y - 3.0), (9.0, y - 3.0), -2.5), *bow((9.0, y - 3.0), (w - 12.0, y), 2.5)[1:])
    return (
        *drawn(*wave, line="thread"),
        *needle(w - 11.5, y),
        *span((1.0, y - 8.0), (w - 11.5, y - 8.0)),
        *said(f"cut {length(to_cut(plan), plan.units)}", (w - 10.5) / 2, y - 8.0 - 0.8 * TEXT),
        *said("no knot", w * 0.2, y + 3.0),
    )


def stack_leaves(plan: Plan, w: float, h: float) -> Items:
    """Leaves, fold at the fore-edge or single, stacked to the spine edge."""
    folded = plan.text_block.gathered == "fore-edge folded"
    left, right, low = 6.0, w - 6.0, 6.0
    rows = []
    for n in range(6):
        y = low + n * 2.2
        bend = ((right, y), (right + 0.8, y + 0.6), (right, y + 1.2), (left, y + 1.2)) if folded else ((right, y),)
        rows.append(drawn((left, y), *bend, line="medium"))
    return (
        *together(rows),
        *go((w * 0.5, h - 1.0), (w * 0.5, low + 15.5)),
        *said("spine edge", 0.3, 0.4 * TEXT + 0.6, "start"),
        *drawn((left - 2.0, low - 1.0), (left - 2.0, low + 13.5), line="hidden"),
        *said("fold" if folded else "fore-edge", w - 0.3, 0.4 * TEXT + 0.6, "end"),
    )


def clamp(plan: Plan, w: float, h: float) -> Items:
    """The stack under its guide in two clamps, clear of the spine edge, where the holes will be."""
    left = left_spine(plan)
    area = inside(leaf_of(plan), Box(11.0, 1.5, w - 1.0, h - 3.5) if left else Box(1.0, 1.5, w - 11.0, h - 3.5))
    edge, way = (area.left, 1.0) if left else (area.right, -1.0)
    strip = Box(min(edge, edge + way * 2.5), area.bottom, max(edge, edge + way * 2.5), area.top)
    x, y = area.middle[0] + way * 1.5, area.middle[1]
    jaws = [box(Box(x - 1.4, low, x + 1.4, low + 4.0), WOOD) for low in (area.bottom - 1.0, area.top - 3.0)]
    anchor: Anchor = "end" if left else "start"
    out = edge - way * 1.0
    return (
        *box(area),
        *hatched(strip, 0.9),
        *together(jaws),
        *said("clamp", x + way * 2.2, area.top + 1.5, "start" if left else "end"),
        *said("holes", out, y + TEXT, anchor),
        *said("here", out, y, anchor),
        *go((out - way * 6.0, y - TEXT), (edge + way * 0.4, y - TEXT)),
    )


def drill(plan: Plan, w: float, h: float) -> Items:
    """From the side: down through guide and leaves into waste board, by drill or awl."""
    x, size = w * 0.3, length(plan.sewing.hole, plan.units)
    drilled = any(isinstance(step, Step) and step.picture == "drill" and DRILL in step.caution for step in plan.work)
    tool = hand_drill(x, 3.4) if drilled else awl(x, 3.4)
    return (
        *box(Box(3.0, 0.5, w - 3.0, 3.8), BOARD),
        *layers(Box(4.0, 3.6, w - 4.0, 9.6), 6),
        *drawn((5.0, 10.4), (w - 5.0, 10.4), line="place"),
        *tool,
        *go((x + 6.5, h - 3.0), (x + 6.5, 12.0)),
        *said("guide", w - 3.0, 12.6, "end"),
        *said(f"hole {size}", w - 0.3, h - 4.0, "end"),
        *said("waste board", w / 2, 2.3),
    )


PICTURES = {
    "pierce": pierce,
    "thread": thread,
    "stack leaves": stack_leaves,
    "clamp": clamp,
    "drill": drill,
}
