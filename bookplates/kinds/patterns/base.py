"""The keys all sewings share, and how stations are set out.

Stations are distances from the head of the leaf, mm, in order.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Annotated, Any, ClassVar

from pydantic import BeforeValidator, Field

from bookplates.errors import Finding, refuse, warn
from bookplates.kinds.block import Block
from bookplates.kinds.keys import INCH, Keys, Span
from bookplates.kinds.limits import at_most
from bookplates.kinds.thread import ThreadPath
from bookplates.lengths import Units, fits, said

NEAREST = 3.0
"""Stations nearer than this tear into each other, mm: common practice, no source."""

UNSEWN = 40.0
"""More than this unsewn at head or tail gapes, mm: common practice, no source."""


def _as_tuple(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


class Pattern(Keys):
    """A sewing pattern: the keys of [sewing] that all share, and what each answers.

    Attributes:
        pattern: its name in the spec.
        called: what it is called on paper.
        goes_with: the cover styles it goes with.
    """

    pattern: str

    spacing: Annotated[float, Span(3, 200)] | None = Field(default=None, description="stations this far apart, centred")
    count: Annotated[int, Field(ge=1, le=500)] | None = Field(default=None, description="how many stations, end to end")
    stations: Annotated[tuple[Annotated[float, Span(-1000, 2000)], ...], BeforeValidator(_as_tuple)] | None = Field(
        default=None, description="stations from the head of the leaf"
    )
    end_margin: Annotated[float, Span(0, 500)] = Field(
        default=INCH / 2, description="smallest distance from head and tail to a station"
    )
    hole: Annotated[float, Span(0.3, 5)] = Field(default=1.0, description="size the holes are drawn")
    punch_at_once: Annotated[int, Field(ge=1, le=200)] = Field(default=10, description="folios pierced together")
    thread: Annotated[float, Span(0.1, 3)] = Field(default=0.5, description="thickness of the thread")
    thread_end: Annotated[float, Span(0, 1000)] = Field(default=85.0, description="thread left at each end")

    excludes: ClassVar[tuple[tuple[str, str], ...]] = (("spacing", "stations"), ("count", "stations"), ("spacing", "count"))
    called: ClassVar[str]
    goes_with: ClassVar[tuple[str, ...]]

    @property
    def set_out_by(self) -> str:
        """The key that says where the stations are, dotted."""
        for key in ("stations", "count", "spacing"):
            if getattr(self, key) is not None:
                return f"sewing.{key}"
        return "sewing.end_margin"

    def set_out(self, block: Block) -> tuple[float, ...]:
        """Where the needle goes through, from the head of the leaf, mm; none where the end margins leave no room."""
        if self.stations is not None:
            return self.stations
        if self.count is not None:
            return spread(block.height, self.count, self.end_margin)
        if self.spacing is not None:
            return spaced(block.height, self.spacing, self.end_margin)
        return self.by_custom(block)

    @abstractmethod
    def by_custom(self, block: Block) -> tuple[float, ...]:
        """The stations of this pattern where nothing is written, mm."""

    @abstractmethod
    def custom(self, block: Block) -> Mapping[str, str]:
        """What `by_custom` goes by, in words, by dotted key."""

    def chosen(self, block: Block) -> Mapping[str, str]:
        """Values of keys that are worked out where they are not written, in words, by dotted key."""
        return self.custom(block) if self.set_out_by == "sewing.end_margin" else {}

    def idle(self) -> frozenset[str]:
        """Dotted keys that have a default but play no part here: stations that are written need no end margin."""
        return frozenset() if self.stations is None else frozenset({"sewing.end_margin"})

    @abstractmethod
    def path(self, stations: Sequence[float], block: Block, sewn_through: float) -> ThreadPath:
        """The sewing leg by leg; `sewn_through` is what the needle passes of the cover, mm."""

    def findings(self, block: Block) -> tuple[Finding, ...]:
        """What a binder would say of this sewing on this block; each pattern adds its own."""
        return tuple(station_findings(self.set_out(block), block, self))


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


def station_findings(stations: Sequence[float], block: Block, pattern: Pattern) -> Iterator[Finding]:
    """Stations that are too few, unsorted, too near, off the leaf, or leave much unsewn."""
    key, units, height = pattern.set_out_by, block.units, block.height
    if not stations and pattern.stations is None:
        what = f"{said(pattern.end_margin, units)} at head and tail leaves no room on a leaf {said(height, units)} tall"
        yield refuse("sewing.end_margin", what, f"less than {at_most(height / 2, units)}")
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


def _ends_set_by(pattern: Pattern) -> str:
    """The key to change where too much stays unsewn, dotted."""
    by_margin = pattern.count is not None or not fits(pattern.end_margin, UNSEWN)
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
