"""Paths as a PDF constructs and paints them (ISO 32000-1, 8.5), in mm on the paper."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

from bookplates.geometry import Matrix, Outline, Point, Size

Curve = tuple[Point, Point, Point, Point]

SAME_PLACE = 1e-4
"""Ends nearer than this, mm, are one point: numbers in a PDF are written with a few decimals only."""


class Broken(Exception):  # named like those in errors.py
    """The content of a page cannot be followed; says why in a clause."""


@dataclass(slots=True)
class Subpath:
    """One outline or one line, with the Bezier curves in it by their four points."""

    points: list[Point]
    curves: list[Curve] = field(default_factory=list)
    closed: bool = False

    def close(self) -> None:
        """Mark the outline closed; a last point on the first one is that point again."""
        self.closed = True
        if len(self.points) > 1 and math.dist(self.points[0], self.points[-1]) < SAME_PLACE:
            self.points.pop()

    def settle(self) -> None:
        """An outline drawn back to where it began is closed, even without being told."""
        long_enough = len(self.points) > 2 or self.curves
        if not self.closed and long_enough and math.dist(self.points[0], self.points[-1]) < SAME_PLACE:
            self.close()

    def changed(self, matrix: Matrix) -> Subpath:
        """The same path seen through `matrix`."""
        curves = [(matrix.at(p), matrix.at(q), matrix.at(r), matrix.at(s)) for p, q, r, s in self.curves]
        return Subpath([matrix.at(point) for point in self.points], curves, self.closed)


class Pen:
    """Builds paths point by point and keeps those that were painted."""

    def __init__(self) -> None:
        self.painted: list[Subpath] = []
        self._paths: list[Subpath] = []
        self._at: Point | None = None

    @property
    def at(self) -> Point:
        """The current point. Raises Broken where there is none."""
        if self._at is None:
            raise Broken("a line is drawn from nowhere")
        return self._at

    def move(self, point: Point) -> None:
        """Begin a new path."""
        self._paths.append(Subpath([point]))
        self._at = point

    def line(self, point: Point) -> None:
        """A straight line."""
        self._open().points.append(point)
        self._at = point

    def curve(self, first: Point, second: Point, end: Point) -> None:
        """A cubic Bezier curve with its two control points."""
        path = self._open()
        path.curves.append((self.at, first, second, end))
        path.points.append(end)
        self._at = end

    def close(self) -> None:
        """Back to where the path began; without a path nothing happens."""
        if self._paths and not self._paths[-1].closed:
            self._at = self._paths[-1].points[0]
            self._paths[-1].close()

    def paint(self) -> None:
        """Stroke or fill: what was built can be seen."""
        for path in self._paths:
            if len(path.points) > 1 or path.curves:
                path.settle()
                self.painted.append(path)
        self.drop()

    def fill(self) -> None:
        """Fill alone, which closes every path it fills."""
        for path in self._paths:
            if not path.closed:
                path.close()
        self.paint()

    def drop(self) -> None:
        """End the path unseen, as a clip does."""
        self._paths, self._at = [], None

    def _open(self) -> Subpath:
        at = self.at
        if not self._paths or self._paths[-1].closed:
            self._paths.append(Subpath([at]))
        return self._paths[-1]


def extent(path: Subpath, axis: tuple[float, float]) -> Size:
    """How far a path reaches along `axis` and square to it, curves included, mm."""
    long = math.hypot(*axis)
    cos, sin = (axis[0] / long, axis[1] / long) if long > 0 else (1.0, 0.0)
    turned = path.changed(Matrix(cos, -sin, sin, cos))
    return Size(_reach(turned, 0), _reach(turned, 1))


def _reach(path: Subpath, way: int) -> float:
    values = [point[way] for point in path.points]
    for curve in path.curves:
        values += _turning_values(*(point[way] for point in curve))
    return max(values) - min(values)


def _turning_values(p: float, q: float, r: float, s: float) -> Iterable[float]:
    """The values at which a cubic Bezier turns back along one axis."""
    low, high = min(p, s), max(p, s)
    if low <= q <= high and low <= r <= high:
        return []
    a, b, c = s - 3 * r + 3 * q - p, 2 * (p - 2 * q + r), q - p  # a third of the derivative: a t2 + b t + c
    return [_bezier(p, q, r, s, t) for t in _roots(a, b, c) if 0 < t < 1]


def _roots(a: float, b: float, c: float) -> list[float]:
    under_root = b * b - 4 * a * c
    if under_root < 0:
        return []
    far = -(b + math.copysign(math.sqrt(under_root), b)) / 2  # never loses digits by subtracting near equals
    return [over / under for over, under in ((far, a), (c, far)) if abs(under) > 0]


def _bezier(p: float, q: float, r: float, s: float, t: float) -> float:
    u = 1 - t
    return u * u * u * p + 3 * u * u * t * q + 3 * u * t * t * r + t * t * t * s


def is_finite(points: Outline) -> bool:
    """Whether every coordinate is a number on some paper."""
    return all(math.isfinite(x) and math.isfinite(y) for x, y in points)
