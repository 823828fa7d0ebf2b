"""The paper on the table, drawn: each sheet with the pieces on it, the book as written beside the best way out.

Diagrams, not to scale. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from bookplates.geometry import Box, Size
from bookplates.handout.cutting_words import letters_of
from bookplates.lengths import Units, both_sizes
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Item, Label, Stroke
from bookplates.plates.flow import Entry, columns, heading, pages, paragraph, row, shifted, whole_pages
from bookplates.plates.marks import LIST, SMALL
from bookplates.plates.pad import ASCENT
from bookplates.plates.sheet_picture import high_enough, sheet_picture
from bookplates.workshop.cuts import SheetCuts
from bookplates.workshop.cutting.tree import CutSheet, puts
from bookplates.workshop.fitting.answer import Answer
from bookplates.workshop.fitting.largest import Largest
from bookplates.workshop.fitting.told import alike, remarks, sentence, verdict
from bookplates.workshop.fitting.trial import Trial
from bookplates.workshop.fitting.way import Way
from bookplates.workshop.lacking import sheet_in_words
from bookplates.workshop.needs import Need

PLATE = "fit"

MOST_SHEETS = 2
"""So many different sheets of one stock are drawn; a cutting plan has all of them."""

HIGHEST = 62.0
"""How high a sheet is drawn at most, mm."""

TELLS = "Not to scale: only the bars on this page are true. Sizes are figures to compare, not lines to cut by."


def draw(answer: Answer, setup: PageSetup) -> tuple[Drawing, ...]:
    """As many whole pages as it takes; the book as written and the best way stand side by side on the first."""
    page = setup.room.size
    count, column = columns(page)
    entries = list(_first(answer, column))
    if count > 1 and len(answer.ways) > 1:
        entries += _rest_of_column(entries, page.height)
    for number, way in list(enumerate(answer.ways))[1:]:
        entries += _way(way, number, column)
    if answer.largest is not None:
        entries += _largest(answer.largest, answer.trial, column)
    return whole_pages(PLATE, pages(entries, page), page)


def _rest_of_column(entries: Sequence[Entry], height: float) -> Iterator[Entry]:
    """Nothing, down to the foot of the first column."""
    taken = sum(entry.height for entry in entries)
    if taken < height:
        yield Entry((), height - taken)


def _first(answer: Answer, column: float) -> Iterator[Entry]:
    trial = answer.trial
    yield from heading("The paper suffices" if trial.works else "The paper does not suffice", column)
    yield from paragraph(TELLS, column)
    if answer.ways:
        yield from _way(answer.ways[0], 0, column)
    else:
        yield from _sheets(trial, None, column)


def _way(way: Way, number: int, column: float) -> Iterator[Entry]:
    """A way: its sizes, its sheets, and what is to be known of it."""
    units = way.trial.spec.units
    yield from heading(f"{number}  {sentence(way.sentence)}: {verdict(way)}", column)
    for _, names, size in alike(way.pieces, units):
        yield from _kept(row(names, size, column))
    yield Entry((), 1.0, with_next=True)
    shown = None if way.trial is way.before else way.altered
    yield from _sheets(way.trial, shown, column)
    for remark in remarks(way):
        yield from paragraph(f"{remark}.", column)
    if way.trial.goes:
        yield from _toml(way.toml, column)


def _toml(lines: str, column: float) -> Iterator[Entry]:
    """What to write into the spec, line by line, set in, all of it together."""
    if not lines:
        return
    yield from _kept(_lines("In the spec:", column))
    for line in lines.splitlines():
        yield from _kept(replace(entry, items=tuple(shifted(entry.items, 4.0, 0.0))) for entry in _lines(line, column - 4.0))
    yield Entry((), 1.0)


def _lines(text: str, column: float) -> Iterator[Entry]:
    """A paragraph without the air below it."""
    return (entry for entry in paragraph(text, column) if entry.items)


def _kept(entries: Iterable[Entry]) -> Iterator[Entry]:
    """Entries that stay with what follows them."""
    return (replace(entry, with_next=True) for entry in entries)


def _sheets(trial: Trial, materials: Iterable[str] | None, column: float) -> Iterator[Entry]:
    """Each sheet that pieces are cut from, and each piece that goes on none laid over one."""
    for cuts in trial.table.materials:
        if materials is None or cuts.material in materials:
            for one in cuts.sheets:
                yield from _cut(one, cuts.material, trial.spec.units, column)
            yield from _too_large(trial, cuts.without, column)


def _cut(cuts: SheetCuts, material: str, units: Units, column: float) -> Iterator[Entry]:
    """The sheets of one stock, those cut alike drawn once."""
    size = Size(column, high_enough(cuts.size, column, HIGHEST))
    for way in cuts.ways[:MOST_SHEETS]:
        alike_cut = "1 sheet" if way.times == 1 else f"{way.times} sheets, all cut so"
        yield from _kept(paragraph(f"{material}: {sheet_in_words(cuts.entry.stock, units)}: {alike_cut}", column))
        yield from _kept(_key(cuts, way, column))
        picture = sheet_picture(cuts, way, size, units, numbered=False)
        yield Entry(tuple(shifted(picture, 0.0, -size.height)), size.height + 3.0)
    more = sum(way.times for way in cuts.ways[MOST_SHEETS:])
    if more:
        yield from paragraph(f"And {more} more, cut in other ways: the cutting plan has them all.", column)


def _key(cuts: SheetCuts, way: CutSheet, column: float) -> Iterator[Entry]:
    """What the letters stand for, where there are several."""
    there = sorted({put.want for put in puts(way.tree)})
    if len(there) > 1:
        yield from paragraph("; ".join(f"{letters_of(number)}: {cuts.kinds[number].name}" for number in there), column)


# ---- what is too large for its sheet


def _too_large(trial: Trial, needs: Sequence[Need], column: float) -> Iterator[Entry]:
    """Each size that goes on no stock of its material, laid over the first of them."""
    units = trial.spec.units
    for entry in [one for one in trial.stock_of(needs[0].material) if one.stock.size] if needs else ():
        for _, names, _ in alike(needs, units):
            need = next(need for need in needs if need.name in names)
            if entry.stock.size is not None:
                yield from _kept(paragraph(f"{sheet_in_words(entry.stock, units)}: does not take {names}", column))
                yield _laid_over(need, entry.stock.size, column, units)


def _laid_over(need: Need, sheet: Size, column: float, units: Units) -> Entry:
    """A sheet and a piece on its lower left corner, in proportion: the sheet in full lines, the piece dashed."""
    wide, high = max(sheet.width, need.size.width), max(sheet.height, need.size.height)
    scale = min((column - 2.0) / wide, HIGHEST / high)
    tall = high * scale
    paper, piece = (Box(0.0, -tall, size.width * scale, size.height * scale - tall) for size in (sheet, need.size))
    words = f"{need.name}, {both_sizes(need.size, units)}"
    items: tuple[Item, ...] = (
        Stroke(paper.corners, "cut", closed=True),
        Stroke(piece.corners, "place", closed=True),
        Label(words, (0.0, -tall - 1.0 - ASCENT * LIST), LIST),
        Label("full line: the sheet; dashed: the piece", (0.0, -tall - 1.6 - 1.3 * LIST - ASCENT * SMALL), SMALL),
    )
    return Entry(items, tall + 4.0 + 2.6 * LIST)


# ---- the largest book


def _largest(largest: Largest, written: Trial, column: float) -> Iterator[Entry]:
    """The largest book by format, and the one in its own proportions, each with its sheets."""
    best, leaf, units = largest.format, largest.leaf, written.spec.units
    if best is not None and best.trial is not None:
        words = f"The largest by halving a sheet: {best.format} of {best.entry.stock.name}, leaf {both_sizes(best.leaf, units)}"
        yield from heading(words, column)
        if best.trial is not written:
            yield from _sheets(best.trial, None, column)
    if leaf is not None:
        yield from heading(f"The largest in its own proportions: leaf {both_sizes(leaf.size, units)}", column)
        for what in leaf.lacking:
            yield from paragraph(f"One step larger: {what}.", column)
        yield from _sheets(leaf.trial, None, column)
    if best is None and leaf is None:
        yield from heading("No book of this kind can be made from this paper", column)
