"""Plans for a job, by several ways of looking for one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bookplates.workshop.cutting.alike import divided, grids, strips
from bookplates.workshop.cutting.bounds import fewest
from bookplates.workshop.cutting.corners import laid_out, runs
from bookplates.workshop.cutting.job import Job, Layout, Plan, grouped, pruned, renumbered, sheets, without
from bookplates.workshop.cutting.shelves import planned, planned_turned
from bookplates.workshop.cutting.trees import MANNERS, Cutter

MOST_SINGLY = 150
"""So many pieces are laid one by one; of more, most are cut by layouts repeated."""

STRIP_WORK = 150_000
"""Fillings of strips that one manner of making strips may look at before it begins no new round."""

MOST_KINDS = 300
"""With more kinds strips are made in half as many manners."""

ROUNDS = 6
"""Of each manner of making strips."""

CORNER_WORK = 1_500_000
"""How much is done by corners: pieces times the free parts that each is held against."""

TIDY_WORK = 100_000
"""The same, where there is only a better offcut to be had."""


def alike(job: Job) -> Iterator[Plan]:
    """Plans for pieces that are all alike: few stops first, then more on a sheet where that saves one."""
    kind = job.kinds[0]
    simple = [*grids(kind, 0, job.width, job.height), *strips(kind, 0, job.width, job.height)]
    best = max(len(layout) for layout in simple)
    enough = -(-kind.count // (job.area // kind.area))
    if -(-kind.count // best) > enough:
        for layout, certain in divided(kind, 0, job.width, job.height):
            simple += [layout] if len(layout) > best else []
            if certain or -(-kind.count // max(best, len(layout))) == enough:
                break
    least = min(-(-kind.count // len(layout)) for layout in simple if layout)
    able = [layout for layout in simple if layout and -(-kind.count // len(layout)) == least]
    for layout in able:
        yield from _ended(layout, kind.count, simple)


def _ended(layout: Layout, count: int, layouts: Sequence[Layout]) -> Iterator[Plan]:
    """Sheets laid out alike, and the last one, which may hold fewer: every layout that holds enough is tried for it."""
    times, rest = divmod(count, len(layout))
    if not rest:
        yield [(layout, times)]
        return
    for last in dict.fromkeys(layouts):
        if len(last) >= rest:
            for part in _parts(last, rest):
                yield ([(layout, times)] if times else []) + [(part, 1)]


def _parts(layout: Layout, count: int) -> Iterator[Layout]:
    """So many pieces of a layout: by rows, or by columns."""
    yield tuple(sorted(layout, key=lambda one: (one.bottom, one.left))[:count])
    yield tuple(sorted(layout, key=lambda one: (one.left, one.bottom))[:count])


def plans(job: Job) -> Iterator[Plan]:
    """Plans for a job, those with few stops first."""
    if len(job.kinds) == 1:
        yield from alike(job)
        return
    least = fewest(job)
    best: Plan = []
    for plan in by_strips(job, least):
        best = plan if not best or sheets(plan) < sheets(best) else best
        yield plan
    for plan in completed(job, kind_by_kind(job)):
        best = plan if sheets(plan) < sheets(best) else best
        yield plan
    if sum(job.counts) > MOST_SINGLY:
        yield from completed(job, bulk(job, best)) if sheets(best) > least else ()
        return
    for plan in by_corners(job, sheets(best) - 1, least):
        best = plan
        yield plan
    yield from as_good_by_corners(job, sheets(best))


def completed(job: Job, begun: Plan) -> Iterator[Plan]:
    """A plan that is begun, with what is left cut in every way; none where nothing is begun."""
    rest, numbers = pruned(without(job, begun))
    if begun and not rest.kinds:
        yield begun
    elif begun:
        for plan in plans(rest):
            yield begun + renumbered(plan, numbers)


def by_strips(job: Job, least: int) -> Iterator[Plan]:
    """Plans of strips, lying and upright; of each manner fewer rounds once no fewer sheets can be enough."""
    for last_first in (False, True) if len(job.kinds) <= MOST_KINDS else (False,):
        for manner in (planned, planned_turned):
            for number, plan in enumerate(manner(job, last_first=last_first, rounds=ROUNDS, work=STRIP_WORK), 1):
                yield plan
                if sheets(plan) == least and number >= ROUNDS // 3:
                    break


def by_corners(job: Job, most: int, least: int) -> Iterator[Plan]:
    """Plans by corners, each with fewer sheets than the one before, down to the least that can be enough.

    Args:
        job: what is cut.
        most: sheets that the first may take.
        least: number of sheets to end with.
    """
    cutter = Cutter(job, MANNERS[0])
    for rule, order in runs(job, CORNER_WORK):
        if most < least:
            return
        layouts = laid_out(job, rule, order, most)
        if layouts is not None and (not rule.joined or all(cutter.tree(layout, job.width, job.height) for layout in layouts)):
            yield grouped(layouts)
            most = len(layouts) - 1


def as_good_by_corners(job: Job, count: int) -> Iterator[Plan]:
    """Plans by corners with so many sheets: they may have larger offcuts, or fewer."""
    for rule, order in runs(job, TIDY_WORK):
        layouts = laid_out(job, rule, order, count)
        if layouts is not None:
            yield grouped(layouts)


def kind_by_kind(job: Job) -> Plan:
    """Each kind on its own sheets, as far as it fills them; what is then left is left."""
    plan: Plan = []
    for number, kind in enumerate(job.kinds):
        layouts = [*grids(kind, number, job.width, job.height), *strips(kind, number, job.width, job.height)]
        layout = max(layouts, key=len)
        if kind.count >= len(layout):
            plan.append((layout, kind.count // len(layout)))
    return plan


def bulk(job: Job, plan: Plan) -> Plan:
    """The best filled sheets of a plan, so many that few enough pieces are left to be laid singly."""

    def filled(layout: Layout) -> int:
        return sum(one.width * one.height for one in layout)

    left = sum(job.counts)
    kept: Plan = []
    for layout, times in sorted(plan, key=lambda pair: -filled(pair[0])):
        taken = min(times, max(0, -(-(left - MOST_SINGLY) // len(layout))))
        kept += [(layout, taken)] if taken else []
        left -= taken * len(layout)
    return kept
