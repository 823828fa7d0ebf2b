"""What a sewing is drawn on: the spine seen from outside, or the front of a book sewn through its side. Lengths in mm.

The head is at the top, and places along the spine are in proportion. A spine shows its sections as columns, the
front of the book at the right where it opens at the left, as whoever sews sees it; boards stand at the sides.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from bookplates.book.record import Plan
from bookplates.geometry import Box, Point, circle_points
from bookplates.kinds.thread import Leg, Place
from bookplates.lengths import close, fits
from bookplates.plates.drawing import Fill, Item, Label, Stroke
from bookplates.plates.marks import SMALL

PITCH, STRIP, BOARD = 8.6, 4.4, 5.4
"""From section to section; how wide a section is drawn, and a board."""
LEFT, RIGHT, NUMBERS = 9.8, 6.0, 3.8
"""Room left and right of the columns for loops and ends; what of it at the left the stations' numbers take."""
ROW, ROOMY = 2.4, 4.8
"""Least distance between numbers one above the other, and the one that stations are to have where there is room."""
SHORT, TALL = 38.0, 50.0
SEVERAL_ROOMY, SEVERAL_TALL = 3.4, 48.0
"""How high a spine is drawn at least and at most."""
HEADLINE = 3.8
"""Room for a line of words above or below."""
INSET = 10.0
"""How far from the spine edge the main holes of a side-sewn book are drawn at least."""
MOST = 4
"""Of more sections than these the last ones are shown: those sewn last."""
RIM = 0.6
"""Radius of a station's circle."""


@dataclass(frozen=True, slots=True)
class Ground:
    """Where the holes of a sewing lie in its pictures.

    Attributes:
        plan: of the book.
        shown: sections from left to right, boards among them; none for a book sewn through its side.
        high: how high its leaves are drawn.
        foot: what lies below them, for the sections' numbers.
    """

    plan: Plan
    shown: tuple[int, ...]
    high: float
    foot: float

    @property
    def flat(self) -> bool:
        """Whether the book is sewn through its side."""
        return bool(self.plan.sewing.holes)

    @property
    def scale(self) -> float:
        """What the leaf's height is multiplied by."""
        return self.high / self.plan.text_block.leaf_height

    @property
    def strip(self) -> float:
        """How much of a side-sewn book is drawn: its holes, and half as much again."""
        return 1.5 * max((x for x, _ in self.plan.sewing.holes), default=0.0) * self.across

    @property
    def across(self) -> float:
        """What distances from the spine edge are multiplied by: stretched, or they are not to be told apart."""
        farthest = max((x for x, _ in self.plan.sewing.holes), default=1.0)
        return max(self.scale, INSET / farthest)

    @property
    def wide(self) -> float:
        """How wide the whole picture is."""
        return LEFT + RIGHT + (self.strip if self.flat else PITCH * (len(self.shown) - 1))

    @property
    def top(self) -> float:
        """How high the whole picture is."""
        return self.foot + self.high + HEADLINE

    @property
    def spine(self) -> float:
        """Where the spine edge of a side-sewn book lies."""
        return LEFT if self.plan.opening == "left" else LEFT + self.strip

    def at(self, place: Place) -> Point:
        """Where a hole lies."""
        if self.flat:
            x, y = self.plan.sewing.holes[place.station - 1]
            way = 1.0 if self.plan.opening == "left" else -1.0
            return self.spine + way * x * self.across, self.height_of(y)
        return self.column(place.section), self.height_of(self.plan.sewing.stations[place.station - 1])

    def column(self, section: int) -> float:
        """The middle of a section's column."""
        return LEFT + PITCH * self.shown.index(section)

    def height_of(self, from_head: float) -> float:
        """How high something lies, given its distance from the head of the leaf."""
        return self.foot + self.high - from_head * self.scale

    def upper(self, point: Point) -> bool:
        """Whether a point lies nearer to the head than to the tail."""
        return point[1] > self.foot + self.high / 2

    def holds(self, leg: Leg) -> bool:
        """Whether both ends of a leg are shown."""
        shown = self.shown  # asked of every leg of a thick book for every picture
        if not shown:
            return True
        return leg.start.section in shown and leg.end.section in shown and (leg.linked is None or leg.linked in shown)


def sewn(plan: Plan) -> tuple[int, int]:
    """The first and the last section of a book; boards that are sewn on are counted with them."""
    ends = [leg.end.section for leg in plan.sewing.path.legs]  # where each leg ends the next one starts
    return min((1, *ends)), max((plan.text_block.sections, *ends))


def ground(plan: Plan, legs: Iterable[Leg], ends: tuple[int, int]) -> Ground:
    """What these legs are drawn on: the sections they touch and their neighbours, or all `sewn` where there are few."""
    if plan.sewing.holes:
        return Ground(plan, (), _high(plan), HEADLINE)
    touched = {section for leg in legs for section in (leg.start.section, leg.end.section, leg.linked) if section is not None}
    first, last = ends
    few = last - first < 4
    shown = [n for n in range(first, last + 1) if few or {n - 1, n, n + 1} & touched][-MOST:]
    foot = HEADLINE if last > first else 0.0
    return Ground(plan, tuple(shown if plan.opening == "right" else reversed(shown)), _high(plan), foot)


def _high(plan: Plan) -> float:
    """High enough for stations to lie well apart; of several sections less, since there are more pictures."""
    tall, roomy = (TALL, ROOMY) if plan.text_block.sections == 1 else (SEVERAL_TALL, SEVERAL_ROOMY)
    rows = [[y for x, y in plan.sewing.holes if close(x, row)] for row in {x for x, _ in plan.sewing.holes}]
    gaps = (lower - upper for row in rows or [list(plan.sewing.stations)] for upper, lower in pairwise(sorted(row)))
    leaf = plan.text_block.leaf_height
    return min(tall, max(SHORT, roomy * leaf / max(min(gaps, default=leaf), 1.0)))


def drawn(on: Ground, gone: set[tuple[int, int]], now: set[tuple[int, int]]) -> tuple[Item, ...]:
    """The spine or the strip with its holes: those the thread went through before (`gone`) grey, those of this step black."""
    return (*_strips(on), *_supports(on), *_holes(on, gone, now), *_numbers(on, {station for _, station in now}), *_names(on))


def _strips(on: Ground) -> Iterable[Item]:
    if on.flat:
        box = Box(LEFT, on.foot, LEFT + on.strip, on.foot + on.high)
        yield Fill(box.corners, 0.93)
        edge = on.spine
        yield Stroke(((LEFT, box.top), (LEFT + on.strip, box.top)), "thin")
        yield Stroke(((LEFT, box.bottom), (LEFT + on.strip, box.bottom)), "thin")
        yield Stroke(((edge, box.bottom), (edge, box.top)), "medium")
        return
    for section in on.shown:
        board = not 1 <= section <= on.plan.text_block.sections
        half, x = (BOARD if board else STRIP) / 2, on.column(section)
        box = Box(x - half, on.foot, x + half, on.foot + on.high)
        yield Fill(box.corners, 0.78 if board else 0.93)
        yield Stroke(box.corners, "medium" if board else "thin", closed=True)


def _supports(on: Ground) -> Iterable[Item]:
    """Sewing tapes across the spine."""
    for upper, lower in on.plan.sewing.supports:
        left, right = LEFT - STRIP, on.wide - RIGHT + STRIP
        box = Box(left, on.height_of(lower), right, on.height_of(upper))
        yield Fill(box.corners, 0.85)
        yield Stroke(box.corners, "thin", closed=True)


def _holes(on: Ground, gone: set[tuple[int, int]], now: set[tuple[int, int]]) -> Iterable[Item]:
    count = len(on.plan.sewing.holes or on.plan.sewing.stations)
    for section in on.shown or (1,):
        for station in range(1, count + 1):
            centre, hole = on.at(Place(station, "outside", section)), (section, station)
            grey = 0.0 if hole in now else 0.55 if hole in gone else 1.0
            yield Fill(octagon(centre), grey)
            yield Stroke(circle_points(centre, 2 * RIM), "hole", closed=True)


def octagon(centre: Point, r: float = RIM) -> tuple[Point, ...]:
    """Eight points of a small disc."""
    (x, y), c = centre, 0.7071 * r
    return (x + r, y), (x + c, y + c), (x, y + r), (x - c, y + c), (x - r, y), (x - c, y - c), (x, y - r), (x + c, y - c)


def _numbers(on: Ground, wanted: set[int]) -> Iterable[Label]:
    """Numbers of stations at the left; of a side-sewn book those of the main holes at the fore-edge side."""
    count = len(on.plan.sewing.holes or on.plan.sewing.stations)
    heights = {n: on.at(Place(n, "front", *on.shown[:1]))[1] for n in range(1, count + 1)}
    main = {n: y for n, y in heights.items() if on.flat and n <= len(on.plan.sewing.stations)}
    others = {n: y for n, y in heights.items() if n not in main}
    left, right = (others, main) if on.plan.opening == "left" or not on.flat else (main, others)
    for own, x in ((left, NUMBERS - 0.4), (right, on.wide - 0.4)):
        for n, y in _spread(own, wanted, Box(0, on.foot, 0, on.foot + on.high)).items():
            yield Label(str(n), (x, y - 0.34 * SMALL), SMALL, "end", bold=n in wanted)


def _spread(places: dict[int, float], wanted: set[int], room: Box) -> dict[int, float]:
    """Heights for the numbers, `ROW` apart at least, and each at its hole.

    Where holes lie closer, those of the step and the ends come first, others are left out; only where two of the step
    are too close do they move apart, both alike.
    """
    by_need = sorted(places, key=lambda n: (n not in wanted, n not in (min(places), max(places)), n))
    kept: list[int] = []
    for n in by_need[: int((room.size.height + ROW) / ROW)]:
        if n in wanted or all(fits(ROW, abs(places[n] - places[other])) for other in kept):
            kept.append(n)
    groups: list[list[int]] = []
    for n in sorted(kept, key=lambda n: (-places[n], n)):
        groups.append([n])
        while len(groups) > 1 and _top(groups[-2], places) - ROW * len(groups[-2]) < _top(groups[-1], places):
            groups[-2:] = [groups[-2] + groups[-1]]
    heights = {n: _top(group, places) - ROW * i for group in groups for i, n in enumerate(group)}
    return _held(heights, room)


def _top(group: Sequence[int], places: Mapping[int, float]) -> float:
    """The height of the first number of a group that stands together, so that as many are too high as too low."""
    return sum(places[n] + ROW * i for i, n in enumerate(group)) / len(group)


def _held(heights: dict[int, float], room: Box) -> dict[int, float]:
    """Pushed back into the room, from its top and from its bottom."""
    order, top, low = list(heights), room.top, room.bottom
    for n in order:
        heights[n] = min(heights[n], top)
        top = heights[n] - ROW
    for n in reversed(order):
        heights[n] = max(heights[n], low)
        low = heights[n] + ROW
    return heights


def _names(on: Ground) -> Iterable[Label]:
    """The head, and below the sections' numbers, boards by their names."""
    middle = LEFT + (on.wide - LEFT - RIGHT) / 2
    yield Label("HEAD", (middle, on.foot + on.high + 1.6), SMALL, "middle")
    if on.flat:
        yield Label("spine", (on.spine, 0.7), SMALL, "middle")
    for section in on.shown if on.foot else ():
        yield Label(called(on.plan, section), (on.column(section), 0.7), SMALL, "middle")


def called(plan: Plan, section: int) -> str:
    """A section's number; a board by its name."""
    return "front" if section < 1 else "back" if section > plan.text_block.sections else str(section)
