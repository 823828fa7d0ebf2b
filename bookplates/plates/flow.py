"""Words and tables that flow down columns and over pages. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import count as counting

from bookplates.geometry import Box, Size
from bookplates.lengths import fits
from bookplates.plates.drawing import Drawing, Item, Label, Stroke
from bookplates.plates.marks import LEADING, LIST, NORMAL, TITLE, lines
from bookplates.plates.pad import ASCENT, moved

GUTTER = 7.0
NAME_SHARE = 0.34
"""What of a column a row's name may take; its value has the rest."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Something in a column: its items below the origin, the height it takes, whether it stays with the next."""

    items: tuple[Item, ...]
    height: float
    with_next: bool = False


def heading(text: str, column: float) -> Iterator[Entry]:
    """A bold heading, a little room above it."""
    yield Entry((), 2.5, with_next=True)
    for line in lines(text, TITLE, column, True):
        yield Entry((Label(line, (0.0, -ASCENT * TITLE), TITLE, bold=True),), 1.35 * TITLE, with_next=True)


def paragraph(text: str, column: float) -> Iterator[Entry]:
    """A paragraph, line by line, so that it may go on in the next column."""
    for line in lines(text, NORMAL, column):
        yield Entry((Label(line, (0.0, -ASCENT * NORMAL), NORMAL),), LEADING * NORMAL)
    yield Entry((), 0.7)


def row(name: str, value: str, column: float) -> Iterator[Entry]:
    """A name and its value beside it."""
    return cells((name, value), (NAME_SHARE, 1 - NAME_SHARE), column)


def cells(texts: Sequence[str], shares: Sequence[float], column: float, *, bold: bool = False) -> Iterator[Entry]:
    """Texts side by side, each wrapped in its own share of the column; bold ones are heads, and stay with what follows."""
    starts = (sum(shares[:number]) * column for number in range(len(shares)))
    wrapped = [lines(text, LIST, share * column - 2.0, bold) for text, share in zip(texts, shares, strict=True)]
    items = tuple(_line(text, x, n, bold) for x, cell in zip(starts, wrapped, strict=True) for n, text in enumerate(cell))
    yield Entry(items, LEADING * LIST * max(map(len, wrapped)) + 0.6, with_next=bold)


def ruled(name: str, column: float) -> Iterator[Entry]:
    """A name and a line to write a measured length on."""
    line = Stroke(((NAME_SHARE * column, -6.6), (column, -6.6)), "thin")
    yield Entry((Label(name, (0.0, -6.0), NORMAL), line), 8.0)


def _line(text: str, x: float, number: int, bold: bool) -> Label:
    return Label(text, (x, -ASCENT * LIST - number * LEADING * LIST), LIST, bold=bold)


def columns(page: Size) -> tuple[int, float]:
    """How many columns a page has, and how wide each is, mm."""
    count = 2 if page.width > 130 else 1
    return count, (page.width - (count - 1) * GUTTER) / count


def pages(entries: Iterable[Entry], page: Size, taken: float = 0.0) -> Iterator[tuple[Item, ...]]:
    """The entries run down the columns of as many pages as they need; a heading never ends a column.

    `taken` mm at the top of the first page are left free.
    """
    count, wide = columns(page)
    rooms = (page.height - taken if number < count else page.height for number in counting())
    full: list[tuple[Item, ...]] = []
    for run, room in _runs(_blocks(entries), rooms):
        full.append(_stacked(run, (len(full) % count) * (wide + GUTTER), room))
    for first in range(0, len(full), count):
        yield tuple(item for items in full[first : first + count] for item in items)


def _blocks(entries: Iterable[Entry]) -> Iterator[list[Entry]]:
    """Entries that must stay together."""
    block: list[Entry] = []
    for entry in entries:
        block.append(entry)
        if not entry.with_next:
            yield block
            block = []
    if block:
        yield block


def _runs(blocks: Iterable[list[Entry]], rooms: Iterator[float]) -> Iterator[tuple[list[Entry], float]]:
    """What stands in one column after the other, and how high that column is."""
    run: list[Entry] = []
    room = next(rooms)
    for block in blocks:
        if run and not fits(sum(entry.height for entry in (*run, *block)), room):
            yield run, room
            run, room = [], next(rooms)
        run += block
    if run:
        yield run, room


def _stacked(run: Iterable[Entry], x: float, top: float) -> tuple[Item, ...]:
    """A column's items where they lie on the page."""
    placed: list[Item] = []
    for entry in run:
        placed += moved(entry.items, x, top)
        top -= entry.height
    return tuple(placed)


def whole_pages(plate: str, contents: Iterable[tuple[Item, ...]], page: Size) -> tuple[Drawing, ...]:
    """A plate of words on as many whole pages as it has contents; from the second on their titles are numbered."""
    room = Box(0.0, 0.0, page.width, page.height)
    titles = (plate if number == 1 else f"{plate}, {number}" for number in counting(1))
    return tuple(
        Drawing(plate, title, items, room, turnable=False, whole_page=True)
        for title, items in zip(titles, contents, strict=False)
    )
