"""What is still free on a page that several plates share. Lengths in mm.

A page is kept as the largest upright rectangles that are free on it, which may overlap. What is laid down
takes the highest of them that will do, leftmost of those, or else the one that it fills best, and is cut out of all.
The gap between neighbours is had by giving everything, the room too, that much more at its right and foot.
"""

from __future__ import annotations

from collections.abc import Iterable

from bookplates.geometry import Box, Size

HAIR = 1e-6
"""Strips of free room narrower than this are rounding, not room."""


class FreeRoom:
    """The free part of one page, which shrinks as plates are laid on it."""

    def __init__(self, room: Box, gap: float, *, tight: bool = False) -> None:
        """Begin with the whole room free, to keep `gap` mm between whatever is laid on it.

        With `tight` each takes the rectangle that leaves the narrowest strip beside it, not the highest.
        """
        self._gap, self._tight = gap, tight
        self._free = [Box(room.left, room.bottom - gap, room.right + gap, room.top)]

    def copy(self) -> FreeRoom:
        """The same page, to try on what may not come to stay."""
        other = FreeRoom.__new__(FreeRoom)
        other._gap, other._tight, other._free = self._gap, self._tight, self._free  # noqa: SLF001  # its own kind; the list is never changed in place
        return other

    def take(self, size: Size) -> Box | None:
        """Lay a rectangle of this size down and return where it lies, or None where none goes."""
        spread = Size(size.width + self._gap, size.height + self._gap)
        going = [box for box in self._free if spread.goes_into(box.size)]
        if not going:
            return None
        best = min(going, key=lambda box: (_strip(box, spread) if self._tight else 0.0, -box.top, box.left, box))
        taken = Box(best.left, best.top - spread.height, best.left + spread.width, best.top)
        self._free = _largest(piece for box in self._free for piece in _without(box, taken))
        return Box(taken.left, taken.top - size.height, taken.left + size.width, taken.top)


def _strip(box: Box, size: Size) -> float:
    """The narrower of the two strips that are left."""
    return min(box.size.width - size.width, box.size.height - size.height)


def _without(box: Box, taken: Box) -> Iterable[Box]:
    """The largest rectangles of a box that keep clear of what is taken."""
    if not _meet(box, taken):
        return [box]
    pieces = (
        box._replace(right=taken.left),
        box._replace(left=taken.right),
        box._replace(top=taken.bottom),
        box._replace(bottom=taken.top),
    )
    return [piece for piece in pieces if min(piece.size) > HAIR]


def _meet(one: Box, other: Box) -> bool:
    across = min(one.right, other.right) - max(one.left, other.left)
    along = min(one.top, other.top) - max(one.bottom, other.bottom)
    return across > HAIR and along > HAIR


def _largest(boxes: Iterable[Box]) -> list[Box]:
    """Without doubles, and without those that lie in another."""
    distinct = list(dict.fromkeys(boxes))
    return [box for box in distinct if not any(box != other and _inside(box, other) for other in distinct)]


def _inside(box: Box, other: Box) -> bool:
    return box.left >= other.left and box.bottom >= other.bottom and box.right <= other.right and box.top <= other.top
