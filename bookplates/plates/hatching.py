"""Light slanting lines that mark what is waste. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from bookplates.geometry import Box
from bookplates.plates.drawing import Stroke

APART = 3.5
"""Distance of the lines that mark an offcut, mm."""
SHORTEST = 0.3
"""A shorter line is left out, mm."""


def hatching(box: Box, words: Sequence[Box]) -> Iterator[Stroke]:
    """Light lines at 45 degrees through a box that leave words free."""
    wide, high = box.size
    along = APART
    while along < wide + high:
        begins, ends = max(0.0, along - high), min(along, wide)
        for start, end in _outside([(begins, ends)], [_under(along, box, word) for word in words]):
            yield Stroke(((box.left + start, box.bottom + along - start), (box.left + end, box.bottom + along - end)), "light")
        along += APART


def _under(along: float, box: Box, word: Box) -> tuple[float, float]:
    """From where to where, left to right, the line x + y = along of a box lies over a word."""
    left, bottom = word.left - box.left, word.bottom - box.bottom
    right, top = word.right - box.left, word.top - box.bottom
    return max(left, along - top), min(right, along - bottom)


def _outside(spans: list[tuple[float, float]], covers: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """What is left of spans between covers."""
    for low, high in covers:
        if high > low:
            spans = [part for a, b in spans for part in ((a, min(b, low)), (max(a, high), b)) if part[1] - part[0] > SHORTEST]
    return [(a, b) for a, b in spans if b - a > SHORTEST]
