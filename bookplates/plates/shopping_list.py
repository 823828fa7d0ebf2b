"""The shopping list: what to buy for all the books together, with a box to tick beside each line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from bookplates.book.record import Plan
from bookplates.geometry import rectangle
from bookplates.handout.buying import amount, cost, no_sum, shopping_list, stock_size
from bookplates.lengths import Units, counted
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Label, Stroke
from bookplates.plates.flow import Entry, columns, heading, kept, paragraph, whole_pages
from bookplates.plates.flow import pages as flowing
from bookplates.plates.marks import LEADING, LIST, lines
from bookplates.plates.pad import ASCENT
from bookplates.workshop.shopping import Line, totals
from bookplates.workshop.table import Table

PLATE = "shopping list"
BOX, IN = 2.8, 4.6
"""A box to tick, and how far words stand in from its left edge, mm."""


def draw(plan: Plan, table: Table, setup: PageSetup) -> tuple[Drawing, ...]:
    """As many whole pages as the list takes."""
    page = setup.room.size
    column = columns(page)[1]
    return whole_pages(PLATE, flowing(_entries(plan, table, column), page, close_up=True, level=True), page)


def _entries(plan: Plan, table: Table, column: float) -> Iterator[Entry]:
    listed = shopping_list(plan, table)
    yield from heading("Shopping list", column)
    yield from paragraph(for_whom(plan, table), column)
    for material, lines_of in groupby((line for line in listed if line.material), key=lambda line: line.material):
        yield from heading(material[:1].upper() + material[1:], column)
        for line in lines_of:
            if line.what == "note":
                yield from paragraph(line.name, column)
            else:
                yield ticked(*_told(line, plan.units), column=column)
    yield from _sum(listed, column)
    yield from _notes("Adhesive", [line for line in listed if line.what == "note" and not line.material], column)
    yield from _tools(listed, column)


def for_whom(plan: Plan, table: Table) -> str:
    """How many books it is for."""
    spare = f", and the materials of {counted(table.spare, 'spare book')}" if table.spare else ""
    in_all = f": {table.books + table.spare} in all" if table.spare else ""
    totals_are = " Counts are totals." if table.books + table.spare > 1 else ""
    return f"For {counted(table.books, 'book')} ({plan.title}){spare}{in_all}.{totals_are}"


def _told(line: Line, units: Units) -> tuple[str, str]:
    """What it is in bold, and how much of it."""
    size = stock_size(line, units)
    whose = f" (student{'' if line.whose.isdigit() else 's'} {line.whose})" if line.whose else ""
    return f"{_buy(line)}{line.name}{whose}{', ' if size else ''}{size}", f"{amount(line, units)} {cost(line)}".strip()


def _buy(line: Line) -> str:
    """What to do about it: for sheets and rolls how many to buy."""
    if line.what not in ("sheets", "rolls"):
        return ""
    return f"Buy {line.to_buy}: " if line.to_buy else "On hand: "


def ticked(title: str, words: str, *, column: float) -> Entry:
    """A box to tick, what it is in bold, and more about it below."""
    labels: list[Label] = []
    top = 0.0
    for text, bold in ((title, True), (words, False)):
        for line in lines(text, LIST, column - IN, bold) if text else ():
            labels.append(Label(line, (IN, top - ASCENT * LIST), LIST, bold=bold))
            top -= LEADING * LIST
    return Entry((box_to_tick(0.0, -BOX), *labels), max(-top, BOX) + 1.2)


def box_to_tick(x: float, y: float) -> Stroke:
    """A small empty square, its lower left corner at x, y."""
    return Stroke(rectangle(x, y, BOX, BOX), "thin", closed=True)


def _sum(listed: Sequence[Line], column: float) -> Iterator[Entry]:
    found, why_not = totals(listed), no_sum(listed)
    if why_not:
        yield from paragraph(why_not, column)
    if found:
        yield from heading(f"Stock to buy, together: {' and '.join(price.text for price in found)}", column)


def _notes(title: str, notes: Iterable[Line], column: float) -> Iterator[Entry]:
    told = list(notes)
    if told:
        yield from heading(title, column)
        first, *others = (line.name for line in told)
        yield ticked(first, " ".join(others), column=column)


SHARED = (
    ("", "Tools"),
    ("each", "Tools: everybody has their own"),
    ("two", "Tools that two people share"),
    ("room", "For the whole room"),
)


def _tools(listed: Iterable[Line], column: float) -> Iterator[Entry]:
    found = [line for line in listed if line.what == "tool"]
    for share, title in SHARED:
        own = [line for line in found if line.share == share]
        if own:
            yield from heading(title if len(found) > len(own) else "Tools", column)
        yield from kept(_tool(line, column) for line in own)


def _tool(line: Line, column: float) -> Entry:
    count = f"{line.needed} × " if line.needed > 1 else ""
    name = line.name.removeprefix("a ").removeprefix("an ") if count else line.name
    wrapped = lines(f"{count}{name}", LIST, column - IN)
    labels = (Label(text, (IN, -ASCENT * LIST - n * LEADING * LIST), LIST) for n, text in enumerate(wrapped))
    return Entry((box_to_tick(0.0, -BOX), *labels), max(LEADING * LIST * len(wrapped), BOX) + 0.8)
