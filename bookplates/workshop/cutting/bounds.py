"""The fewest sheets that could ever be enough, whatever the cuts.

Stretch the sides of pieces so that what lay side by side within a sheet still does: a side of more than half the sheet
may count as the whole of it, one that goes three times into it as a third. What the stretched pieces need by area is
then needed by the pieces as well (Fekete and Schepers, "dual feasible functions").
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bookplates.workshop.cutting.job import Job

Stretch = Callable[[int, int], tuple[int, int]]
"""A side and the sheet's side to the stretched side, as a fraction of the sheet's: over, under."""

MOST_KINDS = 80
"""With more kinds the large-side stretches are made for evenly chosen kinds only."""


def fewest(job: Job) -> int:
    """A lower bound on the sheets."""
    across = list(_stretches([way.width for kind in job.kinds for way in kind.ways], job.width))
    along = list(_stretches([way.height for kind in job.kinds for way in kind.ways], job.height))
    wide, high = ([_of_kinds(job, stretch, upright) for stretch in some] for some, upright in ((across, True), (along, False)))
    return max((_need(job, one, other) for one in wide for other in high), default=0)


def by_area(job: Job) -> int:
    """How many sheets the area alone asks for."""
    return -(-sum(kind.area * kind.count for kind in job.kinds) // job.area) if job.kinds else 0


def _of_kinds(job: Job, stretch: Stretch, upright: bool) -> list[list[float]]:
    sides = ([way.width if upright else way.height for way in kind.ways] for kind in job.kinds)
    whole = job.width if upright else job.height
    return [[over / under for over, under in (stretch(side, whole) for side in own)] for own in sides]


def _need(job: Job, wide: list[list[float]], high: list[list[float]]) -> int:
    total = 0.0
    for kind, widths, heights in zip(job.kinds, wide, high, strict=True):
        total += kind.count * min(width * height for width, height in zip(widths, heights, strict=True))
    return -int(-(total - 1e-9) // 1) if total > 1e-9 else 0


def _stretches(sides: list[int], whole: int) -> Iterator[Stretch]:
    yield lambda side, whole: (side, whole)
    for times in (1, 2, 3, 4):
        yield _in_parts(times)
    small = sorted({least for side in sides for least in (side, whole - side + 1) if 0 < 2 * least <= whole})
    for least in small[:: max(1, len(small) // (MOST_KINDS // 8))]:
        yield _all_or_nothing(least)


def _in_parts(times: int) -> Stretch:
    """A side that goes so often, and not once more, into the sheet's counts as that part of it."""

    def stretched(side: int, whole: int) -> tuple[int, int]:
        return (side, whole) if side * (times + 1) % whole == 0 else (side * (times + 1) // whole, times)

    return stretched


def _all_or_nothing(least: int) -> Stretch:
    """Sides that leave less than `least` count as the whole, and those shorter than it as nothing."""

    def stretched(side: int, whole: int) -> tuple[int, int]:
        return (1, 1) if side > whole - least else (0, 1) if side < least else (side, whole)

    return stretched
