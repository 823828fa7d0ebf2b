"""The line along which two tiles are joined, its register marks, and what to do there. Lengths in mm.

The line runs in the middle of the overlap. Line and marks are the same on both tiles: the one is trimmed along it and
laid on the other, and the halves of the marks meet.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bookplates.geometry import Box, Matrix, Point, bounds, circle_points
from bookplates.lengths import fits
from bookplates.letters import width
from bookplates.plates.drawing import Item, Label, Line, Stroke
from bookplates.plates.marks import NORMAL, SMALL
from bookplates.plates.pad import ASCENT, CLEAR, DESCENT, box_of, mapped, overlap, touches

FROM_END = 9.0
"""How far from the end of a seam its register mark stands, and where it is to be found; more where something else stands."""
LARGEST_MARK = 8.0
STEP = 1.5
FROM_LINE = 2.5
"""How far the middle of the words lies from the seam that they speak of, mm; less in a narrow overlap."""
ASIDE = 0.8
"""Least distance of words from lines before and after them, mm."""


DASHED: frozenset[Line] = frozenset({"fold", "place", "centre", "hidden"})
"""Lines that leave a word on them readable."""


@dataclass(frozen=True, slots=True)
class Seam:
    """Where two tiles are joined.

    Attributes:
        start, end: of the line, from left to right or from below.
        overlap: of the two tiles.
        tiles: names of the one that is trimmed and of the one it is laid on.
        trims: whether this page is the one that is trimmed.
        items: everything that the plate shows, as it lies on its pages.
    """

    start: Point
    end: Point
    overlap: float
    tiles: tuple[str, str]
    trims: bool
    items: Sequence[Item]

    @property
    def upright(self) -> bool:
        """Whether the two tiles lie side by side."""
        return abs(self.end[0] - self.start[0]) < abs(self.end[1] - self.start[1])

    @property
    def length(self) -> float:
        """From end to end."""
        return max(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def lies(self) -> Matrix:
        """What takes the seam, drawn from the origin to the right, to where it is."""
        return Matrix.move(*self.start).after(Matrix.turn(90.0 if self.upright else 0.0))

    def back(self, item: Item) -> Item:
        """An item where it lies if the seam is drawn from the origin to the right."""
        angle = -90.0 if self.upright else 0.0
        return mapped(item, Matrix.turn(angle).after(Matrix.move(-self.start[0], -self.start[1])), angle)


def drawn_seam(seam: Seam, shown: Sequence[Item]) -> tuple[Item, ...]:
    """The line, both marks and the words of a seam, clear of what else the page shows there."""
    strip = Box(0.0, -seam.overlap, seam.length, seam.overlap)
    near = _near(seam, seam.items, strip)
    marks = [_mark(at, seam.overlap) for at in _mark_places(seam, near)]
    marked = [bounds(point for stroke in mark for point in stroke.points).grown(CLEAR) for mark in marks]
    kept = [*marked, *_boxes_of_words(near)]
    words = _words(seam, _near(seam, shown, strip), marked)
    broken = [*kept, *_boxes_of_words(words)]  # in a narrow overlap they stand so near the line that it makes way
    items: tuple[Item, ...] = (*_line(seam.length, broken), *(stroke for mark in marks for stroke in mark), *words)
    return tuple(mapped(item, seam.lies, 90.0 if seam.upright else 0.0) for item in items)


def _near(seam: Seam, items: Sequence[Item], strip: Box) -> list[Item]:
    there = bounds(map(seam.lies.at, strip.corners))
    return [seam.back(item) for item in items if overlap(box_of(item), there)]


def _mark_places(seam: Seam, near: Sequence[Item]) -> Iterator[float]:
    """Where the two marks stand: near the ends, further in where something else is drawn, or at least clear of words."""
    words = [item for item in near if isinstance(item, Label)]
    steps = [FROM_END + STEP * step for step in range(max(1, int((seam.length / 2 - LARGEST_MARK - FROM_END) / STEP)))]
    for places in (steps, [seam.length - step for step in steps]):
        clear = (at for others in (near, words) for at in places if not _meets(at, seam, others))
        yield next(clear, places[0])


def _meets(at: float, seam: Seam, items: Sequence[Item]) -> bool:
    """Whether a mark so far along the seam would touch any of the items."""
    half = _half_mark(seam.overlap)
    box = Box(at - half, -half, at + half, half).grown(CLEAR)
    return any(touches(item, box) for item in items)


def _half_mark(overlap: float) -> float:
    return min(overlap, LARGEST_MARK) / 2


def _mark(at: float, overlap: float) -> tuple[Stroke, ...]:
    """A cross in a circle, half of it on either side of the seam."""
    half = _half_mark(overlap)
    return (
        Stroke(((at - half, 0.0), (at + half, 0.0)), "medium"),
        Stroke(((at, -half), (at, half)), "medium"),
        Stroke(circle_points((at, 0.0), 1.1 * half), "hole", closed=True),
    )


def _line(length: float, kept: Sequence[Box]) -> Iterator[Stroke]:
    """The seam, short-dashed, interrupted by marks and words."""
    at = 0.0
    for box in sorted(box for box in kept if box.bottom < 0 < box.top):
        if box.left > at:
            yield Stroke(((at, 0.0), (box.left, 0.0)), "hidden")
        at = max(at, box.right)
    if at < length:
        yield Stroke(((at, 0.0), (length, 0.0)), "hidden")


def _boxes_of_words(items: Sequence[Item]) -> list[Box]:
    return [box_of(item).grown(CLEAR) for item in items if isinstance(item, Label)]


def _words(seam: Seam, near: Sequence[Item], marked: Sequence[Box]) -> tuple[Label, ...]:
    """What to do at the seam, clear of marks, other words and all lines, or at least of solid ones.

    Where even that finds no room there are none: the page says beside the tile's name, too, what is laid on what.
    """
    kept = [*marked, *_boxes_of_words(near)]
    lines = [item for item in near if not isinstance(item, Label)]
    for struck in (lines, [item for item in lines if not _is_dashed(item)]):
        for label in _tries(seam):
            box = _room(label)
            if not any(overlap(box, other) for other in kept) and not any(touches(item, box) for item in struck):
                return (label,)
    return ()


def _is_dashed(item: Item) -> bool:
    return isinstance(item, Stroke) and item.line in DASHED


def _tries(seam: Seam) -> Iterator[Label]:
    """The words, the fullest and largest first, wherever they may stand on the side that is trimmed off or covered."""
    strip, side = seam.overlap / 2, _waste_side(seam)
    sizes = [size for size in (NORMAL, SMALL) if fits((ASCENT + DESCENT) * size, strip)]
    for text in _texts(seam):
        for size in sizes:
            y = side * min(strip / 2, FROM_LINE) - (ASCENT - DESCENT) / 2 * size
            yield from (Label(text, (at, y), size) for at in _starts(seam.length, width(text, size)))


def _room(label: Label) -> Box:
    """What words take along a seam, and a little before and after them."""
    box = box_of(label)
    return box._replace(left=box.left - ASIDE, right=box.right + ASIDE)


def _waste_side(seam: Seam) -> float:
    """Above (1) or below (-1) the seam drawn to the right: what the trimmed tile loses, or what it covers of the next.

    An upright seam is drawn turned a quarter: what is right of it lies below the line, what is left of it above.
    """
    return -1.0 if seam.trims else 1.0


def _texts(seam: Seam) -> tuple[str, ...]:
    first, second = seam.tiles
    if seam.trims:
        return f"Trim {first} along this line and lay its edge on {second}.", f"Trim here, lay on {second}.", "trim here"
    return f"Lay the trimmed edge of {first} to this line.", f"Lay {first} to this line.", f"{first} to here"


def _starts(length: float, wide: float) -> list[float]:
    """Where words may begin along a seam, from the middle outwards."""
    spare = max(0.0, length - wide)
    count = int(spare / STEP) + 1
    return sorted((STEP * step for step in range(count)), key=lambda at: abs(at - spare / 2))
