"""French link stitch: kettle stitches near head and tail, and between them pairs of stations whose outer stitches are linked.

Between the two stations of a pair the thread of each section goes under that of the section before.
Source: Alaska, an even number of stations for paired ones (handbook SW16).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from bookplates.errors import Finding, refuse
from bookplates.kinds.block import Block
from bookplates.kinds.keys import Span
from bookplates.kinds.limits import at_most
from bookplates.kinds.patterns.base import NEAREST, Needlework
from bookplates.kinds.patterns.paired import between_kettles, unpaired
from bookplates.kinds.patterns.sections import OnSupports
from bookplates.kinds.patterns.stitching import several_sections
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import ThreadPath
from bookplates.lengths import fits, said

SETTING_OUT = ("pairs", "pair_gap")


class FrenchLink(Needlework):
    """Keys of [sewing] for pattern "french link"."""

    pattern: Literal["french link"] = "french link"
    pairs: Annotated[int, Field(ge=1, le=50)] = Field(default=2, description="how many pairs of stations")
    pair_gap: Annotated[float, Span(NEAREST, 200)] = Field(default=10.0, description="between the two stations of a pair")

    called: ClassVar[str] = "french link stitch"
    goes_with: ClassVar[tuple[str, ...]] = ("case",)
    least_sections: ClassVar[int] = 2
    excludes: ClassVar[tuple[tuple[str, str], ...]] = tuple((key, "stations") for key in SETTING_OUT)

    def by_custom(self, block: Block) -> tuple[float, ...]:
        """Kettle stitches `end_margin` from the ends; the pairs' middles at equal divisions of the height."""
        if not fits(0.0, block.height - 2 * self.end_margin):
            return ()
        middles = [block.height * n / (self.pairs + 1) for n in range(1, self.pairs + 1)]
        pairs = [(middle - self.pair_gap / 2, middle + self.pair_gap / 2) for middle in middles]
        return between_kettles(pairs, block.height, self.end_margin)

    def custom(self, block: Block) -> Mapping[str, str]:  # noqa: ARG002  # every key has a default of its own
        """Nothing that its keys do not say."""
        return {}

    def idle(self) -> frozenset[str]:
        """What written stations say instead."""
        return frozenset(f"sewing.{key}" for key in ("end_margin", *SETTING_OUT)) if self.stations is not None else frozenset()

    def findings(self, block: Block) -> tuple[Finding, ...]:
        """Several sections, and pairs that fit between the kettle stitches."""
        refused = (*several_sections(block, "french link stitch", '"pamphlet"'), *self._do_not_fit(block))
        return refused or super().findings(block)

    def _do_not_fit(self, block: Block) -> Iterator[Finding]:
        if self.stations is not None:
            yield from unpaired(self.stations, "french link stitch")
        elif fits(0.0, block.height - 2 * self.end_margin):  # else there are no stations, which is told elsewhere
            yield from self._too_near(block)

    def _too_near(self, block: Block) -> Iterator[Finding]:
        """Pairs that leave less than 3 mm from one to the next, or to a kettle stitch."""
        division, units = block.height / (self.pairs + 1), block.units
        most = min(self._beside_kettle(division), division - NEAREST if self.pairs > 1 else math.inf)
        if fits(self.pair_gap, most):
            return
        what = f"{self.pairs} pair{'s' if self.pairs > 1 else ''} of stations {said(self.pair_gap, units)} apart do not fit"
        if fits(NEAREST, most):
            fewer = ", or fewer sewing.pairs" if self.pairs > 1 else ""
            yield refuse("sewing.pair_gap", what, f"at most {at_most(most, units)}{fewer}")
        elif self.pairs > 1 and fits(NEAREST, self._beside_kettle(block.height / 2)):
            yield refuse("sewing.pairs", what, "fewer, or a smaller sewing.end_margin")
        else:
            yield refuse("sewing.end_margin", what, "a smaller one, so that a pair has room between the kettle stitches")

    def _beside_kettle(self, middle: float) -> float:
        """The widest a pair may be whose middle lies there, for the kettle stitch next to it, mm."""
        return 2 * (middle - self.end_margin - NEAREST)

    def path(self, seam: Seam, block: Block, sewn: Sewn) -> ThreadPath:
        """All along each fold, linked at each pair."""
        return _Linked(block, seam, sewn).sew()


class _Linked(OnSupports):
    def cross(self, station: int) -> str:
        """Under the stitch of the section before, in the middle of the pair: there and on, not straight."""
        if self.section == 1:
            self.run_to(station)
            return f"Outside, go to station {station}. Go in through it."
        between = f"between stations {self.at.station} and {station}"
        self.link_on(station, self.apart(), self.section - 1)
        return (
            f"Outside, pass the needle under the stitch of section {self.section - 1} {between}. Go in through station {station}."
        )
