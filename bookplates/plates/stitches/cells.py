"""The sewing on the steps plate: each of its steps with its picture, and the key to the lines. Lengths in mm."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from bookplates.book.record import Plan
from bookplates.geometry import Size, circle_points
from bookplates.letters import width
from bookplates.plates.drawing import Fill, Item, Label, Line, Stroke
from bookplates.plates.flow import Entry, shifted
from bookplates.plates.marks import LEADING, NORMAL, SMALL, TIED, lines
from bookplates.plates.pad import ASCENT
from bookplates.plates.stitches import kettle as kettles
from bookplates.plates.stitches.ground import RIM, octagon
from bookplates.plates.stitches.picture import picture_size, stitch_pictures

LEAST_WORDS = 23.0
"""Words narrower than this are tiring to read beside a picture."""
BETWEEN = 4.0
"""Between two steps side by side."""
SAMPLE = 8.0
NUMBERED = re.compile(r"(?<=station|section) (?=\d)|(?<=hole) (?=\d)")
"""The spaces between a word and its number."""


def sewing(plan: Plan, number: int, column: float) -> Iterator[Entry]:
    """The key, then the steps: two side by side where the pictures are narrow, words beside or below them."""
    yield from key(plan, column)
    size, half = Size(*picture_size(plan)), (column - BETWEEN) / 2
    beside = half - size.width >= LEAST_WORDS or size.width > half
    abreast = 1 if size.width > half else 2
    room, cell = column if abreast == 1 else half, _words_beside if beside else _words_below
    cells = [
        cell(f"{number}.{n}", step.text, picture, size, room)
        for n, (step, picture) in enumerate(zip(plan.sewing.path.steps, stitch_pictures(plan), strict=True), 1)
    ]
    if found := kettles.first_kettle(plan):
        cells[found[0]] = _with_kettle(cells[found[0]], plan, found[1])
    for first in range(0, len(cells), abreast):
        yield _row(cells[first : first + abreast], half + BETWEEN)


def _with_kettle(cell: Entry, plan: Plan, section: int) -> Entry:
    """A step with the kettle stitch drawn larger below it."""
    height = cell.height + kettles.SIZE.height
    return Entry((*cell.items, *shifted(kettles.kettle(plan, section), 0.0, 1.0 - height)), height + 1.0)


def _words_beside(mark: str, text: str, picture: Sequence[Item], size: Size, room: float) -> Entry:
    """A picture at the left, its number and what is done at the right of it."""
    x = size.width + 1.0
    words, height = _words(mark, text, x, 0.0, room - x)
    return Entry((*shifted(picture, 0.0, -size.height), *words), max(size.height, height) + 2.0)


def _words_below(mark: str, text: str, picture: Sequence[Item], size: Size, room: float) -> Entry:
    """A picture, its number and what is done below it."""
    words, height = _words(mark, text, 0.0, -size.height - 0.8, room)
    return Entry((*shifted(picture, 0.0, -size.height), *words), size.height + height + 3.0)


def _words(mark: str, text: str, x: float, top: float, room: float) -> tuple[list[Label], float]:
    """The number, then the text in the same line or below it, and how high both are."""
    narrow = room < 2 * LEAST_WORDS - BETWEEN
    indent = 0.0 if narrow else width(mark, NORMAL, True) + 1.5
    first = top - ASCENT * NORMAL
    lead = LEADING * NORMAL if narrow else 0.0
    wrapped = [line.replace(TIED, " ") for line in lines(NUMBERED.sub(TIED, text), NORMAL, room - indent)]
    words = [Label(line, (x + indent, first - lead - n * LEADING * NORMAL), NORMAL) for n, line in enumerate(wrapped)]
    return [Label(mark, (x, first), NORMAL, bold=True), *words], LEADING * NORMAL * len(wrapped) + lead


def _row(cells: Sequence[Entry], apart: float) -> Entry:
    items = [item for n, cell in enumerate(cells) for item in shifted(cell.items, n * apart, 0.0)]
    return Entry(tuple(items), max(cell.height for cell in cells))


def key(plan: Plan, column: float) -> Iterator[Entry]:
    """What the lines and circles of the pictures mean."""
    flat = bool(plan.sewing.holes)
    seen, behind = ("on the front", "on the back") if flat else ("outside", "inside")
    if any(leg.start.side == "inside" for leg in plan.sewing.path.legs if leg.deed == "climb"):
        behind = "inside, or between board and section"
    signs: list[tuple[tuple[Item, ...], str]] = [
        (_sample("thread"), f"thread of this step, {seen}"),
        (_sample("thread behind"), f"thread of this step, {behind}"),
        (_sample("sewn"), f"sewn before, {seen}"),
        (_sample("sewn behind"), f"sewn before, {behind}"),
        (_circle(1.0), f"{'hole' if flat else 'station'}, with its number"),
        (_circle(0.0), "passed through in this step"),
    ]
    intro = "Seen from the front" if flat else "The spine, seen from outside"
    yield from _said(f"{intro}, head at the top.{_rings(plan)}", column)
    yield from _table(signs, column)


def _rings(plan: Plan) -> str:
    """What rings mean, where there are any."""
    legs = plan.sewing.path.legs
    hitch = " A small ring is a hitch or a knot." if any(leg.deed in ("hitch", "knot") for leg in legs) else ""
    own = any(leg.deed == "link" and leg.linked in (None, leg.start.section) for leg in legs)
    return f"{hitch} A larger ring goes round a stitch." if own else hitch


def _said(text: str, column: float) -> Iterator[Entry]:
    for line in lines(text, SMALL, column):
        yield Entry((Label(line, (0.0, -ASCENT * SMALL), SMALL),), LEADING * SMALL, with_next=True)


def _table(signs: Sequence[tuple[tuple[Item, ...], str]], column: float) -> Iterator[Entry]:
    """The signs with their meaning, two to a row where the column takes them."""
    widest = max(width(text, SMALL) for _, text in signs) + SAMPLE + 2.0
    abreast = 2 if 2 * widest <= column else 1
    for first in range(0, len(signs), abreast):
        items: list[Item] = []
        for n, (sample, text) in enumerate(signs[first : first + abreast]):
            x = n * column / 2
            items += shifted(sample, x, -0.55 * SMALL)
            items.append(Label(text, (x + SAMPLE + 1.5, -ASCENT * SMALL), SMALL))
        yield Entry(tuple(items), 1.4 * SMALL, with_next=True)
    yield Entry((), 1.5, with_next=True)


def _sample(line: Line) -> tuple[Item, ...]:
    return (Stroke(((0.0, 0.0), (SAMPLE, 0.0)), line),)


def _circle(grey: float) -> tuple[Item, ...]:
    middle = SAMPLE / 2, 0.0
    return Fill(octagon(middle), grey), Stroke(circle_points(middle, 2 * RIM), "hole", closed=True)
