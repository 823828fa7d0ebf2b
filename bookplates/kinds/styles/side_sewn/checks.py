"""What a binder would say of a book sewn through its side. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bookplates.errors import Finding, refuse, warn
from bookplates.kinds.block import Block
from bookplates.kinds.checks import board_findings, lining_findings, mitre_findings
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
    yield from mitre_findings(hinged.mitre, board, hinged.whole, hinged.turn_in, units, all_round=True)
    yield from lining_findings(hinged.margin, hinged.lining, turn_in=hinged.turn_in, board_thickness=board, units=units)
    yield from _hole_findings(hinged, seam, units)


def _hole_findings(hinged: Hinged, seam: Seam, units: Units) -> Iterator[Finding]:
    """Holes whose edge comes nearer than 3 mm to an edge of the hinge strip, or lies off it."""
    across = sorted(x for x, _ in seam.holes)
    if not across:
        return
    off = FROM_EDGE + seam.hole / 2
    first, last = across[0], across[-1]
    if fits(off, first) and fits(last, hinged.strip - off):
        return
    what = (
        f"holes {said(first, units)} to {said(last, units)} from the spine edge are not "
        f"{said(FROM_EDGE, units)} inside the hinge strip (cover.hinge), {said(hinged.strip, units)} wide"
    )
    yield refuse("sewing.inset", what, ", or ".join(_ways(hinged.strip, seam, (first, last), off, units)))


def _ways(strip: float, seam: Seam, ends: tuple[float, float], off: float, units: Units) -> Iterator[str]:
    """What mends holes off the strip: all holes stand at their share of the inset, from the first to the last."""
    least = seam.inset * off / ends[0] if ends[0] > 0 else math.inf
    most = seam.inset * (strip - off) / ends[1] if ends[1] > 0 else 0.0
    if fits(least, most):
        yield f"{at_least(least, units)} to {at_most(most, units)}"
    if fits(off, ends[0]):
        yield f"cover.hinge = {at_least(ends[1] + off, units)} or more"
    elif not fits(least, most) and ends[0] > 0:
        wide = ends[1] * off / ends[0] + off
        yield f"{at_least(least, units)} with cover.hinge = {at_least(wide, units)} or more"
    elif ends[0] <= 0:
        yield f"at least {at_least(off, units)}"
