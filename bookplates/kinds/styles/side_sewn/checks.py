"""What a binder would say of a book sewn through its side. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.errors import Finding, refuse, warn
from bookplates.kinds.all_round import all_round_findings
from bookplates.kinds.block import Block
from bookplates.kinds.checks import board_findings, lining_findings
from bookplates.kinds.keys import Squares
from bookplates.kinds.limits import at_least, at_most
from bookplates.kinds.seam import Seam
from bookplates.kinds.styles.side_sewn.hinge import Hinged
from bookplates.lengths import Units, fits, said

DRILLED = 10.0
"""A stack thicker than this is drilled, no needle or awl pierces it, mm: common practice, no source."""

MOST = 50.0
"""A stack thicker than this can be neither drilled straight nor drawn tight by hand, mm: common practice, no source."""

FROM_EDGE = 3.0
"""Least distance of a hole's edge from the edges of a hinge strip, mm: common practice, no source."""


def stack_findings(block: Block, board: float) -> Iterator[Finding]:
    """A stack too thick for awl and needle, or for any sewing."""
    total, units = block.thickness + 2 * board, block.units
    key = "text_block.folios" if block.sheet is None else "text_block.sheets"
    what = f"leaves and covers are {said(total, units)} thick together"
    if not fits(total, MOST):
        yield refuse(key, f"{what}: no needle passes", f"{at_most(MOST, units)} at most: fewer leaves, or two volumes")
    elif not fits(total, DRILLED):
        yield warn(key, f"{what}: no awl pierces that straight", "drill the holes, 2 mm wide, or make the book thinner")


def hinge_findings(hinged: Hinged, board: float, square: Squares, seam: Seam, units: Units) -> Iterator[Finding]:
    """Of two hinged boards: their widths, their hinge, coverings, linings, and holes that miss the strip."""
    of_boards = tuple(board_findings(hinged.board, square, units, "cover.hinge"))
    yield from of_boards
    if any(finding.refused for finding in of_boards):
        return  # nothing can be said of what goes on a board that is none
    if not fits(2 * board, hinged.gap):
        what = f"{said(hinged.gap, units)} is less than twice the board: the cover will not fold right back"
        yield warn("cover.hinge_gap", what, f"at least {at_least(2 * board, units)}, or a thinner cover.board")
    yield from all_round_findings(hinged.mitre, board, hinged.whole, hinged.turn_in, units)
    yield from lining_findings(hinged.margin, hinged.lining, turn_in=hinged.turn_in, board_thickness=board, units=units)
    yield from _hole_findings(hinged, seam, units)


def _hole_findings(hinged: Hinged, seam: Seam, units: Units) -> Iterator[Finding]:
    """Holes whose edge comes nearer than 3 mm to an edge of the hinge strip, or lies off it."""
    across = sorted(x for x, _ in seam.holes)
    if not across:
        return
    off = FROM_EDGE + seam.hole / 2
    least, most = seam.inset + off - across[0], seam.inset + hinged.strip - off - across[-1]
    if fits(off, across[0]) and fits(across[-1], hinged.strip - off):
        return
    what = (
        f"holes {said(across[0], units)} to {said(across[-1], units)} from the spine edge are not "
        f"{said(FROM_EDGE, units)} inside the hinge strip (cover.hinge), {said(hinged.strip, units)} wide"
    )
    ways = [f"{at_least(max(least, 0.0), units)} to {at_most(most, units)}"] if fits(max(least, 0.0), most) else []
    if fits(off, across[0]) or not ways:
        wide = max(across[-1] + off, across[-1] - across[0] + 2 * off)
        ways.append(f"cover.hinge = {at_least(wide, units)} or more")
    yield refuse("sewing.inset", what, ", or ".join(ways))
