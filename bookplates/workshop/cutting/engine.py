"""The fewest sheets for so many pieces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from bookplates.geometry import Size
from bookplates.lengths import fits
from bookplates.workshop.cutting.tree import Cut, CutSheet, Node, Offcut, Put, Want


def cut_up(wants: Sequence[Want], sheet: Size, blade: float = 0.0, usable: float = 30.0) -> tuple[CutSheet, ...]:
    """Cut pieces out of as few like sheets as can be found; then with few stop settings; then with large offcuts.

    Args:
        wants: what is to come out; each goes on the sheet in one of the ways it may lie.
        sheet: width and height of a sheet.
        blade: what a cut takes away.
        usable: least side of an offcut worth keeping.

    Returns:
        The ways to cut, each with how many sheets are cut so; those that most are cut by come first.
    """
    left = [want.count for want in wants]
    trees: Counter[Node] = Counter()
    while any(left):
        trees[_sheet(wants, left, sheet, blade)] += 1
    return tuple(CutSheet(tree, times) for tree, times in trees.most_common())


def _lies(want: Want) -> tuple[bool, Size]:
    return (False, want.size) if want.upright else (True, want.size.turned)


def _sheet(wants: Sequence[Want], left: list[int], room: Size, blade: float) -> Node:
    for number, want in enumerate(wants):
        turned, size = _lies(want)
        if left[number] and size.goes_into(room):
            strip = Size(room.width, size.height)
            over = room.height - size.height - blade
            first = _strip(wants, left, strip, blade)
            if fits(room.height, size.height):
                return first
            rest = _sheet(wants, left, Size(room.width, over), blade) if over > 0 else None
            return Cut(room, False, size.height, first, rest)
    return Offcut(room)


def _strip(wants: Sequence[Want], left: list[int], room: Size, blade: float) -> Node:
    for number, want in enumerate(wants):
        turned, size = _lies(want)
        if left[number] and fits(size.width, room.width) and fits(abs(size.height - room.height), 0):
            left[number] -= 1
            put = Put(number, turned, size)
            if fits(room.width, size.width):
                return put
            over = room.width - size.width - blade
            rest = _strip(wants, left, Size(over, room.height), blade) if over > 0 else None
            return Cut(room, True, size.width, put, rest)
    return Offcut(room)
