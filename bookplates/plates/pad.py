"""A drawing in the making: what stands on it already, and where words still find room. Lengths in mm.

Words are put only where they meet nothing: no other words, no line. What finds no room inside a template
goes beside it, so that a board of 25 mm gets the same words as one of 250.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from bookplates.geometry import Box, Matrix, Point, Size, around, bounds
from bookplates.kinds.parts import Layout
from bookplates.letters import width
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Item, Label, Stroke
from bookplates.plates.grid import Grid, Shown, best_grid
from bookplates.plates.there import There

ASCENT, DESCENT = 0.78, 0.28
"""How far letters reach above and below the baseline, as shares of their size."""

CLEAR = 0.5
"""Smallest distance of words from lines and from other words, mm."""


def parts_of(layout: Layout) -> tuple[Stroke, ...]:
    """The true-scale shapes of a layout, exactly as the plan holds them."""
    return tuple(Stroke(part.points, part.line, part.closed, part.name) for part in layout.parts)


def box_of(item: Item) -> Box:
    """What an item covers, mm; of a label, the box round its letters however it is turned."""
    if not isinstance(item, Label):
        return bounds(item.points)
    wide = width(item.text, item.size, item.bold)
    start = {"start": 0.0, "middle": -wide / 2, "end": -wide}[item.anchor]
    letters = Box(start, -DESCENT * item.size, start + wide, ASCENT * item.size)
    if not item.angle:  # as nearly all words: the short way, since this is asked thousands of times
        x, y = item.at
        return Box(letters.left + x, letters.bottom + y, letters.right + x, letters.top + y)
    turn = Matrix.move(*item.at).after(Matrix.turn(item.angle))
    return bounds(turn.at(corner) for corner in letters.corners)


def box_round(items: Iterable[Item]) -> Box:
    """What the items cover together, labels included, mm. Raises ValueError for none."""
    return around(map(box_of, items))


def mapped(item: Item, matrix: Matrix, angle: float = 0.0) -> Item:
    """The item under a map; `angle`, degrees, is how far that map turns words."""
    if isinstance(item, Label):
        return replace(item, at=matrix.at(item.at), angle=item.angle + angle)
    return replace(item, points=tuple(map(matrix.at, item.points)))


def moved(items: Iterable[Item], x: float, y: float) -> tuple[Item, ...]:
    """The items moved by x, y mm."""
    move = Matrix.move(x, y)
    return tuple(mapped(item, move) for item in items)


def segments(stroke: Stroke) -> Iterator[tuple[Point, Point]]:
    """The straight lines of a stroke, one after the other; a hole as the square through its four points."""
    ends = (*stroke.points, stroke.points[0]) if stroke.closed else stroke.points
    return pairwise(ends)


def crosses(start: Point, end: Point, box: Box) -> bool:
    """Whether a straight line comes inside the box (clipping after Liang and Barsky)."""
    low, high = 0.0, 1.0
    for axis in (0, 1):
        step = end[axis] - start[axis]
        near, far = box[axis] - start[axis], box[axis + 2] - start[axis]
        if abs(step) < 1e-9:
            if near > 0 or far < 0:
                return False
            continue
        first, last = sorted((near / step, far / step))
        low, high = max(low, first), min(high, last)
    return low <= high


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes have a point in common."""
    return one.left <= other.right and other.left <= one.right and one.bottom <= other.top and other.bottom <= one.top


def touches(item: Item, box: Box, covers: Box | None = None) -> bool:
    """Whether an item, which covers `covers`, comes into the box; a line round it does not."""
    if not overlap(covers or box_of(item), box):
        return False
    return not isinstance(item, Stroke) or any(crosses(start, end, box) for start, end in segments(item))


def spots(room: Box, size: Size, near: Point | None = None) -> tuple[Point, ...]:
    """Lower left corners at which something of that size lies in the room, those nearest to `near` first."""
    spare = Size(room.size.width - size.width, room.size.height - size.height)
    if not size.goes_into(room.size):
        return ()
    x, y = near or room.middle
    columns, rows = (_steps(span) for span in spare)
    corners = [(room.left + column, room.bottom + row) for row in rows for column in columns]
    away = [(abs(cx + size.width / 2 - x) + abs(cy + size.height / 2 - y), cx, cy) for cx, cy in corners]
    return tuple((cx, cy) for _, cx, cy in sorted(away))


def _steps(span: float) -> list[float]:
    count = 2 * min(6, 1 + int(span / 4)) if span > 0 else 1
    return [max(0.0, span) * step / count for step in range(count + 1)]


class Pad:
    """What has been drawn so far round the parts of one layout.

    A plate is turned on its page only where its parts do not go on it upright; it is laid out for that from
    the start, so that its words read from below or from the right of the page as ISO 129-1 has it. Parts that go on
    no page are spread over several from the start; words that find no room on a page spread the plate, too.

    Attributes:
        items: what is drawn, in order.
        core: what the parts cover.
        untold: dimensions that found no room as such and are to be said in words.
        turnable: whether the parts, and what is drawn beyond them in any case, do not go on the page upright, or need not.
        turned: whether they do after a quarter turn.
        page: the room a printer page has for it, as the plate will lie on it.
        grid: the windows of the pages it is spread over; None while it goes on one.
    """

    def __init__(self, layout: Layout, setup: PageSetup, beyond: float = 0.0) -> None:
        """Begin with the parts; `beyond` is how far the plate draws round them in any case, mm."""
        self.items: list[Item] = []
        self.untold: list[str] = []
        self._boxes: list[Box] = []
        self._there = There()
        self.put(*parts_of(layout))
        self.core = self.box
        self.grid: Grid | None = None
        self._setup = setup
        needed, page = self.core.grown(beyond), setup.room.size
        lies = needed.size.goes_into(page.turned)
        self.turnable = not needed.size.goes_into(page) or (setup.turned and lies)
        self.turned = self.turnable and lies
        if self.turnable and not self.turned:
            self.grid = self._grid(needed, (False, True))
            self.turned = self.grid.turned
        self.page = page.turned if self.turned else page

    def _grid(self, box: Box, ways: Sequence[bool]) -> Grid:
        """The fewest pages for a box, upright or turned."""
        room = self._setup.tile_room.size
        pages = [(room.turned if turned else room, turned) for turned in ways]
        points = [point for item in self.items if isinstance(item, Stroke) and item.part for point in item.points]
        return best_grid(Shown(box, points, self._words()), pages, self._setup.overlap)

    def spread(self) -> None:
        """Spread the plate over pages from now on, or over one column or row of them more.

        What has been drawn stays where it is: the new seam cuts none of its words if that can be, and leaves whole a
        template that went on one page.
        """
        if not self.grid:
            self.grid = self._grid(self.box, (self.turned,))
            return
        words = self._words()
        self.grid = min(
            self.grid.extended(),
            key=lambda grid: (grid.cuts(words), grid.shared_by(self.core), grid.shared_by(self.box), grid.count),
        )

    def _words(self) -> list[Box]:
        return [has for item, has in zip(self.items, self._boxes, strict=True) if isinstance(item, Label)]

    @property
    def upright(self) -> float:
        """The angle of words that stand along an upright line, degrees."""
        return -90.0 if self.turned else 90.0

    def put(self, *items: Item) -> None:
        """Draw these, wherever they are."""
        for item in items:
            self.items.append(item)
            self._boxes.append(box_of(item))
            self._there.add(len(self.items) - 1, self._boxes[-1])

    @property
    def box(self) -> Box:
        """What everything drawn so far covers, mm."""
        return self._there.box

    @property
    def reach(self) -> Box:
        """As far as the drawing may grow to the right, below and, if spread over pages, all round."""
        if self.grid:
            return self.grid.whole
        has = self.box
        return Box(has.left, min(has.bottom, has.top - self.page.height), max(has.right, has.left + self.page.width), has.top)

    def free(self, box: Box, clear: float = CLEAR) -> bool:
        """Whether words may stand in the box: nothing comes nearer than `clear` mm, and no seam of pages cuts them."""
        return (self.grid is None or self.grid.takes(box)) and self.clear_of(box, clear)

    def clear_of(self, box: Box, clear: float = CLEAR) -> bool:
        """Whether nothing comes nearer to the box than `clear` mm."""
        wide = box.grown(clear)
        return not any(touches(self.items[number], wide, self._boxes[number]) for number in self._there.near(wide))

    def strikes(self, items: Iterable[Item]) -> bool:
        """Whether lines or arrowheads among the items would come too near to words that stand already."""
        words = [box.grown(CLEAR) for item, box in zip(self.items, self._boxes, strict=True) if isinstance(item, Label)]
        lines = ((item, box_of(item)) for item in items if not isinstance(item, Label))
        return any(touches(line, word, covers) for line, covers in lines for word in words)

    def fits(self, box: Box) -> bool:
        """Whether a drawing of that box goes on one page, as the plate will lie on it, or on those it is spread over."""
        return self.grid.holds(box) if self.grid else box.size.goes_into(self.page)

    def spoils(self, box: Box) -> bool:
        """Whether drawing in that box as well would make a drawing that fits its page too large for it."""
        return self.fits(self.box) and not self.fits(around((self.box, box)))

    def found(self, items: Sequence[Item], corners: Iterable[Point], clear: float = CLEAR) -> tuple[Item, ...]:
        """The items with their lower left corner at the first of the corners where they meet nothing, or nothing."""
        has = box_round(items)
        for x, y in corners:
            if self.free(Box(x, y, x + has.size.width, y + has.size.height), clear):
                return moved(items, x - has.left, y - has.bottom)
        return ()

    def settle(self, items: Sequence[Item], corners: Iterable[Point], clear: float = CLEAR) -> bool:
        """Draw the items where they are found room; whether they are."""
        found = self.found(items, corners, clear)
        self.put(*found)
        return bool(found)

    def drawing(self, plate: str, title: str) -> Drawing:
        """The finished plate."""
        if not self.fits(self.box) and not (self.turnable and self.box.size.goes_into(self.page.turned)):
            self.spread()
        return Drawing(plate, title, tuple(self.items), self.box, turnable=self.turnable, grid=self.grid)
