"""Chain stitch through the spine of the cover: one section, a row of loops down the outside.

From inside the first station out, and back through the same hole, leaving a loop; then inside to the next
station, out, through the loop before it, back in through the same hole, and so to the last. Each free end is
hitched to the inside stitch beside it, or the first loop pulls out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar, Literal

from bookplates.errors import Finding
from bookplates.kinds.block import Block
from bookplates.kinds.keys import INCH
from bookplates.kinds.patterns.allowances import FIRST_LOOP
from bookplates.kinds.patterns.base import Pattern, spaced
from bookplates.kinds.patterns.stitching import Stitching, one_section_only
from bookplates.kinds.thread import ThreadPath
from bookplates.lengths import both, told

SPACING = INCH / 2
"""Stations of a chain stitch, mm apart: common practice, no source."""


class Chain(Pattern):
    """Keys of [sewing] for pattern "chain"."""

    pattern: Literal["chain"] = "chain"

    called: ClassVar[str] = "single-section chain stitch, through the spine"
    goes_with: ClassVar[tuple[str, ...]] = ("taped",)

    def by_custom(self, block: Block) -> tuple[float, ...]:
        """Stations 1/2 in apart, centred."""
        return spaced(block.height, SPACING, self.end_margin)

    def custom(self, block: Block) -> Mapping[str, str]:
        """The spacing."""
        return {"sewing.spacing": both(SPACING, block.units)}

    def findings(self, block: Block) -> tuple[Finding, ...]:
        """One section, and stations that hold."""
        return *one_section_only(block, "chain stitch"), *super().findings(block)

    def path(self, stations: Sequence[float], block: Block, sewn_through: float) -> ThreadPath:
        """The chain, from the head to the tail."""
        last = len(stations)
        sewing = Stitching(stations, block.through_a_fold + sewn_through, start=1, end=self.thread_end)
        sewing.hitch()
        sewing.pass_through()
        sewing.leave_loop(FIRST_LOOP)
        sewing.pass_through()
        sewing.say(
            f"Begin inside the fold at station 1. Leave a thread end of {told(self.thread_end, block.units)} inside. "
            "Go out through station 1. Go back in through the same hole. Leave a small loop outside."
        )
        for station in range(2, last + 1):
            sewing.run_to(station)
            sewing.pass_through()
            sewing.run_to(station - 1)
            sewing.link()
            sewing.run_to(station)
            sewing.pass_through()
            sewing.say(_link_step(station))
        sewing.hitch()
        return sewing.finish(
            "Tie the first thread end round the inside stitch between stations 1 and 2 with two half hitches, or the "
            f"first loop pulls out. Tie the last thread end round the stitch between stations {last - 1} and {last}. "
            "Trim the ends to about 10 mm."
        )


def _link_step(station: int) -> str:
    begun = " Draw the first loop snug. Always pull along the fold, not across it." if station == 2 else ""
    return (
        f"Inside, go along the fold to station {station}. Go out through it. Pass the needle through the loop at "
        f"station {station - 1}. Go back in through station {station}.{begun}"
    )
