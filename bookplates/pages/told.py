"""What a page says of its tile: its name, how to join it, and a map with this tile grey. Lengths in mm."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from bookplates.geometry import Box, rectangle
from bookplates.lengths import fits
from bookplates.letters import shortened, width
from bookplates.plates.drawing import Fill, Item, Label, Stroke
from bookplates.plates.marks import LIST, NORMAL, SMALL, lines
from bookplates.plates.pad import ASCENT, DESCENT

GAP = 2.0
LARGEST_CELL = 6.0
TIGHT = 1.06
"""Distance of lines of words in sizes of their letters: just what keeps them from touching."""
GREY, DARK = 0.72, 0.35
NAME, ABOVE = 7.0, 0.92
"""Size of the tile's name, mm, and how far its baseline lies below the top, as a share of that."""

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
    cell = min(room.size.height / (1 + max(row for row, _ in names)), LARGEST_CELL)
    wide = min(room.size.width / 3, cell * (1 + max(column for _, column in names)))
    words = room._replace(right=room.right - wide - GAP)
    return (*_map(names, here, loose, room._replace(left=room.right - wide)), *_words(title, names, here, loose, words))


def _map(names: Mapping[Place, str], here: Place, loose: Collection[Place], room: Box) -> Iterator[Item]:
    rows, columns = (1 + max(place[axis] for place in names) for axis in (0, 1))
    wide, high = room.size.width / columns, min(room.size.height / rows, LARGEST_CELL)
    for (row, column), name in names.items():
        cell = rectangle(room.left + wide * column, room.top - high * (row + 1), wide, high)
        named = fits((ASCENT + DESCENT) * SMALL, high) and fits(width(name, SMALL) + 0.6, wide)
        if (row, column) == here:
            yield Fill(cell, GREY if named else DARK)
        yield Stroke(cell, "hidden" if (row, column) in loose else "thin", closed=True)
        if named:
            middle = cell[0][0] + wide / 2, cell[0][1] + high / 2 - 0.33 * SMALL
            yield Label(name, middle, SMALL, "middle", bold=(row, column) == here)


def _words(title: str, names: Mapping[Place, str], here: Place, loose: Collection[Place], room: Box) -> Iterator[Label]:
    """The tile's name large, and right of it the plate's and the fullest sentences that find room."""
    name = names[here]
    yield Label(name, (room.left, room.top - ABOVE * NAME), NAME, bold=True)
    right = room._replace(left=room.left + width(name, NAME, True) + GAP)
    yield Label(shortened(title, NORMAL, right.size.width, True), (right.left, right.top - ASCENT * NORMAL), NORMAL, bold=True)
    below = right._replace(top=right.top - (ASCENT + DESCENT) * NORMAL)
    yield from _fullest(_sentences(names, here, loose), below)


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
    elif len(joined) == 1:
        yield "The whole template stands on this page: there is nothing to join."
    else:
        yield from _joining(names, joined)


def _joining(names: Mapping[Place, str], joined: Sequence[Place]) -> Iterator[str]:
    """What to lay on what."""
    rows, columns = ({place[axis] for place in joined} for axis in (0, 1))
    steps = []
    if len(columns) > 1:
        first = next(place for place in joined if (place[0], place[1] + 1) in joined)
        steps.append(f"{names[first]} on {names[first[0], first[1] + 1]}")
    if len(rows) > 1:
        steps.append("row A on row B" if len(columns) > 1 else f"{names[joined[0]]} on {names[joined[1]]}")
    order = ", then ".join(steps)
    more = " and so on" if len(rows) > 2 or len(columns) > 2 else ""
    count = f"{len(joined)} tiles make this plate."
    yield f"{count} Trim along the dashed lines, lay {order}{more}, the crosses meeting. Tape from the back."
    yield f"{len(joined)} tiles: trim at the dashed lines, lay {order}{more}; tape from the back."
    yield f"{len(joined)} tiles: lay {order}{more}."
