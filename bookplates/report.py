"""Tables for people: plain text, two columns, no wider than need be."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bookplates.book.record import Plan
from bookplates.errors import one_line
from bookplates.handout.facts import Chapter, chapters
from bookplates.lengths import both, both_sizes, close
from bookplates.readback import Measured, MeasuredPart


def plan_table(plan: Plan) -> str:
    """Every size of a book, in both units, and what was taken as usual."""
    found = chapters(plan)
    width = max(len(fact.name) for chapter in found for fact in chapter.facts) + 2
    lines = [plan.title, *([plan.maker] if plan.maker else [])]
    for chapter in found:
        lines += ["", *_chapter(chapter, width)]
    if plan.provisional:
        lines += [
            "",
            "* hangs on the computed thickness or width: measure the pressed block and write [measured] before cutting.",
        ]
    if plan.defaults:
        lines += ["", "Not written in the spec, taken as usual"]
        lines += _columns([(default.where, default.value) for default in plan.defaults])
    return "\n".join(lines)


def _chapter(chapter: Chapter, width: int) -> Iterable[str]:
    yield chapter.title
    for fact in chapter.facts:
        name = f"{fact.name} *" if fact.provisional else fact.name
        yield f"  {name:<{width}}  {fact.value}"


def _columns(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(len(row[n]) for row in rows) for n in range(len(rows[0]) - 1)]
    return ["  " + "  ".join([*(f"{cell:<{w}}" for cell, w in zip(row, widths, strict=False)), row[-1]]) for row in rows]


def measured_table(measured: Measured) -> str:
    """Every part of a pack with its size."""
    if not measured.has_parts:
        pages = "1 page" if measured.pages == 1 else f"{measured.pages} pages"
        return f"{pages}, no parts: this document holds no templates that name themselves"
    head = ("page", "plate", "part", "line", "size")
    rows = [(str(part.page), *_named(part), _size(part.width, part.height)) for part in measured.parts]
    return "\n".join(_columns([head, *rows]))


def _named(part: MeasuredPart) -> tuple[str, str, str]:
    """Plate, name and line, of which any PDF may make what it likes."""
    return one_line(part.plate), one_line(part.name), one_line(part.line)


def _size(width: float, height: float) -> str:
    if close(min(width, height), 0, within=0.005):  # a bar is as long as it is, and has no width
        return both(max(width, height), "mm")
    return both_sizes((width, height), "mm")
