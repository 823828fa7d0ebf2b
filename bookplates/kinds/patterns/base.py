"""The keys all sewings share, and how stations are set out.

Stations are distances from the head of the leaf, mm, in order.
"""

from __future__ import annotations

import math
from abc import abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Annotated, Any, ClassVar

from pydantic import BeforeValidator, Field

from bookplates.errors import Finding, refuse, warn
from bookplates.kinds.block import Block
from bookplates.kinds.keys import INCH, Keys, Span
from bookplates.kinds.limits import at_most
from bookplates.kinds.lots import in_words, shared_out
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import ThreadPath
from bookplates.lengths import Units, fits, said

NEAREST = 3.0
"""Stations nearer than this tear into each other, mm: common practice, no source."""

UNSEWN = 40.0
"""More than this unsewn at head or tail gapes, mm: common practice, no source."""


def _as_tuple(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


class Pattern(Keys):
    """A sewing pattern: its keys of [sewing], and what it answers.

    Attributes:
        pattern: its name in the spec.
        called: what it is called on paper.
        goes_with: the cover styles it goes with.
        sides: what the two sides of the sewing are called, in a sentence for the learner.
        least_sections: how many sections it takes at least.
    """

    pattern: str

    called: ClassVar[str]
    goes_with: ClassVar[tuple[str, ...]]
    sides: ClassVar[str] = ""
    least_sections: ClassVar[int] = 1

    @abstractmethod
    def seam(self, block: Block) -> Seam:
        """Where the needle goes through, and with what thread."""

    @abstractmethod
    def path(self, seam: Seam, block: Block, sewn: Sewn) -> ThreadPath:
        """The sewing leg by leg; `sewn` is what the needle meets of the cover."""

    @abstractmethod
    def findings(self, block: Block) -> tuple[Finding, ...]:
        """What a binder would say of this sewing on this block."""

    @property
    def swell(self) -> float:
        """By how much thread thickens the block at each section's fold, mm, where there are several sections."""
        return 0.0

    def lots(self, block: Block) -> tuple[tuple[int, ...], ...]:  # noqa: ARG002  # what is not sewn is not pierced
        """How many folios are pierced at a time, lot by lot, for each section."""
        return ()

    def chosen(self, block: Block) -> Mapping[str, str]:  # noqa: ARG002  # same
        """Values of keys that are worked out where they are not written, in words, by dotted key."""
        return {}

    def idle(self) -> frozenset[str]:
        """Dotted keys that have a default but play no part here."""
        return frozenset()


class Needlework(Pattern):
    """A pattern sewn with needle and thread: the keys of [sewing] that all of them share."""

    stations: Annotated[tuple[Annotated[float, Span(-1000, 2000)], ...], BeforeValidator(_as_tuple)] | None = Field(
        default=None, description="stations from the head of the leaf", examples=[["20 mm", "74 mm", "128 mm"]]
    )
    end_margin: Annotated[float, Span(0, 500)] = Field(
        default=INCH / 2, description="smallest distance from head and tail to a station"
    )
    hole: Annotated[float, Span(0.3, 5)] = Field(default=1.0, description="size the holes are drawn")
    punch_at_once: Annotated[int, Field(ge=1, le=200)] = Field(default=10, description="folios pierced together")
    thread: Annotated[float, Span(0.1, 3)] = Field(default=0.5, description="thickness of the thread")
    thread_end: Annotated[float, Span(0, 1000)] = Field(default=85.0, description="thread left at each end")

    sides: ClassVar[str] = "Inside means in the middle fold, outside means on the spine."

    @property
    def swell(self) -> float:
        """One thread thickness a section (Iowa; handbook SW21), mm."""
        return self.thread

    @property
    def set_out_by(self) -> str:
        """The key that says where the stations are, dotted."""
        for key in ("stations", "count", "spacing"):
            if getattr(self, key, None) is not None:
                return f"sewing.{key}"
        return "sewing.end_margin"

    def set_out(self, block: Block) -> tuple[float, ...]:
        """Where the needle goes through, from the head of the leaf, mm; none where the end margins leave no room."""
        return self.by_custom(block) if self.stations is None else self.stations

    @abstractmethod
    def by_custom(self, block: Block) -> tuple[float, ...]:
        """The stations of this pattern where nothing is written, mm."""

    @abstractmethod
    def custom(self, block: Block) -> Mapping[str, str]:
        """What `by_custom` goes by, in words, by dotted key."""

    def seam(self, block: Block) -> Seam:
        """The stations in the fold."""
        return Seam(self.set_out(block), hole=self.hole, thread=self.thread, thread_end=self.thread_end)

    def lots(self, block: Block) -> tuple[tuple[int, ...], ...]:
        """As few lots a section as `punch_at_once` allows, as even as they go."""
        return tuple(shared_out(n, math.ceil(n / self.punch_at_once)) for n in block.folios_per_section)

    def chosen(self, block: Block) -> Mapping[str, str]:
        """What the stations go by where no key says so."""
        return self.custom(block) if self.set_out_by == "sewing.end_margin" else {}

    def idle(self) -> frozenset[str]:
        """Dotted keys that have a default but play no part here: stations that are written need no end margin."""
        return frozenset() if self.stations is None else frozenset({"sewing.end_margin"})

    def findings(self, block: Block) -> tuple[Finding, ...]:
        """What a binder would say of the stations and of piercing them; each pattern adds its own."""
        return (*station_findings(self.set_out(block), block, self), *self._lots_findings(block))

    def _lots_findings(self, block: Block) -> Iterator[Finding]:
        most = max(block.folios_per_section)
        if most > self.punch_at_once and block.gathered == "nested":
            lots = shared_out(most, math.ceil(most / self.punch_at_once))
            yield warn(
                "sewing.punch_at_once",
                f"{most} folded sheets are too many to pierce at once",
                f"pierce them {'in ' if len(lots) > 3 else ''}{in_words(lots)} through the same guide, "
                "the same way up, then nest them again",
            )


class Stitch(Needlework):
    """A pattern that takes its stations wherever they are: they may be given by their distance or number, too."""

    spacing: Annotated[float, Span(3, 200)] | None = Field(
        default=None, description="stations this far apart, centred", examples=["1/2 in"]
    )
    count: Annotated[int, Field(ge=1, le=500)] | None = Field(
        default=None, description="how many stations, end to end", examples=[5]
    )

    excludes: ClassVar[tuple[tuple[str, str], ...]] = (("spacing", "stations"), ("count", "stations"), ("spacing", "count"))

    def set_out(self, block: Block) -> tuple[float, ...]:
        """As written: by number, by distance, or one by one."""
        if self.count is not None:
            return spread(block.height, self.count, self.end_margin)
        if self.spacing is not None:
            return spaced(block.height, self.spacing, self.end_margin)
        return super().set_out(block)


def spaced(height: float, spacing: float, end_margin: float) -> tuple[float, ...]:
    """As many stations as fit, `spacing` apart, centred on the height, mm. None where the margins leave no room.

    >>> spaced(100, 20, 10)
    (10.0, 30.0, 50.0, 70.0, 90.0)
    """
    room = height - 2 * end_margin
    if not fits(0.0, room):
        return ()
    gaps = int(room / spacing + 1e-6)
    first = (height - gaps * spacing) / 2
    return tuple(first + n * spacing for n in range(gaps + 1))


def spread(height: float, count: int, end_margin: float) -> tuple[float, ...]:
    """`count` stations, the outer ones `end_margin` from the ends, the rest at equal distances, mm.

    >>> spread(100, 3, 10)
    (10.0, 50.0, 90.0)
    """
    room = height - 2 * end_margin
    if not fits(0.0, room):
        return ()
    if count < 2:
        return (height / 2,) * count
    return tuple(end_margin + n * room / (count - 1) for n in range(count))


def station_findings(stations: Sequence[float], block: Block, pattern: Needlework) -> Iterator[Finding]:
    """Stations that are too few, unsorted, too near, off the leaf, or leave much unsewn."""
    key, units, height = pattern.set_out_by, block.units, block.height
    if not stations and pattern.stations is None:
        what = f"{said(pattern.end_margin, units)} at head and tail leaves no room on a leaf {said(height, units)} tall"
        most = _widest_end(pattern, block)
        yield refuse("sewing.end_margin", what, f"at most {at_most(most, units)}" if most > 0 else "a taller leaf (text_block)")
        return
    if len(stations) < 2:
        by = ": a smaller sewing.spacing or sewing.end_margin" if key in ("sewing.spacing", "sewing.end_margin") else ""
        yield refuse(key, f"gives {len(stations)} station", f"two stations or more{by}")
        return
    yield from _order_findings(stations, key, units)
    off = [s for s in stations if fits(s, 0.0) or fits(height, s)]
    if off:
        what = f"{said(off[0], units)} from the head misses the leaf, {said(height, units)} tall"
        yield refuse(key, what, "every station between head and tail")
    elif not fits(max(stations[0], height - stations[-1]), UNSEWN):
        bare, end = max((stations[0], "head"), (height - stations[-1], "tail"))
        what = f"{said(bare, units)} stays unsewn at the {end} and will gape"
        yield warn(_ends_set_by(pattern), what, f"leave {at_most(UNSEWN, units)} or less at either end")


def _widest_end(pattern: Needlework, block: Block) -> float:
    """The greatest end margin that leaves room for all the stations of this pattern, mm; found by halving what is left."""

    def refused(margin: float) -> set[str]:
        tried = pattern.model_copy(update={"end_margin": margin})
        return {finding.problem.where for finding in tried.findings(block) if finding.refused}

    anyhow, least, most = refused(0.0) - {"sewing.end_margin", pattern.set_out_by}, 0.0, block.height / 2
    while most - least > 1e-4:
        middle = (least + most) / 2
        least, most = (middle, most) if refused(middle) <= anyhow else (least, middle)
    whole = round(least, 3)
    return whole if refused(whole) <= anyhow else least


def _ends_set_by(pattern: Needlework) -> str:
    """The key to change where too much stays unsewn, dotted."""
    by_margin = pattern.set_out_by == "sewing.count" or not fits(pattern.end_margin, UNSEWN)
    return "sewing.end_margin" if pattern.stations is None and by_margin else pattern.set_out_by


def _order_findings(stations: Sequence[float], key: str, units: Units) -> Iterator[Finding]:
    for n, (upper, lower) in enumerate(pairwise(stations), 1):
        apart = lower - upper
        if not fits(0.0, apart):
            yield refuse(key, f"station {n + 1} stands above station {n}", "stations in order from the head")
            return
        if not fits(NEAREST, apart):
            what = f"stations {n} and {n + 1} are {said(apart, units)} apart: the holes tear into each other"
            yield refuse(key, what, f"at least {said(NEAREST, units)} apart")
            return
