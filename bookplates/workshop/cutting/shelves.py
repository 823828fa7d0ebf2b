"""Sheets cut into strips, and strips into pieces: what a shear does best, with few settings of the stop.

A strip is as high as its highest piece, and is filled to be worth the most; a piece's worth is its area at first, and
grows where it ended up on a badly filled sheet, so that the next round takes better care of it ("sequential value
correction"). What is then still free, above lower pieces and at the ends, is filled by corners.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from bookplates.workshop.cutting.corners import CUTTINGS, FITS, Rule, Sheet, fill
from bookplates.workshop.cutting.job import Job, Laid, Layout, Plan, turned, used

FINEST = 96
"""Of the widths to which a strip can be filled, so many are told apart at most."""

FEW = 16
"""With so few ways to lie, pieces are also put one above the other in a strip."""

MOST_COLUMNS = 80
"""So many ways to lie are looked at for a strip."""

FILLING = Rule(FITS[0], CUTTINGS[0], joined=False, search="piece")


class Filled(NamedTuple):
    """Pieces side by side: how wide together, what they are worth, the last of them, and those before it."""

    width: int
    worth: float
    kind: int
    way: int
    stacked: int
    before: Filled | None


EMPTY = Filled(0, 0.0, -1, 0, 0, None)


@dataclass(frozen=True, slots=True)
class Column:
    """Pieces of a kind one above the other, as many as a strip is high for."""

    height: int
    width: int
    kind: int
    way: int


class Shelves:
    """Fills sheets with strips.

    Attributes:
        work: how much was done: fillings looked at.
    """

    def __init__(self, job: Job, *, last_first: bool) -> None:
        self.job, self.last_first, self.work = job, last_first, 0
        self.columns = sorted(
            (
                Column(way.height, way.width, number, at)
                for number, kind in enumerate(job.kinds)
                for at, way in enumerate(kind.ways)
            ),
            key=lambda column: (column.height, column.width, column.kind),
        )

    def sheet(self, left: Sequence[int], worth: Sequence[float]) -> Layout:
        """The most worth that was found for a sheet of what is left."""
        remaining = list(left)
        laid: list[Laid] = []
        sheet = Sheet(FILLING, [])
        bottom = 0
        while strip := self._strip(remaining, worth, self.job.height - bottom):
            height, pieces = strip
            laid += self._lay(pieces, remaining, bottom, height, sheet)
            bottom += height
        if bottom < self.job.height:
            sheet.rooms.append((0, bottom, self.job.width, self.job.height - bottom))
        waiting = [number for number, count in enumerate(remaining) if count]
        fill(sheet, self.job, remaining, waiting[:: -(-len(waiting) // MOST_COLUMNS) or 1])
        return tuple(laid) + tuple(sheet.laid)

    def _strip(self, left: Sequence[int], worth: Sequence[float], room: int) -> tuple[int, Filled] | None:
        """A strip's height and what is in it: the one worth the most for its height."""
        found = list(self._strips(left, worth, room))
        if not found:
            return None
        if self.last_first:
            return self._of_the_best_set(found, room)
        return max(found, key=lambda strip: (strip[1].worth / strip[0], strip[0]))

    def _of_the_best_set(self, found: list[tuple[int, Filled]], room: int) -> tuple[int, Filled]:
        """Of the strips that fill the room's height best together, the highest."""
        best: dict[int, tuple[int, float, int]] = {0: (0, 0.0, -1)}
        for number, (height, strip) in enumerate(found):
            for taken, worth, _ in list(best.values()):
                for times in range(1, (room - taken) // height + 1)[:2]:
                    new = taken + times * height, worth + times * strip.worth, number
                    mark = new[0] * FINEST // room
                    if mark not in best or (best[mark][1], -best[mark][0]) < (new[1], -new[0]):
                        best[mark] = new
            self.work += len(best)
        number = max(best.values(), key=lambda one: one[1])[2]
        return found[number]

    def _strips(self, left: Sequence[int], worth: Sequence[float], room: int) -> Iterator[tuple[int, Filled]]:
        """For each height of a piece the best filling by pieces that are no higher."""
        states = {0: EMPTY}
        columns = self._looked_at([column for column in self.columns if left[column.kind] and column.height <= room])
        few = len(columns) <= FEW
        for at, column in enumerate(columns):
            if not few:
                self._add(states, column, 1, left, worth)
            if at + 1 < len(columns) and columns[at + 1].height == column.height:
                continue
            if few:
                states = {0: EMPTY}
                for one in columns[: at + 1]:
                    self._add(states, one, min(column.height // one.height, left[one.kind]), left, worth)
            yield column.height, max(states.values(), key=lambda state: (state.worth, -state.width))

    def _looked_at(self, columns: list[Column]) -> list[Column]:
        """Of very many columns the highest, which a strip is made for, and some of all others."""
        if len(columns) <= MOST_COLUMNS:
            return columns
        half = MOST_COLUMNS // 2
        lower = columns[:-half]
        return lower[:: -(-len(lower) // half)] + columns[-half:]

    def _add(self, states: dict[int, Filled], column: Column, stacked: int, left: Sequence[int], worth: Sequence[float]) -> None:
        """The fillings with as many columns of a kind as there are pieces for, none and all between.

        Of fillings about as wide the one worth most is kept.
        """
        room, value = self.job.width, worth[column.kind] * stacked
        newest = list(states.values())
        for _ in range(min(-(-left[column.kind] // stacked), room // column.width)):
            before, newest = newest, []
            for state in before:
                wide, worthy = state.width + column.width, state.worth + value
                old = states.get(wide * FINEST // room)
                if wide <= room and (old is None or worthy > old.worth or (worthy == old.worth and wide < old.width)):
                    new = Filled(wide, worthy, column.kind, column.way, stacked, state)
                    states[wide * FINEST // room] = new
                    newest.append(new)
            self.work += len(before)

    def _lay(self, pieces: Filled, left: list[int], bottom: int, height: int, sheet: Sheet) -> Iterator[Laid]:
        """Lay a strip's pieces, as many as are left of each, highest first; what is free goes to the sheet's rooms."""
        columns = []
        state: Filled | None = pieces
        while state is not None and state.before is not None:
            way = self.job.kinds[state.kind].ways[state.way]
            columns.append((-way.height, -way.width, state.kind, state.way, state.stacked))
            state = state.before
        x = 0
        for _, _, kind, at, stacked in sorted(columns):
            way = self.job.kinds[kind].ways[at]
            count = min(stacked, left[kind])
            left[kind] -= count
            for row in range(count):
                yield Laid(kind, x, bottom + row * way.height, way.width, way.height)
            if count and height > count * way.height:
                sheet.rooms.append((x, bottom + count * way.height, way.width, height - count * way.height))
            x += way.width if count else 0
        if x < self.job.width:
            sheet.rooms.append((x, bottom, self.job.width - x, height))


def planned(job: Job, *, last_first: bool, rounds: int, work: int) -> Iterator[Plan]:
    """Plans of strips, one a round, each with the worths that the one before has taught.

    Args:
        job: what is cut.
        last_first: whether strips are chosen as a set that fills the sheet's height, or one by one.
        rounds: how many plans at most.
        work: after so much work no new round is begun.
    """
    shelves = Shelves(job, last_first=last_first)
    worth = [float(kind.area) for kind in job.kinds]
    for _ in range(rounds):
        plan = _one_plan(shelves, worth)
        yield plan
        if shelves.work > work:
            return
        worth = _corrected(job, plan, worth)


def planned_turned(job: Job, *, last_first: bool, rounds: int, work: int) -> Iterator[Plan]:
    """The same with strips that stand upright."""
    for plan in planned(job.turned, last_first=last_first, rounds=rounds, work=work):
        yield [(turned(layout), times) for layout, times in plan]


def _one_plan(shelves: Shelves, worth: Sequence[float]) -> Plan:
    left = shelves.job.counts
    plan: Plan = []
    while any(left):
        layout = shelves.sheet(left, worth)
        counts = used(layout, len(left))
        times = min(have // count for have, count in zip(left, counts, strict=True) if count)
        left = [have - count * times for have, count in zip(left, counts, strict=True)]
        plan.append((layout, times))
    return plan


def _corrected(job: Job, plan: Plan, worth: Sequence[float]) -> list[float]:
    """What a piece is worth: half of what it was, half its area over how well the sheets it lay on were filled."""
    new = [0.0] * len(worth)
    for layout, times in plan:
        counts = used(layout, len(worth))
        filled = sum(count * kind.area for count, kind in zip(counts, job.kinds, strict=True))
        for number, count in enumerate(counts):
            new[number] += count * times * job.kinds[number].area * (job.area / filled)
    return [(old + total / kind.count) / 2 for old, total, kind in zip(worth, new, job.kinds, strict=True)]
