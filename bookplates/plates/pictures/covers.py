"""Pictures of cases, wrappers, side-sewn covers and concertinas. Lengths in mm."""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.geometry import Box, Outline, Size
from bookplates.lengths import said as length
from bookplates.plates.pictures.marks import (
    BOARD,
    CLOTH,
    TEXT,
    Items,
    board_of,
    box,
    brush,
    drawn,
    go,
    hatched,
    hatched_round,
    inside,
    layers,
    leaf_of,
    left_spine,
    said,
    said_in,
    shape,
    span,
    spread_of,
    swing,
    together,
)


def glue_spine(plan: Plan, w: float, h: float) -> Items:
    """The sewn block on the table, its spine out, adhesive brushed on it."""
    leaf = leaf_of(plan)
    front = inside(Size(leaf.width, leaf.height), Box(w * 0.38, 1.0, w - 1.0, h - 1.0))
    spine = Box(front.left - 6.0, front.bottom, front.left, front.top)
    rows = [drawn((spine.left + n * 1.5, spine.bottom), (spine.left + n * 1.5, spine.top)) for n in (1, 2, 3)]
    return (
        *box(front),
        *box(spine),
        *together(rows),
        *hatched(spine),
        *brush(spine.middle[0], spine.middle[1] - 1.0),
        *go((spine.left - 2.5, spine.middle[1] + 4.0), (spine.left - 2.5, spine.top)),
        *go((spine.left - 2.5, spine.middle[1] - 4.0), (spine.left - 2.5, spine.bottom)),
        *said("spine", spine.left - 1.0, spine.middle[1], "end"),
    )


def super_on(plan: Plan, w: float, h: float) -> Items:
    """The super on the spine, shorter than it, and beyond it on both sides."""
    leaf = leaf_of(plan)
    high = inside(leaf, Box(0, 2.0, w * 0.4, h - 2.0)).size.height
    spine = Box(w * 0.5 - 3.0, 2.0, w * 0.5 + 3.0, 2.0 + high)
    mull = Box(spine.left - 7.0, spine.bottom + high * 0.1, spine.right + 7.0, spine.top - high * 0.1)
    up = (mull.left + n * 2.0 for n in range(1, int(mull.size.width / 2.0)))
    across = (mull.bottom + n * 2.0 for n in range(1, int(mull.size.height / 2.0)))
    weave = [
        *(drawn((x, mull.bottom), (x, mull.top), line="light") for x in up),
        *(drawn((mull.left, y), (mull.right, y), line="light") for y in across),
    ]
    return (
        *box(spine),
        *drawn(*mull.corners, mull.corners[0], line="medium"),
        *together(weave),
        *said("super", w - 0.3, mull.top + 1.6, "end"),
        *said("spine", 0.3, spine.top - 0.4, "start"),
        *swing((w * 0.14, spine.top - 2.6), (mull.left - 0.4, mull.middle[1]), -2.0),
    )


def tip_endpapers(plan: Plan, w: float, h: float) -> Items:
    """A narrow line of adhesive along the fold; fold of the endpaper to fold of the block."""
    block = inside(leaf_of(plan), Box(0.5, TEXT + 0.8, w * 0.46, h - 1.0))
    ends, high = block.size, block.top - min(6.0, 0.32 * block.size.height)
    sheet = Box(w - ends.width - 0.5, block.bottom, w - 0.5, block.top)
    spine = sheet.right if left_spine(plan) else sheet.left  # adhesive up: turned over, its fold comes to the block's
    bead = Box(min(spine, spine - 1.6), sheet.bottom, spine, sheet.top)
    if not left_spine(plan):
        bead = Box(spine, sheet.bottom, spine + 1.6, sheet.top)
    return (
        *box(block),
        *said_in("block", block),
        *box(sheet),
        *hatched(bead, 0.9),
        *said_in(
            "endpaper",
            Box(sheet.left, sheet.bottom, sheet.right - 1.6, sheet.middle[1])
            if left_spine(plan)
            else Box(sheet.left + 1.6, sheet.bottom, sheet.right, sheet.middle[1]),
        ),
        *swing((sheet.left + 3.0, high), (block.right - 3.0, high), -3.0),
        *said("turn over, fold to fold", w / 2, 0.5 * TEXT),
    )


def _case(plan: Plan, room: Box) -> tuple[Box, Box, Box, Box]:
    """Covering of a case, its left board, what lies between, its right board."""
    cover, board = plan.cover, board_of(plan)
    share = max((cover.boards_apart or 10.0) / max(cover.open_width, 1.0), 0.08)
    fore, head, tail = (cover.turn_in_fore_edge or 15.0, cover.turn_in_head or 15.0, cover.turn_in_tail or 15.0)
    across = 2 * board.width / (1 - share) + 2 * fore
    paper = inside(Size(across, board.height + head + tail), room)
    scale = paper.size.width / across
    boards = Box(paper.left + fore * scale, paper.bottom + tail * scale, paper.right - fore * scale, paper.top - head * scale)
    return paper, *spread_of(boards, share)


def _spine_piece(plan: Plan, between: Box) -> Items:
    share = (plan.cover.spine_piece_width or 0.0) / (plan.cover.boards_apart or 1.0)
    half = between.size.width * share / 2
    x = between.middle[0]
    return box(Box(x - half, between.bottom, x + half, between.top), BOARD) if half else ()


def lay_out_case(plan: Plan, w: float, h: float) -> Items:
    """Boards on the glued wrong side of the covering."""
    paper, left, between, right = _case(plan, Box(0.5, TEXT + 3.0, w - 0.5, h - 0.5))
    apart = length(plan.cover.boards_apart or 0.0, plan.units)
    return (
        *box(paper),
        *hatched_round(paper, Box(left.left, left.bottom, right.right, right.top)),
        *hatched(between),
        *box(left, BOARD),
        *box(right, BOARD),
        *_spine_piece(plan, between),
        *span((left.right, paper.bottom - 1.4), (right.left, paper.bottom - 1.4)),
        *said(f"{apart} apart", w / 2, 0.5 * TEXT),
        *_names(plan, left, right),
    )


def _names(plan: Plan, left: Box, right: Box) -> Items:
    """Of a cover laid open inside up."""
    first, second = ("front", "back") if left_spine(plan) else ("back", "front")
    return (*said_in(first, left), *said_in(second, right))


def turn_in_case(plan: Plan, w: float, h: float) -> Items:
    """Mitred corners; head, tail, then the two sides. In two colours the cloth lies over the spine already."""
    paper, left, between, right = _case(plan, Box(3.0, 1.0, w - 3.0, h - 1.0))
    cut = min(left.left - paper.left, left.bottom - paper.bottom) * 1.3
    x, y, up = left.middle[0], left.middle[1], left.size.height * 0.2
    cloth = plan.cover.cloth_on_board or 0.0
    if cloth:
        wide = max(cloth / (plan.cover.board_width or 100.0), 0.2) * left.size.width
        x = (left.left + left.right - wide) / 2
        ground = (*_side_papers(paper, cut, (left.right - wide, right.left + wide)), *box(left, BOARD), *box(right, BOARD))
        ground += _spine_piece(plan, between) + box(Box(left.right - wide, left.bottom, right.left + wide, left.top), CLOTH)
    else:
        ground = (*shape(_mitred_all(paper, cut)), *box(left, BOARD), *box(right, BOARD), *_spine_piece(plan, between))
    return (
        *ground,
        *swing((x, paper.top), (x, left.top - up), -1.5),
        *swing((x, paper.bottom), (x, left.bottom + up), 1.5),
        *swing((paper.left, y), (left.left + 4.5, y), 1.5),
        *swing((paper.right, y), (right.right - 4.5, y), -1.5),
        *said("1", x + 1.8, left.top - 1.7, bold=True),
        *said("2", x + 1.8, left.bottom + 1.7, bold=True),
        *said("3", right.right - 2.0, y - 2.0, bold=True),
    )


def _mitred_all(paper: Box, cut: float) -> Outline:
    """A covering with its four corners cut off."""
    low, high = (paper.left + cut, paper.right - cut), (paper.bottom + cut, paper.top - cut)
    return (
        *((low[0], paper.bottom), (low[1], paper.bottom), (paper.right, high[0]), (paper.right, high[1])),
        *((low[1], paper.top), (low[0], paper.top), (paper.left, high[1]), (paper.left, high[0])),
    )


def _side_papers(paper: Box, cut: float, cloth: tuple[float, float]) -> Items:
    """The two side papers, each with two corners cut off, up to the cloth between them."""
    low, high = paper.bottom + cut, paper.top - cut
    sides = ((cloth[0] + 0.8, paper.left, cut), (cloth[1] - 0.8, paper.right, -cut))
    return together(
        [
            shape(((x, paper.bottom), (end + off, paper.bottom), (end, low), (end, high), (end + off, paper.top), (x, paper.top)))
            for x, end, off in sides
        ]
    )


def cloth_spine(plan: Plan, w: float, h: float) -> Items:
    """Cloth over the spine, lying so far on each board."""
    cover = plan.cover
    share, board = max((cover.boards_apart or 10.0) / cover.open_width, 0.08), board_of(plan)
    area = inside(Size(2 * board.width / (1 - share), board.height), Box(0.5, TEXT + 5.0, w - 0.5, h - 3.0))
    left, between, right = spread_of(area, share)
    on = (cover.cloth_on_board or 25.0) * area.size.width / cover.open_width
    cloth = Box(between.left - on, area.bottom - 2.2, between.right + on, area.top + 2.2)
    return (
        *box(left, BOARD),
        *box(right, BOARD),
        *box(cloth, CLOTH),
        *drawn((left.right, area.bottom), (left.right, area.top), line="hidden"),
        *drawn((right.left, area.bottom), (right.left, area.top), line="hidden"),
        *span((cloth.left, cloth.bottom - 1.3), (left.right, cloth.bottom - 1.3)),
        *said(f"{length(cover.cloth_on_board or 0.0, plan.units)} on each board", w / 2, 0.5 * TEXT),
    )


def side_papers(plan: Plan, w: float, h: float) -> Items:
    """The side paper laid over the edge of the cloth, and round the board's other edges."""
    board, cover = board_of(plan), plan.cover
    left = left_spine(plan)
    area = inside(board, Box(3.0, TEXT + 4.0, w * 0.66, h - 3.0) if left else Box(w * 0.34, TEXT + 4.0, w - 3.0, h - 3.0))
    scale = area.size.width / board.width
    cloth_wide, lap = (cover.cloth_on_board or 25.0) * scale, max((cover.overlap or 3.0) * scale, 0.9)
    cloth = Box(area.left, area.bottom, area.left + cloth_wide, area.top)
    paper = Box(cloth.right - lap, area.bottom - 2.5, area.right + 2.5, area.top + 2.5)
    line, start, tip = cloth.right, w - 1.0, paper.right - 2.0
    if not left:
        cloth = Box(area.right - cloth_wide, area.bottom, area.right, area.top)
        paper = Box(area.left - 2.5, area.bottom - 2.5, cloth.left + lap, area.top + 2.5)
        line, start, tip = cloth.left, 1.0, paper.left + 2.0
    return (
        *box(area, BOARD),
        *box(cloth, CLOTH),
        *box(paper),
        *drawn((line, area.bottom), (line, area.top), line="hidden"),
        *said_in("side paper", _beside(line, area)),
        *said(f"over the cloth by {length(cover.overlap or 0.0, plan.units)}", w / 2, 0.5 * TEXT),
        *swing((start, h - 4.0), (tip, area.middle[1] - 2.0), -2.0 if left else 2.0),
    )


def _beside(line: float, area: Box) -> Box:
    """The upper half of a side paper, clear of the line of the cloth under it."""
    left, right = (line, area.right) if line < area.middle[0] else (area.left, line)
    return Box(left + 0.5, area.middle[1], right - 0.5, area.top)


def corners(plan: Plan, w: float, h: float) -> Items:
    """Cloth over the fore-edge corners of a board."""
    left = left_spine(plan)
    area = inside(board_of(plan), Box(2.0, 4.0, w * 0.6, h - 4.0) if left else Box(w * 0.4, 4.0, w - 2.0, h - 4.0))
    leg, out = min(area.size) * 0.42, 2.0
    fore, way = (area.right, -1.0) if left else (area.left, 1.0)
    cloth = [
        shape(((fore + way * leg, y - up * out), (fore - way * out, y - up * out), (fore - way * out, y + up * leg)), CLOTH)
        for y, up in ((area.bottom, 1.0), (area.top, -1.0))
    ]
    x, y = w * (0.84 if left else 0.16), max(area.top - 3.0, area.bottom + 2.0 + 3 * TEXT)
    return (
        *box(area, BOARD),
        *together(cloth),
        *said("cloth", x, y),
        *said("corner", x, y - TEXT),
        *swing((x, y - 2 * TEXT), (fore - way * (out + 0.5), area.bottom + 2.0), 2.0 * way),
    )


def case_in(plan: Plan, w: float, h: float) -> Items:  # noqa: ARG001  # seen from the head all cases look alike
    """From the head: the block between the boards, its outer endpapers glued to them."""
    spine, y = 4.0, h * 0.34
    block = Box(spine, y, w - 6.0, y + 6.0)
    lower, low, high = Box(spine + 3.0, y - 3.0, w - 4.0, y - 1.4), block.top + 3.0, h - 5.0
    upper = ((spine + 3.0, low), (w - 4.0, high), (w - 4.0, high + 1.6), (spine + 3.0, low + 1.6))
    out = spine - 2.2
    way_round = ((lower.left, lower.bottom), (out, y - 2.0), (out, low - 0.5), (spine + 3.0, low + 1.6))
    return (
        *drawn(*way_round, line="medium"),
        *layers(block, 5),
        *box(lower, BOARD),
        *shape(upper, BOARD),
        *hatched(Box(spine + 3.0, block.top, w - 6.0, block.top + 0.9), 0.9),
        *swing((w - 1.5, h - 6.0), (w - 1.5, block.top + 1.0), 0.5),
        *said("endpaper, glued", block.middle[0] + 1.0, y - 3.0 - 0.9 * TEXT),
    )


PICTURES = {
    "glue spine": glue_spine,
    "super": super_on,
    "tip endpapers": tip_endpapers,
    "lay out case": lay_out_case,
    "turn in case": turn_in_case,
    "cloth spine": cloth_spine,
    "side papers": side_papers,
    "corners": corners,
    "case in": case_in,
}
