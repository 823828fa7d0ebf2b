"""Tables for people: plain text, two columns, no wider than need be."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bookplates.book.record import Plan
from bookplates.errors import one_line
from bookplates.handout.buying import in_words, no_sum
from bookplates.handout.facts import Chapter, chapters
from bookplates.lengths import Units, both, both_sizes, close, counted, in_mm
from bookplates.readback import Measured, MeasuredPart
from bookplates.verify import Verified
from bookplates.workshop.shopping import Line, totals

LONGEST_EXCERPT = 300
"""Letters of what a PDF says it is an excerpt of, of which any PDF may make what it likes."""


def plan_table(plan: Plan, shopping: Sequence[Line] = ()) -> str:
    """Every size of a book, in both units, what to buy where that is given, and what was taken as usual."""
    found = chapters(plan)
    width = max(len(fact.name) for chapter in found for fact in chapter.facts) + 2
    lines = [plan.title, *([plan.maker] if plan.maker else [])]
    for chapter in found:
        lines += ["", *_chapter(chapter, width)]
    if shopping:
        lines += ["", *_shopping(shopping, plan.units)]
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


def _shopping(listed: Sequence[Line], units: Units) -> Iterable[str]:
    """What to buy or to have ready, line by line; a note about a material stands with it, the others come last."""
    yield "Shopping list"
    yield from _columns([_bought(line, units) for line in listed if line.what != "note" or line.material])
    yield from (f"  {line.name}" for line in listed if line.what == "note" and not line.material)
    found, why_not = totals(listed), no_sum(listed)
    if why_not:
        yield f"  {why_not}"
    if found:
        yield f"  Stock to buy, together: {' and '.join(price.text for price in found)}"


def _bought(line: Line, units: Units) -> tuple[str, str]:
    if line.what == "note":
        return line.material, line.name
    return f"{line.material}: {line.name}".removeprefix(": "), in_words(line, units)


def _columns(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(len(row[n]) for row in rows) for n in range(len(rows[0]) - 1)]
    return ["  " + "  ".join([*(f"{cell:<{w}}" for cell, w in zip(row, widths, strict=False)), row[-1]]) for row in rows]


def verified_line(verified: Verified, excerpt: str) -> str:
    """What was found, and which part of a pack was looked at where that is not all of it."""
    return f"{verified.text}; an excerpt: {one_line(excerpt[:LONGEST_EXCERPT])}" if excerpt else verified.text


def measured_table(measured: Measured) -> str:
    """Every part of a pack with its size, and where a page is stretched for its printer also the size it is drawn in."""
    if not measured.has_parts:
        return f"{counted(measured.pages, 'page')}, no parts: this document holds no templates that name themselves"
    head: tuple[str, ...] = ("page", "plate", "part", "line", "size")
    rows: list[tuple[str, ...]] = [(str(part.page), *_named(part), _size(part.width, part.height)) for part in measured.parts]
    if any(_stretched(part) for part in measured.parts):
        head = (*head, "as drawn in the PDF")
        pairs = zip(rows, measured.parts, strict=True)
        rows = [(*row, _mm((part.paper_width, part.paper_height))) for row, part in pairs]
    return "\n".join(_columns([head, *rows]))


def _stretched(part: MeasuredPart) -> bool:
    return not (close(part.width, part.paper_width, within=0.001) and close(part.height, part.paper_height, within=0.001))


def _mm(size: tuple[float, float]) -> str:
    """A size in mm alone, to a hundredth."""
    if close(min(size), 0, within=0.005):
        return in_mm(max(size))
    return " × ".join(f"{in_mm(side)}" for side in size)


def _named(part: MeasuredPart) -> tuple[str, str, str]:
    """Plate, name and line, of which any PDF may make what it likes."""
    return one_line(part.plate), one_line(part.name), one_line(part.line)


def _size(width: float, height: float) -> str:
    if close(min(width, height), 0, within=0.005):  # a bar is as long as it is, and has no width
        return both(max(width, height), "mm")
    return both_sizes((width, height), "mm")
