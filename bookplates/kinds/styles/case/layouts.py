"""The pieces and templates of a case: its boards, its coverings, its spacer. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bookplates.geometry import Point, bounds, rectangle
from bookplates.kinds.boards import FACES, PRICK, Face, board_layout, mitre_gauge_layout, pricks, square_corners
from bookplates.kinds.parts import Layout, Part, Piece, hole, outline, rule
from bookplates.kinds.styles.case import words
from bookplates.kinds.styles.case.coverings import Case, Cut, corner_cloth, covering, side, side_slant

WRAP = "wrap outline"
SPACER = 100.0
"""Length of a spacer, mm."""


def board_layouts(case: Case) -> tuple[Layout, ...]:
    """The outline of both boards, and that of the spine piece where there is one."""
    boards = board_layout(case.board)
    if case.spine is None:
        return (boards,)
    piece = outline("spine piece", "cut", rectangle(0, 0, case.spine, case.board.height))
    return boards, Layout("board outline", "spine piece", (piece,), use=words.SPINE_PIECE)


def spacer_layout(case: Case) -> Layout:
    """What holds board and spine piece apart, or board and board where there is none, while they are laid."""
    wide = case.apart if case.spine is None else (case.apart - case.spine) / 2
    title, use = ("", words.BETWEEN_BOARDS) if case.spine is None else ("gap", words.BESIDE_SPINE_PIECE)
    return Layout("spacer", title, (outline("spacer", "cut", rectangle(0, 0, wide, SPACER)),), copies=2, use=use)


def covering_layouts(case: Case, kind: str) -> tuple[Layout, ...]:
    """The wrap outlines of a full, quarter or half covering, and the gauge for their mitres."""
    if kind == "full":
        return _full(case), mitre_gauge_layout(case.mitre)
    corners = _corners(case) if kind == "half" else ()
    sides = (_side(case, face, corners=kind == "half") for face in FACES)
    return (_spine_cloth(case), *sides, *corners, mitre_gauge_layout(case.mitre))


def covering_pieces(case: Case, kind: str) -> tuple[Piece, ...]:
    """What is cut for a full, quarter or half covering."""
    if kind == "full":
        return (Piece("covering", "cover paper", 1, covering(case), "head to tail"),)
    papers = {face: side(case, face, corners=kind == "half").paper for face in FACES}
    corners = corner_cuts(case) if kind == "half" else ()
    return (
        Piece("spine cloth", "cloth", 1, rectangle(0, 0, *case.spine_cloth), "head to tail"),
        *(Piece(f"{face} side", "cover paper", 1, paper, "head to tail") for face, paper in papers.items()),
        *(Piece(name, "cloth", count, cut.paper, "none") for name, count, cut in corners),
    )


def corner_cuts(case: Case) -> Iterator[tuple[str, int, Cut]]:
    """Each shape of corner with its name and how many there are of it."""
    if case.one_corner:
        yield "corner", 4, corner_cloth(case, "head")
        return
    for end in ("head", "tail"):
        yield f"{end} corner", 2, corner_cloth(case, end)


def _full(case: Case) -> Layout:
    paper = covering(case)
    box = bounds(paper)
    middle = box.middle[0]
    boards = {face: case.board_at(face, middle) for face in FACES}
    return Layout(
        WRAP,
        "covering",
        (
            outline("covering", "cut", paper),
            *square_corners("covering", paper),
            *(outline(f"{face} board place", "place", place.corners) for face, place in boards.items()),
            *_between(case, middle, box.top),
            *(prick for face, place in boards.items() for prick in pricks(face, place)),
        ),
        use=words.FULL,
    )


def _between(case: Case, middle: float, top: float) -> Iterator[Part]:
    """The spine piece's place, and the middle of the spine up to the `top` of the piece."""
    spine = case.spine_at(middle)
    if spine is not None:
        yield outline("spine piece place", "place", spine.corners)
    yield rule("spine centre", "centre", (middle, 0.0), (middle, top))


def _spine_cloth(case: Case) -> Layout:
    wide, tall = case.spine_cloth
    low, high = case.turn_in.tail, case.turn_in.tail + case.board.height
    edges = {face: _inner_edge(case, face, wide / 2) for face in FACES}
    sides = {face: x + (1 if x > wide / 2 else -1) * case.side_edge for face, x in edges.items()}
    return Layout(
        WRAP,
        "spine cloth",
        (
            outline("spine cloth", "cut", rectangle(0, 0, wide, tall)),
            *(rule(f"{face} board edge", "place", (x, low), (x, high)) for face, x in edges.items()),
            rule("head edge", "place", (0.0, high), (wide, high)),
            rule("tail edge", "place", (0.0, low), (wide, low)),
            *_between(case, wide / 2, tall),
            *(rule(f"{face} side edge", "place", (x, 0.0), (x, tall)) for face, x in sides.items()),
            *(hole(f"{face} prick {n}", (x, y), PRICK) for face, x in edges.items() for n, y in enumerate((low, high), 1)),
        ),
        use=words.SPINE_CLOTH,
    )


def _inner_edge(case: Case, face: Face, middle: float) -> float:
    """Where a board's spine edge lies on a drawing with the middle of the spine at x = `middle`, mm."""
    board = case.board_at(face, middle)
    return min(board.left, board.right, key=lambda x: abs(x - middle))


def _side(case: Case, face: Face, *, corners: bool) -> Layout:
    cut = side(case, face, corners=corners)
    return Layout(
        WRAP,
        f"{face} side",
        (
            outline(f"{face} side", "cut", cut.paper),
            *(() if corners else square_corners(f"{face} side", cut.paper)),
            outline(f"{face} board place", "place", cut.board.corners),
            *_side_pricks(case, face, cut, corners=corners),
        ),
        use=words.SLANTED_SIDE if corners else words.SIDE,
    )


def _side_pricks(case: Case, face: Face, cut: Cut, *, corners: bool) -> tuple[Part, ...]:
    """At the corners of the board's part under the paper; not at the fore-edge where cloth lies under it instead."""
    board, far = cut.board, case.side_edge
    spine_right = _spine_side_right(cut)
    part = board._replace(right=board.right - far) if spine_right else board._replace(left=board.left + far)
    found = pricks(face, part)
    inner = part.right if spine_right else part.left
    return tuple(prick for prick in found if abs(prick.box.middle[0] - inner) < PRICK) if corners else found


def _spine_side_right(cut: Cut) -> bool:
    """Whether the board goes on beyond the paper at the right."""
    return cut.board.right > bounds(cut.paper).right


def _corners(case: Case) -> Iterator[Layout]:
    for name, count, cut in corner_cuts(case):
        end = "tail" if name == "tail corner" else "head"
        yield Layout(WRAP, name, _corner_parts(case, name, end, cut), copies=count, use=(*words.CORNER, *words.TURNED[count]))


def _corner_parts(case: Case, name: str, end: str, cut: Cut) -> tuple[Part, ...]:
    across, up, at = _board_edges(case, end, cut)
    slanted = square_corners(name, cut.paper)  # the mitre's, and that of the long slanted edge, which is cut at once
    mitred = min(slanted, key=lambda part: math.dist(part.points[1], at))
    return (
        outline(name, "cut", cut.paper),
        rule("square corner", "cut", *mitred.points),
        rule("board corner place", "place", across, at, up),
        rule("side edge", "place", *side_slant(case, end, cut)),
        hole("corner prick", at, PRICK),
    )


def _board_edges(case: Case, end: str, cut: Cut) -> tuple[Point, Point, Point]:
    """The board's edges as far as the cloth reaches on them, from the ends to the corner: across, up, and the corner, mm."""
    board, right = cut.board, _fore_edge_right(cut)
    x, y = (board.right if right else board.left), (board.top if end == "head" else board.bottom)
    inward, down = (-1 if right else 1), (-1 if end == "head" else 1)
    return (x + inward * case.leg, y), (x, y + down * case.leg), (x, y)


def _fore_edge_right(cut: Cut) -> bool:
    """Whether the cloth stands beyond the board at the right."""
    return bounds(cut.paper).right > cut.board.right
