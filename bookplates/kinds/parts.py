"""True-scale shapes as numbers: what a plan holds, a plate arranges, a PDF names and `verify` measures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from bookplates.geometry import Box, Outline, Point, bounds, circle_points

PartLine = Literal["cut", "fold", "place", "centre", "hole", "bar"]
Grain = Literal["head to tail", "across", "none"]


@dataclass(frozen=True, slots=True)
class Part:
    """One outline or one line of a template, mm, in its layout's own coordinates, y from the tail up.

    A hole is given by the right, top, left and bottom points of its circle.
    """

    name: str
    line: PartLine
    points: Outline
    closed: bool

    @property
    def box(self) -> Box:
        """What the part covers, mm."""
        return bounds(self.points)


def outline(name: str, line: PartLine, points: Sequence[Point]) -> Part:
    """A closed outline, its corners counter-clockwise, mm."""
    return Part(name, line, tuple(points), closed=True)


def rule(name: str, line: PartLine, *points: Point) -> Part:
    """An open line from point to point, mm."""
    return Part(name, line, points, closed=False)


def hole(name: str, centre: Point, diameter: float) -> Part:
    """A hole drawn as a circle of `diameter` mm about `centre`."""
    return Part(name, "hole", circle_points(centre, diameter), closed=True)


@dataclass(frozen=True, slots=True)
class Layout:
    """The parts of one template, which lie to each other as they are to be printed.

    Attributes:
        plate: the plate they belong to; several layouts may share one.
        title: the template among its plate's, such as "front"; empty where there is but one.
        parts: its shapes.
        copies: how many to cut of what it shows.
        use: how it is used, sentence by sentence, where that is not what its plate says of itself.
    """

    plate: str
    title: str
    parts: tuple[Part, ...]
    copies: int = 1
    use: tuple[str, ...] = ()

    def part(self, name: str) -> Part:
        """The part of that name. Raises KeyError where there is none."""
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)

    def named(self, beginning: str) -> tuple[Part, ...]:
        """The parts whose names begin so, in their order."""
        return tuple(part for part in self.parts if part.name.startswith(beginning))


@dataclass(frozen=True, slots=True)
class Piece:
    """Something to cut out and build in.

    Attributes:
        name: as design and PDF call it, such as "front covering".
        material: "board", "cover paper", "lining paper", "text paper", "tape", ...
        count: how many of it one book needs.
        outline: corners counter-clockwise from the lower left, mm; tail edge at y = 0, head up, the inside
            (the wrong side of the material) towards the reader.
        grain: which way its grain runs on the finished book.
    """

    name: str
    material: str
    count: int
    outline: Outline
    grain: Grain

    @property
    def width(self) -> float:
        """Across the book, mm."""
        return bounds(self.outline).size.width

    @property
    def height(self) -> float:
        """Along the spine, mm."""
        return bounds(self.outline).size.height
