"""How the templates of a case are used, sentence by sentence."""

from __future__ import annotations

PAPER = "Lay this sheet, printed side up, on the wrong side of the paper."
CLOTH = "Lay this sheet, printed side up, on the wrong side of the cloth."
MITRES = "The mitres (miters) are cut after gluing, with the mitre gauge."
BEYOND = "The dashed outline is the board: it goes on beyond the paper, where only cloth covers it."

SPINE_PIECE = (
    "It lies between the boards, its height along theirs. Either side up, either end at the head.",
    "Lay this sheet on the board, the grain arrow along the board's grain.",
    "Prick through the four corners, take the sheet off, and rule from prick to prick. The middle of the line is the size.",
)
FULL = (
    PAPER,
    "Prick through the corners of both boards, the small circles.",
    f"Cut the rectangle first, its square corners too. {MITRES}",
    "The boards are laid on the pricks, inside up, heads at HEAD. The centre line is the middle of the spine.",
)
SPINE_CLOTH = (
    CLOTH,
    "Prick through the small circles: the boards' corners at the spine. Cut the rectangle.",
    "The boards are laid inside up, their spine edges from prick to prick.",
    "The two outermost dashed lines: so far will the side papers lie over the right side of the cloth.",
)
SIDE = (
    PAPER,
    "Prick through the small circles: the board's corners at the fore-edge, and where its head and tail leave the paper.",
    f"Cut the rectangle first, its square corners too. {MITRES}",
    BEYOND,
    "Turned over like a page this sheet serves for the other board; turned round it does not.",
)
SLANTED_SIDE = (
    PAPER,
    "Prick through the small circles: where the board's head and tail leave the paper.",
    "Cut along the solid lines, the two slanted ones too: this paper needs no mitre.",
    BEYOND,
    "Turned over like a page this sheet serves for the other board; turned round it does not.",
)
CORNER = (
    CLOTH,
    "Prick through the small circle: there the board's corner lies, its edges along the dashed lines.",
    f"Cut along the solid lines, the square corner too. {MITRES}",
    "The slanted dashed line: so far will the side paper lie over the right side of the cloth.",
)
TURNED = {
    4: "Two are cut as drawn, two with the sheet turned over like a page.",
    2: "One is cut as drawn, one with the sheet turned over like a page.",
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
    *_SPACER[1:],
)
BESIDE_SPINE_PIECE = (
    _SPACER[0],
    "One goes on each side of the spine piece, between it and the board, while they are laid on the covering.",
    *_SPACER[1:],
)
