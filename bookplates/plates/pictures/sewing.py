"""Pictures of piercing, drilling and threading: all that comes before the stitches. Lengths in mm."""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.geometry import Box
from bookplates.handout.sewing_steps import to_cut
from bookplates.lengths import said as length
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
    """The stack between waste boards in two clamps, its spine edge towards the worker."""
    area = inside(leaf_of(plan), Box(1.0, 1.0, w - 14.0, h - 1.0))
    x = area.right if not left_spine(plan) else area.left
    way = 1.0 if not left_spine(plan) else -1.0
    jaws = [box(Box(area.middle[0] - 1.6, y, area.middle[0] + 1.6, y + 6.0), WOOD) for y in (area.bottom - 1.0, area.top - 5.0)]
    strip = Box(min(x, x - way * 4.0), area.bottom, max(x, x - way * 4.0), area.top)
    return (
        *box(area),
        *hatched(strip),
        *together(jaws),
        *said("clamp", area.right + 2.0, area.top - 2.0, "start"),
        *said("holes", area.right + 2.0, area.middle[1], "start"),
        *said("here", area.right + 2.0, area.middle[1] - TEXT, "start"),
        *_to_strip(strip, area),
    )


def _to_strip(strip: Box, area: Box) -> Items:
    y = area.middle[1] - 2.4 * TEXT
    return go((area.right + 6.0, y), (strip.right + 0.3 if strip.right < area.right else area.right + 0.4, y))


def drill(plan: Plan, w: float, h: float) -> Items:
    """From the side: down through guide and leaves into waste board."""
    x, size = w * 0.36, length(plan.sewing.hole, plan.units)
    return (
        *box(Box(3.0, 0.5, w - 3.0, 3.8), BOARD),
        *layers(Box(4.0, 3.6, w - 4.0, 9.6), 6),
        *drawn((5.0, 10.4), (w - 5.0, 10.4), line="place"),
        *awl(x, 3.4),
        *go((x + 4.5, h - 2.0), (x + 4.5, 12.0)),
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
