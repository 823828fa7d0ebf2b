"""A plate too large for one page, tile by tile: what of it each page shows, and what is said to join them. Lengths in mm.

Everything is worked out with the plate as it lies on its pages, turned a quarter if it is: rows have letters from the
top, columns numbers from the left. Each tile but the last of its row is trimmed at its right seam and laid on the next,
each row but the last at its lower seam.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from bookplates.geometry import Box, Matrix, around
from bookplates.pages.joins import Seam, drawn_seam
from bookplates.pages.sheets import Placement
from bookplates.pages.told import told
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Item, Label, Stroke
from bookplates.plates.grid import HAIR, Grid, Shown, best_grid, tiles_needed
from bookplates.plates.pad import box_of, mapped, overlap, touches

MOST_TILES = 100
"""More pages than this nobody joins truly: common practice, no source."""

Place = tuple[int, int]
"""Row from the top and column from the left, from 0."""


@dataclass(frozen=True, slots=True)
class Tile:
    """One page of a plate.

    Attributes:
        name: its row's letter and its column's number.
        window: what of the plate it shows.
        cell: what is left of that when it is trimmed.
        words_only: whether it shows nothing else, and need not be joined.
    """

    name: str
    window: Box
    cell: Box
    words_only: bool


def grid_of(drawing: Drawing, setup: PageSetup) -> Grid:
    """The windows a drawing was laid out for, or else the fewest that show it."""
    if drawing.grid:
        return drawing.grid
    room = setup.tile_room.size
    ways = [(room, False), (room.turned, True)] if drawing.turnable else [(room, False)]
    points = [point for part in drawing.parts() for point in part.points]
    words = [box_of(item) for item in drawing.items if isinstance(item, Label)]
    return best_grid(Shown(drawing.box, points, words), ways, setup.overlap)


def fewest_tiles(drawing: Drawing, setup: PageSetup) -> int:
    """How many pages a drawing takes at least, upright or, where it may be, turned."""
    room, need = setup.tile_room.size, drawing.box.size
    ways = (room, room.turned) if drawing.turnable else (room,)
    return min(math.prod(tiles_needed(*pair, setup.overlap) for pair in zip(need, way, strict=True)) for way in ways)


def cuts_words(drawing: Drawing, setup: PageSetup) -> bool:
    """Whether words of a drawing would be cut by a seam. Those of plates are laid out so that none are."""
    grid = grid_of(drawing, setup)
    return not all(grid.takes(box_of(item)) for item in drawing.items if isinstance(item, Label))


def tiled(drawing: Drawing, setup: PageSetup) -> Iterator[tuple[Placement, Placement]]:
    """For each tile its part of the drawing, and what is said round it; one that would be bare beside the parts is left out."""
    grid = grid_of(drawing, setup)
    lies = _Lying(drawing, grid)
    room = setup.tile_room
    for place, tile in lies.tiles.items():
        move = Matrix.move(room.left - tile.window.left, room.top - tile.window.top)
        clip = Box(room.left, room.top - tile.window.size.height, room.left + tile.window.size.width, room.top)
        shown = replace(drawing, title=lies.titled(tile), items=lies.shown(tile), grid=None)
        yield Placement(shown, move.after(lies.turn), clip), Placement(_round(lies, place, move, setup), Matrix())


def _round(lies: _Lying, place: Place, move: Matrix, setup: PageSetup) -> Drawing:
    """What a page says of its tile: seams, name and map, in the page's coordinates. It has no title, being no plate."""
    items = [mapped(item, move) for seam in lies.seams(place) for item in drawn_seam(*seam)]
    names = {at: tile.name for at, tile in lies.tiles.items()}
    loose = [at for at, tile in lies.tiles.items() if tile.words_only]
    items += told(lies.drawing.title, names, place, loose, setup.tile_words)
    return Drawing(lies.drawing.plate, "", tuple(items), setup.printable, turnable=False)


class _Lying:
    """A drawing as it lies on its pages."""

    def __init__(self, drawing: Drawing, grid: Grid) -> None:
        self.drawing = drawing
        self.turn = Matrix.turn(90.0 if grid.turned else 0.0)
        self.grid = grid.on_page()
        self.items = [mapped(item, self.turn, 90.0 if grid.turned else 0.0) for item in drawing.items]
        self.boxes = [box_of(item) for item in self.items]
        parts = [box for item, box in zip(self.items, self.boxes, strict=True) if isinstance(item, Stroke) and item.part]
        self.core = around(parts) if parts else around(self.boxes)
        self.tiles = dict(self._tiles())

    def _tiles(self) -> Iterator[tuple[Place, Tile]]:
        across, along = self.grid.across, self.grid.along
        rows = list(zip(reversed(along.spans), reversed(along.cells), strict=True))
        columns = list(zip(across.spans, across.cells, strict=True))
        for row, column in product(range(len(rows)), range(len(columns))):
            ((low, high), (bottom, top)), ((left, right), (start, end)) = rows[row], columns[column]
            window, cell = Box(left, low, right, high), Box(start, bottom, end, top)
            shows = {isinstance(item, Label) for item, box in self._in(cell) if touches(item, cell, box)}
            holds_parts = overlap(cell.grown(-HAIR), self.core)
            if shows or holds_parts:
                yield (row, column), Tile(f"{row_name(row)}{column + 1}", window, cell, shows == {True} and not holds_parts)

    def titled(self, tile: Tile) -> str:
        """What the page is called: a plate that stands on one page is no tile, nor is a page of words."""
        if tile.words_only:
            return f"{self.drawing.title}: words"
        one = sum(not tile.words_only for tile in self.tiles.values()) == 1
        return self.drawing.title if one else f"{self.drawing.title}: tile {tile.name}"

    def _in(self, box: Box) -> Iterator[tuple[Item, Box]]:
        return ((item, has) for item, has in zip(self.items, self.boxes, strict=True) if overlap(has, box))

    def shown(self, tile: Tile) -> tuple[Item, ...]:
        """Parts whole, and what else meets the window; words only where they lie wholly in it and are not trimmed off."""
        pairs = zip(self.drawing.items, self.items, self.boxes, strict=True)
        return tuple(item for item, lying, box in pairs if _is_shown(lying, box, tile))

    def seams(self, place: Place) -> Iterator[tuple[Seam, Sequence[Item]]]:
        """The seams of a tile, each with what else that page shows there."""
        row, column = place
        shown = [item for item, box in zip(self.items, self.boxes, strict=True) if _is_shown(item, box, self.tiles[place])]
        pairs = (
            (place, (row, column + 1)),
            ((row, column - 1), place),
            (place, (row + 1, column)),
            ((row - 1, column), place),
        )
        for first, second in pairs:
            trimmed, under = self.tiles.get(first), self.tiles.get(second)
            if trimmed and under and not (trimmed.words_only or under.words_only):
                yield self._seam(trimmed, under, upright=first[0] == second[0], trims=first == place), shown

    def _seam(self, trimmed: Tile, under: Tile, *, upright: bool, trims: bool) -> Seam:
        left, bottom, right, top = trimmed.cell
        start = (right, bottom) if upright else (left, bottom)
        end = (right, top) if upright else (right, bottom)
        return Seam(start, end, self.grid.across.overlap, (trimmed.name, under.name), trims, self.items)


def _is_shown(item: Item, box: Box, tile: Tile) -> bool:
    if isinstance(item, Label):
        window = tile.window.grown(HAIR)
        inside = window.left <= box.left and box.right <= window.right and window.bottom <= box.bottom and box.top <= window.top
        return inside and overlap(box, tile.cell.grown(-HAIR))
    return bool(isinstance(item, Stroke) and item.part) or overlap(box, tile.window)


def row_name(row: int) -> str:
    """The letter of a row, from the top; after Z two of them.

    >>> row_name(0), row_name(25), row_name(26)
    ('A', 'Z', 'AA')
    """
    letters = ""
    row += 1
    while row:
        row, last = divmod(row - 1, 26)
        letters = chr(ord("A") + last) + letters
    return letters
