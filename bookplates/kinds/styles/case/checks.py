"""What a binder would say of a case's own keys: turn-ins under the pasted-down leaf, cloth and side papers."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.errors import Finding, refuse, warn
from bookplates.kinds import corner
from bookplates.kinds.checks import LINING_TO_SPARE
from bookplates.kinds.keys import Squares
from bookplates.kinds.limits import at_least, at_most
from bookplates.kinds.styles.case.coverings import Case
from bookplates.lengths import Units, fits, said


def pasted_leaf_findings(case: Case, margins: Squares, thick: float, units: Units) -> Iterator[Finding]:
    """Bare board between a turn-in and the endpaper's leaf that is pasted down.

    Args:
        case: laid open.
        margins: from the board's edges to that leaf, mm.
        thick: of a board, mm.
        units: shown first.
    """
    spare = {side: reach - getattr(margins, side) for side, reach in _reaches(case, thick).items()}
    side = min(spare, key=lambda side: spare[side])
    margin, least = getattr(margins, side), getattr(margins, side) + thick + LINING_TO_SPARE
    name = side.replace("_", "-")
    if fits(spare[side], 0.0):
        what = f"bare board shows at the {name}: the pasted-down leaf begins {said(margin, units)} in, beyond the turn-in"
        yield refuse("cover.turn_in", what, f"at least {at_least(least, units)}, or a smaller cover.square")
    elif not fits(LINING_TO_SPARE, spare[side]):
        what = f"the pasted-down leaf reaches over the turn-in by only {said(spare[side], units)} at the {name}"
        yield warn("cover.turn_in", what, f"{at_least(least, units)} or more, or a smaller cover.square")


def _reaches(case: Case, thick: float) -> dict[str, float]:
    """How far in from each edge the board is covered, mm.

    Beside a corner a turn-in gives way where the other one ends, plus the slack of the cut.
    """
    turn, slack = case.turn_in, corner.slack(case.mitre, thick)
    ends = min(turn.head, turn.tail)
    reaches = {
        "head": min(turn.head, turn.fore_edge + slack),
        "tail": min(turn.tail, turn.fore_edge + slack),
        "fore_edge": min(turn.fore_edge, ends + slack),
    }
    return {side: reach - thick for side, reach in reaches.items()}


def reach_findings(case: Case, thick: float, units: Units, *, corners: bool) -> Iterator[Finding]:
    """Turn-ins that pass a board's spine edge inside, where the joint bends."""
    inside = case.turn_in.fore_edge - thick
    if not fits(inside, case.board.width):
        what = f"the fore-edge turn-in reaches {said(inside, units)} in, past the spine edge of the board"
        yield warn("cover.turn_in", what, f"{at_most(case.board.width + thick, units)} or less at the fore-edge")
    along = case.leg + max(case.turn_in.head, case.turn_in.tail) - thick
    if corners and not fits(along, case.board.width):
        what = f"the cloth of a corner, turned in, reaches {said(along, units)} along the board, past its spine edge"
        yield warn("cover.cloth_on_board", what, "less cloth, or a smaller cover.turn_in")


def cloth_findings(case: Case, kind: str, units: Units) -> Iterator[Finding]:
    """Side papers that are none, cover all of the cloth, or have no room between corners and spine."""
    if fits(case.cloth, case.overlap):
        yield refuse(
            "cover.overlap",
            f"side papers that lie {said(case.overlap, units)} over the cloth leave none of it to see "
            f"(cover.cloth_on_board is {said(case.cloth, units)})",
            f"less than {at_most(case.cloth, units)}",
        )
    if kind == "half":
        yield from _corner_findings(case, units)
    elif fits(case.board.width, case.cloth):
        what = f"{said(case.cloth, units)} of cloth covers a board {said(case.board.width, units)} wide: no side paper is left"
        yield refuse("cover.cloth_on_board", what, f'less than {at_most(case.board.width, units)}, or covering = "full"')


def _corner_findings(case: Case, units: Units) -> Iterator[Finding]:
    """Corners that meet each other, or the cloth of the spine (design: legs of sqrt 2 times their width)."""
    wide, tall = case.board
    leg = said(case.leg, units)
    most = at_most(min(tall / (2 * corner.ROOT_2), wide / (1 + corner.ROOT_2)), units)
    least = f'less than {most}, or cover.covering = "quarter"'
    if fits(tall, 2 * case.leg):
        what = f"two corners of {leg} along the fore-edge meet on a board {said(tall, units)} tall"
        yield refuse("cover.cloth_on_board", what, least)
    elif fits(wide, case.leg + case.cloth):
        what = f"corners of {leg} and {said(case.cloth, units)} at the spine meet on a board {said(wide, units)} wide"
        yield refuse("cover.cloth_on_board", what, least)


def unused(written: frozenset[str], idle: frozenset[str]) -> Iterator[Finding]:
    """Keys that were written but play no part; both sets as they stand in [cover]."""
    why = {
        "movement": ('spine_piece = "none"', 'spine_piece = "stiff"'),
        "cloth_on_board": ('covering = "full"', 'covering = "quarter" or "half"'),
        "overlap": ('covering = "full"', 'covering = "quarter" or "half"'),
    }
    for key in sorted(written & idle & why.keys()):
        given, other = why[key]
        yield warn(f"cover.{key}", f"is not used with cover.{given}", f"leave it out, or {other}")
