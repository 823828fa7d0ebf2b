"""How a plate too large for one page is spread over several. Lengths in mm, where the plate lies.

Windows of one size, each a page's room, lie in columns and rows and overlap. In the middle of an overlap runs the
seam: there one page is trimmed and laid on the next. Words stand clear of seams; only a line of them that a seam runs
along, as a numeral level with its hole, may lie over it within the overlap, where both pages show it whole.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bookplates.geometry import Box, Point, Size
from bookplates.lengths import fits

HAIR = 1e-6
HALF_LINE = 0.3
"""How far the widest line and a little more reach beyond the points it is drawn through, mm."""
BESIDE = 22.0
"""What stays free for dimensions before a plate that goes on one page in that direction; the rest lies behind it, mm."""
NEAR_SEAM, NEAR_OVERLAP = 2.5, 1.5
"""A corner or a hole is kept so far from a seam if that can be had, and so far from its overlap, mm."""
ONE_LINE = 3.3
"""Words no longer than this across a seam are one line that it runs along, mm."""
SHARES = tuple(sorted((step / 40 for step in range(41)), key=lambda share: abs(share - 0.5)))
"""How much of the room left over may lie before the plate, the best first."""

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Run:
    """Windows in one direction.

    Attributes:
        start: where the first begins.
        window: how long each is.
        overlap: how much of it the next one shows, too.
        count: how many there are.
    """

    start: float
    window: float
    overlap: float
    count: int

    @property
    def pitch(self) -> float:
        """From where one window begins to where the next does, mm."""
        return self.window - self.overlap

    @property
    def end(self) -> float:
        """Where the last window ends."""
        return self.start + (self.count - 1) * self.pitch + self.window

    @property
    def spans(self) -> tuple[Span, ...]:
        """Where each window begins and ends."""
        starts = (self.start + number * self.pitch for number in range(self.count))
        return tuple((start, start + self.window) for start in starts)

    @property
    def seams(self) -> tuple[float, ...]:
        """The middle of each overlap."""
        return tuple(start + self.overlap / 2 for start, _ in self.spans[1:])

    @property
    def cells(self) -> tuple[Span, ...]:
        """What is left of each window when it is trimmed at its seams."""
        edges = (self.start, *self.seams, self.end)
        return tuple(pairwise(edges))

    def takes(self, low: float, high: float) -> bool:
        """Whether words so long lie clear of every seam, or, no more than a line of them, within its overlap."""
        if low < self.start - HAIR or high > self.end + HAIR:
            return False
        half = self.overlap / 2 + HAIR if high - low <= ONE_LINE else 0.0
        return all(high <= at + HAIR or low >= at - HAIR or (at - half <= low and high <= at + half) for at in self.seams)


@dataclass(frozen=True, slots=True)
class Grid:
    """Windows in columns and rows; `turned` where the plate is turned a quarter, counter-clockwise, on its pages."""

    across: Run
    along: Run
    turned: bool = False

    @property
    def count(self) -> int:
        """How many windows there are."""
        return self.across.count * self.along.count

    @property
    def whole(self) -> Box:
        """What all windows show together."""
        return Box(self.across.start, self.along.start, self.across.end, self.along.end)

    @property
    def cells(self) -> Iterator[Box]:
        """What is left of the windows when they are trimmed, from the upper left, row by row."""
        for bottom, top in reversed(self.along.cells):
            for left, right in self.across.cells:
                yield Box(left, bottom, right, top)

    def takes(self, box: Box) -> bool:
        """Whether words in that box are not cut by a seam."""
        return self.across.takes(box.left, box.right) and self.along.takes(box.bottom, box.top)

    def holds(self, box: Box) -> bool:
        """Whether a box lies within what the windows show."""
        (left, bottom, right, top), whole = box, self.whole.grown(HAIR)
        return whole.left <= left and whole.bottom <= bottom and right <= whole.right and top <= whole.top

    def extended(self) -> tuple[Grid, ...]:
        """With one more column at the right, one more row below, a column at the left, a row above; the fewest windows first."""
        across = replace(self.across, count=self.across.count + 1)
        along = replace(self.along, count=self.along.count + 1)
        grids = (
            replace(self, across=across),
            replace(self, along=replace(along, start=along.start - along.pitch)),
            replace(self, across=replace(across, start=across.start - across.pitch)),
            replace(self, along=along),
        )
        return tuple(sorted(grids, key=lambda grid: grid.count))

    def cuts(self, words: Iterable[Box]) -> int:
        """How many of the words a seam cuts."""
        return sum(not self.takes(box) for box in words)

    def shared_by(self, box: Box) -> int:
        """How many windows, trimmed at their seams, a box reaches into."""
        rows = sum(low < box.top - HAIR and box.bottom < high - HAIR for low, high in self.along.cells)
        return rows * sum(low < box.right - HAIR and box.left < high - HAIR for low, high in self.across.cells)

    def on_page(self) -> Grid:
        """The same as it lies on its pages: turned with the plate about the origin."""
        if not self.turned:
            return self
        return Grid(replace(self.along, start=-self.along.end), self.across)


def tiles_needed(span: float, window: float, overlap: float) -> int:
    """How many windows a length takes, so that its lines are not halved at its ends.

    >>> tiles_needed(187, 187, 10), tiles_needed(187.1, 187, 10), tiles_needed(363, 187, 10)
    (1, 2, 2)
    """
    if fits(span, window):
        return 1
    return max(2, math.ceil((span + 2 * HALF_LINE - overlap) / (window - overlap) - HAIR))


@dataclass(frozen=True, slots=True)
class Shown:
    """What a plate shows: the box that its pages must hold, corners and holes that are better not in an overlap, and words."""

    box: Box
    points: Sequence[Point] = ()
    words: Sequence[Box] = ()


def best_grid(shown: Shown, pages: Iterable[tuple[Size, bool]], overlap: float) -> Grid:
    """The fewest windows that show a plate, of those the ones that show least beside it.

    Args:
        shown: the plate, or its parts; words are not cut by a seam if that can be had.
        pages: a page's room as the plate lies on it, and whether the plate is turned for that; the best first.
        overlap: of neighbours, mm, less than the rooms are wide.
    """
    grids = [_over(shown, room, overlap, turned) for room, turned in pages]
    return min(grids, key=lambda grid: (grid.count, round(grid.whole.size.width * grid.whole.size.height, 3)))


def _over(shown: Shown, room: Size, overlap: float, turned: bool) -> Grid:
    box, words = shown.box, shown.words
    across = _run(
        (box.left, box.right), (room.width, overlap), [x for x, _ in shown.points], [(word.left, word.right) for word in words]
    )
    down = _run(  # what is left over shall lie below
        (-box.top, -box.bottom),
        (room.height, overlap),
        [-y for _, y in shown.points],
        [(-word.top, -word.bottom) for word in words],
    )
    return Grid(across, replace(down, start=-down.end), turned)


def _run(span: Span, page: tuple[float, float], points: Sequence[float], words: Sequence[Span]) -> Run:
    """The fewest windows, laid so that as few words and corners as may be meet a seam; one more if words would be cut.

    `page` is how long a window is, and how much of that overlaps.
    """
    (low, high), (window, overlap) = span, page
    least = tiles_needed(high - low, window, overlap)
    if least == 1:
        return Run(low - min((window - (high - low)) / 2, BESIDE), window, overlap, 1)
    lines = Counter(points)
    for count in (least, least + 1):
        tried = [(_harm(run, lines, words), run) for run in _runs(span, window, overlap, count)]
        (cut, _, _), best = min(tried, key=lambda entry: entry[0])
        if not cut:
            return best
    return best


def _runs(span: Span, window: float, overlap: float, count: int) -> Iterator[Run]:
    low, high = span
    spare = count * window - (count - 1) * overlap - (high - low)
    ends = min(HALF_LINE, spare / 2)
    for share in SHARES:
        yield Run(low - ends - (spare - 2 * ends) * share, window, overlap, count)


def _harm(run: Run, points: Mapping[float, int], words: Sequence[Span]) -> tuple[int, int, int]:
    """How many words a run cuts, and how many corners lie near its seams, and in or near its overlaps.

    `points` are the places of the corners, and how many lie there.
    """
    seams, reach = run.seams, run.overlap / 2 + NEAR_OVERLAP
    away = [(abs(point - seam), count) for point, count in points.items() for seam in seams]
    cut = sum(not run.takes(low, high) for low, high in words)
    return cut, sum(count for off, count in away if off < NEAR_SEAM), sum(count for off, count in away if off < reach)
