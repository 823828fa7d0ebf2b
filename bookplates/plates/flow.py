"""Words and tables that flow down columns and over pages. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import count as counting

from bookplates.geometry import Box, Size
from bookplates.lengths import fits
from bookplates.plates.drawing import Drawing, Fill, Item, Label, Stroke
from bookplates.plates.marks import LEADING, LIST, NORMAL, SMALL, TITLE, lines
from bookplates.plates.pad import ASCENT

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


MARKED = 3.0
"""How far the words of an action stand in from its mark, mm."""
BESIDE = 2.5
"""Between words and the picture beside them, mm."""
NOTE = 0.4
"""Between notes in small letters, mm."""
AFTER = 0.8
"""Below an action, mm."""


def action(mark: str, sentence: str, column: float, *, bold: bool = False) -> Iterator[Entry]:
    """One action, its lines kept together, set in from the mark."""
    items, height = _marked(mark, sentence, column, 0.0, bold=bold)
    yield Entry(items, height, with_next=bold)


def _marked(mark: str, sentence: str, column: float, top: float, *, bold: bool = False) -> tuple[tuple[Item, ...], float]:
    """An action whose first line begins at `top`, and the height it takes."""
    first = top - ASCENT * NORMAL
    wrapped = lines(sentence, NORMAL, column - MARKED, bold)
    words = (Label(text, (MARKED, first - n * LEADING * NORMAL), NORMAL, bold=bold) for n, text in enumerate(wrapped))
    return (Label(mark, (0.0, first), NORMAL, bold=True), *words), LEADING * NORMAL * len(wrapped) + AFTER


def pictured(picture: Sequence[Item], size: Size, mark: str, sentences: Sequence[str], column: float) -> Iterator[Entry]:
    """Actions with a picture at their right; those that find no room beside it follow in the whole column."""
    left, taken = column - size.width, 0.0
    items = list(shifted(picture, left, -size.height - 0.5))
    rest = list(sentences)
    while rest and taken < size.height - LEADING * NORMAL:
        words, height = _marked(mark, rest.pop(0), left - BESIDE, -taken)
        items += words
        taken += height
    yield Entry(tuple(items), max(taken, size.height + 1.8))
    for sentence in rest:
        yield from action(mark, sentence, column)


def with_notes(entries: Iterable[Entry], notes: Sequence[str], column: float) -> Iterator[Entry]:
    """The entries, and below the last of them, on the same column, notes in small letters."""
    held = list(entries)
    if notes and held:
        last = held.pop()
        held.append(
            Entry((*last.items, *shifted(_notes(notes, column), 0.0, -last.height)), last.height + _height(notes, column))
        )
    yield from held


def _notes(notes: Sequence[str], column: float) -> Iterator[Item]:
    top = -ASCENT * SMALL
    for note in notes:
        for line in lines(note, SMALL, column - MARKED):
            yield Label(line, (MARKED, top), SMALL)
            top -= LEADING * SMALL
        top -= NOTE


def _height(notes: Sequence[str], column: float) -> float:
    return sum(LEADING * SMALL * len(lines(note, SMALL, column - MARKED)) + NOTE for note in notes)


def shifted(items: Iterable[Item], x: float, y: float) -> Iterator[Item]:
    """The items moved by x, y mm: the same as `moved`, in the short way, for the thousand strokes of the pictures."""
    for item in items:
        if isinstance(item, Stroke):
            yield Stroke(tuple([(px + x, py + y) for px, py in item.points]), item.line, item.closed, item.part)
        elif isinstance(item, Fill):
            yield Fill(tuple([(px + x, py + y) for px, py in item.points]), item.grey)
        else:
            yield Label(item.text, (item.at[0] + x, item.at[1] + y), item.size, item.anchor, item.angle, item.bold)


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
    room, taken = next(rooms), 0.0
    for block in blocks:
        high = sum(entry.height for entry in block)
        if run and not fits(taken + high, room):
            yield run, room
            run, room, taken = [], next(rooms), 0.0
        run += block
        taken += high
    if run:
        yield run, room


def _stacked(run: Iterable[Entry], x: float, top: float) -> tuple[Item, ...]:
    """A column's items where they lie on the page."""
    placed: list[Item] = []
    for entry in run:
        placed += shifted(entry.items, x, top)
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
