"""The sizes page: every number of the book in both units, lines to write measured ones on, sketches, defaults, words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from bookplates.book.record import Plan
from bookplates.errors import Problem
from bookplates.geometry import Size
from bookplates.handout.facts import Chapter, Fact, chapters, stuff
from bookplates.handout.glossary import GLOSSARY, words_in
from bookplates.handout.steps import steps, text_of
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Item, Label
from bookplates.plates.flow import Entry, cells, columns, heading, kept, pages, paragraph, row, ruled, whole_pages
from bookplates.plates.marks import TITLE
from bookplates.plates.pad import ASCENT, box_round, moved
from bookplates.plates.sketches import closed_book, open_cover

MARK = " *"
TABLE = {2: (0.16, 0.84), 3: (0.16, 0.42, 0.42)}
"""Shares of a column: a number, and a length or two."""
DEFAULTS = (0.3, 0.36, 0.34)
"""Shares of a column: what it is, its value, its key."""
BETWEEN = 6.0
"""From a sketch to what follows it, mm."""

ALWAYS = frozenset({"section", "folio", "leaf, page", "square", "caliper", "creep", "grain", "head, tail", "fore-edge"})
"""Words that the tables of sizes use, whatever the book."""

NOTATION = "A length such as 1 1/4 in +0.3 mm is 1 1/4 inches and 0.3 mm more; with -0.3 mm it is 0.3 mm less."

Part = Callable[[Plan, float], Iterator[Entry]]


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """As many whole pages as the sizes take: numbers, then words; the sketches stand at the top of the second page."""
    page = setup.room.size
    numbers, words = _entries(NUMBERS, plan, page), _entries(WORDS, plan, page)
    return whole_pages("sizes", _round(_sketches(plan, page), numbers, words, page), page)


def _entries(parts: Sequence[Part], plan: Plan, page: Size) -> tuple[Entry, ...]:
    column = columns(page)[1]
    return tuple(entry for part in parts for entry in part(plan, column))


def _round(top: tuple[Item, ...], numbers: Sequence[Entry], words: Sequence[Entry], page: Size) -> Iterator[tuple[Item, ...]]:
    """Entries in columns, with pictures at the top of the second page, and the words on that one if the rest leaves it free."""
    high = box_round(top).size.height + BETWEEN if top else 0.0
    raised = moved(top, 0.0, page.height)
    filled = list(pages((*numbers, *words), page, (0.0, high), level=True))
    if len(filled) == 1:
        filled = [*pages(numbers, page), *pages(words, page, (high,), level=True)]
    yield from ((*(raised if number == 1 else ()), *items) for number, items in enumerate(filled))


def _sketches(plan: Plan, page: Size) -> tuple[Item, ...]:
    """The sketches one below the other, each under its title, as wide as the page; their top at the origin."""
    shown = (
        ("The cover laid open, inside up (not to scale)", open_cover(plan, page.width)),
        ("The closed book, seen from its head (not to scale)", closed_book(plan, page.width)),
    )
    items: list[Item] = []
    top = 0.0
    for title, sketch in ((title, sketch) for title, sketch in shown if sketch):
        box = box_round(sketch)
        items.append(Label(title, (0.0, top - ASCENT * TITLE), TITLE, bold=True))
        top -= 2.0 * TITLE
        items += moved(sketch, (page.width - box.size.width) / 2 - box.left, top - box.top)
        top -= box.size.height + BETWEEN
    return tuple(items)


def facts(plan: Plan, column: float) -> Iterator[Entry]:
    """Every size and count, chapter by chapter; those that hang on a measurement are marked."""
    told = chapters(plan)
    for chapter in told:
        yield from heading(chapter.title, column)
        yield from kept(_table(chapter, column) if chapter.heads else _rows(chapter, column))
    if any(" in +" in fact.value or " in -" in fact.value for chapter in told for fact in chapter.facts):
        yield from paragraph(NOTATION, column)


def _rows(chapter: Chapter, column: float) -> Iterator[Entry]:
    for fact in chapter.facts:
        yield from row(_name(fact), fact.value, column)


def _table(chapter: Chapter, column: float) -> Iterator[Entry]:
    shares = TABLE[len(chapter.heads)]
    yield from cells(chapter.heads, shares, column, bold=True)
    for fact in chapter.facts:
        yield from cells((_name(fact), *fact.cells), shares, column)


def _name(fact: Fact) -> str:
    return fact.name + (MARK if fact.provisional else "")


def measured(plan: Plan, column: float) -> Iterator[Entry]:
    """Lines to write on what a ruler finds, before any board is cut."""
    found = plan.text_block.measured
    yield from heading("Measure, then plan again", column)
    if found:
        yield from paragraph(f"Already measured: {', '.join(found)}.", column)
    before = f"Press and trim the block, measure it, and write this into [measured] before any {stuff(plan)} is cut:"
    yield from paragraph(before, column)
    for name in ("width", "height", "thickness"):
        yield from ruled(name, column)
    yield Entry((), 1.5)
    if plan.provisional:
        names = ", ".join(plan.provisional)
        yield from paragraph(f"Sizes marked{MARK} are only as good as the caliper until then: {names}.", column)


def warnings(plan: Plan, column: float) -> Iterator[Entry]:
    """What the trade would shake its head at."""
    if plan.warnings:
        yield from heading("Before you begin: warnings", column)
    for warning in plan.warnings:
        yield from paragraph(_in_words(warning), column)


def _in_words(warning: Problem) -> str:
    """A warning as sentences, its key after it."""
    advice = f" Better: {warning.hint}." if warning.hint else ""
    key = f" [{warning.where}]" if warning.where else ""
    return f"{warning.what[:1].upper()}{warning.what[1:]}.{advice}{key}"


def defaults(plan: Plan, column: float) -> Iterator[Entry]:
    """Values that were not written in the spec."""
    if plan.defaults:
        yield from heading("Not written in the spec, taken as usual", column)
        yield from cells(("what", "taken as", "key in the spec"), DEFAULTS, column, bold=True)
    for default in plan.defaults:
        name = default.where.rpartition(".")[2].replace("_", " ")
        yield from cells((name, default.value, default.where), DEFAULTS, column)


def glossary(plan: Plan, column: float) -> Iterator[Entry]:
    """The words that this pack uses, UK and US."""
    used = ALWAYS.union(term for step in steps(plan) for term, _ in words_in(text_of(step)))
    yield from heading("Words", column)
    for term, meaning in GLOSSARY:
        if term in used:
            yield from row(term, meaning, column)


NUMBERS: tuple[Part, ...] = (warnings, measured, facts, defaults)
WORDS: tuple[Part, ...] = (glossary,)
