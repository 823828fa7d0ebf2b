"""The dimensions of a wrap outline, read off the places, folds and corners that its layout holds. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import pairwise

from bookplates.book.record import Plan
from bookplates.geometry import Box, Point, around, bounds
from bookplates.kinds.parts import Layout, Part
from bookplates.lengths import both, close
from bookplates.plates.dimensions import dimension, slanted_dimension
from bookplates.plates.marks import SMALL, text_block
from bookplates.plates.pad import Pad, box_round, spots
from bookplates.plates.words import Where, mm_and_inches

FLUSH = 0.01


def places(layout: Layout) -> tuple[Part, ...]:
    """Where boards and strips will lie, from left to right."""
    found = (part for part in layout.parts if part.line == "place" and part.closed)
    return tuple(sorted(found, key=lambda part: part.box.left))


def upright(layout: Layout, ending: str) -> tuple[Part, ...]:
    """The open lines whose names end so, from left to right."""
    found = (part for part in layout.parts if not part.closed and part.name.endswith(ending))
    return tuple(sorted(found, key=lambda part: part.box.left))


def covered(layout: Layout, paper: Box) -> Box:
    """What boards and strips cover together; where only the boards' edges are shown, the paper between their head and tail."""
    if edges := upright(layout, "board edge"):
        return Box(paper.left, edges[0].box.bottom, paper.right, edges[0].box.top)
    found = places(layout)
    return around(part.box for part in found) if found else paper


def in_both(one: Box, other: Box) -> Box:
    """What two boxes that meet have in common."""
    return Box(max(one.left, other.left), max(one.bottom, other.bottom), min(one.right, other.right), min(one.top, other.top))


def stops_short(plan: Plan) -> bool:
    """Whether the coverings stop under the tape, short of the spine edge of their boards."""
    return plan.tape is not None and plan.tape.lap is not None


def turn_ins(pad: Pad, plan: Plan, paper: Box, place: Box) -> None:
    """What is folded over where the paper stands beyond what it covers; or what that stands beyond the paper."""
    top, right = paper.top, paper.right
    edge = max(right, place.right) if stops_short(plan) else right  # no line of a dimension lies along the board's edge
    ends: tuple[tuple[float, Point, Point, Where], ...] = (
        (top - place.top, (edge, place.top), (right, top), "right"),
        (place.bottom - paper.bottom, (right, paper.bottom), (edge, place.bottom), "right"),
        (place.left - paper.left, (paper.left, top), (place.left, top), "above"),
        (right - place.right, (place.right, top), (right, top), "above"),
    )
    for size, start, end, where in ends:
        if size > FLUSH:
            dimension(pad, start, end, mm_and_inches(size, plan, "turn-in"), where)
        elif size < -FLUSH:
            dimension(pad, end, start, mm_and_inches(-size, plan, "board beyond"), where)


def mitre(pad: Pad, plan: Plan, layout: Layout, place: Box) -> None:
    """What is left between a board's corner and the highest cut, square to the cut; `place` is what the boards cover."""
    corners = [part.points for part in layout.parts if part.line == "cut" and not part.closed]
    if corners:
        a, outer, b = max(corners, key=lambda points: points[0][1] + points[2][1])
        board = min(place.corners, key=lambda at: math.dist(at, outer))
        foot = square_to(board, a, b)
        slanted_dimension(pad, board, foot, both(math.dist(board, foot), plan.units), bounds((a, b)).grown(-1.0))


MITRE_WORDS = (("mitre: cut", "after gluing"), ("mitre:", "cut after", "gluing"), ("cut after", "gluing"), ("cut last",))
"""What stands in the waste beyond a mitre, whose line is solid though it is cut last; the widest first."""


def say_mitres(pad: Pad, layout: Layout) -> None:
    """Say in each corner that is cut off as a mitre when that is done, where there is room."""
    for part in layout.parts:
        if part.line == "cut" and not part.closed and part.name.endswith("corner"):
            _say_mitre(pad, *part.points)


def _say_mitre(pad: Pad, a: Point, outer: Point, b: Point) -> None:
    room, leg = bounds((a, outer, b)), min(math.dist(a, outer), math.dist(outer, b))
    for words in MITRE_WORDS:
        block = text_block(words, 60.0, SMALL)
        wide, high = box_round(block).size
        corners = spots(room.grown(-0.8), box_round(block).size, outer)
        waste = (at for at in corners if abs(at[0] + wide / 2 - outer[0]) + abs(at[1] + high / 2 - outer[1]) < leg)
        if pad.settle(block, waste):
            return


def square_to(point: Point, a: Point, b: Point) -> Point:
    """The point of the line through a and b nearest to a point."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    along = ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / (dx * dx + dy * dy)
    return a[0] + along * dx, a[1] + along * dy


def across(pad: Pad, plan: Plan, layout: Layout) -> None:
    """What lies beside each other: boards, spine piece, strips, folds; and how far from the centre line."""
    box = pad.core
    for left, right, name in _once((*_side_by_side(layout), *_cloth(layout, box), *_folds(layout, box))):
        dimension(pad, (left, box.top), (right, box.top), mm_and_inches(right - left, plan, name), "above")
    for left, right, name in _once(_from_centre(layout)):
        dimension(pad, (left, box.bottom), (right, box.bottom), mm_and_inches(right - left, plan, name), "below")


Span = tuple[float, float, str]


def _once(spans: Iterable[Span]) -> Iterator[Span]:
    """The spans, without those that only say the same of the other half of the cover."""
    seen: list[Span] = []
    for left, right, name in spans:
        if not any(name == other and close(right - left, b - a) for a, b, other in seen):
            seen.append((left, right, name))
            yield left, right, name


def _side_by_side(layout: Layout) -> Iterator[Span]:
    """The widths of what lies side by side, and of the gaps between; of boards shown by their edges the gaps alone."""
    edges, found = upright(layout, "board edge"), places(layout)
    beside = sorted((*edges, *found), key=lambda part: part.box.left)
    if len(beside) < 2 or not found:
        return
    for part in found:
        yield part.box.left, part.box.right, called(part)
    for one, other in pairwise(beside):
        yield one.box.right, other.box.left, "gap"


def called(place: Part) -> str:
    """What lies in a place, such as "board" or "hinge strip"."""
    return place.name.removesuffix(" place").removeprefix("front ").removeprefix("back ")


def _cloth(layout: Layout, paper: Box) -> Iterator[Span]:
    """How much of a spine cloth lies on each board, and how far each side paper comes over it."""
    edges, sides = upright(layout, "board edge"), upright(layout, "side edge")
    if len(edges) == len(sides) == 2:
        yield paper.left, edges[0].box.left, "on the board"
        yield edges[1].box.left, paper.right, "on the board"
        for left, right in ((paper.left, sides[0].box.left), (sides[1].box.left, paper.right)):
            if right - left > FLUSH:
                yield left, right, "overlap"


def _folds(layout: Layout, paper: Box) -> Iterator[Span]:
    """The parts into which folds divide a cover."""
    folds = [part.box.left for part in layout.parts if part.line == "fold"]
    if folds:
        for left, right in pairwise(sorted((paper.left, *folds, paper.right))):
            yield left, right, ""


def _from_centre(layout: Layout) -> Iterator[Span]:
    """The boards' edges from the centre line, and from each other (Vaughn, fig. 42A; handbook JT2)."""
    centre = [part.box.left for part in layout.parts if part.line == "centre"]
    boards = [part.box for part in places(layout) if part.name.endswith("board place")]
    inner = [boards[0].right, boards[1].left] if len(boards) == 2 else [part.box.left for part in upright(layout, "board edge")]
    if centre and len(inner) == 2:
        yield inner[0], centre[0], "from the centre"
        yield centre[0], inner[1], "from the centre"
        yield inner[0], inner[1], "boards apart"
