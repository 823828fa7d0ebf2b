"""The kettle stitch, enlarged: the thread behind the stitch of the section before, and up through its own loop. Lengths in mm."""

from __future__ import annotations

from itertools import pairwise

from bookplates.book.record import Plan
from bookplates.geometry import Box, Outline, Size, circle_points
from bookplates.kinds.thread import Leg, SewingStep
from bookplates.plates.drawing import Fill, Item, Label, Stroke
from bookplates.plates.marks import SMALL
from bookplates.plates.stitches.ground import BOARD, RIM, STRIP, called, octagon
from bookplates.plates.stitches.picture import arrowhead

SIZE = Size(36.0, 24.0)
FOOT, HIGH = 3.8, 17.0
COLUMNS = (5.0, 18.0, 31.0)
"""Middles of the section that is sewn and of the two before it, where the book opens at the left."""
MIDDLE = FOOT + 7.5
"""The height of their holes."""
BEFORE: Outline = ((COLUMNS[1], MIDDLE), (COLUMNS[2], MIDDLE))
"""The stitch that the needle goes behind."""
OUT: Outline = ((COLUMNS[0], MIDDLE), (21.0, MIDDLE + 3.6), (23.8, MIDDLE + 2.6), (23.8, MIDDLE + 0.7))
BACK: Outline = ((23.8, MIDDLE - 0.7), (23.8, MIDDLE - 2.6), (21.0, MIDDLE - 3.6), (13.2, MIDDLE - 3.6), (11.6, MIDDLE - 2.2))
UP: Outline = (BACK[-1], (11.6, MIDDLE + 7.0))
"""The needle's way: out to that stitch and behind it, back, and up through the loop."""
CROSSING = 11.6, MIDDLE + 1.5
"""Where it comes up over the thread that went out."""


def first_kettle(plan: Plan) -> tuple[int, int] | None:
    """The number of the step that tells the first kettle stitch, from 0, and its section; None where there is none."""
    done = (0, *(step.legs_done for step in plan.sewing.path.steps))
    for n, (step, ends) in enumerate(zip(plan.sewing.path.steps, pairwise(done), strict=True)):
        section = _tied_down(step, plan.sewing.path.legs[slice(*ends)])
        if section:
            return n, section
    return None


def _tied_down(step: SewingStep, legs: tuple[Leg, ...]) -> int | None:
    links = (leg.start.section for leg in legs if leg.deed == "link" and leg.linked is not None and leg.start == leg.end)
    return next(links, None) if "kettle stitch" in step.text.lower() else None


def kettle(plan: Plan, section: int) -> tuple[Item, ...]:
    """The picture, its lower left corner at the origin; the thread comes out of this section."""
    strips = tuple(item for n, x in enumerate(COLUMNS) for item in _strip(plan, section - n, x))
    items: tuple[Item, ...] = (
        *strips,
        Stroke(BEFORE, "sewn"),
        Stroke(OUT, "thread"),
        Fill(octagon(CROSSING, 0.7), 1.0),
        Stroke(BACK, "thread"),
        Stroke(UP, "thread"),
        arrowhead(UP),
        *_holes(),
    )
    words = Label("kettle stitch, enlarged", (SIZE.width / 2, FOOT + HIGH + 1.2), SMALL, "middle")
    return (*(items if plan.opening == "left" else map(_mirrored, items)), words)


def _strip(plan: Plan, section: int, x: float) -> tuple[Item, ...]:
    board = section < 1
    half = (BOARD if board else STRIP) / 2
    box = Box(x - half, FOOT, x + half, FOOT + HIGH)
    name = Label(called(plan, section), (x, 0.7), SMALL, "middle")
    return Fill(box.corners, 0.78 if board else 0.93), Stroke(box.corners, "medium" if board else "thin", closed=True), name


def _holes() -> tuple[Item, ...]:
    middles = tuple((x, MIDDLE) for x in COLUMNS)
    discs = (Fill(octagon(middle), 0.0 if n == 0 else 0.55) for n, middle in enumerate(middles))
    return (*discs, *(Stroke(circle_points(middle, 2 * RIM), "hole", closed=True) for middle in middles))


def _mirrored(item: Item) -> Item:
    """As it looks where the book opens at the right."""
    if isinstance(item, Label):
        return Label(item.text, (SIZE.width - item.at[0], item.at[1]), item.size, item.anchor)
    points = tuple((SIZE.width - x, y) for x, y in item.points)
    return Fill(points, item.grey) if isinstance(item, Fill) else Stroke(points, item.line, item.closed)
