"""What a plate is made of: inert lines, fills and labels in mm, origin wherever the plate likes, y up.

Nothing here knows a book, a page or a printer. A `Stroke` with a part name is a true-scale shape of the
plan; everything else (dimensions, hatching, sketches) helps to read it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from bookplates.geometry import Box, Outline, Point
from bookplates.plates.grid import Grid

PlainLine = Literal["cut", "fold", "place", "centre", "hole", "bar", "thin", "medium", "hidden", "light"]
ThreadLine = Literal["thread", "thread behind", "sewn", "sewn behind"]
Line = PlainLine | ThreadLine
"""How a stroke is drawn. The first six name a part's line; the others are for what is not a part:
``thin`` dimension and leader lines, ``medium`` solid lines of a sketch, ``hidden`` short-dashed ones, ``light`` grey;
``thread`` where a needle takes it now, ``sewn`` where it lies already, ``behind`` on the side that is not seen."""

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A polyline, a closed outline, or (line ``hole``) a circle by its right, top, left and bottom points."""

    points: Outline
    line: Line
    closed: bool = False
    part: str | None = None


@dataclass(frozen=True, slots=True)
class Fill:
    """A filled outline: arrowheads, hatching. `grey` runs from 0, black, to 1, white."""

    points: Outline
    grey: float = 0.0


@dataclass(frozen=True, slots=True)
class Label:
    """A line of text. `at` is on its baseline; `angle` in degrees, counter-clockwise; `size` in mm."""

    text: str
    at: Point
    size: float
    anchor: Anchor = "start"
    angle: float = 0.0
    bold: bool = False


Item = Stroke | Fill | Label


@dataclass(frozen=True, slots=True)
class Drawing:
    """One plate, or one of several that share a plate's name.

    Attributes:
        plate: the plate's name as the plan and the PDF call it.
        title: what stands in the page's title block and outline, such as "wrap outline, front".
        items: what is drawn, in that order.
        box: what it covers, labels included, mm.
        turnable: whether a quarter turn is allowed to make it fit its page; its words are then set to be read so.
        whole_page: laid out for a page of its own; `box` is then that page's room.
        grid: how it is spread over several pages, where it was laid out for that.
    """

    plate: str
    title: str
    items: tuple[Item, ...]
    box: Box = field(compare=False)
    turnable: bool = True
    whole_page: bool = False
    grid: Grid | None = field(default=None, compare=False)

    def parts(self) -> Iterable[Stroke]:
        """The true-scale shapes alone."""
        return (item for item in self.items if isinstance(item, Stroke) and item.part)
