"""What a binder would say of a leaf pasted over turn-ins that go round all four sides of a board."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.errors import Finding, refuse, warn
from bookplates.kinds import corner
from bookplates.kinds.checks import LINING_TO_SPARE
from bookplates.kinds.keys import Squares, TurnIns
from bookplates.kinds.limits import at_most
from bookplates.lengths import Units, fits, said


def end_panel_findings(square: Squares, turn_in: TurnIns, mitre: float, board: float, units: Units) -> Iterator[Finding]:
    """Bare board between the turn-ins and a leaf pasted on that leaves the squares free, side by side.

    Beside a corner a turn-in gives way where the other one ends, plus the slack of the mitre.
    """
    slack = corner.slack(mitre, board)
    head, tail, fore = (reach - board for reach in (turn_in.head, turn_in.tail, turn_in.fore_edge))
    reached = {
        "head": (square.head, min(head, fore + slack)),
        "tail": (square.tail, min(tail, fore + slack)),
        "fore-edge": (square.fore_edge, min(fore, head + slack, tail + slack)),
    }
    side, (margin, most) = min(reached.items(), key=lambda entry: entry[1][1] - entry[1][0])
    if fits(most, margin):
        less = f"less than {at_most(most, units)}, or " if most > 0 else ""
        what = f"bare board shows at the {side} between the turn-in and the end panel, {said(margin, units)} from the edge"
        yield refuse("cover.square", what, f"{less}a larger cover.turn_in")
    elif not fits(LINING_TO_SPARE, most - margin):
        what = f"the end panel reaches over the {side} turn-in by only {said(most - margin, units)}"
        yield warn("cover.turn_in", what, "a larger turn-in, a smaller cover.square, or great care")
