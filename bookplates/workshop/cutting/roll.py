"""Lengths off a roll: tape and thread. Lengths in mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from bookplates.lengths import fits


@dataclass(frozen=True, slots=True)
class CutRoll:
    """A way to cut a roll, and how many rolls are cut so.

    Attributes:
        counts: how many of each want come off it.
        left: what is left on the roll, mm.
        times: how many rolls.
    """

    counts: tuple[int, ...]
    left: float
    times: int


def cut_rolls(wants: Sequence[tuple[float, int]], roll: float) -> tuple[CutRoll, ...]:
    """Lengths off as few like rolls as can be found, the longest first, each from the fullest roll that has room for it.

    Args:
        wants: lengths with how many of each, none longer than the roll.
        roll: length of a roll.
    """
    rolls: list[list[int]] = []
    room: list[float] = []
    for number in sorted(range(len(wants)), key=lambda number: -wants[number][0]):
        length, count = wants[number]
        for _ in range(count):
            roomy = [at for at, left in enumerate(room) if fits(length, left)]
            at = min(roomy, key=lambda at: room[at], default=len(rolls))
            if at == len(rolls):
                rolls.append([0] * len(wants))
                room.append(roll)
            rolls[at][number] += 1
            room[at] -= length
    alike = Counter((tuple(counts), round(max(left, 0.0), 6)) for counts, left in zip(rolls, room, strict=True))
    return tuple(CutRoll(counts, left, times) for (counts, left), times in alike.items())
