"""How the templates of a case are used, sentence by sentence."""

from __future__ import annotations

from bookplates.kinds.boards import RECTANGLE_FIRST

PAPER = "Lay this sheet, printed side up, on the wrong side of the paper."
CLOTH = "Lay this sheet, printed side up, on the wrong side of the cloth."
BEYOND = "The dashed outline is the board: it goes on beyond the paper, where only cloth covers it."

SPINE_PIECE = (
    "It lies between the boards, its height along theirs. Either side up, either end at the head.",
    "Lay this sheet on the board, the grain arrow along the board's grain.",
    "Prick through the four corners, take the sheet off, and rule from prick to prick. The middle of the line is the size.",
)
FULL = (
    PAPER,
    "Prick through the corners of both boards, the small circles.",
    *RECTANGLE_FIRST,
    "The boards are laid on the pricks, inside up, heads at HEAD. The centre line is the middle of the spine.",
)
SPINE_CLOTH = (
    CLOTH,
    "Prick through the small circles, the boards' corners at the spine, and through the cloth's four corners.",
    "Take this sheet off, rule from corner to corner, and cut.",
    "The boards are laid inside up, their spine edges from prick to prick.",
    "The two outermost dashed lines: so far will the side papers lie over the right side of the cloth.",
)
SIDE = (
    PAPER,
    "Prick through the small circles: the board's corners at the fore-edge, and where its head and tail leave the paper.",
    *RECTANGLE_FIRST,
    BEYOND,
    "Turned over like a page this sheet serves for the other board; turned round it does not.",
)
SLANTED_SIDE = (
    PAPER,
    "Prick through the small circles: where the board's head and tail leave the paper.",
    "Prick through every corner of the solid line, too. Take this sheet off, rule from prick to prick, and cut.",
    "The two slanted lines are cut as well: this paper needs no mitre.",
    BEYOND,
    "Turned over like a page this sheet serves for the other board; turned round it does not.",
)
CORNER = (
    CLOTH,
    "Prick through the small circle: there the board's corner lies, its edges along the dashed lines.",
    "Prick through the three corners of the cloth, too, the square one among them. Take this sheet off.",
    "Rule from prick to prick, and cut that triangle. Its square corner is cut off as the mitre (miter) after gluing.",
    "The slanted dashed line: so far will the side paper lie over the right side of the cloth.",
)
ON_CORNERS = "Write on the wrong side of each, along the dashed lines: its board, head or tail edge, fore-edge."
TURNED = {
    4: (
        "Two are cut as drawn: for the front board's head and the back board's tail.",
        "Two are cut with the sheet turned over like a page: for the front board's tail and the back board's head.",
        ON_CORNERS,
    ),
    2: (
        "One is cut as drawn: for the front board. One is cut with the sheet turned over like a page: for the back board.",
        ON_CORNERS,
    ),
}
"""By how many corners are cut by one outline: a corner on the other board is the mirror of the first."""

_SPACER = (
    "Made twice: glue this outline on an offcut, printed side up, and cut; mark the second from the first.",
    "Draw them out before the adhesive grips, and wipe them clean.",
    "No head or tail: either lies either way round.",
)
BETWEEN_BOARDS = (
    _SPACER[0],
    "One goes between the boards at the head, one at the tail, while they are laid on the covering.",
    "Their outer ends stand out, to draw them out by.",
    *_SPACER[1:],
)
BESIDE_SPINE_PIECE = (
    _SPACER[0],
    "One goes on each side of the spine piece, between it and the board, while they are laid on the covering.",
    "One end of each stands out beyond the boards, to draw it out by.",
    *_SPACER[1:],
)
