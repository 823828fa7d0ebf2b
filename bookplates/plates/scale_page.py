"""The scale page: what to print first, measure with a steel rule, and write into the spec where it is off."""

from __future__ import annotations

from collections.abc import Iterable

from bookplates.book.record import Plan
from bookplates.geometry import Box, Size, bounds
from bookplates.kinds.parts import Layout, Part
from bookplates.lengths import POINT, in_mm
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Item, Label, Stroke
from bookplates.plates.marks import NORMAL, SMALL, TITLE, text_block
from bookplates.plates.pad import ASCENT, DESCENT, box_round, moved, parts_of

HOW = (
    'Print at 100 % ("actual size"), never fitted to the page. Let the print cool and dry, and lay it flat.',
    "With a steel rule measure the bars from end tick to end tick: across and along 100 mm each, the inch bars 4 in each.",
    "The diagonals are 141.42 mm, and above all equal. Where they differ the printer skews: try another tray or printer.",
)
WHERE_IT_IS_OFF = (
    "Is a bar not 100 mm? Write what the rule reads into the spec and print again; the pack is then corrected:",
    "[print]",
    'bar_across = "99.5 mm"',
    'bar_along = "100 mm"',
    "This pack is printed without a correction.",
)


FOOT = 9.0
"""What of the strip at the foot lies free above the title block on this page, mm: it draws the bars itself."""


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """One page for each scale layout of the plan."""
    return tuple(_page(setup, layout) for layout in plan.layouts_of("scale page"))


def _page(setup: PageSetup, layout: Layout) -> Drawing:
    square = bounds(point for part in layout.parts for point in part.points)
    items: list[Item] = [*parts_of(layout), *_names(layout.parts, square)]
    words = _words(setup, items)
    high = box_round(items).size.height + box_round(words).size.height + 6.0
    room = _room(setup.room.size, box_round(items), high)
    foot = box_round(items).bottom - 6.0
    placed = moved(words, room.left, foot)
    return Drawing("scale page", "scale page", (*items, *placed), room, turnable=False, whole_page=True)


def _room(page: Size, drawn: Box, high: float) -> Box:
    """The page's room, laid so that the bars stand in the middle of its width, the words below them.

    Where they are too wide for it they reach into the strip at the left, which no other bar needs here.
    """
    left = max(drawn.middle[0] - page.width / 2, drawn.right + POINT - page.width)
    top = drawn.top + min(max(0.0, (page.height - high) / 2), 12.0)
    return Box(left, top - page.height, left + page.width, top)


def _words(setup: PageSetup, drawn: Iterable[Item]) -> tuple[Label, ...]:
    """How to check the print, in letters as large as leave everything on the page."""
    page, high = setup.room.size, box_round(drawn).size.height + 8.0 - FOOT
    said, sizes = (*HOW, *(_corrected(setup) if setup.corrected else WHERE_IT_IS_OFF)), (TITLE, 9 * POINT, NORMAL, SMALL)
    blocks = [text_block(said, page.width, size, "Check the scale first") for size in sizes]
    return next((block for block in blocks if box_round(block).size.height + high <= page.height), blocks[-1])


def _corrected(setup: PageSetup) -> tuple[str, ...]:
    """What was applied; a reading of this page is no reading of the printer."""
    reading, correction = setup.reading, setup.correction
    applied = (
        f"This pack is corrected for bars that read {in_mm(reading.width)} across and {in_mm(reading.height)} along: "
        f"everything is multiplied by {correction.width:.4f} across and {correction.height:.4f} along, these bars too."
    )
    now = (
        "So both bars must read 100 mm now. If one does not, take bar_across and bar_along out of the spec, make the pack again,"
    )
    return applied, f"{now} and read its bars afresh."


def _names(parts: tuple[Part, ...], square: Box) -> tuple[Item, ...]:
    """The bars' names and lengths beside them, and a tick at every inch or 10 mm."""
    ticks: tuple[Item, ...] = tuple(tick for part in parts for tick in _ticks(part))
    return (*ticks, *(name for part in parts for name in _name(part, square)))


def _ticks(part: Part) -> tuple[Stroke, ...]:
    (x0, y0), (x1, y1) = part.points[0], part.points[-1]
    if "diagonal" in part.name:
        return ()
    dx, dy = (0.0, 0.8) if abs(y1 - y0) < abs(x1 - x0) else (0.8, 0.0)
    count = 4 if "inch" in part.name else 10
    places = ((x0 + (x1 - x0) * k / count, y0 + (y1 - y0) * k / count) for k in range(count + 1))
    return tuple(Stroke(((x - dx, y - dy), (x + dx, y + dy)), "thin", layer="dimensions") for x, y in places)


def _name(part: Part, square: Box) -> tuple[Label, ...]:
    """A bar's name along it, outside the square; a diagonal's beside its right end."""
    box = part.box
    text = f"{part.name}, {_length(part)}"
    if "diagonal" in part.name:
        high = box.bottom + (0.87 if "rising" in part.name else 0.13) * box.size.height
        return (Label(text, (box.left + 0.83 * box.size.width, high - 0.3 * NORMAL), NORMAL, "end", layer="dimensions"),)
    if box.size.width > box.size.height:
        return (
            Label(
                text,
                (box.middle[0], _outside(box.middle[1], square.middle[1], DESCENT, ASCENT)),
                NORMAL,
                "middle",
                layer="dimensions",
            ),
        )
    away = _outside(box.middle[0], square.middle[0], ASCENT, DESCENT)
    return (Label(text, (away, box.middle[1]), NORMAL, "middle", 90.0, layer="dimensions"),)


def _outside(at: float, middle: float, after: float, before: float) -> float:
    """A baseline beside a bar, away from the square's middle; `after` and `before`: how far letters reach towards the bar."""
    return at + 1.5 + after * NORMAL if at > middle else at - 1.5 - before * NORMAL


def _length(part: Part) -> str:
    (x0, y0), (x1, y1) = part.points[0], part.points[-1]
    long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    return "4 in (101.6 mm)" if "inch" in part.name else f"{long:.2f} mm".replace(".00", "")
