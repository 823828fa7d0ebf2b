"""What lies near a place on a drawing, found without looking at all of it. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.geometry import Box, around

SIDE, MOST = 20.0, 64
"""Of the squares that things are sorted by, mm; and how many of them a thing covers that is held to be near everywhere."""


class There:
    """What lies where, by squares: of the thousands of holes of a large cover nearly all are far off."""

    def __init__(self) -> None:
        self._squares: dict[tuple[int, int], list[int]] = {}
        self._large: list[int] = []
        self._box: Box | None = None

    @property
    def box(self) -> Box:
        """What all of it covers. Raises ValueError where nothing lies."""
        if self._box is None:
            raise ValueError("there is nothing")
        return self._box

    def add(self, number: int, box: Box) -> None:
        """Something that covers the box lies there from now on, called by its number."""
        self._box = around((self._box, box)) if self._box else box
        squares = _squares(box)
        if len(squares) > MOST:
            self._large.append(number)
        else:
            for square in squares:
                self._squares.setdefault(square, []).append(number)

    def near(self, box: Box) -> Iterator[int]:
        """The numbers of what may meet the box, some of them more than once."""
        yield from self._large
        for square in _squares(box):
            yield from self._squares.get(square, ())


def _squares(box: Box) -> list[tuple[int, int]]:
    columns = range(int(box.left // SIDE), int(box.right // SIDE) + 1)
    rows = range(int(box.bottom // SIDE), int(box.top // SIDE) + 1)
    return [(column, row) for column in columns for row in rows]
