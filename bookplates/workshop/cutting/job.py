"""The task in whole numbers: kinds of pieces, a sheet, and layouts of pieces on it.

A cut that takes a blade's width away is the same as one that takes nothing, when every piece and the sheet are a blade
wider and higher: the last piece of a row needs no cut behind it, so n pieces take n widths and n - 1 blades. All sizes
here are so, and in whole units, so that sums are exact: three thirds of a sheet go on the sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from bookplates.geometry import Size
from bookplates.workshop.cutting.tree import Want

PER_MM = 10**8
"""Units in a mm."""

FORGIVEN = 150
"""How much a sheet is taken to be larger, so that the last bit of the arithmetic keeps nothing off it: units, 1.5e-6 mm."""

SLIVER = PER_MM // 500
"""What is no wider than this, 0.002 mm, is nothing: no cut is made for it, and it is no offcut."""


class Way(NamedTuple):
    """How a piece may lie: turned by a quarter or not, and how wide and high it then is."""

    turned: bool
    width: int
    height: int


class Laid(NamedTuple):
    """A piece on a sheet: its kind, and its lower left corner and size."""

    kind: int
    left: int
    bottom: int
    width: int
    height: int


Layout = tuple[Laid, ...]
Plan = list[tuple[Layout, int]]
"""Layouts, each with how many sheets are laid out so."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Pieces of one size that may lie in the same ways.

    Attributes:
        ways: how one may lie; one or two.
        count: how many.
        wants: which of the wants they are, with how many of each.
    """

    ways: tuple[Way, ...]
    count: int
    wants: tuple[tuple[int, int], ...] = ()

    @property
    def area(self) -> int:
        """Of one piece."""
        return self.ways[0].width * self.ways[0].height


@dataclass(frozen=True, slots=True)
class Job:
    """What is to be cut out of like sheets."""

    kinds: tuple[Kind, ...]
    width: int
    height: int
    blade: int
    usable: int

    @property
    def area(self) -> int:
        """Of a sheet."""
        return self.width * self.height

    @property
    def counts(self) -> list[int]:
        """How many of each kind."""
        return [kind.count for kind in self.kinds]

    @property
    def sizes(self) -> frozenset[int]:
        """The widths and heights of all pieces."""
        return frozenset(side for kind in self.kinds for way in kind.ways for side in (way.width, way.height))

    def of(self, counts: Sequence[int]) -> Job:
        """The same kinds, as many as that."""
        return replace(self, kinds=tuple(replace(kind, count=count) for kind, count in zip(self.kinds, counts, strict=True)))

    @property
    def turned(self) -> Job:
        """The sheet and all pieces turned by a quarter."""
        kinds = (replace(kind, ways=tuple(Way(*way[::2], way.width) for way in kind.ways)) for kind in self.kinds)
        return replace(self, kinds=tuple(kinds), width=self.height, height=self.width)


def units(length: float) -> int:
    """A length in mm as whole units."""
    return round(length * PER_MM)


def job(wants: Sequence[Want], sheet: Size, blade: float, usable: float) -> Job:
    """The task of cutting pieces out of sheets.

    Raises:
        ValueError: a want goes on the sheet in none of the ways it may lie.
    """
    wide, high = (units(side) + units(blade) + FORGIVEN for side in sheet)
    found: dict[frozenset[tuple[int, int]], list[int]] = {}
    ways: dict[frozenset[tuple[int, int]], tuple[Way, ...]] = {}
    for number, want in enumerate(wants):
        able = tuple(way for way in _ways(want, units(blade)) if way.width <= wide and way.height <= high)
        if want.count and not able:
            raise ValueError(f"{want.size} goes on no sheet of {sheet}")
        key = frozenset((way.width, way.height) for way in able)
        if want.count:
            ways.setdefault(key, able)
            found.setdefault(key, []).append(number)
    kinds = (
        Kind(ways[key], sum(wants[n].count for n in numbers), tuple((n, wants[n].count) for n in numbers))
        for key, numbers in found.items()
    )
    return Job(tuple(kinds), wide, high, units(blade), units(usable))


def _ways(want: Want, blade: int) -> Iterable[Way]:
    width, height = (units(side) + blade for side in want.size)
    if want.upright:
        yield Way(False, width, height)
    if want.turned and not (want.upright and width == height):
        yield Way(True, height, width)


def turned(layout: Iterable[Laid]) -> Layout:
    """A layout turned by a quarter, and over: columns become rows."""
    return tuple(Laid(one.kind, one.bottom, one.left, one.height, one.width) for one in layout)


def used(layout: Iterable[Laid], kinds: int) -> list[int]:
    """How many of each kind lie on a sheet."""
    counts = [0] * kinds
    for one in layout:
        counts[one.kind] += 1
    return counts


def sheets(plan: Plan) -> int:
    """How many sheets a plan takes."""
    return sum(times for _, times in plan)


def grouped(layouts: Iterable[Layout]) -> Plan:
    """Like layouts as one, with how many there are."""
    found: dict[Layout, int] = {}
    for layout in layouts:
        key = tuple(sorted(layout))
        found[key] = found.get(key, 0) + 1
    return list(found.items())


def without(job: Job, plan: Plan) -> Job:
    """What is left of a job when a plan has been cut."""
    left = job.counts
    for layout, times in plan:
        left = [have - count * times for have, count in zip(left, used(layout, len(left)), strict=True)]
    return job.of(left)


def pruned(job: Job) -> tuple[Job, list[int]]:
    """The job without the kinds of which none is left, and the numbers of those that stay."""
    numbers = [number for number, kind in enumerate(job.kinds) if kind.count]
    return replace(job, kinds=tuple(job.kinds[number] for number in numbers)), numbers


def renumbered(plan: Plan, numbers: Sequence[int]) -> Plan:
    """A plan for a pruned job as one for the whole."""
    return [(tuple(one._replace(kind=numbers[one.kind]) for one in layout), times) for layout, times in plan]
