"""Search on a scale of whole steps for the last one that works."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

Answer = Literal["works", "too large", "none"]
"""Of a step: it works, asks for more than there is, or gives no book at all."""


def last_that_works(least: int, most: int, ask: Callable[[int], Answer], begin: int | None = None) -> int | None:
    """The largest step from `least` to `most` that works, by bisection; the one above it was asked, and fails.

    `ask` says what a step gives; what works does so from some step to some other, without a gap. `begin` is a step of which
    a book is known to be, the last where none is given: what gives no book is taken for too small below it, and for too
    large above it.

    >>> last_that_works(1, 100, lambda step: "works" if 5 <= step <= 42 else "none", 20)
    42
    """
    begin = most if begin is None else min(max(begin, least), most)
    low, high = least - 1, most + 1  # nothing is known of what lies between
    at, found = begin, None
    while high - low > 1:
        answer = ask(at)
        if answer == "works":
            found = low = at
        elif answer == "too large" or at > begin:
            high = at
        else:
            low = at
        at = (low + high) // 2
    return found
