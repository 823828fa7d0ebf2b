"""What every page carries besides its plates: the title block and the two bars of 100 mm. Lengths in mm.

The title block keeps to the fields of ISO 7200 that a hand-made book has a use for: title, document,
creator, sheet number, scale and unit. No date: the same book gives the same page on every day.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from bookplates.errors import PaperTooSmall, Problem
from bookplates.geometry import Box, Point, rectangle
from bookplates.lengths import MM_PER_INCH, Units, fits, in_mm
from bookplates.letters import shortened, width
from bookplates.papers.printing import BAR, FOOT_STRIP, LEFT_STRIP, PageSetup
from bookplates.papers.sizes import called
from bookplates.plates.drawing import Drawing, Item, Label, Stroke

ROW = 6.5
SMALL = 2.3
"""Above 6 pt (2.117 mm) even where the printer's error is corrected by 5 %."""
VALUE = 3.0
NUMBER_TO_CAPITAL = 0.33
"""Half the height of a numeral for its size: what brings it level with its tick."""

UNITS: dict[Units, str] = {"mm": "mm (in)", "in": "in (mm)"}
"""What the unit field says: the other unit stands in brackets on the plates, too."""

BAR_ACROSS_AT: Point = (LEFT_STRIP, 18.3)
BAR_ALONG_AT: Point = (5.5, FOOT_STRIP + 2)
LEAST_WIDTH = LEFT_STRIP + BAR + 7
LEAST_HEIGHT = FOOT_STRIP + BAR + 58
"""What the bars and the title block need, and on the scale page the bars of four inches and the words below them."""


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What stands in a page's title block.

    Attributes:
        book, maker: title of the book, and who makes it, or empty.
        page: what the page shows; `number` is its own `of` how many.
        units: which unit lengths show first.
    """

    book: str
    page: str
    number: int
    of: int
    maker: str = ""
    units: Units = "mm"


@dataclass(frozen=True, slots=True)
class _Cell:
    """One field: its column and its share of the width, its row from the foot, what it is called and says."""

    start: float
    share: float
    row: int
    caption: str
    texts: tuple[str, ...]
    bold: bool = False


def check_paper(setup: PageSetup, key: str = "print.paper") -> None:
    """Refuse paper, named by its key, on which a bar or the title block does not fit.

    Raises:
        PaperTooSmall: with the size that would do.
    """
    width_there, height_there = setup.printable.size
    if fits(LEAST_WIDTH, width_there) and fits(LEAST_HEIGHT, height_there):
        return
    what = f"the {BAR:g} mm bars with the words of the scale page need {LEAST_WIDTH:g} x {LEAST_HEIGHT:g} mm"
    has = f"the printer reaches {max(width_there, 0):.1f} x {max(height_there, 0):.1f} mm of this paper"
    raise PaperTooSmall(Problem(key, f"{what}, and {has}", "take larger paper, such as A4"))


def frame(setup: PageSetup, block: TitleBlock, plate: str, *, bars: bool = True) -> Drawing:
    """The title block and, unless the page draws them itself, the two bars.

    Args:
        setup: the page; its printable part decides where everything stands.
        block: the words.
        plate: the plate that the bars are counted with, the first of the page.
        bars: False on a page whose plate shows the bars itself.

    Returns:
        A drawing in the page's own coordinates, to be placed as it is. It has no title, being no plate.
    """
    room = setup.printable
    drawn = _bars(room) if bars else ()
    return Drawing(plate, "", (*_title_block(room, block, setup), *drawn), room, turnable=False)


def _title_block(room: Box, block: TitleBlock, setup: PageSetup) -> Iterable[Item]:
    whole = room.size.width
    outline = rectangle(room.left, room.bottom, whole, 2 * ROW)
    yield Stroke(outline, "medium", closed=True)
    yield Stroke(((room.left, room.bottom + ROW), (room.right, room.bottom + ROW)), "thin")
    for cell in _cells(block, setup):
        yield from _cell(cell, room, whole)


def _cells(block: TitleBlock, setup: PageSetup) -> tuple[_Cell, ...]:
    return (
        _Cell(0, 0.36, 1, "book", (block.book,), bold=True),
        _Cell(0.36, 0.48, 1, "plate", (block.page,)),
        _Cell(0.84, 0.16, 1, "page", (f"page {block.number} of {block.of}",)),
        _Cell(0, 0.36, 0, "made by", (block.maker,)),
        _Cell(0.36, 0.48, 0, "scale 1 : 1", _scale_words(setup)),
        _Cell(0.84, 0.16, 0, "units", (UNITS[block.units],)),
    )


def _scale_words(setup: PageSetup) -> tuple[str, ...]:
    """What the scale field says, the fullest first: the field takes the first that goes into it."""
    print_it, paper = "print at 100 %", called(setup.paper)
    if not setup.corrected:
        return f"{print_it} on {paper}; both bars must measure 100 mm", f"{print_it} on {paper}", print_it
    across, along = setup.reading
    corrected = f"corrected for {in_mm(across)} across, {in_mm(along)} along"
    return f"{print_it} on {paper}; {corrected}", f"{print_it} on {paper} (corrected)", f"{print_it} (corrected)", print_it


def _cell(cell: _Cell, room: Box, whole: float) -> Iterable[Item]:
    x, y = room.left + cell.start * whole, room.bottom + cell.row * ROW
    if cell.start > 0:
        yield Stroke(((x, y), (x, y + ROW)), "thin")
    if cell.texts[0]:
        yield Label(cell.caption, (x + 1.2, y + 4.2), SMALL)
        yield _fitted(cell, (x + 1.2, y + 1.0), cell.share * whole - 2.4)


def _fitted(cell: _Cell, at: Point, space: float) -> Label:
    """The fullest text that goes into its field, in smaller letters if need be; else the last one, shortened."""
    for text in cell.texts:
        for size in (VALUE, SMALL) if text is cell.texts[-1] else (VALUE,):
            if fits(width(text, size, cell.bold), space):
                return Label(text, at, size, bold=cell.bold)
    return Label(shortened(cell.texts[-1], SMALL, space, cell.bold), at, SMALL, bold=cell.bold)


@lru_cache(8)
def _bars(room: Box) -> tuple[Item, ...]:
    """Both bars, the same on every page of one paper: drawn anew for each they were most of what a large pack holds."""
    return *_bar_across(room), *_bar_along(room)


def _bar_across(room: Box) -> Iterable[Item]:
    """The bar in the foot strip: millimetres above it, inches below."""
    x, y = room.left + BAR_ACROSS_AT[0], room.bottom + BAR_ACROSS_AT[1]
    yield Stroke(((x, y), (x + BAR, y)), "bar", part="bar across")
    for at, number in _mm_ticks():
        yield from _tick_across(x + at, y, 1.5, number)
    for at, number in _inch_ticks():
        yield from _tick_across(x + at, y, -1.5 if number else -0.9, number)
    yield Label("mm", (x + BAR + 2.6, y + 1.9), SMALL)
    yield Label("in", (x + BAR + 2.6, y - 3.4), SMALL)


def _bar_along(room: Box) -> Iterable[Item]:
    """The bar in the left strip: millimetres at its left, inches at its right."""
    x, y = room.left + BAR_ALONG_AT[0], room.bottom + BAR_ALONG_AT[1]
    yield Stroke(((x, y), (x, y + BAR)), "bar", part="bar along")
    for at, number in _mm_ticks():
        yield from _tick_along(x, y + at, -1.5, number)
    for at, number in _inch_ticks():
        yield from _tick_along(x, y + at, 1.5 if number else 0.9, number)
    yield Label("mm", (x - 1.8, y + BAR + 2.4), SMALL, "end")
    yield Label("in", (x + 1.8, y + BAR + 2.4), SMALL)


def _tick_across(x: float, y: float, reach: float, number: str) -> Iterable[Item]:
    yield Stroke(((x, y), (x, y + reach)), "thin")
    if number:
        yield Label(number, (x, y + 1.9 if reach > 0 else y - 3.4), SMALL, "middle")


def _tick_along(x: float, y: float, reach: float, number: str) -> Iterable[Item]:
    yield Stroke(((x, y), (x + reach, y)), "thin")
    if number:
        at = (x + reach * 1.2, y - NUMBER_TO_CAPITAL * SMALL)
        yield Label(number, at, SMALL, "start" if reach > 0 else "end")


def _mm_ticks() -> Iterable[tuple[float, str]]:
    """Every 10 mm along the bar, and the numbers that stand at some of them."""
    return ((float(at), str(at) if at % 50 == 0 else "") for at in range(0, 101, 10))


def _inch_ticks() -> Iterable[tuple[float, str]]:
    """Every half inch along the bar, 100 mm being not quite four inches; whole ones are numbered."""
    return ((half * MM_PER_INCH / 2, str(half // 2) if half % 2 == 0 else "") for half in range(8))
