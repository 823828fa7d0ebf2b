"""Sews through the side of a block: every such pattern goes the same way, and differs in its extra holes.

One thread goes from the head to the tail, over and under by turns, round the spine at every main hole, and round head
and tail at the outer two; then it comes back along the line, where the stitches are still open. Each extra hole is sewn as a
branch: out from a main hole on one face, through, and back on the other. So every stitch lies on both faces, front and
back look alike, and both ends meet at hole 1 on the back.

Down at the even holes and up at the odd ones, on the way out as on the way back: a stitch that lay on the front on
the way out lies on the back on the way back. The order is from memory.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from bookplates.geometry import Point
from bookplates.kinds.block import Block
from bookplates.kinds.patterns.stitching import HOLD, Stitching
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import Edge, Place, Side, ThreadPath
from bookplates.lengths import told

WAY: Mapping[Side, str] = MappingProxyType({"back": "up", "front": "down"})
"""Which way the needle goes from a side of the book that lies on the table."""


@dataclass(frozen=True, slots=True)
class Branch:
    """A stitch from a main hole to an extra one and back: the number of that hole, and what is wrapped there."""

    hole: int
    edges: tuple[Edge, ...] = ()


class Needle:
    """Sews the path, and says it. What repeats is said in full twice, then in short."""

    def __init__(self, seam: Seam, block: Block, sewn: Sewn, branches: Mapping[int, tuple[Branch, ...]]) -> None:
        self._seam = seam
        self._branches = branches
        self._last = len(seam.stations)
        thick = block.thickness + 2 * sewn.board
        self._round: Mapping[str, Callable[[Point], float]] = {
            "spine": lambda hole: 2 * hole[0] + thick,
            "head": lambda hole: 2 * (hole[1] + sewn.head) + thick,
            "tail": lambda hole: 2 * (block.height - hole[1] + sewn.tail) + thick,
        }
        self._begin = f"Leave a thread end of {told(seam.thread_end, block.units)} there. {HOLD}"
        self._told: Counter[tuple[Edge, ...]] = Counter()
        self._sewing = Stitching(seam.holes, lambda _: thick, Place(1, "back"), seam.thread_end)

    def sewn(self) -> ThreadPath:
        """Out along the holes, and back."""
        say = self._sewing.say
        say(f"{self._numbers()}Begin on the back, at hole 1. {self._begin} {self._through('hole 1')}")
        say(self._wrap("spine"))
        say(self._wrap("head"))
        self._say_branches(1)
        for hole in range(2, min(self._last, 4)):
            say(self._to(hole, "spine"))
            self._say_branches(hole)
        self._say_alike(range(4, self._last))
        say(self._to(self._last, "spine"))
        say(self._wrap("tail"))
        self._say_branches(self._last)
        return self._back()

    def _numbers(self) -> str:
        """Which holes are the extra ones."""
        extra = len(self._seam.holes) - self._last
        line, nearer = _listed(1, self._last), _listed(self._last + 1, self._last + extra)
        return f"Holes {line} stand in one line, holes {nearer} nearer to the spine. " if extra else ""

    def _through(self, hole: str) -> str:
        way = WAY[self._sewing.side]
        self._sewing.pass_through()
        return f"Go {way} through {hole}."

    def _wrap(self, edge: Edge) -> str:
        """Round an edge and through the same hole."""
        hole = self._sewing.at.station
        self._sewing.wrap(edge, self._round[edge](self._seam.holes[hole - 1]))
        return f"Wrap the thread round the {edge} to the {self._sewing.side}. {self._through(f'hole {hole} again')}"

    def _to(self, hole: int, *edges: Edge, back: str = "") -> str:
        """Along the side the thread is on to a hole, through it, and round the edges there."""
        side = self._sewing.side
        self._sewing.run_to(hole)
        return " ".join((f"On the {side}, go {back}to hole {hole}.", self._through("it"), *map(self._wrap, edges)))

    def _branch(self, branch: Branch) -> Iterator[str]:
        """To an extra hole, round the edges there, and back on the other side: in full twice, go and come back apart."""
        home, out = self._sewing.at.station, self._sewing.side
        self._told[branch.edges] += 1
        in_full = self._told[branch.edges] <= 2
        words = [self._to(branch.hole, *branch.edges[:1])]
        if in_full and branch.edges:
            yield words.pop()
        words += [*map(self._wrap, branch.edges[1:]), self._to(home, back="back ")]
        yield " ".join(words) if in_full else self._in_short(branch, out)

    def _in_short(self, branch: Branch, out: Side) -> str:
        """A stitch like others before it, from the main hole where the thread is again; it went there on `out`."""
        wrapped = f"Wrap the thread round the {' and the '.join(branch.edges)}" if branch.edges else "Wrap nothing"
        there = f"Sew to hole {branch.hole} and back in the same way. Go there on the {out}. {wrapped} there."
        return f"{there} End at hole {self._sewing.at.station}, again on the {self._sewing.side}."

    def _say_branches(self, hole: int) -> None:
        for branch in self._branches.get(hole, ()):
            for words in self._branch(branch):
                self._sewing.say(words)

    def _say_alike(self, holes: range) -> None:
        """Holes that are sewn like the two before them."""
        for hole in holes:
            self._to(hole, "spine")
            for branch in self._branches.get(hole, ()):
                deque(self._branch(branch), maxlen=0)
        if holes:
            at, beside = ("there", "it") if len(holes) == 1 else ("at each", "each")
            extra = f" Sew to the extra holes beside {beside} as before." if self._branches.get(holes[0]) else ""
            self._sewing.say(f"{_alike(holes)} Wrap the thread round the spine {at}.{extra}")

    def _back(self) -> ThreadPath:
        """Along the line to hole 1, where the stitches are open, and the knot."""
        holes = range(self._last - 1, 1, -1)
        full = [self._to(hole) for hole in holes[:2]]
        if full:
            self._sewing.say(" ".join(("Now go back along the line, where the stitches are still open.", *full)))
        for hole in holes[2:]:
            self._to(hole)
        if holes[2:]:
            self._sewing.say(f"{_alike(holes[2:], 'Go on')} Wrap nothing more.")
        self._sewing.run_to(1)
        self._sewing.knot()
        return self._sewing.finish(
            "On the back, go to hole 1. Both thread ends are there now. Draw the whole thread tight. Tie the ends over the "
            "hole with a reef knot. Draw each end under the stitches on the back with the needle. Trim the ends close."
        )


def _listed(first: int, last: int) -> str:
    return f"{first} {'and' if last == first + 1 else 'to'} {last}"


def _alike(holes: range, begin: str = "Sew on") -> str:
    """In words, how one goes from hole to hole."""
    if len(holes) == 1:
        face, way = ("back", "up") if holes[0] % 2 else ("front", "down")
        return f"{begin} in the same way to hole {holes[0]}, on the {face}. Go {way} through it."
    return f"{begin} in the same way, from hole {holes[0]} to hole {holes[-1]}. Go down at the even holes, up at the odd ones."
