"""The paper in the printer and what of it a plate may use. Lengths in mm.

Pages are always upright: *across* is the paper's short side, *along* its long one. Every page keeps a
strip at the left for the bar along, and one at the foot for the bar across and the title block.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from bookplates.geometry import TRUE, Box, Size
from bookplates.lengths import close, fits

LEFT_STRIP = 11.0
FOOT_STRIP = 24.0

BAR = 100.0
"""Length of the two bars on every page, mm."""

OVERLAP = 10.0
"""How much of a tile the next one shows, too, mm."""

BESIDE_BAR = LEFT_STRIP + BAR + 8.5
ABOVE_TITLE, BELOW_ROOM = 13.2, 0.4
"""Where the foot strip is free, right of the bar and above the title block, from the printable part's lower left, and how far
below the room, mm."""

TILE_WORDS = Size(62.0, 12.0)
"""Least width and usual height of what is said of a tile, mm."""

UNSEEN = 0.004
"""A reading no further off than this is that of a printer which prints true, mm: no ruler shows it."""

TRUE_READING = Size(BAR, BAR)
"""What a ruler reads on both bars of a printer that prints true, mm."""


class Margins(NamedTuple):
    """What the printer cannot reach at each side of an upright page, mm."""

    top: float
    bottom: float
    left: float
    right: float


@dataclass(frozen=True, slots=True)
class PageSetup:
    """A printer page.

    Attributes:
        paper: width and height, upright.
        margin: what the printer cannot reach: the same on every side, or side by side.
        reading: what a ruler reads on the two bars, across and along; anything else is corrected for.
        overlap: how much the tiles of a plate too large for one page overlap.
        turned: whether plates are laid out to lie a quarter turned, where they go on the page so.
    """

    paper: Size
    margin: float | Margins
    reading: Size = TRUE_READING
    overlap: float = OVERLAP
    turned: bool = False

    @property
    def margins(self) -> Margins:
        """What the printer cannot reach, side by side."""
        return self.margin if isinstance(self.margin, Margins) else Margins(*[self.margin] * 4)

    @property
    def corrected(self) -> bool:
        """Whether the printer is off, so that its error is corrected for."""
        return not all(close(read, BAR, UNSEEN) for read in self.reading)

    @property
    def correction(self) -> Size:
        """What everything on the page is multiplied by, across and along."""
        return Size(BAR / self.reading.width, BAR / self.reading.height) if self.corrected else TRUE

    @property
    def printable(self) -> Box:
        """What the printer reaches, in the page's own mm before correction, from its lower left corner."""
        (across, along), margins = self.correction, self.margins
        return Box(
            margins.left / across,
            margins.bottom / along,
            (self.paper.width - margins.right) / across,
            (self.paper.height - margins.top) / along,
        )

    @property
    def room(self) -> Box:
        """Where plates may lie: the printable part without the strips."""
        left, bottom, right, top = self.printable
        return Box(left + LEFT_STRIP, bottom + FOOT_STRIP, right, top)

    @property
    def tile_words(self) -> Box:
        """Where a tile's name and map stand: beside the bar if the foot strip is long enough, else above all."""
        left, bottom, right, top = self.printable
        foot = Box(left + BESIDE_BAR, bottom + ABOVE_TITLE, right, bottom + FOOT_STRIP - BELOW_ROOM)
        return foot if fits(TILE_WORDS.width, foot.size.width) else Box(left + LEFT_STRIP, top - TILE_WORDS.height, right, top)

    @property
    def tile_room(self) -> Box:
        """Where a tile of a plate may lie: the room, less what is said of it above all."""
        room, words = self.room, self.tile_words
        return room if words.top <= room.bottom else room._replace(top=words.bottom - 1.0)
