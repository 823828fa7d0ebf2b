"""The sewing tapes of a block that is cased in: cut before sewing, their ends stuck down on the endpapers."""

from __future__ import annotations

from bookplates.geometry import Size, rectangle
from bookplates.kinds.block import Block
from bookplates.kinds.keys import INCH
from bookplates.kinds.parts import Piece
from bookplates.kinds.seam import Seam
from bookplates.lengths import both_sizes

ON_ENDPAPER = INCH
"""How far a tape reaches on each endpaper, mm: with a book 1 in thick that gives the pieces of about 3 in that
Bean & Brodhead cut (handbook SW8)."""


def tape_size(block: Block, seam: Seam) -> Size | None:
    """Length across the spine and width of each sewing tape, mm; None where it is not sewn on tapes."""
    if not seam.supports:
        return None
    upper, lower = seam.supports[0]
    return Size(block.thickness + 2 * min(ON_ENDPAPER, block.width / 2), lower - upper)


def pieces(block: Block, seam: Seam) -> tuple[Piece, ...]:
    """The sewing tapes, as they lie across the spine."""
    size = tape_size(block, seam)
    return (Piece("sewing tape", "tape", len(seam.supports), rectangle(0, 0, *size), "none"),) if size else ()


def laid_in(block: Block, seam: Seam) -> tuple[str, ...]:
    """What to do with the tapes before sewing, sentence by sentence."""
    size = tape_size(block, seam)
    if size is None:
        return ()
    return (
        f"Cut {len(seam.supports)} sewing tapes, {both_sizes(size, block.units)}.",
        "Fix their lower ends to the edge of the table with adhesive tape, so that they stand up against the folds.",
        "Leave the same length of each below the first section as there will be above the last.",
    )


STUCK_DOWN = ("Brush adhesive under the ends of the sewing tapes. Rub them down flat on the endpapers, front and back.",)
