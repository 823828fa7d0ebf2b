"""Long stitch: each section is sewn straight through the spine of the cover, in its own row of holes.

One section: a running stitch to the tail, and back through the same holes, which closes the gaps. Several: each is sewn
from end to end, the thread goes outside to the next, and is hitched where it changes over.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import ClassVar, Literal

from bookplates.errors import Finding, refuse
from bookplates.kinds.block import Block
from bookplates.kinds.keys import INCH
from bookplates.kinds.limits import at_most
from bookplates.kinds.patterns.base import NEAREST, Stitch, spread
from bookplates.kinds.patterns.sections import TRIM, AllAlong, telling
from bookplates.kinds.patterns.stitching import HOLD, Stitching, along_the_fold
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import Place, ThreadPath
from bookplates.lengths import fits, told

TALL = 7 * INCH
"""Four stations under this height, else six: common practice, no source."""


MOST_HOLES = 10_000
"""Of a cover that the needle goes through with every section: nobody pierces more. Common practice, no source."""


class LongStitch(Stitch):
    """Keys of [sewing] for pattern "long stitch"."""

    pattern: Literal["long stitch"] = "long stitch"

    called: ClassVar[str] = "long stitch through the spine"
    goes_with: ClassVar[tuple[str, ...]] = ("wrapper", "taped")
    sides: ClassVar[str] = "Inside means in the middle fold of a section, outside means on the outside of the cover's spine."

    def by_custom(self, block: Block) -> tuple[float, ...]:
        """Four stations, or six from 7 in of height."""
        return spread(block.height, self._usual_count(block), self.end_margin)

    def _usual_count(self, block: Block) -> int:
        return 6 if fits(TALL, block.height) else 4

    def custom(self, block: Block) -> Mapping[str, str]:
        """The number of stations."""
        return {"sewing.count": str(self._usual_count(block))}

    def findings(self, block: Block) -> tuple[Finding, ...]:
        """An even number of stations, that hold, and no more holes than a guide can show."""
        return *self._even(block), *self._holes(block), *super().findings(block)

    def _holes(self, block: Block) -> Iterator[Finding]:
        """Every section has a row of its own in the cover."""
        count, rows = len(self.set_out(block)), block.sections
        if count * rows > MOST_HOLES:
            what = f"{count} stations in each of {rows} sections are {count * rows:,} holes in the cover"
            fewer = f"sewing.count = {MOST_HOLES // rows // 2 * 2}, or {MOST_HOLES // count} sections"
            yield refuse(self.set_out_by, what, f"{MOST_HOLES:,} at most: {fewer}")

    def _even(self, block: Block) -> Iterator[Finding]:
        """With an odd number the thread ends inside, where it cannot go to the next section."""
        count = len(self.set_out(block))
        if count % 2 and count > 1:
            what = f"long stitch (sewing.pattern) takes an even number of stations, not {count}"
            yield refuse(self.set_out_by, what, self._even_numbers(block, count))

    def _even_numbers(self, block: Block, count: int) -> str:
        numbers = f"{count - 1} or {count + 1}"
        if self.set_out_by != "sewing.spacing":
            return numbers
        closer = (block.height - 2 * self.end_margin) / count
        by_spacing = f"{at_most(closer, block.units)} gives {count + 1} stations; or " if fits(NEAREST, closer) else ""
        return f"{by_spacing}sewing.count = {numbers} instead"

    def path(self, seam: Seam, block: Block, sewn: Sewn) -> ThreadPath:
        """There and back along one section, or from section to section."""
        if block.sections > 1:
            return _ThroughCover(block, seam, sewn).sew()
        start = Place(1, "inside")
        sewing = Stitching(
            along_the_fold(seam.stations), lambda section: block.through(section) + sewn.spine, start, self.thread_end
        )
        return _there_and_back(sewing, len(seam.stations), told(self.thread_end, block.units))


class _ThroughCover(AllAlong):
    def laid(self, section: int) -> str:
        if section == 1:
            return "Lay section 1 into the cover, its fold on the row of holes nearest to the front, head to head."
        return f"Lay section {section} beside section {section - 1}, its fold on the next row of holes."

    def cross(self, station: int) -> str:
        self.run_to(station)
        return f"Outside, go to station {station}. Go in through it."

    def change_over(self) -> str:
        self.hitch(self.apart(), self.section - 1)
        return (
            f"Make a half hitch round the short stitch outside that joins sections {self.section - 2} and "
            f"{self.section - 1} at station {self.at.station}."
        )

    def tied(self) -> str:
        """Outside, in sight."""
        return (
            "Outside, at station 1, tie the thread to the first thread end with a reef knot, close to the cover's spine. "
            "The knot stays in sight. Draw the first thread end in through station 1 of section 1 with a needle, "
            "or leave it outside."
        )

    def fasten_off(self) -> str:
        """Inside the last section."""
        return self.in_and_tied()


def _there_and_back(sewing: Stitching, last: int, end: str) -> ThreadPath:
    """One section: both ends come together inside at station 1."""
    sewing.pass_through()
    sewing.say(f"Begin inside the fold at station 1. Leave a thread end of {end} inside. {HOLD} Go out through station 1.")
    _stitches(sewing, range(2, last + 1))
    _stitches(sewing, range(last - 1, 1, -1), " This fills a gap.")
    sewing.run_to(1)
    sewing.knot()
    return sewing.finish(
        "Inside, go to station 1. Draw the thread snug, along the fold and not across it. "
        f"Tie both thread ends there with a reef knot. {TRIM}"
    )


def _stitches(sewing: Stitching, way: range, remark: str = "") -> None:
    for nth, station in enumerate(way):
        side, through = ("Outside", "in") if sewing.side == "outside" else ("Inside", "out")
        sewing.run_to(station)
        sewing.pass_through()
        match telling(nth, len(way)):
            case "each":
                sewing.say(f"{side}, go to station {station}. Go {through} through it.{remark if side == 'Outside' else ''}")
            case "rest":
                sewing.say(f"Go on so, out and in by turns, until you have gone {through} through station {station}.")
