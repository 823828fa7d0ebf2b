"""Pictures of boards and their coverings, and of the book tape that joins them. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterable

from bookplates.book.record import Plan
from bookplates.geometry import Box, Outline, Point, Size
from bookplates.lengths import said as length
from bookplates.plates.drawing import Anchor
from bookplates.plates.marks import cross
from bookplates.plates.pictures.marks import (
    BOARD,
    CLOTH,
    TEXT,
    Items,
    awl,
    board_of,
    box,
    brush,
    dots,
    drawn,
    go,
    hatched,
    head_mark,
    inside,
    knife,
    left_spine,
    mild,
    said,
    said_in,
    shape,
    span,
    spread_of,
    swing,
    together,
)

THREE, FOUR = ("head", "tail", "fore-edge"), ("head", "tail", "fore-edge", "spine")


def cut_boards(plan: Plan, w: float, h: float) -> Items:
    """A board ruled from prick to prick, with its sizes and the knife along a line."""
    board = Size(plan.cover.board_width or plan.cover.open_width / 2, plan.cover.board_height or plan.cover.open_height)
    area = inside(board_of(plan), Box(2.0, TEXT + 3.7, w * 0.62, h - 3.0))
    crosses = (cross(corner, 1.6) for corner in area.corners)
    return (
        *box(area, BOARD),
        *together(tuple(crosses)),
        *head_mark(area.middle[0], area.top - 3.4),
        *said_in("inside", area),
        *knife(area.right, area.top - 6.0),
        *span((area.left, area.bottom - 2.2), (area.right, area.bottom - 2.2)),
        *said(f"{length(board.width, plan.units)} × {length(board.height, plan.units)}", w / 2, 0.5 * TEXT),
        *go((w * 0.66, area.middle[1] - 3.0), (w * 0.66, area.bottom)),
        *said("cut", w * 0.7, area.middle[1] - 4.0, "start"),
    )


def _front_covering(plan: Plan, room: Box, *, sides: int = 3) -> tuple[Box, Box]:
    """The front covering from its wrong side, and the board's place on it."""
    cover, board = plan.cover, _whole_board(plan)
    head, tail, fore = ((turn or 15.0) for turn in (cover.turn_in_head, cover.turn_in_tail, cover.turn_in_fore_edge))
    spine = fore if sides == 4 else 0.0
    paper = inside(Size(board.width + fore + spine, board.height + head + tail), room)
    scale = paper.size.height / (board.height + head + tail)
    left, right = (fore, spine) if left_spine(plan) else (spine, fore)
    place = Box(paper.left + left * scale, paper.bottom + tail * scale, paper.right - right * scale, paper.top - head * scale)
    return paper, place


def _whole_board(plan: Plan) -> Size:
    """A board as its covering holds it: with its hinge strip and the gap, where there is one."""
    cover = plan.cover
    if cover.hinge is None or cover.board_width is None:
        return board_of(plan)
    return mild(Size(cover.board_width + cover.hinge + (cover.hinge_gap or 0.0), cover.board_height or 1.0))


def _boards_on(plan: Plan, place: Box) -> tuple[Box, ...]:
    """The board where it lies on its covering, and its hinge strip beside it where it has one."""
    cover = plan.cover
    if cover.hinge is None or cover.board_width is None:
        return (place,)
    scale = place.size.width / (cover.board_width + cover.hinge + (cover.hinge_gap or 0.0))
    strip, main = max(cover.hinge * scale, 2.5), min(cover.board_width * scale, place.size.width - 3.4)
    left = left_spine(plan)  # seen from the wrong side: the spine is at the other side
    return (
        place._replace(right=place.left + main) if left else place._replace(left=place.right - main),
        place._replace(left=place.right - strip) if left else place._replace(right=place.left + strip),
    )


def _sides(plan: Plan) -> int:
    """On how many sides a board's covering is turned in: at the spine edge, too, or not."""
    cover, papers = plan.cover, [piece.width for piece in plan.pieces if piece.name == "front covering"]
    three = (cover.board_width or 0.0) + (cover.hinge or 0.0) + (cover.hinge_gap or 0.0) + (cover.turn_in_fore_edge or 0.0)
    return 4 if papers and papers[0] > three + 1.0 else 3


def glue_covering(plan: Plan, w: float, h: float) -> Items:
    """The covering wrong side up with its pricks; the board comes down on it, glued side down."""
    paper, place = _front_covering(plan, Box(1.8, TEXT + 0.8, w * 0.6, h - 0.5), sides=_sides(plan))
    crosses = (cross(corner, 1.3) for corner in place.corners)
    above = Box(w * 0.68, h - 15.0, w * 0.68 + min(place.size.width * 0.55, w * 0.3), h - 13.0)
    return (
        *box(paper),
        *drawn(*place.corners, place.corners[0], line="place"),
        *together(tuple(crosses)),
        *head_mark(place.middle[0], place.top - 3.2),
        *box(above, BOARD),
        *hatched(Box(above.left, above.bottom - 0.9, above.right, above.bottom), 0.9),
        *brush(above.middle[0], above.top + 6.0),
        *swing((above.middle[0], above.bottom - 1.6), (place.right - 0.18 * place.size.width, place.middle[1] - 1.0), -2.0),
        *said("wrong side up", w * 0.35, 0.5 * TEXT),
        *said("board", above.middle[0], above.bottom - 7.0),
    )


def turn_in(plan: Plan, w: float, h: float) -> Items:
    """Mitred corners; head first, then tail, then the sides."""
    sides = _sides(plan)
    paper, place = _front_covering(plan, Box(8.0, 0.5, w - 8.0, h - 0.5), sides=sides)
    fore, inwards = (paper.left, 1.0) if left_spine(plan) else (paper.right, -1.0)
    reach = (place.left - paper.left if inwards > 0 else paper.right - place.right) + (3.5 if plan.cover.hinge else 4.5)
    boards = _boards_on(plan, place)
    up, (x, y) = place.size.height * 0.2, boards[0].middle
    low = min(2.0, 0.12 * place.size.height)
    arrows = (
        *swing((x + 1.0, paper.top), (x + 1.0, place.top - up), -1.5),
        *swing((x + 1.0, paper.bottom), (x + 1.0, place.bottom + up), 1.5),
        *swing((fore, y - low), (fore + inwards * reach, y - low), 1.5 * inwards),
    )
    numbers = (
        *said("1", x - 1.6, place.top - 1.6, bold=True),
        *said("2", x - 1.6, place.bottom + 1.6, bold=True),
        *said("3", fore + inwards * (reach - 2.5), y + 3.8 - low, bold=True),
    )
    return (
        *shape(_mitred(plan, paper, place, sides)),
        *together([box(board, BOARD) for board in boards]),
        *arrows,
        *numbers,
        *_mitre_named(paper, fore, inwards),
    )


def _mitre_named(paper: Box, fore: float, inwards: float) -> Items:
    """The word beside a fore-edge corner, and a line to the cut."""
    y, out = paper.top - 1.0, fore - inwards * 0.8
    anchor: Anchor = "end" if inwards > 0 else "start"
    return (*said("mitre", out - inwards * 1.0, y, anchor), *drawn((out, y), (fore + inwards * 1.6, paper.top - 1.6)))


def _mitred(plan: Plan, paper: Box, place: Box, sides: int) -> Outline:
    """The covering with its corners cut off at the fore-edge, or all four."""
    cut = 1.2  # of paper left at a corner, as drawn
    out: list[Point] = []
    fore_left = left_spine(plan)
    for x, bx, y, by in (
        (paper.left, place.left, paper.bottom, place.bottom),
        (paper.right, place.right, paper.bottom, place.bottom),
        (paper.right, place.right, paper.top, place.top),
        (paper.left, place.left, paper.top, place.top),
    ):
        left = x <= paper.left
        if sides == 3 and left is not fore_left:
            out.append((x, y))
            continue
        reach = abs(x - bx) + abs(y - by) - 1.414 * cut
        along, up = min(reach, abs(x - bx) * 2), min(reach, abs(y - by) * 2)
        px, py = (1.0 if left else -1.0), (1.0 if y < by else -1.0)
        ends = ((x, y + py * min(up, reach)), (x + px * min(along, reach), y))
        out += ends if left is (y < by) else ends[::-1]
    return tuple(out)


def line_boards(plan: Plan, w: float, h: float) -> Items:
    """The lining laid on the inside of the board, inside the margin."""
    board, margin = board_of(plan), plan.cover.lining_margin or 0.0
    area = inside(board, Box(0.5, 1.0, w * 0.6, h - 1.0))
    step = max(margin * area.size.height / board.height, 1.2 if margin else 0.0)
    inner = step if _sides(plan) == 4 else 0.0
    left, right = (step, inner) if left_spine(plan) else (inner, step)
    lining = Box(area.left + left, area.bottom + step, area.right - right, area.top - step)
    x = w * 0.66
    words = (
        *said("margin", x, area.middle[1] - 2.5, "start"),
        *said(length(margin, plan.units), x, area.middle[1] - 2.5 - TEXT, "start"),
    )
    return (
        *box(area, BOARD),
        *box(lining),
        *said_in("lining", lining),
        *swing((w * 0.86, h - 3.0), (lining.right - 2.5, lining.top - 4.0), 2.5),
        *(words if margin else ()),
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
        *box(left, CLOTH),
        *box(right, CLOTH),
        *together([box(spacer) for spacer in spacers]),
        *go((left.middle[0] - 3.0, area.middle[1] - 3.0), (left.right - 0.5, area.middle[1] - 3.0)),
        *go((right.middle[0] + 3.0, area.middle[1] - 3.0), (right.left + 0.5, area.middle[1] - 3.0)),
        *together([_named(*pair) for pair in zip((left, right), _faces(plan, outside=True), strict=True)]),
        *said(f"{apart} apart", w / 2, 0.5 * TEXT),
    )


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
    "cut boards": cut_boards,
    "spacers": spacers,
    "glue covering": glue_covering,
    "turn in": turn_in,
    "line boards": line_boards,
    "set boards": set_boards,
    "lay tape": lay_tape,
    "pierce cover": pierce_cover,
}
