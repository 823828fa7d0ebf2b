"""Pamphlet stitch: one section, an odd number of stations, a figure of eight about the middle one.

From inside the middle station out, up to the head, back down filling the stitches left open, past the
middle on the inside, down to the tail, and back to the middle: both ends meet inside the middle station,
one on either side of the long stitch, and are tied over it.

Sources: Indiana, odd counts of 3, 5 or 7 (handbook SW1); Alaska, 3 holes under 7 in, otherwise 5 (SW3).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import ClassVar, Literal

from bookplates.errors import Finding, refuse
from bookplates.kinds.block import Block
from bookplates.kinds.keys import INCH
from bookplates.kinds.patterns.base import Stitch, spread
from bookplates.kinds.patterns.stitching import HOLD, Stitching, along_the_fold, one_section_only
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import Place, ThreadPath
from bookplates.lengths import fits, told

COUNTS = (3, 5, 7)
TALL = 7 * INCH
SEVERAL = '"long stitch" (through a tape or wrapper) or "tapes" (in a case)'


class Pamphlet(Stitch):
    """Keys of [sewing] for pattern "pamphlet"."""

    pattern: Literal["pamphlet"] = "pamphlet"

    called: ClassVar[str] = "pamphlet stitch, single section"
    goes_with: ClassVar[tuple[str, ...]] = ("taped", "wrapper", "case")

    def by_custom(self, block: Block) -> tuple[float, ...]:
        """Three stations, or five from 7 in of height."""
        return spread(block.height, self._usual_count(block), self.end_margin)

    def _usual_count(self, block: Block) -> int:
        return 5 if fits(TALL, block.height) else 3

    def custom(self, block: Block) -> Mapping[str, str]:
        """The number of stations."""
        return {"sewing.count": str(self._usual_count(block))}

    def findings(self, block: Block) -> tuple[Finding, ...]:
        """One section, an odd number of stations, and stations that hold."""
        return *one_section_only(block, "pamphlet stitch", SEVERAL), *self._odd(block), *super().findings(block)

    def _odd(self, block: Block) -> Iterator[Finding]:
        count = len(self.set_out(block))
        if count >= 2 and count not in COUNTS:
            what = f"pamphlet stitch (sewing.pattern) is sewn on 3, 5 or 7 stations, one of them in the middle, not {count}"
            instead = "" if self.set_out_by in ("sewing.count", "sewing.end_margin") else " instead"
            yield refuse(self.set_out_by, what, f"sewing.count = 3, 5 or 7{instead}")

    def path(self, seam: Seam, block: Block, sewn: Sewn) -> ThreadPath:
        """The figure of eight, by the head first."""
        middle, last = (len(seam.stations) + 1) // 2, len(seam.stations)
        sewing = Stitching(
            along_the_fold(seam.stations), lambda _: block.through_a_fold + sewn.spine, Place(middle, "inside"), self.thread_end
        )
        sewing.pass_through()
        sewing.say(
            f"Begin inside the fold at the middle station, {middle}. Leave a thread end of {told(self.thread_end, block.units)} "
            f"inside. {HOLD} Go out through station {middle}."
        )
        up_and_back = [*range(middle - 1, 0, -1), *range(2, middle)]
        down_and_back = [*range(middle + 1, last + 1), *range(last - 1, middle - 1, -1)]
        way = [middle, *up_and_back, *down_and_back]
        for before, station in pairwise(way):
            _stitch(sewing, before, station)
        sewing.knot()
        return sewing.finish(
            f"Both thread ends are now inside at station {middle}. Lay one on each side of the long stitch that passes it. "
            "Tie them over that stitch with a reef knot. Trim the ends to about 10 mm."
        )


def _stitch(sewing: Stitching, before: int, station: int) -> None:
    """Run to a station along the side the thread is on, and pass through it."""
    side, through = ("Outside", "in") if sewing.side == "outside" else ("Inside", "out")
    sewing.run_to(station)
    sewing.pass_through()
    past = f", past station {(before + station) // 2}," if abs(station - before) == 2 else ""
    sewing.say(f"{side}, go from station {before}{past} to station {station}. Go {through} through it.")
