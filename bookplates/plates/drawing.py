"""What a plate is made of: inert lines, fills and labels in mm, origin wherever the plate likes, y up.

Nothing here knows a book, a page or a printer. A `Stroke` with a part name is a true-scale shape of the
plan; everything else (dimensions, hatching, sketches) helps to read it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
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

Layer = Literal["cut", "fold", "place", "holes", "dimensions", "notes"]
"""What can be shown and hidden together: parts by their line, the dimensions, and the words and marks that explain them."""

LAYER_OF_LINE: Mapping[str, Layer | None] = {
    "cut": "cut", "fold": "fold", "place": "place", "centre": "place", "hole": "holes", "bar": None,
}  # fmt: skip
"""The layer of a part, by its line. The bars are in none: without them nobody can tell whether a print is true."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A polyline, a closed outline, or (line ``hole``) a circle by its right, top, left and bottom points.

    `layer` is that of a stroke which is no part: a part's goes by its line.
    """

    points: Outline
    line: Line
    closed: bool = False
    part: str | None = None
    layer: Layer | None = "notes"


@dataclass(frozen=True, slots=True)
class Fill:
    """A filled outline: arrowheads, hatching. `grey` runs from 0, black, to 1, white."""

    points: Outline
    grey: float = 0.0
    layer: Layer | None = "notes"


@dataclass(frozen=True, slots=True)
class Label:
    """A line of text. `at` is on its baseline; `angle` in degrees, counter-clockwise; `size` in mm."""

    text: str
    at: Point
    size: float
    anchor: Anchor = "start"
    angle: float = 0.0
    bold: bool = False
    layer: Layer | None = "notes"


Item = Stroke | Fill | Label


def layer_of(item: Item) -> Layer | None:
    """The layer an item belongs to; None for one that always shows."""
    if isinstance(item, Stroke) and item.part is not None:
        return LAYER_OF_LINE[item.line]
    return item.layer


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

    @property
    def layered(self) -> bool:
        """Whether its items can be hidden by their layers.

        Not those of a page of words, which is nothing without them, nor what a page says of itself and how tiles are
        joined, which has no title.
        """
        return bool(self.title) and not self.whole_page

    def parts(self) -> Iterable[Stroke]:
        """The true-scale shapes alone."""
        return (item for item in self.items if isinstance(item, Stroke) and item.part)
