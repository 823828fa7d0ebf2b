"""What a page says of its tile: its name, how to join it, and a map with this tile grey. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence

from bookplates.geometry import Box, Point, Size, rectangle
from bookplates.lengths import fits
from bookplates.letters import shortened, width
from bookplates.plates.drawing import Fill, Item, Label, Stroke
from bookplates.plates.marks import LIST, NORMAL, SMALL, lines
from bookplates.plates.pad import ASCENT, DESCENT

GAP = 2.0
LINE = (ASCENT + DESCENT) * SMALL
"""Height of a line of the smallest words."""
LETTERS = 4.5
"""What the names of rows take beside the map."""
LARGEST_CELL = 6.0
BELOW_WORDS = 0.6
"""How far the map stays from words of the plate that reach down to the edge of its window."""
TIGHT = 1.06
"""Distance of lines of words in sizes of their letters: just what keeps them from touching."""
GREY, DARK = 0.72, 0.0
NAME, ABOVE = 7.0, 0.92
"""Size of the tile's name, mm, and how far its baseline lies below the top, as a share of that."""

AND_SO_ON = " and so on"

Place = tuple[int, int]
"""Row from the top and column from the left, from 0."""


def told(title: str, names: Mapping[Place, str], here: Place, loose: Collection[Place], room: Box) -> tuple[Item, ...]:
    """The tile's name large, the map at the right, and how the tiles are joined.

    Args:
        title: of the plate.
        names: of its tiles.
        here: the tile of this page.
        loose: tiles that hold words only.
        room: where this stands.
    """
    if len(names) - len(loose) == 1:
        return (*_title(title, room), *_fullest(_alone(here, loose), _below_title(room))) if loose else ()
    chart, width_taken = _map(names, here, loose, room._replace(top=room.top - BELOW_WORDS))
    words = room._replace(right=room.right - width_taken - GAP)
    return (*chart, *_words(title, names, here, loose, words))


def _map(names: Mapping[Place, str], here: Place, loose: Collection[Place], room: Box) -> tuple[tuple[Item, ...], float]:
    """The map at the right end of the room, and how wide it is; cells too small for names have rows and columns named beside.

    The names of rows are higher than their cells: the last one takes some room below the map.
    """
    rows, columns = (1 + max(place[axis] for place in names) for axis in (0, 1))
    cell = _cell(room.size, rows, columns)
    named = all(_holds(cell, name) for name in names.values())
    if not named:
        cell = _cell(Size(room.size.width - 3 * LETTERS, room.size.height - 1.4 * LINE), rows, columns)
    corner = room.right - cell.width * columns, room.top - (0.0 if named else LINE)
    cells = _cells(names, here, loose, cell, corner, named=named)
    edges = () if named else _edges(names, here, cell, corner)
    return (*cells, *edges), cell.width * columns + (0.0 if named else LETTERS)


def _cell(room: Size, rows: int, columns: int) -> Size:
    """How large a cell may be: the map takes a third of the room."""
    high = min(room.height / rows, LARGEST_CELL)
    return Size(min(room.width / 3 / columns, high), high)


def _holds(cell: Size, name: str) -> bool:
    return fits(LINE, cell.height) and fits(width(name, SMALL, True) + 0.6, cell.width)


def _cells(
    names: Mapping[Place, str], here: Place, loose: Collection[Place], cell: Size, corner: Point, *, named: bool
) -> Iterator[Item]:
    """The cells from the map's upper left corner on, this one grey."""
    for (row, column), name in names.items():
        shape = rectangle(corner[0] + cell.width * column, corner[1] - cell.height * (row + 1), *cell)
        if (row, column) == here:
            yield Fill(shape, GREY if named else DARK)
        yield Stroke(shape, "hidden" if (row, column) in loose else "thin", closed=True)
        if named:
            middle = shape[0][0] + cell.width / 2, shape[0][1] + cell.height / 2 - 0.33 * SMALL
            yield Label(name, middle, SMALL, "middle", bold=(row, column) == here)


def _edges(names: Mapping[Place, str], here: Place, cell: Size, corner: Point) -> Iterator[Label]:
    """This tile's row and column beside the map, and as many others as have room."""
    row_names, column_names = ({place[axis]: _part_of(name, axis) for place, name in names.items()} for axis in (0, 1))
    for row in _apart(sorted(row_names), here[0], LINE / cell.height):
        at = corner[0] - 0.6, corner[1] - cell.height * (row + 0.5) - 0.33 * SMALL
        yield Label(row_names[row], at, SMALL, "end", bold=row == here[0])
    widest = max(width(name, SMALL, True) for name in column_names.values()) + 0.8
    for column in _apart(sorted(column_names), here[1], widest / cell.width):
        at = corner[0] + cell.width * (column + 0.5), corner[1] + 0.6
        yield Label(column_names[column], at, SMALL, "middle", bold=column == here[1])


def _part_of(name: str, axis: int) -> str:
    """The letters of a tile's name, its row, or the number, its column.

    >>> _part_of("AB12", 0), _part_of("AB12", 1)
    ('AB', '12')
    """
    letters = name.rstrip("0123456789")
    return name[len(letters) :] if axis else letters


def _apart(numbers: Sequence[int], here: int, least: float) -> list[int]:
    """The numbers that are so far from each other, `here` among them, counted from it."""
    step = max(1, math.ceil(least - 1e-9))
    return [number for number in numbers if (number - here) % step == 0]


def _alone(here: Place, loose: Collection[Place]) -> Iterator[str]:
    """What is said of a template that stands whole on a page, and of its words that stand on another."""
    if here in loose:
        yield "This page holds words only: it need not be joined."
    else:
        where = "the next" if min(loose) > here else "the page before"
        yield f"The whole template stands on this page: its other words stand on {where}."


def _title(title: str, room: Box) -> tuple[Label, ...]:
    at = room.left, room.top - ASCENT * NORMAL
    return (Label(shortened(title, NORMAL, room.size.width, True), at, NORMAL, bold=True),)


def _below_title(room: Box) -> Box:
    return room._replace(top=room.top - (ASCENT + DESCENT) * NORMAL)


def _words(title: str, names: Mapping[Place, str], here: Place, loose: Collection[Place], room: Box) -> Iterator[Label]:
    """The tile's name large, and right of it the plate's and the fullest sentences that find room."""
    name = names[here]
    yield Label(name, (room.left, room.top - ABOVE * NAME), NAME, bold=True)
    right = room._replace(left=room.left + width(name, NAME, True) + GAP)
    yield from _title(title, right)
    yield from _fullest(_sentences(names, here, loose), _below_title(right))


def _fullest(sentences: Iterator[str], room: Box) -> tuple[Label, ...]:
    found: tuple[Label, ...] = ()
    for text in sentences:
        for size in (NORMAL, LIST, SMALL):
            wrapped = lines(text, size, room.size.width)
            tops = (room.top - TIGHT * size * number for number in range(len(wrapped)))
            found = tuple(Label(line, (room.left, top - ASCENT * size), size) for line, top in zip(wrapped, tops, strict=True))
            if fits(TIGHT * size * len(wrapped), room.size.height):
                return found
    return found


def _sentences(names: Mapping[Place, str], here: Place, loose: Collection[Place]) -> Iterator[str]:
    """How the tiles are joined, the fullest first."""
    joined = sorted(place for place in names if place not in loose)
    if here in loose:
        yield "This page holds words only: it need not be joined."
    else:
        yield from _joining(_trimming(here, joined), _order(names, joined), len(joined))


def _joining(trim: str, order: str, count: int) -> Iterator[str]:
    """Where to trim, and what to lay on what. That dashes are short tells a seam from other dashed lines."""
    short = ", along the short dashes" if trim.startswith("Trim") else ""
    for dashes in dict.fromkeys((short, "")):
        yield f"{count} tiles make this plate. {trim}{dashes}. Lay {order}, the crosses meeting. Tape from the back."
    yield f"{count} tiles. {trim}. Lay {order}; tape from the back."
    yield f"{count} tiles. {trim}. Lay {order}."


def _trimming(here: Place, joined: Collection[Place]) -> str:
    """At which of its edges a tile is trimmed: those at which it is laid on another. Its name is cut off with its foot."""
    beside, below = (here[0], here[1] + 1) in joined, (here[0] + 1, here[1]) in joined
    foot = "below once its row is joined" if len({column for _, column in joined}) > 1 else "below"
    sides = ", and ".join(side for side, trims in (("at the right", beside), (foot, below)) if trims)
    return f"Trim this one {sides}" if sides else "Do not trim this one"


def _order(names: Mapping[Place, str], joined: Sequence[Place]) -> str:
    """What to lay on what: the tiles of a row, then the rows."""
    rows, columns = (len({place[axis] for place in joined}) for axis in (0, 1))
    steps = []
    if columns > 1:
        first = next(place for place in joined if (place[0], place[1] + 1) in joined)
        steps.append(f"{names[first]} on {names[first[0], first[1] + 1]}{AND_SO_ON * (columns > 2)}")
    if rows > 1:
        below = "row A on row B" if columns > 1 else f"{names[joined[0]]} on {names[joined[1]]}"
        steps.append(f"{below}{AND_SO_ON * (rows > 2)}")
    return ", then ".join(steps)
