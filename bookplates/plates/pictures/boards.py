"""Pictures of boards and their coverings. Lengths in mm."""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.geometry import Box, Outline, Point, Size
from bookplates.kinds.turn_in_strips import STRIP
from bookplates.lengths import said as length
from bookplates.plates.drawing import Anchor
from bookplates.plates.marks import cross
from bookplates.plates.pictures.marks import (
    BOARD,
    TEXT,
    Items,
    board_of,
    box,
    brush,
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
    swing,
    together,
)


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
    return _stopped(plan, paper, place), place


def _stopped(plan: Plan, paper: Box, place: Box) -> Box:
    """The covering where it ends under the tape, if it does: plainly off the board's spine edge."""
    if plan.tape is None or plan.tape.lap is None:
        return paper
    share = plan.tape.short / (plan.cover.board_width or 1.0)
    off = min(max(share * place.size.width, 2.0), 0.6 * place.size.width)
    return paper._replace(right=paper.right - off) if left_spine(plan) else paper._replace(left=paper.left + off)


def _on(paper: Box, place: Box) -> Box:
    """What of the board's place lies on its covering."""
    return place._replace(left=max(place.left, paper.left), right=min(place.right, paper.right))


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
    crosses = (cross(corner, 1.3) for corner in _on(paper, place).corners)
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


def turn_in_strips(plan: Plan, w: float, h: float) -> Items:
    """The inside of a glued board, its strips off the edges by the lining's margin, one of them coming down."""
    paper, place = _front_covering(plan, Box(0.5, 0.5, w * 0.66, h - 0.5), sides=_sides(plan))
    named = {piece.name.removesuffix(STRIP) for piece in plan.pieces if piece.name.endswith(STRIP)}
    off, deep = max(0.07 * place.size.width, 1.4), max(0.09 * place.size.width, 1.8)
    left, on = left_spine(plan), _on(paper, place)
    ends = (on.left + off, on.right) if left else (on.left, on.right - off)
    if _sides(plan) == 4:
        ends = on.left + off, on.right - off
    low, high = place.bottom + off, place.top - off
    fore, spine = (ends[0], ends[1] - deep) if left else (ends[1] - deep, ends[0])
    middle = (low + deep if "tail" in named else low), (high - deep if "head" in named else high)
    strips = {
        "head": Box(ends[0], high - deep, ends[1], high),
        "tail": Box(ends[0], low, ends[1], low + deep),
        "fore-edge": Box(fore, middle[0], fore + deep, middle[1]),
        "spine edge": Box(spine, middle[0], spine + deep, middle[1]),
    }
    x = w * 0.7
    return (
        *box(paper),
        *box(place, BOARD),
        *together([box(strip) for name, strip in strips.items() if name in named]),
        *said("strips", x, place.middle[1] + 0.6 * TEXT, "start"),
        *said("of paper", x, place.middle[1] - 0.6 * TEXT, "start"),
    )


PICTURES = {
    "cut boards": cut_boards,
    "glue covering": glue_covering,
    "turn in": turn_in,
    "turn-in strips": turn_in_strips,
    "line boards": line_boards,
}
