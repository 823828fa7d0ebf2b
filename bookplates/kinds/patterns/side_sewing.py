"""Sewing through the side of the whole block: the keys and the holes that its patterns share.

The main holes stand in one line along the spine; a pattern may add others nearer to the spine. `side_needle` sews them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Annotated, ClassVar

from pydantic import Field

from bookplates.errors import Finding, refuse, warn
from bookplates.geometry import Point
from bookplates.kinds.block import Block
from bookplates.kinds.keys import Span
from bookplates.kinds.limits import at_least, at_most
from bookplates.kinds.patterns.base import NEAREST, Stitch, spread, station_findings
from bookplates.kinds.patterns.side_needle import Branch, Needle
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import ThreadPath
from bookplates.lengths import fits, said

LEAST_INSET = 10.0
"""From the spine edge to the line of holes, at least, mm (Winchester; handbook ST3)."""

HOLES = 4
"""Holes of the usual book (Cambridge University Library: four Chinese and Japanese, five Korean; handbook ST7)."""


class SideStitch(Stitch):
    """Keys of [sewing] for every pattern that goes through the side."""

    inset: Annotated[float, Span(0, 200)] = Field(default=LEAST_INSET, description="from the spine edge to the line of holes")
    hole: Annotated[float, Span(0.3, 5)] = Field(default=2.0, description="drill for the holes; Winchester, handbook ST3")

    goes_with: ClassVar[tuple[str, ...]] = ("side-sewn",)
    sides: ClassVar[str] = (
        "Lay the book down with its front up, the spine a little over the edge of the table. "
        "Front means the side that lies up, back the side below. "
        "Up means from the back to the front, down from the front to the back."
    )

    @property
    def swell(self) -> float:
        """None: no thread lies in a fold, mm."""
        return 0.0

    def lots(self, block: Block) -> tuple[tuple[int, ...], ...]:  # noqa: ARG002  # the block is drilled whole
        """None: leaves and covers are drilled in one."""
        return ()

    @property
    def _divided(self) -> bool:
        """Whether the stations stand at equal divisions of the height: no end margin is written, nor where they are."""
        return "end_margin" not in self.model_fields_set and self.stations is None and self.spacing is None

    def set_out(self, block: Block) -> tuple[float, ...]:
        """The main holes from the head of the leaf, mm."""
        if self._divided:
            return divided(block.height, HOLES if self.count is None else self.count)
        return super().set_out(block)

    def by_custom(self, block: Block) -> tuple[float, ...]:
        """Four, from end margin to end margin."""
        return spread(block.height, HOLES, self.end_margin)

    def custom(self, block: Block) -> Mapping[str, str]:  # noqa: ARG002  # four, whatever the block
        """The number of holes."""
        return {"sewing.count": str(HOLES)}

    def chosen(self, block: Block) -> Mapping[str, str]:
        """The number of holes, and where they stand."""
        return {**super().chosen(block), **({"sewing.stations": "equal divisions of the height"} if self._divided else {})}

    def idle(self) -> frozenset[str]:
        """What is drilled whole is not pierced in lots; equal divisions need no end margin."""
        return super().idle() | {"sewing.punch_at_once"} | ({"sewing.end_margin"} if self._divided else set())

    def seam(self, block: Block) -> Seam:
        """The main holes from head to tail, then the extra ones."""
        stations = self.set_out(block)
        extra = self.extra(stations, block.height) if len(stations) > 1 else ()
        return Seam(
            stations,
            holes=(*((self.inset, station) for station in stations), *extra),
            hole=self.hole,
            inset=self.inset,
            thread=self.thread,
            thread_end=self.thread_end,
        )

    def extra(self, stations: Sequence[float], height: float) -> tuple[Point, ...]:  # noqa: ARG002  # the plain pattern has none
        """The holes beside the main ones: from the spine edge, and from the head, mm."""
        return ()

    def branches(self, count: int) -> Mapping[int, tuple[Branch, ...]]:  # noqa: ARG002  # same
        """By the number of each of `count` main holes, the stitches to extra holes that are sewn from it, in order."""
        return {}

    @property
    def least_inset(self) -> float:
        """An inset smaller than this leaves a hole too near to the spine edge, mm."""
        return NEAREST

    @property
    def least_end(self) -> float:
        """A first or last main hole nearer to head or tail than this leaves a hole too near to that edge, mm."""
        return NEAREST

    @property
    def least_apart(self) -> float:
        """Main holes nearer to each other than this leave two holes too near to each other, mm."""
        return NEAREST

    def path(self, seam: Seam, block: Block, sewn: Sewn) -> ThreadPath:
        """Out to the tail and back to hole 1."""
        return Needle(seam, block, sewn, self.branches(len(seam.stations))).sewn()

    def findings(self, block: Block) -> tuple[Finding, ...]:
        """What a binder would say of the holes."""
        stations = self.set_out(block)
        of_stations = tuple(_of_stations(stations, block, self))
        if any(finding.refused for finding in of_stations):
            return of_stations
        return (
            *of_stations,
            *_inset_findings(self, block),
            *_end_findings(self, stations, block),
            *_apart_findings(self, stations, block),
            *_lot_findings(self),
        )


def divided(height: float, count: int) -> tuple[float, ...]:
    """`count` stations at equal divisions of the height, mm.

    >>> divided(150, 4)
    (30.0, 60.0, 90.0, 120.0)
    """
    return tuple(n * height / (count + 1) for n in range(1, count + 1))


def _of_stations(stations: Sequence[float], block: Block, pattern: SideStitch) -> Iterator[Finding]:
    """As for any sewing; but an end no longer than the stitches between the holes is not called unsewn.

    The thread goes round head and tail, so it holds the ends as it holds what lies between two holes.
    """
    longest = max((lower - upper for upper, lower in pairwise(stations)), default=0.0)
    even = bool(stations) and fits(max(stations[0], block.height - stations[-1]), longest)
    yield from (finding for finding in station_findings(stations, block, pattern) if finding.refused or not even)


def _inset_findings(pattern: SideStitch, block: Block) -> Iterator[Finding]:
    inset, least, most, units = pattern.inset, pattern.least_inset, block.width - NEAREST, block.units
    if not fits(least, inset):
        what = f"{said(inset, units)} leaves holes nearer than {said(NEAREST, units)} to the spine edge: they tear out"
        yield refuse("sewing.inset", what, f"at least {at_least(least, units)}; {at_least(LEAST_INSET, units)} or more is usual")
    elif not fits(inset, most):
        what = f"{said(inset, units)} from the spine edge misses the leaf, {said(block.width, units)} wide"
        yield refuse("sewing.inset", what, f"at most {at_most(most, units)}")
    elif not fits(LEAST_INSET, inset):
        what = f"{said(inset, units)} from the spine edge, the holes tear out easily"
        yield warn("sewing.inset", what, f"at least {at_least(LEAST_INSET, units)}")


def _end_findings(pattern: SideStitch, stations: Sequence[float], block: Block) -> Iterator[Finding]:
    least, units = pattern.least_end, block.units
    end = min(stations[0], block.height - stations[-1])
    if not fits(least, end):
        what = (
            f"the outer main hole is {said(end, units)} from the edge at head or tail: "
            f"a hole comes nearer than {said(NEAREST, units)} to that edge and tears out"
        )
        fewer = "fewer holes, so that it is " if _ends_key(pattern) == "sewing.count" else ""
        yield refuse(_ends_key(pattern), what, f"{fewer}at least {at_least(least, units)}")


def _ends_key(pattern: SideStitch) -> str:
    """The key that says how far the outer holes are from head and tail, dotted."""
    if pattern.stations is not None:
        return "sewing.stations"
    return "sewing.count" if pattern._divided else "sewing.end_margin"  # noqa: SLF001  # its own module


def _apart_findings(pattern: SideStitch, stations: Sequence[float], block: Block) -> Iterator[Finding]:
    least, units = pattern.least_apart, block.units
    apart = min(lower - upper for upper, lower in pairwise(stations))
    if fits(least, apart):
        return
    what = (
        f"with main holes {said(apart, units)} apart and an inset of {said(pattern.inset, units)}, "
        f"the extra holes beside one and the next come nearer than {said(NEAREST, units)} to each other, or change places"
    )
    narrower = pattern.inset - (least - apart)
    written = any(getattr(pattern, key) is not None for key in ("stations", "count", "spacing"))
    if not written and fits(pattern.least_inset, narrower):
        yield refuse("sewing.inset", what, f"at most {at_most(narrower, units)}, or a smaller sewing.count")
    else:
        key = pattern.set_out_by if written else "sewing.count"
        yield refuse(key, what, f"fewer main holes, at least {at_least(least, units)} apart, or a smaller sewing.inset")


def _lot_findings(pattern: SideStitch) -> Iterator[Finding]:
    if "punch_at_once" in pattern.model_fields_set:
        yield warn("sewing.punch_at_once", "plays no part: a side-sewn book is drilled whole", "leave it out")
