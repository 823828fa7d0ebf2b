"""What a binder would say of boards, coverings and linings, whatever the cover style."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.errors import Finding, refuse, warn
from bookplates.geometry import Size
from bookplates.kinds import corner
from bookplates.kinds.keys import Squares, TurnIns
from bookplates.lengths import Units, fits, said

BINDING_BOARD = 1.5
"""A board thicker than this binds in a joint under twice its thickness, mm: common practice, no source."""

WIDE_SQUARE = 10.0
"""A square over this is more likely a slip than a wish, mm: common practice, no source."""

LEAST_BOARD = 5.0
"""A board narrower than this is none, mm."""

LINING_TO_SPARE = 3.0
"""A lining should reach this far over the turn-ins, mm: common practice, no source."""


def board_findings(board: Size, square: Squares, units: Units, joint_key: str) -> Iterator[Finding]:
    """Boards that are none, or far larger than their text block."""
    if board.width < LEAST_BOARD:
        yield refuse(
            joint_key,
            f"leaves a board {said(board.width, units)} wide",
            "a smaller joint, or a wider leaf (text_block)",
        )
    widest = max(square.head, square.tail, square.fore_edge)
    if widest > WIDE_SQUARE:
        yield warn(
            "cover.square",
            f"the boards stand {said(widest, units)} beyond the leaves, which is much",
            f"1/8 to 3/16 in is usual, up to {said(WIDE_SQUARE, units)} for a large book",
        )


def joint_findings(joint: float, board: float, units: Units, joint_key: str) -> Iterator[Finding]:
    """Thick boards in a joint too narrow for them to swing."""
    if board > BINDING_BOARD and joint < 2 * board - 1e-9:
        yield warn(
            joint_key,
            f"the joint is {said(joint, units)} wide, less than twice the board: the boards will bind when opened",
            f"at least {said(2 * board, units)}, or a thinner cover.board",
        )


def mitre_findings(mitre: float, board_thickness: float, board: Size, turn_in: TurnIns, units: Units) -> Iterator[Finding]:
    """Mitres that bare the corner, miss the paper, cross, or come nearer than a board's thickness."""
    least, most = corner.least_mitre(board_thickness), corner.most_mitre(turn_in)
    if mitre < least - 1e-9:
        yield refuse(
            "cover.mitre",
            f"{said(mitre, units)} bares the corner of a board {said(board_thickness, units)} thick",
            f"more than {said(least, units)}; {said(1.5 * board_thickness, units)} suits cover.board",
        )
    elif mitre >= most - 1e-9:
        yield refuse(
            "cover.mitre",
            f"a cut {said(mitre, units)} from the board's corner misses the paper",
            f"less than {said(most, units)}, or a larger cover.turn_in",
        )
    elif mitre < board_thickness - 1e-9:
        yield warn(
            "cover.mitre",
            f"{said(mitre, units)} is nearer to the corner than the board is thick: the corner shows a slit",
            f"at least {said(board_thickness, units)}",
        )
    if mitre < most and corner.cuts_apart(board, turn_in, mitre) <= 0:
        yield refuse(
            "cover.turn_in",
            f"the mitre cuts of a board {said(board.width, units)} by {said(board.height, units)} would cross",
            "a smaller turn-in, or a larger leaf (text_block)",
        )
    elif not (fits(turn_in.head + turn_in.tail, board.height) and fits(turn_in.fore_edge, board.width)):
        yield warn("cover.turn_in", "the turn-ins meet or pass each other on the inside of the board", "a smaller turn-in")


def lining_findings(margin: float, lining: Size, *, turn_in: TurnIns, board_thickness: float, units: Units) -> Iterator[Finding]:
    """Linings that are none, cover all of the board, or leave bare board."""
    spare = corner.bare_board_to_spare(turn_in, margin, board_thickness)
    if min(lining) < LEAST_BOARD:
        yield refuse("cover.lining_margin", f"{said(margin, units)} leaves nothing of the lining", "a smaller margin")
    elif margin <= 0:
        yield warn("cover.lining_margin", "the lining covers the whole board, its edges will catch and lift", "1/8 in or more")
    if spare <= 1e-9:
        most = margin + spare
        yield refuse(
            "cover.lining_margin",
            f"bare board shows between the turn-in and a lining {said(margin, units)} from the edge",
            f"less than {said(most, units)}, or a larger cover.turn_in" if most > 0 else "a larger cover.turn_in",
        )
    elif spare < LINING_TO_SPARE - 1e-9:
        yield warn(
            "cover.lining_margin",
            f"the lining reaches over the turn-in by only {said(spare, units)}",
            f"{said(LINING_TO_SPARE, units)} or more: cut and glue with care, or take a larger cover.turn_in",
        )
