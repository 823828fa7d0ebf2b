"""What the small pictures of the steps are made of: sheets, boards, arrows, tools. Lengths in mm.

A picture is drawn from its lower left corner at the origin. Thin things are drawn thicker than they are.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from bookplates.book.record import Plan
from bookplates.geometry import Box, Outline, Point, Size
from bookplates.letters import width
from bookplates.plates.drawing import Anchor, Fill, Item, Label, Line, Stroke
from bookplates.plates.marks import SMALL

Items = tuple[Item, ...]

PAPER, BOARD, CLOTH, WOOD = 1.0, 0.82, 0.72, 0.6
"""Greys: paper white, board light, cloth and tape darker, tools and blocks dark."""
AWL = 10.5
"""How long an awl is drawn."""
TEXT = 1.05 * SMALL
"""Height of a line of words with its room."""


SLENDER = 1.7
"""A picture is not to scale: what is longer than so many times its width is drawn no longer than that."""


def mild(size: Size) -> Size:
    """A shape as it is drawn, its longer side cut down where it is very long."""
    return Size(min(size.width, SLENDER * size.height), min(size.height, SLENDER * size.width))


def inside(size: Size, room: Box) -> Box:
    """The largest box of that shape in the middle of the room."""
    scale = min(room.size.width / max(size.width, 1e-6), room.size.height / max(size.height, 1e-6))
    x, y = room.middle
    half = Size(size.width * scale / 2, size.height * scale / 2)
    return Box(x - half.width, y - half.height, x + half.width, y + half.height)


def shape(points: Outline, grey: float = PAPER, line: Line = "medium") -> Items:
    """A filled outline: what lies under it is hidden."""
    return Fill(points, grey), Stroke(points, line, closed=True)


def box(area: Box, grey: float = PAPER, line: Line = "medium") -> Items:
    """A filled rectangle."""
    return shape(area.corners, grey, line)


def drawn(*points: Point, line: Line = "thin") -> Items:
    """A line from point to point."""
    return (Stroke(points, line),)


def said(text: str, x: float, y: float, anchor: Anchor = "middle", *, bold: bool = False) -> Items:
    """Small words, y the middle of their height."""
    return (Label(text, (x, y - 0.25 * SMALL), SMALL, anchor, bold=bold),)


def said_in(text: str, area: Box) -> Items:
    """Small words in the middle of an area, where it takes them; else nothing."""
    wide, high = width(text, SMALL) + 1.0, 1.1 * SMALL
    return said(text, *area.middle) if wide <= area.size.width and high <= area.size.height else ()


def bow(start: Point, end: Point, bulge: float, pieces: int = 8) -> Outline:
    """A curve from point to point that swings out to the left of the way by `bulge` mm (to the right below 0)."""
    (x0, y0), (x1, y1) = start, end
    long = math.dist(start, end) or 1.0
    cx, cy = (x0 + x1) / 2 - 2 * bulge * (y1 - y0) / long, (y0 + y1) / 2 + 2 * bulge * (x1 - x0) / long
    return tuple(
        ((1 - t) ** 2 * x0 + 2 * t * (1 - t) * cx + t * t * x1, (1 - t) ** 2 * y0 + 2 * t * (1 - t) * cy + t * t * y1)
        for t in (n / pieces for n in range(pieces + 1))
    )


def go(*points: Point) -> Items:
    """An arrow along these points: where something moves."""
    (x0, y0), (x, y) = points[-2:]
    long = math.dist((x0, y0), (x, y)) or 1.0
    ux, uy = (x - x0) / long, (y - y0) / long
    head = ((x, y), *((x - 1.9 * ux - side * uy, y - 1.9 * uy + side * ux) for side in (0.75, -0.75)))
    return Stroke((*points[:-1], (x - 1.2 * ux, y - 1.2 * uy)), "medium"), Fill(head)


def swing(start: Point, end: Point, bulge: float) -> Items:
    """A bent arrow: something is folded or turned."""
    return go(*bow(start, end, bulge))


def span(start: Point, end: Point) -> Items:
    """A dimension line with an arrowhead at both ends."""
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    return *_thin(go(middle, end)), *_thin(go(middle, start))


def _thin(items: Items) -> Items:
    return tuple(Stroke(item.points, "thin") if isinstance(item, Stroke) else item for item in items)


def head_mark(x: float, y: float) -> Items:
    """The small black triangle that points to the head."""
    return (Fill(((x - 1.1, y), (x + 1.1, y), (x, y + 2.0))),)


def awl(x: float, y: float, top: float = math.inf) -> Items:
    """An awl standing on its point, shorter where it would reach beyond `top`."""
    long = min(AWL, top - y)
    low, high = y + 0.55 * long, y + 0.9 * long
    handle = ((x - 1.0, low), (x + 1.0, low), (x + 1.3, high), (x, y + long), (x - 1.3, high))
    return Fill(((x, y), (x + 0.35, low), (x - 0.35, low))), *shape(handle, WOOD)


def drill(x: float, y: float) -> Items:
    """A hand drill standing on the point of its bit: the bit with its twist, the chuck, the body, the crank."""
    twist = [drawn((x - 0.5, y + 1.0 + n * 1.2), (x + 0.5, y + 1.6 + n * 1.2)) for n in range(4)]
    bit = ((x - 0.5, y + 0.7), (x, y), (x + 0.5, y + 0.7), (x + 0.5, y + 6.0), (x - 0.5, y + 6.0))
    chuck = ((x - 0.8, y + 6.0), (x + 0.8, y + 6.0), (x + 1.4, y + 8.2), (x - 1.4, y + 8.2))
    body = Box(x - 1.0, y + 8.2, x + 1.0, y + 14.5)
    crank = drawn((x + 1.0, y + 11.0), (x + 4.2, y + 11.0), (x + 4.2, y + 13.0), line="medium")
    return *shape(bit), *together(twist), *shape(chuck, BOARD), *crank, *box(body, WOOD)


def dots(places: Sequence[Point]) -> Items:
    """Small diamonds where a needle goes through."""
    return together([shape(((x + 0.4, y), (x, y + 0.4), (x - 0.4, y), (x, y - 0.4)), WOOD, "thin") for x, y in places])


def knife(x: float, y: float) -> Items:
    """A knife whose point is at x, y, its handle up to the right."""
    blade = ((x, y), (x + 2.4, y + 1.5), (x + 1.3, y + 2.6))
    handle = ((x + 2.4, y + 1.5), (x + 6.2, y + 5.3), (x + 5.1, y + 6.4), (x + 1.3, y + 2.6))
    return *shape(blade), *shape(handle, WOOD)


def brush(x: float, y: float) -> Items:
    """A brush whose bristles' middle is at x, y, its handle up to the right."""
    bristles = ((x - 1.4, y - 0.2), (x + 0.8, y - 1.2), (x + 2.2, y + 1.8), (x + 1.0, y + 2.4))
    handle = ((x + 1.0, y + 2.4), (x + 2.2, y + 1.8), (x + 5.2, y + 6.2), (x + 4.4, y + 6.7))
    return *shape(bristles), *drawn((x - 0.4, y - 0.5), (x + 1.3, y + 2.0)), *shape(handle, WOOD)


def weight(middle: float, y: float, wide: float) -> Items:
    """A weight standing on y."""
    half = wide / 2
    body = ((middle - half, y), (middle + half, y), (middle + 0.8 * half, y + 4.5), (middle - 0.8 * half, y + 4.5))
    ring = Box(middle - 1.3, y + 4.5, middle + 1.3, y + 6.3)
    return *box(ring), *shape(body, WOOD)


def needle(x: float, y: float, long: float = 9.0) -> Items:
    """A needle that points to the right, its eye at x, y."""
    return shape(((x - 0.8, y), (x, y + 0.45), (x + long, y), (x, y - 0.45)))


def layers(area: Box, count: int) -> Items:
    """Leaves lying on each other, as their edges show."""
    step = area.size.height / count
    lines = (drawn((area.left, area.bottom + n * step), (area.right, area.bottom + n * step)) for n in range(1, count))
    return (*box(area), *(item for line in lines for item in line))


def hatched(area: Box, gap: float = 1.6) -> Items:
    """Slanting lines over an area: adhesive."""
    rows, high = [], area.size.height
    for n in range(1, int((area.size.width + high) / gap)):
        x = area.left + n * gap - high
        low, top = max(area.left - x, 0.0), min(area.right - x, high)
        if top > low:
            rows.append(Stroke(((x + low, area.bottom + low), (x + top, area.bottom + top)), "thin"))
    return tuple(rows)


def hatched_round(outer: Box, inner: Box, gap: float = 2.2) -> Items:
    """Slanting lines between an area and one inside it."""
    bands = (
        Box(outer.left, outer.bottom, inner.left, outer.top),
        Box(inner.right, outer.bottom, outer.right, outer.top),
        Box(inner.left, outer.bottom, inner.right, inner.bottom),
        Box(inner.left, inner.top, inner.right, outer.top),
    )
    return together([hatched(band, gap) for band in bands])


def leaf_of(plan: Plan) -> Size:
    """Width and height of a leaf, as drawn."""
    return mild(Size(plan.text_block.leaf_width, plan.text_block.leaf_height))


def board_of(plan: Plan) -> Size:
    """Width and height of a board, or of one side of a cover without any, as drawn."""
    cover = plan.cover
    wide, high = cover.board_width or cover.open_width / 2, cover.board_height or cover.open_height
    return mild(Size(wide, high)) if min(wide, high) > 0 else leaf_of(plan)


def left_spine(plan: Plan) -> bool:
    """Whether the spine is at the left, seen from the front."""
    return plan.opening == "left"


def spread_of(area: Box, share: float) -> tuple[Box, Box, Box]:
    """A cover laid open: the left board, what lies between, the right one; `share` of the width lies between."""
    half = area.size.width * share / 2
    x = area.middle[0]
    return (
        Box(area.left, area.bottom, x - half, area.top),
        Box(x - half, area.bottom, x + half, area.top),
        Box(x + half, area.bottom, area.right, area.top),
    )


def together(parts: Sequence[Items]) -> Items:
    """All items of several, one after the other."""
    return tuple(item for part in parts for item in part)
