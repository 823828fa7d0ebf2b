"""What a binder would say of boards, coverings and linings, whatever the cover style."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.errors import Finding, refuse, warn
from bookplates.geometry import Size
from bookplates.kinds import corner
from bookplates.kinds.keys import INCH, Squares, TurnIns
from bookplates.kinds.limits import at_least, at_most
from bookplates.lengths import Units, fits, said

BINDING_BOARD = 1.5
"""A board thicker than this binds in a joint under twice its thickness, mm: common practice, no source."""

WIDE_SQUARE = 10.0
"""A square over this is more likely a slip than a wish, mm: common practice, no source."""

LEAST_BOARD = 5.0
"""A board narrower than this is none, mm."""

LINING_TO_SPARE = 3.0
"""A lining should reach this far over the turn-ins, mm: common practice, no source."""


TURN_IN = "cover.turn_in"
"""What usually says how far a covering goes round the edges of its board."""


def board_findings(board: Size, square: Squares, units: Units, joint_key: str) -> Iterator[Finding]:
    """Boards that are none, or far larger than their text block."""
    if board.width < LEAST_BOARD:
        left = f"a board {said(board.width, units)} wide" if board.width > 0 else "no board at all"
        yield refuse(joint_key, f"leaves {left}", f"a smaller {joint_key.split('.')[1]}, or a wider leaf (text_block)")
    widest = max(square.head, square.tail, square.fore_edge)
    if widest > WIDE_SQUARE:
        usual = f"{said(INCH / 8, units)} to {said(INCH * 3 / 16, units)} is usual"
        yield warn(
            "cover.square",
            f"the boards stand {said(widest, units)} beyond the leaves, which is much",
            f"{usual}, up to {said(WIDE_SQUARE, units)} for a large book",
        )


def joint_findings(joint: float, board: float, units: Units, joint_key: str, least: float) -> Iterator[Finding]:
    """Thick boards in a joint too narrow for them to swing; `least` is what `joint_key` should be instead, mm."""
    if board > BINDING_BOARD and not fits(2 * board, joint):
        yield warn(
            joint_key,
            f"the joint is {said(joint, units)} wide, less than twice the board: the boards will bind when opened",
            f"at least {at_least(least, units)}, or a thinner cover.board",
        )


def mitre_findings(
    mitre: float,
    board_thickness: float,
    board: Size,
    turn_in: TurnIns,
    units: Units,
    *,
    all_round: bool = False,
    turn_key: str = TURN_IN,
) -> Iterator[Finding]:
    """Mitres that bare the corner, miss the paper, cross, or come nearer than a board's thickness.

    `all_round`: of a board turned in on all four sides, its spine side like its fore-edge; `turn_key`: what says how far.
    """
    least, most = corner.least_mitre(board_thickness), corner.most_mitre(turn_in)
    if not fits(least, mitre):
        yield refuse(
            "cover.mitre",
            f"{said(mitre, units)} bares the corner of a board {said(board_thickness, units)} thick",
            _mitre_that_suits(board_thickness, turn_in, units, turn_key),
        )
    elif fits(most, mitre):
        yield refuse(
            "cover.mitre",
            f"a cut {said(mitre, units)} from the board's corner misses the paper",
            f"{_less_than(most, units) if fits(board_thickness, most) else ''}a larger {turn_key}",
        )
    elif not fits(board_thickness, mitre):
        yield warn(
            "cover.mitre",
            f"{said(mitre, units)} is nearer to the corner than the board is thick: the corner shows a slit",
            f"at least {at_least(board_thickness, units)}",
        )
    if mitre < most and corner.cuts_apart(board, turn_in, mitre, all_round=all_round) <= 0:
        yield refuse(
            turn_key,
            "the mitre cuts of the covering would cross each other",
            f"a smaller {_key_in_words(turn_key)}, or a larger leaf (text_block)",
        )
    elif not _apart_inside(turn_in, board_thickness, board, all_round=all_round):
        pass_edge = "" if all_round else ", or pass its spine edge"
        what = f"the turn-ins reach so far over the inside of the board that they meet{pass_edge}"
        yield warn(turn_key, what, f"a smaller {_key_in_words(turn_key)}")


def _key_in_words(dotted: str) -> str:
    return dotted.rpartition(".")[2].replace("_", "-")


def _mitre_that_suits(board_thickness: float, turn_in: TurnIns, units: Units, turn_key: str) -> str:
    """What to do about a bare corner: a larger mitre where the paper has room for it."""
    good = 1.5 * board_thickness
    if good >= corner.most_mitre(turn_in):
        return f"a thinner cover.board, or a larger {turn_key} and mitre"
    return f"more than {at_least(corner.least_mitre(board_thickness), units)}; {said(good, units)} suits cover.board"


def _apart_inside(turn_in: TurnIns, board_thickness: float, board: Size, *, all_round: bool) -> bool:
    """Whether turn-ins, having gone round the board's edges, stay clear of each other and of its spine edge."""
    both = turn_in.head + turn_in.tail - 2 * board_thickness
    across = (2 if all_round else 1) * (turn_in.fore_edge - board_thickness)
    return fits(both, board.height) and fits(across, board.width)


def lining_findings(margin: float, lining: Size, *, turn_in: TurnIns, board_thickness: float, units: Units) -> Iterator[Finding]:
    """Linings that are none, cover all of the board, or leave bare board."""
    spare = corner.bare_board_to_spare(turn_in, margin, board_thickness)
    roomy = margin - max(0.0, LEAST_BOARD - min(lining))  # whatever side is short: a margin takes off once or twice its width
    most = min(margin + spare, roomy)
    if min(lining) < LEAST_BOARD:
        hint = _less_than(most, units) if most > 0 else ""
        yield refuse(
            "cover.lining_margin", f"{said(margin, units)} leaves nothing of the lining", f"{hint}a larger leaf (text_block)"
        )
    elif margin <= 0:
        yield warn("cover.lining_margin", "the lining covers the whole board, its edges will catch and lift", _margin(units))
    if fits(spare, 0.0):
        yield refuse(
            "cover.lining_margin",
            f"bare board shows between the turn-in and a lining {said(margin, units)} from the edge",
            f"{_less_than(most, units) if most > 0 else ''}a larger cover.turn_in",
        )
    elif not fits(LINING_TO_SPARE, spare):
        yield warn(
            "cover.lining_margin",
            f"the lining reaches over the turn-in by only {said(spare, units)}",
            f"{_less_margin(margin + spare - LINING_TO_SPARE, units)}a larger cover.turn_in, or great care",
        )


def _margin(units: Units) -> str:
    """Bean & Brodhead, Problem XII: board shows at least 1/8 in beyond the lining (handbook TI11)."""
    return f"{said(INCH / 8, units)} or more"


def _less_than(most: float, units: Units) -> str:
    return f"less than {at_most(most, units)}, or "


def _less_margin(most: float, units: Units) -> str:
    return f"{at_most(most, units)} or less leaves {said(LINING_TO_SPARE, units)}; or " if most > 0 else ""
