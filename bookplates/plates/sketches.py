"""Two sketches, not to scale: the cover laid open with its inside up, and the closed book from its head. Lengths in mm.

They are drawn from the plan's numbers, fitted to their room, and are no templates: no stroke has a part's name.
What would be too thin to see is drawn thicker than it is; the figures are the plan's.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bookplates.book.record import Plan
from bookplates.geometry import Box
from bookplates.lengths import both
from bookplates.letters import width
from bookplates.plates.drawing import Anchor, Fill, Item, Label, Line, Stroke
from bookplates.plates.marks import ARROW, LEADING, LIST, arrow

HIGHEST = 62.0
THICK_BOARD, THICK_BLOCK, LEAST_SQUARE, LEAST_BLOCK = 4.0, 12.0, 5.0, 10.0
SIDE = 42.0
"""Room for figures at the side of a sketch, mm."""


def open_cover(plan: Plan, room: float) -> tuple[Item, ...]:
    """The cover laid open, inside up, `room` mm wide: boards, what lies between them, and the whole, with their sizes.

    Nothing of a cover that is not laid open as one.
    """
    cover = plan.cover
    if cover.in_two or min(cover.open_width, cover.open_height) <= 0:
        return ()
    flap = (cover.flap + (cover.board_thickness or 0.0)) if cover.flap is not None else 0.0
    scale = min((room - 2 * SIDE) / (cover.open_width + 2 * flap), HIGHEST / cover.open_height)
    box = Box(0.0, 0.0, cover.open_width * scale, cover.open_height * scale)
    half = (cover.boards_apart or 0.0) * scale / 2
    inner = box.middle[0] - half, box.middle[0] + half
    return (
        *_outline(box),
        *_between(plan, box, inner, scale),
        *_faces(plan, box, inner),
        *_boards(plan, box, inner),
        *_spine(plan, box, scale),
        *_flaps(plan, box, flap * scale),
        *_across(box.left, box.right, box.bottom, -13.0, f"open {both(cover.open_width, plan.units)}"),
        *_along(box.bottom, box.top, box.left - flap * scale, -6.0, both(cover.open_height, plan.units)),
    )


def _flaps(plan: Plan, box: Box, wide: float) -> Iterable[Item]:
    """What is turned in along both fore-edges, at the sides of a cover of card; at the left with its width."""
    if wide <= 0:
        return
    for x, out in ((box.left, box.left - wide), (box.right, box.right + wide)):
        yield Stroke(((x, box.bottom), (out, box.bottom), (out, box.top), (x, box.top)), "medium")
        if width("flap", LIST) < wide - 2.0:
            yield _words("flap", (x + out) / 2, box.middle[1], "middle")
    text = f"flap {both((plan.cover.flap or 0.0) + (plan.cover.board_thickness or 0.0), plan.units)}"
    yield from _across(box.right, box.right + wide, box.bottom, -6.0, text)


def _spine(plan: Plan, box: Box, scale: float) -> Iterable[Item]:
    """How wide the spine of a cover of card is."""
    if plan.cover.board_width is None:
        thick = plan.text_block.thickness
        half = thick * scale / 2
        yield from _across(box.middle[0] - half, box.middle[0] + half, box.top, 6.0, f"spine {both(thick, plan.units)}")


def _boards(plan: Plan, box: Box, inner: tuple[float, float]) -> Iterable[Item]:
    """How wide a board is, and how far the two lie apart, of a cover that has boards."""
    wide, apart = plan.cover.board_width, plan.cover.boards_apart
    if wide is not None:
        yield from _across(box.left, inner[0], box.bottom, -6.0, f"board {both(wide, plan.units)}", leftwards=True)
    if apart:
        yield from _across(*inner, box.top, 6.0, f"boards apart {both(apart, plan.units)}")


def _between(plan: Plan, box: Box, inner: tuple[float, float], scale: float) -> Iterable[Item]:
    """The boards' back edges, and the stiff piece between them where there is one."""
    line: Line = "medium"
    if plan.cover.board_width is None:  # one card: it is folded where the spine begins and ends
        half = plan.text_block.thickness * scale / 2
        inner, line = (box.middle[0] - half, box.middle[0] + half), "fold"
    if inner[1] - inner[0] > 0:
        yield from (Stroke(((x, box.bottom), (x, box.top)), line) for x in inner)
    piece = plan.cover.spine_piece_width
    if piece:
        half = piece * scale / 2
        yield Stroke(Box(box.middle[0] - half, box.bottom, box.middle[0] + half, box.top).corners, "hidden", closed=True)


def _faces(plan: Plan, box: Box, inner: tuple[float, float]) -> Iterable[Item]:
    """Which side is the front one; head and tail."""
    kind = "" if plan.cover.board_width is None else " board"
    sides = (f"front{kind}", f"back{kind}") if plan.opening == "left" else (f"back{kind}", f"front{kind}")
    places = (box.left + inner[0]) / 2, (inner[1] + box.right) / 2
    for name, x in zip(sides, places, strict=True):
        if width(name, LIST) < inner[0] - box.left - 2.0:
            yield _words(name, x, box.middle[1], "middle")
        yield _words("HEAD", x, box.top - 3.0, "middle")
        yield _words("TAIL", x, box.bottom + 3.0, "middle")


def closed_book(plan: Plan, room: float) -> tuple[Item, ...]:
    """The closed book from its head: two boards, the block between them; joint, both fore-edge squares, block and thickness.

    Nothing on a page so narrow that its figures leave it no room.
    """
    block, cover = plan.text_block, plan.cover
    square = cover.closed_square if cover.closed_square is not None else cover.square_fore_edge
    joint = cover.joint or 0.0
    left = (
        10.0 + (STIFF + 1.4 if cover.spine_piece_width else 0.0) + max(width(text, LIST) for text in (_thick(plan), _joint(plan)))
    )
    right = 10.0 + max(width(text, LIST) for text in _squares(plan))
    scale = min((room - left - right - LEAST_SQUARE) / (block.block_width + square), 1.2)
    fore, first = block.block_width * scale, joint * scale
    if fore < LEAST_BLOCK:
        return ()
    beyond = max(square * scale, LEAST_SQUARE) if square > 0 else 0.0
    first, last = -beyond if block.gathered == "panels" else first, fore + beyond
    leaves = Box(0.0, THICK_BOARD + 1.0, fore, THICK_BOARD + 1.0 + THICK_BLOCK)
    boards = (Box(first, 0.0, last, THICK_BOARD), Box(first, leaves.top + 1.0, last, leaves.top + 1.0 + THICK_BOARD))
    return (
        *_covers(plan, boards, leaves),
        *_stiff(plan, boards, leaves),
        *_outline(leaves),
        _words("leaves", *leaves.middle, "middle"),
        *_sized(plan, leaves, boards),
    )


def _covers(plan: Plan, boards: tuple[Box, Box], leaves: Box) -> Iterable[Item]:
    """Two boards and what joins them over the spine, or one card folded round the leaves."""
    below, above = boards
    if plan.cover.board_width is None:
        low, high, out = below.top, above.bottom, leaves.left - 1.0
        yield Stroke(((below.right, low), (out, low), (out, high), (above.right, high)), "thread")
        return
    for board in boards:
        yield Fill(board.corners, 0.75)
        yield from _outline(board)
    if plan.cover.boards_apart:
        yield _over_spine(boards, leaves, stiff=bool(plan.cover.spine_piece_width))


STIFF = 2.5
"""How thick a spine piece is drawn, mm."""


def _stiff(plan: Plan, boards: tuple[Box, Box], leaves: Box) -> Iterable[Item]:
    """The spine piece of a case: it stands behind the leaves, as high as both boards and what is between them."""
    if plan.cover.spine_piece_width:
        piece = Box(leaves.left - 1.0 - STIFF, boards[0].bottom, leaves.left - 1.0, boards[1].top)
        yield Fill(piece.corners, 0.75)
        yield from _outline(piece)


def _sized(plan: Plan, leaves: Box, boards: tuple[Box, Box]) -> Iterable[Item]:
    """Joint and squares dimensioned above, the block below, its thickness at the left."""
    units, cover, block = plan.units, plan.cover, plan.text_block
    top, foot = boards[1].top, boards[0].bottom
    if cover.joint:
        yield from _across(leaves.left, boards[1].left, top, 6.0, _joint(plan), leftwards=True)
    if leaves.right < boards[1].right:
        yield from _across(leaves.right, boards[1].right, top, 6.0, *_squares(plan))
    yield from _across(leaves.left, leaves.right, foot, -6.0, f"block {both(block.block_width, units)} wide")
    back = leaves.left - (1.4 + STIFF if cover.spine_piece_width else 0.0)
    yield from _along(leaves.bottom, leaves.top, back, -6.0, _thick(plan))


def _thick(plan: Plan) -> str:
    return f"thick {both(plan.text_block.thickness, plan.units)}"


def _joint(plan: Plan) -> str:
    return f"joint {both(plan.cover.joint or 0.0, plan.units)}"


def _squares(plan: Plan) -> tuple[str, ...]:
    """The fore-edge square asked for, and the one of the closed book."""
    asked, closed = plan.cover.square_fore_edge, plan.cover.closed_square
    first = f"square asked {both(asked, plan.units)}"
    return (first,) if closed is None else (first, f"square closed {both(closed, plan.units)}")


def _over_spine(boards: tuple[Box, Box], leaves: Box, *, stiff: bool) -> Stroke:
    """What goes over the spine from board to board, a little off the leaves, or off the spine piece."""
    low, high = boards[0].bottom - 1.0, boards[1].top + 1.0
    if stiff:
        first, out = boards[0].left, leaves.left - 1.6 - STIFF
        reach = min(first + 14.0, boards[0].right)
        return Stroke(((reach, low), (out, low), (out, high), (reach, high)), "hidden")
    first, out = boards[0].left, leaves.left - 1.4
    reach = min(first + 14.0, boards[0].right)
    below, above = ((reach, low), (first, low)), ((first, high), (reach, high))
    return Stroke((*below, (out, leaves.bottom - 0.6), (out, leaves.top + 0.6), *above), "hidden")


def _outline(box: Box) -> tuple[Stroke, ...]:
    return (Stroke(box.corners, "medium", closed=True),)


def _words(text: str, x: float, y: float, anchor: Anchor) -> Label:
    """Words whose middle height is y."""
    return Label(text, (x, y - 0.3 * LIST), LIST, anchor)


def _across(left: float, right: float, edge: float, off: float, *texts: str, leftwards: bool = False) -> Iterable[Item]:
    """A dimension across, `off` mm above an edge (below it where negative), its words over it or at its right or left."""
    y, way = edge + off, 1.0 if off > 0 else -1.0
    yield from (Stroke(((x, edge + 2.0 * way), (x, y + 1.5 * way)), "thin") for x in (left, right))
    yield from _arrows(left, right, y)
    if len(texts) == 1 and width(texts[0], LIST) < right - left - 2.0:
        yield Label(texts[0], ((left + right) / 2, y + 1.0), LIST, "middle")
        return
    out = 2.0 + (5.0 if right - left < 3 * ARROW else 0.0)
    yield from _stacked(left - out if leftwards else right + out, y, texts, "end" if leftwards else "start")


def _arrows(left: float, right: float, y: float) -> tuple[Item, ...]:
    """The dimension line, its arrowheads from outside where there is no room between."""
    if right - left >= 3 * ARROW:
        return arrow((left, y), (right, y), both_ends=True)
    return (*arrow((left - 5.0, y), (left, y)), *arrow((right + 5.0, y), (right, y)))


def _stacked(x: float, y: float, texts: Sequence[str], anchor: Anchor) -> Iterable[Label]:
    """Texts one below the other, their middle at height y."""
    first = y + (len(texts) - 1) * LEADING * LIST / 2
    yield from (_words(text, x, first - number * LEADING * LIST, anchor) for number, text in enumerate(texts))


def _along(low: float, high: float, edge: float, off: float, text: str) -> Iterable[Item]:
    """A dimension along at the left of an edge, its words beside it."""
    x = edge + off
    yield from (Stroke(((edge - 2.5, y), (x - 1.5, y)), "thin") for y in (low, high))
    yield from arrow((x, low), (x, high), both_ends=True)
    yield _words(text, x - 1.8, (low + high) / 2, "end")
