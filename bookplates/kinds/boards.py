"""Pieces and templates of covered and lined boards, flush at the spine edge: what several cover styles share.

Pieces lie with their tail edge at y = 0 and their left edge at x = 0, seen with the inside up: in a cover
laid open that way the front board is the left one, so a front piece has its spine edge at the right, unless
the book opens the other way.
"""

from __future__ import annotations

from typing import Literal

from bookplates.geometry import Box, Outline, Point, Size, bounds, from_lower_left, mirrored, rectangle
from bookplates.kinds import corner
from bookplates.kinds.block import Opening
from bookplates.kinds.keys import TurnIns
from bookplates.kinds.parts import Layout, Part, hole, outline, rule
from bookplates.lengths import close

Face = Literal["front", "back"]
FACES: tuple[Face, ...] = ("front", "back")

PRICK = 1.0
"""Diameter a prick mark is drawn, mm."""

GAUGE = 60.0
"""Length of the small gauges, mm."""


RECTANGLE_FIRST = (
    "Prick through the paper's four outer corners, too. Take the sheet off, rule from prick to prick, and cut that rectangle.",
    "The mitres (miters) are cut after gluing, with the mitre gauge.",
)
"""How a piece with mitres is cut by its outline: its lines do not go through the sheet, and square corners help to lay it."""


def spine_at_right(face: Face, opening: Opening) -> bool:
    """Whether a piece has its spine edge at the right, seen with the inside up.

    >>> spine_at_right("front", "left"), spine_at_right("front", "right")
    (True, False)
    """
    return (face == "front") == (opening == "left")


def covering_outline(face: Face, opening: Opening, board: Size, turn_in: TurnIns, mitre: float, *, short: float = 0.0) -> Outline:
    """The paper that covers one board, as a piece: corners counter-clockwise from the lower left, mm.

    `short`: how far from the board's spine edge it stops, mm.
    """
    width = board.width + turn_in.fore_edge - short
    raised = tuple((x - short, y + turn_in.tail) for x, y in corner.covering(board, turn_in, mitre, short))
    return from_lower_left(mirrored(raised, about=width / 2)) if spine_at_right(face, opening) else raised


def board_place(face: Face, opening: Opening, board: Size, turn_in: TurnIns, short: float = 0.0) -> Box:
    """Where the board lies on its covering, mm; beyond it at the spine edge where the covering stops `short` of that."""
    left = turn_in.fore_edge if spine_at_right(face, opening) else 0.0 - short
    return Box(left, turn_in.tail, left + board.width, turn_in.tail + board.height)


def wrap_layout(face: Face, opening: Opening, board: Size, turn_in: TurnIns, mitre: float, *, short: float = 0.0) -> Layout:
    """The wrap outline of one board: the paper, its square corners, the board's place and pricks at its corners.

    Of a covering that stops `short` of the spine edge, mm, two pricks are where the board's head and tail leave the paper.
    """
    paper = covering_outline(face, opening, board, turn_in, mitre, short=short)
    return _wrap(face, paper, board_place(face, opening, board, turn_in, short))


def covering_all_round(board: Size, turn_in: TurnIns, mitre: float) -> Outline:
    """The paper that covers one board turned in on all four sides, as a piece: its lower left at x = 0 and y = 0, mm."""
    around = corner.covering_all_round(board, turn_in, mitre)
    left, bottom = bounds(around)[:2]
    return from_lower_left(tuple((x - left, y - bottom) for x, y in around))


def wrap_all_round_layout(face: Face, board: Size, turn_in: TurnIns, mitre: float) -> Layout:
    """The wrap outline of one board turned in on all four sides."""
    place = Box(turn_in.fore_edge, turn_in.tail, turn_in.fore_edge + board.width, turn_in.tail + board.height)
    return _wrap(face, covering_all_round(board, turn_in, mitre), place)


def _wrap(face: Face, paper: Outline, place: Box) -> Layout:
    return Layout(
        "wrap outline",
        face,
        (
            outline(f"{face} covering", "cut", paper),
            *square_corners(face, paper),
            outline(f"{face} board place", "place", place.corners),
            *pricks(face, _on(paper, place)),
        ),
    )


def _on(paper: Outline, place: Box) -> Box:
    """What of a board's place lies on the paper, across; head and tail are always turned in."""
    box = bounds(paper)
    return place._replace(left=max(place.left, box.left), right=min(place.right, box.right))


def pricks(name: str, place: Box) -> tuple[Part, ...]:
    """Prick marks at the corners of a board's place, counter-clockwise from the lower left."""
    return tuple(hole(f"{name} prick {n}", at, PRICK) for n, at in enumerate(place.corners, 1))


def square_corners(name: str, paper: Outline) -> tuple[Part, ...]:
    """The corners that are there before the mitres are cut: each from one end of its mitre to the other.

    Of four they are named by their side of the drawing, too: "front head left corner".
    """
    box = bounds(paper)
    edges = zip(paper, (*paper[1:], paper[0]), strict=True)
    slanted = [(p, q) for p, q in edges if not close(p[0], q[0]) and not close(p[1], q[1])]
    parts = []
    for p, q in slanted:
        upper, left = (p[1] + q[1]) / 2 > box.middle[1], close(min(p[0], q[0]), box.left)
        at = (box.left if left else box.right, box.top if upper else box.bottom)
        side = "" if len(slanted) < 4 else " left" if left else " right"
        parts.append(rule(f"{name} {'head' if upper else 'tail'}{side} corner", "cut", p, at, q))
    return tuple(sorted(parts, key=lambda part: part.name))


def mitre_gauge_layout(mitre: float) -> Layout:
    """The small strip by which the mitres are marked, and a handle to hold it by; no line parts them: they are cut in one."""
    strip = corner.mitre_gauge(mitre, GAUGE)
    handle = corner.gauge_handle(strip)
    lower_left, lower_right, right, left = strip
    round_it = rule("mitre gauge", "cut", handle[0], left, lower_left, lower_right, right, handle[-1])
    return Layout("wrap outline", "mitre gauge", (round_it, rule("mitre gauge handle", "cut", *handle)))


def board_layout(board: Size) -> Layout:
    """One outline for both boards."""
    return Layout("board outline", "", (outline("front board", "cut", rectangle(0, 0, *board)),), copies=2)


def lining_layouts(opening: Opening, board: Size, lining: Size, margin: float) -> tuple[Layout, ...]:
    """The lining on the inside of the front board, flush at the spine edge, and a gauge for the margin."""
    left = margin if spine_at_right("front", opening) else 0.0
    return _lining(board, lining, (left, margin), margin)


def inset_lining_layouts(board: Size, lining: Size, margin: float) -> tuple[Layout, ...]:
    """The lining on the inside of the front board, the same margin on all four sides, and a gauge for it."""
    return _lining(board, lining, (margin, margin), margin)


def _lining(board: Size, lining: Size, at: Point, margin: float) -> tuple[Layout, ...]:
    paper = outline("front lining", "cut", rectangle(*at, *lining))
    place = outline("front board place", "place", rectangle(0, 0, *board))
    sheet = Layout("lining outline", "", (paper, place), copies=2)
    if margin <= 0:
        return (sheet,)
    return sheet, Layout("lining outline", "margin gauge", (outline("margin gauge", "cut", rectangle(0, 0, margin, GAUGE)),))
