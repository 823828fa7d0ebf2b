"""The wrap outline: the paper that covers a board, from its wrong side; and the gauge for its mitres."""

from __future__ import annotations

import math
from collections.abc import Callable

from bookplates.book.record import Plan
from bookplates.geometry import Box, Point, bounds
from bookplates.handout.cautions import AWL_AGAIN, GLUE_AGAIN, KNIFE, KNIFE_AGAIN
from bookplates.kinds.parts import Layout, Part
from bookplates.lengths import both
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import dimension, overall, slanted_dimension
from bookplates.plates.drawing import Drawing
from bookplates.plates.marks import NORMAL, arrow, word
from bookplates.plates.notes import beside_edge, finished, head_and_tail, name_strip, notes, show_grain, spine_and_fore_edge
from bookplates.plates.pad import Pad, box_round, moved
from bookplates.plates.words import Where, cut_count, cut_piece, height_of, mm_and_inches, size_of, width_of

FLUSH = 0.01


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """The covering of each board, and the mitre gauge."""
    return tuple(TEMPLATES.get(layout.title, _covering)(plan, setup, layout) for layout in plan.layouts_of("wrap outline"))


def _covering(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    paper, place = cut_piece(layout), next(part for part in layout.parts if part.line == "place")
    pad = Pad(layout, setup.room.size)
    overall(pad, paper.box, width_of(paper.box, plan), height_of(paper.box, plan))
    _turn_ins(pad, plan, paper.box, place.box)
    _mitre(pad, plan, paper, place.box)
    head_and_tail(pad, place.box)
    spine_and_fore_edge(pad, place.box, paper, plan.opening)
    _motif(pad, place.box)
    show_grain(pad, plan.piece(paper.name).grain, place.box)
    notes(pad, paper.name.capitalize(), _facts(plan, layout, paper), place.box)
    notes(pad, "How to use it", _use(plan), place.box)
    return finished(pad, "wrap outline", f"wrap outline, {layout.title}" if layout.title else "wrap outline")


def _turn_ins(pad: Pad, plan: Plan, paper: Box, place: Box) -> None:
    """Dimension what is folded over on each side where the paper stands beyond the board."""
    ends: tuple[tuple[Point, Point, Where], ...] = (
        ((paper.right, place.top), (paper.right, paper.top), "right"),
        ((paper.right, paper.bottom), (paper.right, place.bottom), "right"),
        ((paper.left, paper.top), (place.left, paper.top), "above"),
        ((place.right, paper.top), (paper.right, paper.top), "above"),
    )
    for start, end, where in ends:
        size = math.dist(start, end)
        if size > FLUSH:
            dimension(pad, start, end, mm_and_inches(size, plan, "turn-in"), where)


def _mitre(pad: Pad, plan: Plan, paper: Part, place: Box) -> None:
    """Dimension what is left between a board's corner and the cut, square to the cut, at the highest mitre."""
    ends = zip(paper.points, (*paper.points[1:], paper.points[0]), strict=True)
    slanted = [(a, b) for a, b in ends if abs(a[0] - b[0]) > FLUSH and abs(a[1] - b[1]) > FLUSH]
    if slanted:
        a, b = max(slanted, key=lambda edge: edge[0][1] + edge[1][1])
        corner = min(place.corners, key=lambda at: math.dist(at, a) + math.dist(at, b))
        foot = _square_to(corner, a, b)
        waste = bounds((a, b)).grown(-1.0)
        slanted_dimension(pad, corner, foot, both(math.dist(corner, foot), plan.units), waste)


def _square_to(point: Point, a: Point, b: Point) -> Point:
    """The point of the line through a and b nearest to a point."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    along = ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / (dx * dx + dy * dy)
    return a[0] + along * dx, a[1] + along * dy


def _motif(pad: Pad, place: Box) -> None:
    """An arrow to the side where a motif that has a top has it."""
    words = word("top of the motif", NORMAL)
    box = box_round(words)
    items = (*words, *moved(arrow((0.0, 0.0), (0.0, 10.0)), box.right + 2.0, box.bottom))
    beside_edge(pad, items, "above", place, (place.left + 0.75 * place.size.width, place.top))


def _facts(plan: Plan, layout: Layout, paper: Part) -> tuple[str, ...]:
    return (
        f"{cut_count(layout, plan.piece(paper.name).material)} WRONG SIDE OF THE PAPER UP.",
        size_of(paper, plan),
        "The dashed line is the board's place, flush with the paper at the spine edge.",
    )


def _use(plan: Plan) -> tuple[str, ...]:
    cover = plan.cover
    left = f"Left at the board's corner: {both(cover.mitre, plan.units)}, square to the cut. " if cover.mitre else ""
    lap = f"Folded, the two turn-ins overlap by {both(cover.corner_lap, plan.units)}." if cover.corner_lap else ""
    return (
        "Lay this sheet, printed side up, on the wrong side of the paper. Prick through the board's corners, the small circles.",
        "Cut the rectangle first, its square corners too. The mitres (miters) are cut after gluing, with the mitre gauge.",
        *filter(None, (f"{left}{lap}".strip(),)),
        "Turned over like a page it serves for the other board; turned round it does not.",
        KNIFE,
        AWL_AGAIN,
    )


def _gauge(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    pad, box = Pad(layout, setup.room.size), cut_piece(layout).box
    name_strip(pad, box, (f"Mitre gauge: {height_of(box, plan)}", "Mitre gauge"))
    dimension(pad, (box.left, box.bottom), (box.left, box.top), height_of(box, plan), "left")
    notes(pad, "Mitre (miter) gauge", _gauge_use(layout))
    return finished(pad, "wrap outline", "mitre gauge")


def _gauge_use(layout: Layout) -> tuple[str, ...]:
    return (
        f"{cut_count(layout, 'card')} Glue it on card before cutting. Either side up.",
        "With the board glued down, rest a long edge against the board's corner.",
        "Turn the slanted ends parallel to the board's two edges. Cut along the other long edge, the outer edge.",
        "No head or tail: it serves for every corner.",
        KNIFE_AGAIN,
        GLUE_AGAIN,
    )


TEMPLATES: dict[str, Callable[[Plan, PageSetup, Layout], Drawing]] = {"mitre gauge": _gauge}
