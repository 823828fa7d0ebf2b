"""Words and tables that flow down columns and over pages. Lengths in mm."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, dropwhile, repeat
from itertools import count as counting

from bookplates.geometry import Box, Size
from bookplates.lengths import fits
from bookplates.plates.drawing import Drawing, Fill, Item, Label, Stroke
from bookplates.plates.marks import LEADING, LIST, NORMAL, TITLE, lines
from bookplates.plates.pad import ASCENT

GUTTER = 7.0
NAME_SHARE = 0.34
"""What of a column a row's name may take; its value has the rest."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Something in a column: its items below the origin, the height it takes, whether it stays with the next.

    `air` is what of the height may be closed up at its end to save a page.
    """

    items: tuple[Item, ...]
    height: float
    with_next: bool = False
    air: float = 0.0


Block = list[Entry]
"""Entries that stay together, as a heading does with what follows it."""

Run = tuple[list[Block], float]
"""What stands in a column, and how high that is, mm."""


def heading(text: str, column: float) -> Iterator[Entry]:
    """A bold heading, a little room above it."""
    yield Entry((), 1.9, with_next=True, air=0.9)
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


KEPT = 12
"""So many rows stay together; a longer list keeps two with its heading, and two at its end."""


def kept(entries: Iterable[Entry]) -> Iterator[Entry]:
    """A list of rows that is not torn where it is short, and leaves no row alone."""
    rows = list(entries)
    together = range(len(rows) - 1) if len(rows) <= KEPT else {0, len(rows) - 2}
    for number, entry in enumerate(rows):
        yield replace(entry, with_next=True) if number in together else entry


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
AFTER, CLOSED = 0.55, 0.4
"""Below an action, and what of that may be closed up, mm."""


def action(mark: str, sentence: str, column: float, *, bold: bool = False) -> Iterator[Entry]:
    """One action, its lines kept together, set in from the mark."""
    items, height = _marked(mark, sentence, column, 0.0, bold=bold)
    yield Entry(items, height, with_next=bold, air=CLOSED)


def _marked(mark: str, sentence: str, column: float, top: float, *, bold: bool = False) -> tuple[tuple[Item, ...], float]:
    """An action whose first line begins at `top`, and the height it takes; bold ones are a little smaller."""
    size = LIST if bold else NORMAL
    first = top - ASCENT * size
    wrapped = lines(sentence, size, column - MARKED, bold)
    words = (Label(text, (MARKED, first - n * LEADING * size), size, bold=bold) for n, text in enumerate(wrapped))
    return (Label(mark, (0.0, first), size, bold=True), *words), LEADING * size * len(wrapped) + AFTER


def pictured(picture: Sequence[Item], size: Size, mark: str, sentences: Sequence[str], column: float) -> Iterator[Entry]:
    """Actions with a picture at their right; those that find no room beside it follow in the whole column."""
    left, taken = column - size.width, 0.0
    items = list(shifted(picture, left, -size.height - 0.5))
    rest = list(sentences)
    while rest and taken < size.height - LEADING * NORMAL:
        words, height = _marked(mark, rest.pop(0), left - BESIDE, -taken)
        items += words
        taken += height
    yield Entry(tuple(items), max(taken, size.height + 1.8), air=CLOSED)
    for sentence in rest:
        yield from action(mark, sentence, column)


def under_picture(picture: Sequence[Item], size: Size, mark: str, sentences: Sequence[str], column: float) -> Iterator[Entry]:
    """Actions below their picture, in a column too narrow for both side by side."""
    items = tuple(shifted(picture, (column - size.width) / 2, -size.height - 0.5))
    yield Entry(items, size.height + 1.8, with_next=True)
    for sentence in sentences:
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
    top = -ASCENT * LIST
    for note in notes:
        for line in lines(note, LIST, column - MARKED):
            yield Label(line, (MARKED, top), LIST)
            top -= LEADING * LIST
        top -= NOTE


def _height(notes: Sequence[str], column: float) -> float:
    return sum(LEADING * LIST * len(lines(note, LIST, column - MARKED)) + NOTE for note in notes)


def shifted(items: Iterable[Item], x: float, y: float) -> Iterator[Item]:
    """The items moved by x, y mm: the same as `moved`, in the short way, for the thousand strokes of the pictures."""
    for item in items:
        if isinstance(item, Stroke):
            yield Stroke(tuple([(px + x, py + y) for px, py in item.points]), item.line, item.closed, item.part, item.layer)
        elif isinstance(item, Fill):
            yield Fill(tuple([(px + x, py + y) for px, py in item.points]), item.grey, item.layer)
        else:
            at = item.at[0] + x, item.at[1] + y
            yield Label(item.text, at, item.size, item.anchor, item.angle, item.bold, item.layer)


def _line(text: str, x: float, number: int, bold: bool) -> Label:
    return Label(text, (x, -ASCENT * LIST - number * LEADING * LIST), LIST, bold=bold)


def columns(page: Size) -> tuple[int, float]:
    """How many columns a page has, and how wide each is, mm."""
    count = 2 if page.width > 130 else 1
    return count, (page.width - (count - 1) * GUTTER) / count


def pages(
    entries: Iterable[Entry],
    page: Size,
    taken: Sequence[float] = (),
    *,
    close_up: bool = False,
    level: bool = False,
    single: bool = False,
) -> Iterator[tuple[Item, ...]]:
    """The entries run down the columns of as many pages as they need; a heading never ends a column.

    At the top of the first page, the second and so on the heights of `taken`, mm, are left free. With `close_up` a last
    page that holds little is saved where closing up the air between the entries does it; with `level` the columns of the
    last page are made about as high as each other; with `single` there is one column, as wide as the page.
    """
    count, wide = (1, page.width) if single else columns(page)
    blocks = list(_blocks(entries))
    runs = list(_runs(blocks, _rooms(page, taken, count)))
    if close_up and len(runs) > count and _high(_column(runs[-1][0])) < page.height / 2:
        tight = ([Entry(entry.items, entry.height - entry.air) for entry in block] for block in blocks)
        closer = list(_runs(tight, _rooms(page, taken, count)))
        runs = closer if -(-len(closer) // count) < -(-len(runs) // count) else runs
    if level:
        begun = (len(runs) - 1) // count * count
        runs = [*runs[:begun], *_levelled(runs[begun:], count)]
    full: list[tuple[Item, ...]] = []
    for run, room in runs:
        full.append(_stacked(_column(run), (len(full) % count) * (wide + GUTTER), room))
    for first in range(0, len(full), count):
        yield tuple(item for items in full[first : first + count] for item in items)


def _rooms(page: Size, taken: Sequence[float], count: int) -> Iterator[float]:
    """How high each column is, one after the other, `count` on a page."""
    free = (page.height - high for high in chain(taken, repeat(0.0)))
    return (room for room in free for _ in range(count))


def _levelled(runs: list[Run], count: int) -> list[Run]:
    """The columns of one page shared out evenly; as they are where one would not go into its room."""
    blocks = [block for run, _ in runs for block in run]
    share, room = sum(map(_high, blocks)) / count, runs[0][1]
    columns_of: list[list[Block]] = [[] for _ in range(count)]
    taken = 0.0
    for block in blocks:
        columns_of[min(int(taken / share), count - 1)].append(block)
        taken += _high(block)
    fit = all(fits(_high(_column(column)), room) for column in columns_of)
    return [(column, room) for column in columns_of if column] if fit else runs


def _column(run: Iterable[Block]) -> Block:
    """The entries of blocks below each other; at the top they need no room above them."""
    return _begun([entry for block in run for entry in block])


def _high(entries: Iterable[Entry]) -> float:
    return sum(entry.height for entry in entries)


def _blocks(entries: Iterable[Entry]) -> Iterator[Block]:
    """Entries that must stay together."""
    block: Block = []
    for entry in entries:
        block.append(entry)
        if not entry.with_next:
            yield block
            block = []
    if block:
        yield block


def _runs(blocks: Iterable[Block], rooms: Iterator[float]) -> Iterator[Run]:
    """What stands in one column after the other, and how high that column is."""
    run: list[Block] = []
    room, taken = next(rooms), 0.0
    waiting = deque(blocks)
    while waiting:
        block = waiting.popleft()
        begun = block if run else _begun(block)
        high = _high(begun)
        if not begun:
            continue
        if not fits(taken + high, room) and (run or room < HIGH_ENOUGH):
            yield run, room
            run, room, taken = [], next(rooms), 0.0
            waiting.appendleft(block)
        elif not fits(high, room) and len(begun) > 1:
            waiting.extendleft([entry] for entry in reversed(begun))
        else:
            run.append(block)
            taken += high
    if run:
        yield run, room


HIGH_ENOUGH = 40.0
"""A column less high than this may stay empty, mm."""


def _begun(entries: Block) -> Block:
    """Entries at the top of a column, where they need no room above them."""
    return list(dropwhile(lambda entry: not entry.items, entries))


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
