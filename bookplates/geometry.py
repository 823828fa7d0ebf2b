"""Points, outlines and affine maps, in mm, y up.

A matrix is the six numbers of ISO 32000-1, 8.3.3: ``(a, b, c, d, e, f)`` takes a point to
``(a x + c y + e, b x + d y + f)``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from bookplates.lengths import fits

Point = tuple[float, float]
Outline = tuple[Point, ...]


class Size(NamedTuple):
    """Width and height, mm."""

    width: float
    height: float

    @property
    def turned(self) -> Size:
        """The same size after a quarter turn."""
        return Size(self.height, self.width)

    def goes_into(self, room: Size) -> bool:
        """Whether a rectangle so large goes into a room as it lies."""
        return fits(self.width, room.width) and fits(self.height, room.height)


TRUE = Size(1.0, 1.0)
"""A scale that changes nothing, across and along."""


class Box(NamedTuple):
    """An upright rectangle by its corners, mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def size(self) -> Size:
        """Width and height, mm."""
        return Size(self.right - self.left, self.top - self.bottom)

    @property
    def middle(self) -> Point:
        """The centre, mm."""
        return (self.left + self.right) / 2, (self.bottom + self.top) / 2

    def grown(self, by: float) -> Box:
        """The box with every side moved out by `by` mm."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def holds(self, point: Point) -> bool:
        """Whether a point lies in it or on its edge."""
        return self.left <= point[0] <= self.right and self.bottom <= point[1] <= self.top

    def met(self, other: Box) -> Box:
        """What it has in common with another; of no width or height where that is nothing."""
        left, bottom = max(self.left, other.left), max(self.bottom, other.bottom)
        return Box(left, bottom, max(left, min(self.right, other.right)), max(bottom, min(self.top, other.top)))

    @property
    def corners(self) -> Outline:
        """Corners counter-clockwise from the lower left, mm."""
        return rectangle(self.left, self.bottom, *self.size)


class Matrix(NamedTuple):
    """An affine map; see the module's docstring for its numbers."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def at(self, point: Point) -> Point:
        """Where the map takes a point."""
        x, y = point
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def after(self, first: Matrix) -> Matrix:
        """The map that does `first`, then this one.

        >>> Matrix.move(10, 0).after(Matrix.turn(90)).at((2.0, 0.0))
        (10.0, 2.0)
        """
        return Matrix(
            first.a * self.a + first.b * self.c,
            first.a * self.b + first.b * self.d,
            first.c * self.a + first.d * self.c,
            first.c * self.b + first.d * self.d,
            first.e * self.a + first.f * self.c + self.e,
            first.e * self.b + first.f * self.d + self.f,
        )

    @property
    def inverse(self) -> Matrix:
        """The map that undoes this one. Raises ZeroDivisionError where it flattens."""
        a, b, c, d, e, f = self
        area = a * d - b * c
        return Matrix(d / area, -b / area, -c / area, a / area, (c * f - d * e) / area, (b * e - a * f) / area)

    @staticmethod
    def move(x: float, y: float) -> Matrix:
        """A move by x, y mm."""
        return Matrix(e=x, f=y)

    @staticmethod
    def scale(across: float, along: float) -> Matrix:
        """A stretch about the origin."""
        return Matrix(a=across, d=along)

    @staticmethod
    def turn(degrees: float) -> Matrix:
        """A turn about the origin, counter-clockwise; quarter turns are exact."""
        quarters, rest = divmod(degrees, 90)
        if rest == 0:
            cos, sin = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarters) % 4]
        else:
            cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        return Matrix(cos, sin, -sin, cos)


def rectangle(x: float, y: float, width: float, height: float) -> Outline:
    """Corners of a rectangle counter-clockwise from the lower left, mm."""
    return (x, y), (x + width, y), (x + width, y + height), (x, y + height)


def circle_points(centre: Point, diameter: float) -> Outline:
    """Right, top, left and bottom of a circle, mm: where its four Bezier curves meet."""
    (x, y), r = centre, diameter / 2
    return (x + r, y), (x, y + r), (x - r, y), (x, y - r)


def mirrored(points: Iterable[Point], about: float) -> Outline:
    """The points seen from the other side, turned over about the upright line x = `about`.

    A closed outline stays counter-clockwise from its lower left: the order is reversed and begun
    again at the corner that is now the lower left.
    """
    turned = [(2 * about - x, y) for x, y in points]
    return from_lower_left(tuple(reversed(turned)))


def from_lower_left(points: Outline) -> Outline:
    """The closed outline begun at its lowest point, the leftmost of those."""
    start = min(range(len(points)), key=lambda i: (round(points[i][1], 9), points[i][0]))
    return points[start:] + points[:start]


def bounds(points: Iterable[Point]) -> Box:
    """The smallest upright box round the points, mm. Raises ValueError for none."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def around(boxes: Iterable[Box]) -> Box:
    """The smallest box that holds all of these, mm. Raises ValueError for none."""
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return Box(min(lefts), min(bottoms), max(rights), max(tops))


def covered(box: Box, by: Sequence[Box], within: float = 0.0) -> bool:
    """Whether boxes together cover one, each side of theirs counting as so much further out, mm.

    >>> covered(Box(0, 0, 4, 2), [Box(0, 0, 3, 2), Box(2, 0, 4, 2)]), covered(Box(0, 0, 4, 2), [Box(0, 0, 3, 2)])
    (True, False)
    """
    grown = [other.grown(within) for other in by]
    xs = sorted({box.left, box.right, *(x for b in grown for x in (b.left, b.right) if box.left < x < box.right)})
    ys = sorted({box.bottom, box.top, *(y for b in grown for y in (b.bottom, b.top) if box.bottom < y < box.top)})
    middles = ((sum(x) / 2, sum(y) / 2) for x in pairwise(xs) for y in pairwise(ys))
    return all(any(b.left <= x <= b.right and b.bottom <= y <= b.top for b in grown) for x, y in middles)


def signed_area(points: Sequence[Point]) -> float:
    """Area of a closed outline, mm2: positive where it runs counter-clockwise.

    >>> signed_area(rectangle(0, 0, 3, 2))
    6.0
    """
    twice = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, (*points[1:], points[0]), strict=True))
    return twice / 2
