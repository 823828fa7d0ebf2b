"""The safety sheet of the room, with lines to write on what is counted out and in."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.book.record import Plan
from bookplates.handout.room_safety import Rule, counted, rules
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Label, Stroke
from bookplates.plates.flow import Entry, action, columns, heading, paragraph, whole_pages
from bookplates.plates.flow import pages as flowing
from bookplates.plates.marks import NORMAL

PLATE = "safety sheet"


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """As many whole pages as it takes."""
    page = setup.room.size
    column = columns(page)[1]
    return whole_pages(PLATE, flowing(_entries(plan, column), page, level=True), page)


def _entries(plan: Plan, column: float) -> Iterator[Entry]:
    yield from heading("Safety sheet for the room", column)
    for rule in rules(plan):
        yield from _rule(rule, column)
    yield from heading("Counted out and in", column)
    yield from paragraph("Write down how many are handed out, and how many come back, before anybody goes.", column)
    for what in counted(plan):
        yield _count(what, column)
    yield from heading("Who", column)
    for what in ("first aid", "first aid kit is", "sharps tin is", "trained on the cutter"):
        yield _line(what, column)


def _rule(rule: Rule, column: float) -> Iterator[Entry]:
    yield from heading(rule.title, column)
    for sentence in rule.sentences:
        yield from action("–", sentence, column)


WRITE = 8.0
"""Height of a line to write on, mm."""
OUT, IN = 0.36, 0.7
"""Where on the column the counts begin."""


def _count(what: str, column: float) -> Entry:
    """A line to write two numbers on."""
    base = -WRITE + 2.0
    labels = [Label(what, (0.0, base), NORMAL)]
    lines = []
    for text, share in (("out", OUT), ("in", IN)):
        labels.append(Label(text, (share * column, base), NORMAL))
        start = share * column + 6.0
        lines.append(Stroke(((start, base - 0.6), (share * column + 0.3 * column, base - 0.6)), "thin"))
    return Entry((*labels, *lines), WRITE)


def _line(what: str, column: float) -> Entry:
    """A name, and a line to write on."""
    base = -WRITE + 2.0
    line = Stroke(((0.4 * column, base - 0.6), (column, base - 0.6)), "thin")
    return Entry((Label(f"{what}:", (0.0, base), NORMAL), line), WRITE)
