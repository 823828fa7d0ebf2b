"""Chain stitch through the spine of the cover: one section, a row of loops down the outside.

From inside the first station out, and back through the same hole, leaving a loop; then inside to the next
station, out, through the loop before it, back in through the same hole, and so to the last. Each free end is
hitched to the inside stitch beside it, or the first loop pulls out.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar, Literal

from bookplates.errors import Finding
from bookplates.kinds.block import Block
from bookplates.kinds.keys import INCH
from bookplates.kinds.patterns.allowances import FIRST_LOOP
from bookplates.kinds.patterns.base import Stitch, spaced
from bookplates.kinds.patterns.sections import telling
from bookplates.kinds.patterns.stitching import HOLD, Stitching, along_the_fold, one_section_only
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import Place, ThreadPath
from bookplates.lengths import both, told

SPACING = INCH / 2
"""Stations of a chain stitch, mm apart: common practice, no source."""


class Chain(Stitch):
    """Keys of [sewing] for pattern "chain"."""

    pattern: Literal["chain"] = "chain"

    called: ClassVar[str] = "single-section chain stitch, through the spine"
    goes_with: ClassVar[tuple[str, ...]] = ("taped", "wrapper")

    def by_custom(self, block: Block) -> tuple[float, ...]:
        """Stations 1/2 in apart, centred."""
        return spaced(block.height, SPACING, self.end_margin)

    def custom(self, block: Block) -> Mapping[str, str]:
        """The spacing."""
        return {"sewing.spacing": both(SPACING, block.units)}

    def findings(self, block: Block) -> tuple[Finding, ...]:
        """One section, and stations that hold."""
        return *one_section_only(block, "chain stitch", '"long stitch"'), *super().findings(block)

    def path(self, seam: Seam, block: Block, sewn: Sewn) -> ThreadPath:
        """The chain, from the head to the tail."""
        last = len(seam.stations)
        sewing = Stitching(
            along_the_fold(seam.stations), lambda _: block.through_a_fold + sewn.spine, Place(1, "inside"), self.thread_end
        )
        sewing.hitch()
        sewing.pass_through()
        sewing.leave_loop(FIRST_LOOP)
        sewing.pass_through()
        sewing.say(
            f"Begin inside the fold at station 1. Leave a thread end of {told(self.thread_end, block.units)} inside. {HOLD} "
            "Go out through station 1. Go back in through the same hole. Leave a small loop outside."
        )
        for nth, station in enumerate(range(2, last + 1)):
            if station == 2:
                _first_link(sewing)
                continue
            _to(sewing, station)
            _link(sewing, station)
            match telling(nth, last - 1):
                case "each":
                    sewing.say(f"{_way_to(station)} {_through_loop(station)}")
                case "rest":
                    sewing.say(f"Do the same at stations 4 to {station}, one after the other.")
        sewing.hitch()
        return sewing.finish(
            f"Tie the last thread end round the inside stitch between stations {last - 1} and {last} with two half hitches. "
            "Trim the ends to about 10 mm."
        )


def _first_link(sewing: Stitching) -> None:
    """To the second station and through the loop at the first; then there is a stitch to tie the first end to."""
    _to(sewing, 2)
    sewing.say(_way_to(2))
    _link(sewing, 2)
    sewing.say(
        f"{_through_loop(2)} Draw the first loop snug. Always pull along the fold, not across it. Tie the first thread end "
        "round the inside stitch between stations 1 and 2 with two half hitches, or the first loop pulls out.",
        ties_first=True,
    )


def _to(sewing: Stitching, station: int) -> None:
    """Inside to a station, and out."""
    sewing.run_to(station)
    sewing.pass_through()


def _link(sewing: Stitching, station: int) -> None:
    """Through the loop before, and back in."""
    sewing.run_to(station - 1)
    sewing.link()
    sewing.run_to(station)
    sewing.pass_through()


def _way_to(station: int) -> str:
    return f"Inside, go along the fold to station {station}. Go out through it."


def _through_loop(station: int) -> str:
    return (
        f"Outside, pass the needle behind both threads that come out at station {station - 1}. "
        f"Go back in through station {station}."
    )
