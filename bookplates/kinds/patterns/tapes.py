"""Sewing on tapes: kettle stitches near head and tail, and the thread over each tape between them.

Sources: Bean and Brodhead, three tapes, the outer ones 1 to 1 1/2 in from the ends, kettle stitches 1/2 in from them
(handbook SW8); Bailey, three supports for 8 in, four for 12 in (SW9); Alaska, an even number of stations (SW16).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from bookplates.errors import Finding, refuse, warn
from bookplates.kinds.block import Block
from bookplates.kinds.keys import INCH, Span
from bookplates.kinds.limits import at_least, at_most
from bookplates.kinds.patterns.base import NEAREST, Needlework
from bookplates.kinds.patterns.paired import between_kettles, pairs_of, unpaired
from bookplates.kinds.patterns.sections import OnSupports
from bookplates.kinds.patterns.stitching import several_sections
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import ThreadPath
from bookplates.lengths import Units, fits, said

FAR_OFF = 2
"""So many tapes more or fewer than usual are worth a word: common practice, no source."""

NARROWEST = 5.0
"""Of sewing tapes, mm."""

SETTING_OUT = ("tapes", "tape_width", "outer_tape")


class Tapes(Needlework):
    """Keys of [sewing] for pattern "tapes"."""

    pattern: Literal["tapes"] = "tapes"
    tapes: Annotated[int, Field(ge=1, le=50)] = Field(default=3, description="how many sewing tapes")
    tape_width: Annotated[float, Span(NARROWEST, 300)] = Field(default=INCH / 2, description="of each sewing tape")
    outer_tape: Annotated[float, Span(0, 1000)] = Field(
        default=INCH * 5 / 4, description="head and tail to the middle of the outer tapes"
    )

    called: ClassVar[str] = "sewing on tapes"
    goes_with: ClassVar[tuple[str, ...]] = ("case",)
    least_sections: ClassVar[int] = 2
    excludes: ClassVar[tuple[tuple[str, str], ...]] = tuple((key, "stations") for key in SETTING_OUT)

    def _tapes(self, block: Block) -> tuple[tuple[float, float], ...]:
        """Upper and lower edge of each tape from the head of the leaf, mm; a single one lies in the middle."""
        if self.stations is not None:
            return pairs_of(self.stations)
        first, half = self._outer(block), self.tape_width / 2
        apart = (block.height - 2 * first) / max(self.tapes - 1, 1)
        middles = [first + n * apart for n in range(self.tapes)]
        return tuple((middle - half, middle + half) for middle in middles)

    def _outer(self, block: Block) -> float:
        return block.height / 2 if self.tapes == 1 else self.outer_tape

    def by_custom(self, block: Block) -> tuple[float, ...]:
        """Kettle stitches `end_margin` from the ends, and a station either side of each tape (SW8)."""
        room = fits(0.0, block.height - 2 * self.end_margin)
        return between_kettles(self._tapes(block), block.height, self.end_margin) if room else ()

    def custom(self, block: Block) -> Mapping[str, str]:  # noqa: ARG002  # every key has a default of its own
        """Nothing that its keys do not say."""
        return {}

    def idle(self) -> frozenset[str]:
        """What written stations say instead; where the outer tapes lie, if there is but one."""
        if self.stations is not None:
            return frozenset(f"sewing.{key}" for key in ("end_margin", *SETTING_OUT))
        return frozenset({"sewing.outer_tape"} if self.tapes == 1 else ())

    def seam(self, block: Block) -> Seam:
        """The stations in the fold, and the tapes on it."""
        return replace(super().seam(block), supports=self._tapes(block))

    def findings(self, block: Block) -> tuple[Finding, ...]:
        """Several sections, and tapes that fit between the kettle stitches."""
        refused = (*several_sections(block, "sewing on tapes", '"pamphlet"'), *self._do_not_fit(block))
        return refused or (*self._far_off(block), *super().findings(block))

    def _do_not_fit(self, block: Block) -> Iterator[Finding]:
        """Stations that are not paired, tapes too near to the kettle stitches or to each other."""
        if self.stations is not None:
            yield from unpaired(self.stations, "sewing on tapes")
        elif fits(0.0, block.height - 2 * self.end_margin):  # else there are no stations, which is told elsewhere
            yield from self._too_near_kettle(block) or self._too_many(block)

    def _too_near_kettle(self, block: Block) -> tuple[Finding, ...]:
        least, units = self.end_margin + NEAREST + self.tape_width / 2, block.units
        if fits(least, self._outer(block)):
            return ()
        apart = self._outer(block) - self.tape_width / 2 - self.end_margin
        where = f"{said(apart, units)} from the kettle stitch" if apart > 0 else "over the kettle stitch"
        what = f"the edge of the outer tape comes to lie {where}"
        if self.tapes == 1 or not fits(least, block.height / 2):
            return (self._narrower(what, block.height - 2 * (self.end_margin + NEAREST), units),)
        return (refuse("sewing.outer_tape", what, f"at least {at_least(least, units)}, or a smaller sewing.end_margin"),)

    @staticmethod
    def _narrower(what: str, most: float, units: Units) -> Finding:
        """Where even a tape in the middle has not `most` mm of room."""
        if fits(NARROWEST, most):
            return refuse("sewing.tape_width", what, f"at most {at_most(most, units)}, or a smaller sewing.end_margin")
        return refuse("sewing.end_margin", what, "a smaller one, so that a tape has room between the kettle stitches")

    def _too_many(self, block: Block) -> tuple[Finding, ...]:
        """Tapes that leave less than 3 mm from one to the next."""
        room = block.height - 2 * self._outer(block)
        most = max(1, math.floor(room / (self.tape_width + NEAREST) + 1e-6) + 1)
        if self.tapes <= most:
            return ()
        what = f"{self.tapes} tapes {said(self.tape_width, block.units)} wide do not lie side by side"
        return (refuse("sewing.tapes", what, f"at most {most}, or a narrower sewing.tape_width, or a smaller sewing.outer_tape"),)

    def _far_off(self, block: Block) -> Iterator[Finding]:
        """Far more or fewer tapes than Bailey's three for 8 in and four for 12 in (SW9)."""
        tapes, usual = len(self._tapes(block)), max(2, round(3 + (block.height / INCH - 8) / 4))
        if abs(tapes - usual) >= FAR_OFF:
            what = f"{tapes} tape{'s' if tapes > 1 else ''} on a fold {said(block.height, block.units)} tall"
            key = "sewing.tapes" if self.stations is None else "sewing.stations"
            yield warn(key, f"{what} is far from what is usual", f"about {usual}")

    def path(self, seam: Seam, block: Block, sewn: Sewn) -> ThreadPath:
        """All along each fold, over the tapes."""
        return _OverTapes(block, seam, sewn).sew()


class _OverTapes(OnSupports):
    def laid(self, section: int) -> str:
        upright = " Stand each tape against the fold, between its two stations." if section == 1 else ""
        return super().laid(section) + upright

    def cross(self, station: int) -> str:
        self.run_to(station)
        return f"Go over the tape. Go in through station {station}."
