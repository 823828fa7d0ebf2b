"""Lengths off a roll: tape and thread. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import gcd
from typing import NamedTuple

CUT_ALLOWANCE = 5.0
"""What each cut off a roll of tape or thread takes, ends that are cut true included, mm: common practice, no source."""

PER_MM = 10**6
"""Units in a mm: lengths are compared in whole units."""

FORGIVEN = 100
"""How much a roll is taken to be longer, so that the last bit of the arithmetic keeps nothing off it: units, 1e-4 mm."""

FINEST = 20_000
"""Where lengths have no common measure, fillings of a roll are looked for with lengths rounded up to so many parts of it."""


@dataclass(frozen=True, slots=True)
class CutRoll:
    """A way to cut a roll, and how many rolls are cut so.

    Attributes:
        counts: how many of each want come off it.
        left: what is left on the roll when every cut has taken its allowance, mm.
        times: how many rolls.
    """

    counts: tuple[int, ...]
    left: float
    times: int


def cut_rolls(wants: Sequence[tuple[float, int]], roll: float, cut: float = CUT_ALLOWANCE) -> tuple[CutRoll, ...]:
    """Lengths off as few like rolls as can be found: the longest first, or each roll filled as far as it can be.

    Args:
        wants: lengths with how many of each, none longer than the roll.
        roll: length of a roll.
        cut: what each length takes beside its own; none is needed beyond the end of the roll.

    Raises:
        ValueError: a length is longer than the roll.

    >>> [(cut.counts, cut.times) for cut in cut_rolls([(600, 2), (395, 2)], 1000)]
    [((1, 1), 2)]
    """
    lengths = [max(1, round((length + cut) * PER_MM)) for length, _ in wants]
    room = round((roll + cut) * PER_MM) + FORGIVEN
    counts = [count for _, count in wants]
    if any(count and length > room for length, count in zip(lengths, counts, strict=True)):
        raise ValueError(f"a roll of {roll} mm is too short for {max(wants)[0]} mm")
    plans = [_longest_first(lengths, counts, room)]
    if sum(times for _, times in plans[0]) > _least(lengths, counts, room):
        plans.append(list(_fullest(lengths, counts, room)))
    best = min(plans, key=lambda plan: sum(times for _, times in plan))
    return tuple(CutRoll(tuple(on_it), _left(wants, on_it, roll, cut), times) for on_it, times in best)


def off_roll(length: float, roll: float, most: int | None = None) -> CutRoll:
    """So many of a length off one roll, or as many as it gives.

    >>> off_roll(308.8, 5000)
    CutRoll(counts=(15,), left=293.0, times=1)
    """
    room = round((roll + CUT_ALLOWANCE) * PER_MM) + FORGIVEN
    count = min(filter(None, (most, room // round((length + CUT_ALLOWANCE) * PER_MM))), default=0)
    return CutRoll((count,), _left([(length, count)], (count,), roll, CUT_ALLOWANCE), 1)


def _left(wants: Sequence[tuple[float, int]], counts: Sequence[int], roll: float, cut: float) -> float:
    taken = sum((length + cut) * count for (length, _), count in zip(wants, counts, strict=True))
    return round(max(roll - taken, 0.0), 6)


def _least(lengths: Sequence[int], counts: Sequence[int], room: int) -> int:
    """Rolls that must be cut: by what is needed in all, and as no two lengths over half a roll come off one."""
    whole = sum(length * count for length, count in zip(lengths, counts, strict=True))
    return max(-(-whole // room), sum(count for length, count in zip(lengths, counts, strict=True) if 2 * length > room))


Rolls = list[tuple[list[int], int]]
"""How many of each length come off a roll, with how many rolls are alike."""


class _Begun(NamedTuple):
    """Rolls that are begun alike: what is left on one, how many of which length come off it, and how many there are."""

    free: int
    taken: tuple[tuple[int, int], ...]
    times: int


def _longest_first(lengths: Sequence[int], counts: Sequence[int], room: int) -> Rolls:
    """Each length off the first roll that has room for it; rolls that are alike are filled together."""
    rolls: list[_Begun] = []
    for number in sorted(range(len(lengths)), key=lambda number: -lengths[number]):
        left = counts[number]
        before, rolls = rolls, []
        for roll in before:
            if not left or roll.free < lengths[number]:
                rolls.append(roll)
            else:
                rolls += _filled(roll, number, lengths[number], left)
                left -= min(left, roll.free // lengths[number] * roll.times)
        if left:
            per_roll = room // lengths[number]
            rolls += _filled(_Begun(room, (), -(-left // per_roll)), number, lengths[number], left)
    return [([dict(roll.taken).get(number, 0) for number in range(len(lengths))], roll.times) for roll in rolls]


def _filled(roll: _Begun, number: int, length: int, left: int) -> Iterator[_Begun]:
    """Like rolls with as many of a length on each as there is room for, one roll with the remainder, and those as before."""
    most = roll.free // length
    full = min(roll.times, left // most)
    part = left - full * most if full < roll.times else 0
    for more, times in ((most, full), (part, 1 if part else 0), (0, roll.times - full - (1 if part else 0))):
        if times:
            yield _Begun(roll.free - more * length, (*roll.taken, (number, more)) if more else roll.taken, times)


def _fullest(lengths: Sequence[int], counts: Sequence[int], room: int) -> Iterator[tuple[list[int], int]]:
    """Roll by roll: the longest that is left, and of the others what fills the roll best; repeated as often as there is of it."""
    left = list(counts)
    scale = gcd(*(length for length, count in zip(lengths, counts, strict=True) if count))
    if room // scale > FINEST:
        scale = -(-room // FINEST)
    short = [-(-length // scale) for length in lengths]
    order = sorted(range(len(lengths)), key=lambda number: -lengths[number])
    while longest := [number for number in order if left[number]]:
        on_it = [0] * len(lengths)
        on_it[longest[0]] = 1
        available = [left[number] - on_it[number] for number in range(len(lengths))]
        free = max(0, (room - lengths[longest[0]]) // scale)
        for number, count in _filling(short, available, longest, free):
            on_it[number] += count
        times = min(left[number] // count for number, count in enumerate(on_it) if count)
        left = [have - count * times for have, count in zip(left, on_it, strict=True)]
        yield on_it, times


def _filling(short: Sequence[int], available: Sequence[int], order: Sequence[int], free: int) -> Iterator[tuple[int, int]]:
    """What fills a length best: bit n of `reached` says whether lengths of n together can be had."""
    reached = [(0, 0, 1)]
    for number in order:
        count, lot = min(available[number], free // short[number]), 1
        while count:  # 1, 2, 4 ... together make every number up to the count
            lot = min(lot, count)
            sums = reached[-1][2]
            reached.append((number, lot, (sums | sums << lot * short[number]) & ((1 << free + 1) - 1)))
            count, lot = count - lot, 2 * lot
    total = reached[-1][2].bit_length() - 1
    for at in range(len(reached) - 1, 0, -1):
        number, lot, _ = reached[at]
        if not reached[at - 1][2] >> total & 1:
            total -= lot * short[number]
            yield number, lot
