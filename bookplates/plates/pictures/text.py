"""Pictures of the work on the text block: folding, nesting, trimming, measuring, pressing. Lengths in mm."""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.geometry import Box, Size
from bookplates.lengths import said as length
from bookplates.plates.pictures.marks import (
    BOARD,
    TEXT,
    WOOD,
    Items,
    box,
    drawn,
    go,
    inside,
    knife,
    layers,
    leaf_of,
    left_spine,
    said,
    shape,
    span,
    swing,
    together,
    weight,
)


def check(plan: Plan, w: float, h: float) -> Items:  # noqa: ARG001  # the bar is the same for all books
    """A ruler along the 100 mm bar."""
    bar, ruler = h * 0.62, Box(0.5, h * 0.24, w - 0.5, h * 0.46)
    ticks = (drawn((4.0 + n * (w - 8.0) / 10, ruler.top), (4.0 + n * (w - 8.0) / 10, ruler.top - 2.0)) for n in range(11))
    return (
        *drawn((4.0, bar), (w - 4.0, bar), line="cut"),
        *drawn((4.0, bar - 1.5), (4.0, bar + 1.5), line="cut"),
        *drawn((w - 4.0, bar - 1.5), (w - 4.0, bar + 1.5), line="cut"),
        *said("100 mm", w / 2, bar + 2.6),
        *box(ruler, BOARD),
        *together(tuple(ticks)),
    )


def _grid(plan: Plan, sheet: Size) -> tuple[int, int]:
    """Into how many pieces across and along a sheet is cut."""
    block = plan.text_block
    single = block.gathered == "single leaves"
    each = max(1, (block.leaves if single else block.folios) // max(block.sheets or 1, 1))
    spread = Size(block.leaf_width * (1 if single else 2), block.leaf_height)
    grids = (
        (max(1, round(sheet.width / piece.width)), max(1, round(sheet.height / piece.height)))
        for piece in (spread, spread.turned)
    )
    return next((grid for grid in grids if grid[0] * grid[1] == each), (1, 1))


def fold(plan: Plan, w: float, h: float) -> Items:
    """The sheet with its cuts, and a piece folded to a leaf, its spine at the left."""
    leaf, block = leaf_of(plan), plan.text_block
    piece = inside(Size(2 * leaf.width, leaf.height), Box(w * 0.46, TEXT + 1.0, w, h - 6.5))
    if block.gathered == "single leaves":
        piece = inside(leaf, piece)
    x, y = piece.middle
    size = f"leaf {length(block.leaf_width, plan.units)} × {length(block.leaf_height, plan.units)}"
    folding = (
        ()
        if block.gathered == "single leaves"
        else (
            *drawn((x, piece.bottom - 1.0), (x, piece.top + 1.0), line="fold"),
            *swing((x + piece.size.width * 0.36, piece.top + 0.6), (x - piece.size.width * 0.36, piece.top + 0.6), -2.4),
            *(said("spine", x + 1.2, y, "start") if piece.size.width > 16 and piece.size.height > 2 * TEXT else ()),
        )
    )
    return (*_cut_sheet(plan, Box(1.2, TEXT + 1.0, w * 0.4, h - 1.0)), *box(piece), *folding, *said(size, w / 2, 0.5 * TEXT))


def _cut_sheet(plan: Plan, room: Box) -> Items:
    """A sheet as bought, cut across and along; or just the sheet where only the leaf is known."""
    block = plan.text_block
    sheet = block.sheet if block.sheet and block.sheets else Size(2 * block.leaf_width, block.leaf_height)
    area = inside(sheet, room)
    columns, rows = _grid(plan, sheet)
    across = (area.left + n * area.size.width / columns for n in range(1, columns))
    along = (area.bottom + n * area.size.height / rows for n in range(1, rows))
    cuts = [
        *(drawn((x, area.bottom - 0.8), (x, area.top + 0.8), line="hidden") for x in across),
        *(drawn((area.left - 0.8, y), (area.right + 0.8, y), line="hidden") for y in along),
    ]
    blade = knife(area.middle[0] + 1.0, area.middle[1] + 0.6) if cuts else ()
    return (*box(area), *together(cuts), *blade)


def nest(plan: Plan, w: float, h: float) -> Items:
    """Folded sheets set one in the other, seen from the head; or leaves knocked level."""
    block = plan.text_block
    if block.gathered != "nested":
        return _knocked(plan, w, h)
    steps, top = 1.3, h * 0.62
    vees = [
        drawn((w * 0.12 + n * steps, h - 1.0), (w * 0.4, h * 0.22 + n * 1.5), (w * 0.68 - n * steps, h - 1.0), line="medium")
        for n in range(3)
    ]
    inner = drawn((w * 0.62, h - 3.5), (w * 0.8, top - 3.2), (w * 0.98, h - 3.5), line="medium")
    shares = sorted(set(block.folios_per_section), reverse=True)
    count = " or ".join(map(str, shares)) + (" folded sheets" if block.sections == 1 else " to a section")
    return (
        *together(vees),
        *inner,
        *swing((w * 0.8, top - 5.0), (w * 0.43, top - 3.0), -2.5),
        *said("spine", w * 0.4, h * 0.22 - 2.0),
        *said(count, w / 2, 0.5 * TEXT),
    )


def _knocked(plan: Plan, w: float, h: float) -> Items:
    """A stack set on the table on its spine edge."""
    leaves = Box(w * 0.3, 4.5, w * 0.62, h - 5.0)
    uneven = (
        drawn((leaves.left + n * 1.6, leaves.bottom), (leaves.left + n * 1.6, leaves.top + (n % 3) * 0.9)) for n in range(1, 7)
    )
    table = Box(0.5, 3.3, w - 0.5, 4.5)
    return (
        *box(table, WOOD),
        *drawn(
            (leaves.left, leaves.top),
            (leaves.left, leaves.bottom),
            (leaves.right, leaves.bottom),
            (leaves.right, leaves.top),
            line="medium",
        ),
        *together(tuple(uneven)),
        *go((w * 0.8, h * 0.75), (w * 0.8, h * 0.3)),
        *said(f"{plan.text_block.leaves} leaves, all level", w / 2, 0.5 * TEXT),
    )


def trim(plan: Plan, w: float, h: float) -> Items:
    """The block from its head, cut to the marks: inner leaves of a section stand out."""
    middle, spine, cut = h - 12.2, 3.0, w - 7.5
    nested = plan.text_block.gathered == "nested"
    flat = layers(Box(spine, middle - 4.5, cut + 2.0, middle + 4.5), 7)
    folds = [
        drawn((cut + n * 1.5 - 0.5, middle + 5.5 - 1.5 * n), (spine + 2.0 + n, middle + 5.5 - 1.5 * n), (spine + n, middle),
              (spine + 2.0 + n, middle - 5.5 + 1.5 * n), (cut + n * 1.5 - 0.5, middle - 5.5 + 1.5 * n), line="medium")
        for n in range(4)
    ]  # fmt: skip
    return (
        *(together(folds) if nested else flat),
        *drawn((cut, middle - 7.0), (cut, middle + 7.0), line="hidden"),
        *knife(cut, middle + 5.5),
        *span((spine, middle - 8.0), (cut, middle - 8.0)),
        *said(
            f"{length(plan.text_block.block_width, plan.units)} {'from the fold' if nested else 'wide'}",
            (spine + cut) / 2,
            0.5 * TEXT,
        ),
        *said("spine", 0.3, middle + 7.6, "start"),
    )


def measure(plan: Plan, w: float, h: float) -> Items:
    """The pressed block: its width and height from the front, its thickness from the head."""
    front = inside(leaf_of(plan), Box(2.5, TEXT + 3.0, w * 0.5, h - 1.0))
    thick = Box(w * 0.64, h * 0.3, w - 1.0, h * 0.3 + 4.0)
    beside = front.right + 1.6
    return (
        *box(front),
        *_spine_edge(plan, front),
        *span((front.left, front.bottom - 1.7), (front.right, front.bottom - 1.7)),
        *said("width", front.middle[0], front.bottom - 1.7 - 0.8 * TEXT),
        *span((beside, front.bottom), (beside, front.top)),
        *said("height", beside + 1.2, front.top - 1.2, "start"),
        *layers(thick, 4),
        *span((thick.left - 1.4, thick.bottom), (thick.left - 1.4, thick.top)),
        *said("thickness", thick.middle[0] - 0.5, thick.bottom - 0.8 * TEXT),
    )


def _spine_edge(plan: Plan, front: Box) -> Items:
    """The fold, and its name beside it; a concertina has none."""
    if plan.text_block.gathered == "panels":
        return ()
    x, way = (front.left, 1.0) if left_spine(plan) else (front.right, -1.0)
    fold = drawn((x + way * 0.6, front.bottom), (x + way * 0.6, front.top))
    return (*fold, *said("spine", x + way * 1.2, front.middle[1], "start" if way > 0 else "end"))


def gauges(plan: Plan, w: float, h: float) -> Items:
    """Strips of card with their names."""
    names = [layout.title for layout in plan.layouts if layout.title.endswith(" gauge")]
    names += ["cover punch guide"] if plan.layouts_of("cover punch guide") else []
    row = min(6.5, (h - 1.0) / max(len(names), 1))
    strips = []
    for n, name in enumerate(names):
        y = h - 0.5 - (n + 1) * row
        area = Box(0.5, y + 1.2, w * 0.42, y + row - 0.8)
        strips += [_gauge(name, area), said(name, w * 0.47, area.middle[1], "start")]
    return together(strips)


def _gauge(name: str, area: Box) -> Items:
    if name.startswith("mitre"):
        high = area.size.height
        return shape(
            ((area.left + high, area.bottom), (area.right, area.bottom), (area.right - high, area.top), (area.left, area.top))
        )
    if name == "cover punch guide":
        dots = (shape(((x, y), (x + 0.5, y + 0.5), (x, y + 1.0), (x - 0.5, y + 0.5)), WOOD, "thin")
                for x, y in ((area.left + t * area.size.width, area.middle[1] - 0.5) for t in (0.2, 0.4, 0.6, 0.8)))  # fmt: skip
        return (*box(area), *together(tuple(dots)))
    return box(area)


def press(plan: Plan, w: float, h: float) -> Items:  # noqa: ARG001  # every book is pressed alike
    """The work between two boards, under a weight, away from the table's edge."""
    table, x = Box(0.5, 1.0, w - 0.5, 2.4), w / 2
    return (
        *box(table, WOOD),
        *box(Box(x - 11.0, 2.4, x + 11.0, 4.2), BOARD),
        *layers(Box(x - 9.5, 4.2, x + 9.5, 8.2), 5),
        *box(Box(x - 11.0, 8.2, x + 11.0, 10.0), BOARD),
        *weight(x, 10.0, 12.0),
        *go((x, h - 1.0), (x, 18.5)),
        *said("weight", x + 7.5, 13.0, "start"),
    )


PICTURES = {
    "check": check,
    "fold": fold,
    "nest": nest,
    "trim": trim,
    "measure": measure,
    "gauges": gauges,
    "press": press,
}
