"""Pictures of two boards joined: spacers, book tape, and the piercing of the cover between them. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterable

from bookplates.book.record import Plan
from bookplates.geometry import Box, Point, Size
from bookplates.lengths import said as length
from bookplates.plates.pictures.marks import (
    BOARD,
    CLOTH,
    TEXT,
    Items,
    awl,
    board_of,
    box,
    dots,
    drawn,
    go,
    inside,
    left_spine,
    said,
    said_in,
    spread_of,
    swing,
    together,
)


def _spine_share(plan: Plan) -> float:
    apart = plan.cover.boards_apart or plan.text_block.thickness
    return min(max(apart / max(plan.cover.open_width, 1.0), 0.09), 0.3)


def set_boards(plan: Plan, w: float, h: float) -> Items:
    """Two covered boards, outside up, closed up to two spacers."""
    board = board_of(plan)
    room = Box(0.5, TEXT + 2.6, w - 0.5, h - 3.5)
    area = inside(Size(2 * board.width / (1 - 0.14), board.height), room)
    left, between, right = spread_of(area, 0.14)
    spacers = (
        Box(between.left, area.top - 3.0, between.right, area.top + 3.0),
        Box(between.left, area.bottom - 2.0, between.right, area.bottom + 3.0),
    )
    apart = length(plan.cover.boards_apart or 0.0, plan.units)
    return (
        *_covered(plan, left, 1.0),
        *_covered(plan, right, -1.0),
        *together([box(spacer) for spacer in spacers]),
        *go((left.middle[0] - 3.0, area.middle[1] - 3.0), (left.right - 0.5, area.middle[1] - 3.0)),
        *go((right.middle[0] + 3.0, area.middle[1] - 3.0), (right.left + 0.5, area.middle[1] - 3.0)),
        *together([_named(*pair) for pair in zip((left, right), _faces(plan, outside=True), strict=True)]),
        *said(f"{apart} apart", w / 2, 0.5 * TEXT),
    )


def _covered(plan: Plan, board: Box, way: float) -> Items:
    """A covered board, its spine edge at the right where `way` is 1: bare there, where the covering ends under the tape."""
    if plan.tape is None or plan.tape.lap is None:
        return box(board, CLOTH)
    share = min(plan.tape.short / (plan.cover.board_width or 1.0), 0.6)
    off = way * max(share * board.size.width, 1.5)
    paper = board._replace(right=board.right - off) if way > 0 else board._replace(left=board.left - off)
    return (*box(board, BOARD), *box(paper, CLOTH))


def _faces(plan: Plan, *, outside: bool) -> tuple[str, str]:
    """Which board lies left and right."""
    return ("back", "front") if outside is left_spine(plan) else ("front", "back")


def _named(area: Box, name: str) -> Items:
    return said_in(name, Box(area.left, area.middle[1], area.right, area.top))


def lay_tape(plan: Plan, w: float, h: float) -> Items:
    """The tape from above over the gap, hanging over at head and tail."""
    board, tape = board_of(plan), plan.tape
    area = inside(Size(2 * board.width / 0.9, board.height), Box(0.5, 5.0, w - 0.5, h - 5.0))
    left, _, right = spread_of(area, 0.1)
    share = min((tape.width if tape else 40.0) / max(plan.cover.open_width, 1.0), 0.9)
    half = area.size.width * share / 2
    x = area.middle[0]
    strip = Box(x - half, area.bottom - 4.5, x + half, area.top + 4.5)
    return (
        *box(left, BOARD),
        *box(right, BOARD),
        *box(strip, CLOTH),
        *drawn((strip.left, area.top), (strip.right, area.top), line="hidden"),
        *drawn((strip.left, area.bottom), (strip.right, area.bottom), line="hidden"),
        *drawn((left.right, area.bottom), (left.right, area.top), line="hidden"),
        *drawn((right.left, area.bottom), (right.left, area.top), line="hidden"),
        *said("tape", strip.left - 0.8, area.bottom - 2.8, "end"),
        *swing((strip.right - 1.5, area.top + 3.5), (strip.right - 1.5, area.top - 5.0), -2.0),
        *swing((strip.right - 1.5, area.bottom - 3.5), (strip.right - 1.5, area.bottom + 5.0), 2.0),
    )


def pierce_cover(plan: Plan, w: float, h: float) -> Items:
    """The cover open, inside up, its guide on the spine, the awl through the first station."""
    share = max(_spine_share(plan), 0.12)
    area = inside(Size(2 * board_of(plan).width / (1 - share), board_of(plan).height), Box(0.5, 0.5, w - 0.5, h - 6.5))
    left, between, right = spread_of(area, share)
    guide, holes = _guide_on(plan, area, between)
    x, y = holes[0]
    return (
        *box(left),
        *box(between, BOARD),
        *box(right),
        *box(guide),
        *dots(holes),
        *awl(x, y, h - 0.2),
        *together([said_in(name, side) for name, side in _named_sides(plan, area, guide)]),
        *said("guide", w * 0.7, h - 0.6 * TEXT, "start"),
        *drawn((w * 0.7 - 0.8, h - 0.7 * TEXT), (min(x + 2.0, guide.right - 0.4), area.top - 0.5)),
    )


def _named_sides(plan: Plan, area: Box, guide: Box) -> Iterable[tuple[str, Box]]:
    """Front and back, on what the guide leaves free."""
    sides = (Box(area.left, area.bottom, guide.left, area.top), Box(guide.right, area.bottom, area.right, area.top))
    return zip(_faces(plan, outside=False), sides, strict=True)


def _guide_on(plan: Plan, area: Box, between: Box) -> tuple[Box, list[Point]]:
    """The cover punch guide where it lies, and its holes, row by row, from the head."""
    x, high = between.middle[0], plan.cover.open_height or 1.0
    parts = [part for layout in plan.layouts_of("cover punch guide")[:1] for part in layout.parts]
    strip = next((part.box for part in parts if part.line == "cut"), None)
    middles = [part.box.middle for part in parts if part.line == "hole"]
    if strip is None or not middles or strip.left >= 0:  # a guide for the boards, not for what lies between them
        places = plan.sewing.cover_stations or (high / 2,)
        return between, [(x, area.top - y / high * area.size.height) for y in places]
    apart = plan.cover.boards_apart or plan.text_block.thickness
    scale = min(between.size.width / max(apart, 0.5), 0.72 * area.size.width / strip.size.width)
    up = area.size.height / strip.size.height
    guide = Box(x + strip.left * scale, area.bottom, x + strip.right * scale, area.top)
    return guide, [(x + px * scale, area.bottom + (py - strip.bottom) * up) for px, py in middles]


def spacers(plan: Plan, w: float, h: float) -> Items:
    """Strips of board, as wide as what they keep apart."""
    wide = min((layout.parts[0].box.size.width for layout in plan.layouts_of("spacer")), default=0.0)
    strips = [Box(3.0, h * place, w - 3.0, h * place + 3.4) for place in (0.72, 0.5)]
    return (*together([box(strip, BOARD) for strip in strips]), *said(f"{length(wide, plan.units)} wide", w / 2, h * 0.3))


PICTURES = {
    "spacers": spacers,
    "set boards": set_boards,
    "lay tape": lay_tape,
    "pierce cover": pierce_cover,
}
