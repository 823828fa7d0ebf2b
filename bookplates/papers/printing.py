"""The paper in the printer and what of it a plate may use. Lengths in mm.

Pages are always upright: *across* is the paper's short side, *along* its long one. Every page keeps a
strip at the left for the bar along, and one at the foot for the bar across and the title block.
"""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.geometry import Box, Size
from bookplates.lengths import close

LEFT_STRIP = 11.0
FOOT_STRIP = 24.0

BAR = 100.0
"""Length of the two bars on every page, mm."""

TRUE_READING = Size(BAR, BAR)
"""What a ruler reads on both bars of a printer that prints true, mm."""


@dataclass(frozen=True, slots=True)
class PageSetup:
    """A printer page.

    Attributes:
        paper: width and height, upright.
        margin: what the printer cannot reach, on every side.
        reading: what a ruler reads on the two bars, across and along; anything else is corrected for.
    """

    paper: Size
    margin: float
    reading: Size = TRUE_READING

    @property
    def corrected(self) -> bool:
        """Whether the printer is off, so that its error is corrected for."""
        return not all(close(read, BAR) for read in self.reading)

    @property
    def correction(self) -> Size:
        """What everything on the page is multiplied by, across and along."""
        return Size(BAR / self.reading.width, BAR / self.reading.height)

    @property
    def printable(self) -> Box:
        """What the printer reaches, in the page's own mm before correction, from its lower left corner."""
        across, along = self.correction
        return Box(
            self.margin / across,
            self.margin / along,
            (self.paper.width - self.margin) / across,
            (self.paper.height - self.margin) / along,
        )

    @property
    def room(self) -> Box:
        """Where plates may lie: the printable part without the strips."""
        left, bottom, right, top = self.printable
        return Box(left + LEFT_STRIP, bottom + FOOT_STRIP, right, top)
