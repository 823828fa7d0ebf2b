"""From a layout to the cuts that make it: parts side by side, each cut up in turn.

Where a part can be cut both ways, a manner of working decides; every manner is tried, and the one kept that sets the
stop least often and leaves the largest offcut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from bookplates.geometry import Size
from bookplates.lengths import close
from bookplates.workshop.cutting.job import FORGIVEN, PER_MM, SLIVER, Job, Laid, Layout
from bookplates.workshop.cutting.tree import Cut, Node, Offcut, Put, Want


class Split(NamedTuple):
    """A part cut into parts side by side, or one above the other, with what is left beyond the last."""

    upright: bool
    parts: tuple[tuple[int, Inner], ...]
    over: int


class Whole(NamedTuple):
    """A part that is a piece."""

    kind: int
    width: int
    height: int


class Waste(NamedTuple):
    """A part that is left over."""

    width: int
    height: int


Inner = Split | Whole | Waste


class Manner(NamedTuple):
    """How one works: which way one cuts where both are possible, and whether a strip is trimmed before it is divided."""

    first: Literal["rows", "columns", "more"]
    trimmed: bool


STEPS = 50
"""Offcuts count as equally large within so small a part of a sheet: for a few mm more nobody wants more small pieces."""

MANNERS = tuple(Manner(first, trimmed) for trimmed in (False, True) for first in ("rows", "columns", "more"))


class Merit(NamedTuple):
    """What a way to cut is judged by: less is better.

    Attributes:
        stops: different settings, thousandths of a mm.
        kept: minus the area of the largest offcut worth keeping, in `STEPS` of a sheet.
        offcuts: how many.
        largest: minus that area, to the last unit.
    """

    stops: frozenset[int]
    kept: int
    offcuts: int
    largest: int


@dataclass(slots=True)
class Cutter:
    """Finds the cuts for layouts of one job; remembers parts that it has met."""

    job: Job
    manner: Manner
    known: dict[tuple[int, int, Layout], Inner | None] = field(default_factory=dict)
    stops: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        self.stops = frozenset((side - self.job.blade) * 1000 // PER_MM for side in self.job.sizes)

    def tree(self, layout: Layout, width: int, height: int) -> Inner | None:
        """The cuts that make a layout; None where there are none from edge to edge."""
        if not layout:
            return Waste(width, height)
        key = (width, height, layout)
        if key not in self.known:
            self.known[key] = self._found(layout, width, height)
        return self.known[key]

    def _found(self, layout: Layout, width: int, height: int) -> Inner | None:
        columns, rows = _groups(layout, True), _groups(layout, False)
        wide, high = (sum(size for size, _ in groups) for groups in (columns, rows))
        over, above = _left(width, wide), _left(height, high)
        if len(layout) == 1 and not over and not above:
            return Whole(layout[0].kind, width, height)
        if self._upright(columns, rows, (over, above), (width, height)):
            return self._split(True, columns, over, height)
        return self._split(False, rows, above, width) if len(rows) > 1 or above else None

    def _upright(self, columns: Groups, rows: Groups, left: tuple[int, int], room: tuple[int, int]) -> bool:
        """Whether the part is cut upright: where it must be, or where that is the manner."""
        able = (len(columns) > 1 or left[0] > 0, len(rows) > 1 or left[1] > 0)
        if able[0] != able[1]:
            return able[0]
        if len(columns) == 1 and len(rows) == 1:
            return self._larger_upright(room, left)
        for groups, size, answer in ((columns, columns[0][0], True), (rows, rows[0][0], False)):
            if len(groups) == 1:  # only a trim: taken first where it is a stop that serves anyhow, or where that is the manner
                return answer if self.manner.trimmed or size in self.job.sizes else not answer
        if self.manner.trimmed and self.manner.first != "more":
            return self.manner.first == "columns"
        if self.manner.first == "more":
            return len(columns) >= len(rows)
        return self.manner.first == "columns"

    def _larger_upright(self, room: tuple[int, int], left: tuple[int, int]) -> bool:
        """Whether a piece in the corner of a part leaves the larger offcut when it is cut upright first."""
        upright = self._worth(left[0], room[1]), self._worth(room[0] - left[0], left[1])
        across = self._worth(room[0], left[1]), self._worth(left[0], room[1] - left[1])
        return max(upright) > max(across)

    def _worth(self, width: int, height: int) -> tuple[bool, int]:
        return min(width, height) - self.job.blade >= self.job.usable - FORGIVEN, width * height

    def _split(self, upright: bool, groups: Groups, over: int, across: int) -> Inner | None:
        parts: list[tuple[int, Inner]] = []
        for size, layout in _in_order(groups, over):
            inner = self.tree(layout, *((size, across) if upright else (across, size)))
            if inner is None:
                return None
            parts.append((size, inner))
        return Split(upright, tuple(parts), over)


class Frugal(Cutter):
    """Tries both ways at every part: first for the fewest stops that serve no side of a piece, then for the fewest offcuts."""

    def _found(self, layout: Layout, width: int, height: int) -> Inner | None:
        columns, rows = _groups(layout, True), _groups(layout, False)
        over, above = (_left(room, sum(size for size, _ in groups)) for room, groups in ((width, columns), (height, rows)))
        if len(layout) == 1 and (over > 0) == (above > 0):
            return super()._found(layout, width, height)
        found = (
            self._split(True, columns, over, height) if len(columns) > 1 or over else None,
            self._split(False, rows, above, width) if len(rows) > 1 or above else None,
        )
        return min((tree for tree in found if tree is not None), key=lambda tree: self._cost(tree, width, height), default=None)

    def _cost(self, tree: Inner, width: int, height: int) -> tuple[int, int]:
        one = merit(tree, self.job, width, height)
        return len(one.stops - self.stops), one.offcuts


Groups = list[tuple[int, Layout]]
"""Parts side by side: how wide, and what lies in each, from its own corner."""


def _left(room: int, taken: int) -> int:
    """What is left of a room; what a sliver is nothing."""
    return room - taken if room - taken > SLIVER else 0


def _groups(layout: Layout, upright: bool) -> Groups:
    """What can be cut apart, each pushed into the corner of its own part."""
    start, size = (1, 3) if upright else (2, 4)
    found: list[list[Laid]] = []
    end = -1
    for one in sorted(layout, key=lambda one: (one[start], one[3 - start])):
        if one[start] >= end:
            found.append([])
        found[-1].append(one)
        end = max(end, one[start] + one[size])
    return [_cornered(group, start, size) for group in found]


def _cornered(group: list[Laid], start: int, size: int) -> tuple[int, Layout]:
    least = group[0][start]
    extent = max(one[start] + one[size] for one in group) - least
    moved = (one._replace(left=one.left - least) if start == 1 else one._replace(bottom=one.bottom - least) for one in group)
    return extent, tuple(moved)


def _in_order(groups: Groups, over: int) -> Groups:
    """The widest first, equal ones together; where nothing is left beyond the last, that one needs no stop of its own."""
    often: dict[int, int] = {}
    for size, _ in groups:
        often[size] = often.get(size, 0) + 1
    ordered = sorted(groups, key=lambda group: -group[0])
    if not over and len(often) > 1:
        last = min(ordered, key=lambda group: (often[group[0]], group[0]))
        ordered = [group for group in ordered if group is not last] + [last]
    return ordered


def cutters(job: Job) -> list[Cutter]:
    """One for every manner."""
    return [Frugal(job, MANNERS[0]), *(Cutter(job, manner) for manner in MANNERS)]


def merit(tree: Inner, job: Job, width: int, height: int) -> Merit:
    """What the cuts of a part are judged by."""
    stops: set[int] = set()
    offcuts: list[tuple[int, int]] = []
    waiting = [(tree, width, height)]
    while waiting:
        node, wide, high = waiting.pop()
        if isinstance(node, Waste):
            waste = wide - job.blade, high - job.blade
            offcuts += [waste] if min(waste) > SLIVER else []
        elif isinstance(node, Split):
            stopped = node.parts if node.over else node.parts[:-1]
            stops.update((size - job.blade) * 1000 // PER_MM for size, _ in stopped)
            waiting += [(part, *((size, high) if node.upright else (wide, size))) for size, part in node.parts]
            if node.over:
                waiting.append((Waste(0, 0), *((node.over, high) if node.upright else (wide, node.over))))
    least = job.usable - 2 * FORGIVEN
    kept = max((width * height for width, height in offcuts if min(width, height) >= least), default=0)
    return Merit(frozenset(stops), -(kept * STEPS // job.area), len(offcuts), -kept)


def real(tree: Inner, size: Size, blade: float, pieces: Pieces) -> Node:
    """The cuts in mm; pieces are handed out by `pieces`."""
    if isinstance(tree, Waste):
        return Offcut(size)
    if isinstance(tree, Whole):
        return pieces.put(tree)
    rooms = list(_rooms(tree, size))
    node: Node | None = Offcut(rooms[-1]) if tree.over else None
    if node is not None and min(node.size) <= SLIVER / PER_MM:
        node = None
    cut = tree.parts if tree.over else tree.parts[:-1]
    if not tree.over:
        node = real(tree.parts[-1][1], rooms[-1], blade, pieces)
    for (part, inner), room in reversed(list(zip(cut, rooms, strict=False))):
        stop = _mm(part) - blade
        first = Size(stop, room.height) if tree.upright else Size(room.width, stop)
        node = Cut(room, tree.upright, round(stop, 6), real(inner, first, blade, pieces), node)
    assert node is not None, "a split has parts"
    return node


def _rooms(tree: Split, size: Size) -> Iterator[Size]:
    """The part in hand before each cut, and what is left after the last."""
    yield size
    for part, _ in tree.parts if tree.over else tree.parts[:-1]:
        beyond = _mm(part)
        size = Size(size.width - beyond, size.height) if tree.upright else Size(size.width, size.height - beyond)
        size = Size(round(size.width, 6), round(size.height, 6))
        yield size


def _mm(part: int) -> float:
    return part / PER_MM


class Pieces:
    """Hands out the wants that a kind stands for, one after the other, as many as there are of each."""

    def __init__(self, job: Job, wants: Sequence[Want], blade: float) -> None:
        self._left = [[list(pair) for pair in kind.wants] for kind in job.kinds]
        self._wants, self._blade = wants, blade

    def put(self, piece: Whole) -> Put:
        """The next piece of a kind."""
        waiting = self._left[piece.kind]
        if not waiting[0][1]:
            waiting.pop(0)
        waiting[0][1] -= 1
        number = waiting[0][0]
        want = self._wants[number]
        upright = want.upright and self._as_it_lies(piece, want.size)
        return Put(number, not upright, want.size if upright else want.size.turned)

    def _as_it_lies(self, piece: Whole, size: Size) -> bool:
        laid = _mm(piece.width) - self._blade, _mm(piece.height) - self._blade
        return all(close(a, b, within=2 * SLIVER / PER_MM) for a, b in zip(laid, size, strict=True))
