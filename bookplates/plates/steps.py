"""The steps, from sheets to a finished book: what is handed to somebody who has never made one."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.book.record import Plan
from bookplates.handout.steps import Step, steps
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Label
from bookplates.plates.flow import Entry, columns, heading, pages, whole_pages
from bookplates.plates.marks import LEADING, NORMAL, lines
from bookplates.plates.pad import ASCENT

HANG = 3.0
"""How far the words of an action stand in from its mark, mm."""


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """As many whole pages as the steps take."""
    page = setup.room.size
    column = columns(page)[1]
    entries = (entry for number, step in enumerate(steps(plan), 1) for entry in _step(number, step, column))
    return whole_pages("steps", pages(entries, page), page)


def _step(number: int, step: Step, column: float) -> Iterator[Entry]:
    """Its title, what can hurt there, then what to do."""
    yield from heading(f"{number}  {step.title}", column)
    if step.caution:
        yield from _action("!", f"Take care. {step.caution}", column, bold=True)
    for sentence in step.sentences:
        yield from _action("–", sentence, column)


def _action(mark: str, sentence: str, column: float, *, bold: bool = False) -> Iterator[Entry]:
    """One action, its lines kept together, set in from the mark."""
    wrapped = lines(sentence, NORMAL, column - HANG, bold)
    items = [Label(mark, (0.0, -ASCENT * NORMAL), NORMAL, bold=True)]
    items += [Label(text, (HANG, -ASCENT * NORMAL - n * LEADING * NORMAL), NORMAL, bold=bold) for n, text in enumerate(wrapped)]
    yield Entry(tuple(items), LEADING * NORMAL * len(wrapped) + 0.8, with_next=bold)
