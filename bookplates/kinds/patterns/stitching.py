"""Lays a path of thread: keeps the place where the thread is, so that each leg starts where the last one ended."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from bookplates.errors import Finding, refuse
from bookplates.geometry import Point
from bookplates.kinds.block import Block
from bookplates.kinds.patterns.allowances import HITCH, LINK
from bookplates.kinds.thread import OTHER, Deed, Edge, Leg, Place, SewingStep, Side, ThreadPath

HOLD = "Hold the thread end with a finger until it is tied."
"""What keeps a thread end from being pulled through, as there is no knot."""


class Stitching:
    """A needle on its way.

    Args:
        points: of the stations or holes, x across and y along, mm; only their distances count.
        through: what the needle passes in a section, mm.
        start: where the thread begins.
        end: the free end left there, mm.
    """

    def __init__(self, points: Sequence[Point], through: Callable[[int], float], start: Place, end: float) -> None:
        self._points = points
        self._through = through
        self._end = end
        self.at = start
        self._legs: list[Leg] = []
        self._steps: list[SewingStep] = []
        self._add(start, "end", end)

    def _add(
        self, to: Place, deed: Deed, length: float, *, through: float = 0.0, edge: Edge = "", linked: int | None = None
    ) -> None:
        self._legs.append(Leg(self.at, to, deed, length, through, edge, linked))
        self.at = to

    @property
    def side(self) -> Side:
        """The side the thread is on."""
        return self.at.side

    def pass_through(self) -> None:
        """Through the hole to the other side."""
        deep = self._through(self.at.section)
        self._add(self._across(), "pass", deep, through=deep)

    def _across(self) -> Place:
        return Place(self.at.station, OTHER[self.at.side], self.at.section)

    def run_to(self, station: int) -> None:
        """Along the side the thread is on."""
        self._add(Place(station, self.at.side, self.at.section), "run", self.along(station))

    def along(self, station: int) -> float:
        """From here straight to another station, mm."""
        return math.dist(self._points[station - 1], self._points[self.at.station - 1])

    def climb_to(self, section: int, length: float) -> None:
        """Outside, at the same station, to another section or to a board, `length` mm of thread."""
        self._add(Place(self.at.station, "outside", section), "climb", length)

    def wrap(self, edge: Edge, length: float) -> None:
        """Round an edge of the book to its other side, back to the same hole, `length` mm of thread."""
        self._add(self._across(), "wrap", length, edge=edge)

    def leave_loop(self, length: float) -> None:
        """A loop left standing at the hole."""
        self._add(self.at, "loop", length)

    def link(self, length: float = LINK, section: int | None = None) -> None:
        """Round the stitch that is there, or the one of another section at the same station."""
        self._add(self.at, "link", length, linked=section)

    def link_on(self, station: int, aside: float, section: int) -> None:
        """On to another station, halfway round the stitch of another section, which lies `aside` mm from the straight way."""
        length = 2 * math.hypot(self.along(station) / 2, aside) + LINK
        self._add(Place(station, self.at.side, self.at.section), "link", length, linked=section)

    def hitch(self, aside: float = 0.0, section: int | None = None) -> None:
        """A half hitch where the thread is, or round another section's stitch, `aside` mm away: there and back."""
        self._add(self.at, "hitch", HITCH + 2 * aside, linked=section)

    def knot(self, apart: float = 0.0, section: int | None = None) -> None:
        """The thread tied to the first free end, here or at another section, `apart` mm away: they meet halfway."""
        self._add(self.at, "knot", 2 * HITCH + apart, linked=section)

    def say(self, text: str, *, ties_first: bool = False) -> None:
        """What has been sewn since the last step, in words; and whether the first end is tied now, too."""
        self._steps.append(SewingStep(text, len(self._legs), ties_first))

    def finish(self, text: str) -> ThreadPath:
        """Leave the other free end; `text` says how it is tied."""
        self._add(self.at, "end", self._end)
        self.say(text)
        return ThreadPath(tuple(self._legs), tuple(self._steps))


def along_the_fold(stations: Sequence[float]) -> tuple[Point, ...]:
    """Stations as points of one line, mm from the head downwards."""
    return tuple((0.0, -station) for station in stations)


def one_section_only(block: Block, called: str, other: str = "") -> Iterator[Finding]:
    """Refuse more than one section; `other` names a pattern that sews several."""
    if block.sections != 1:
        what = f"{called} (sewing.pattern) sews one section, not {block.sections}"
        yield refuse("text_block.sections", what, f"1, or sewing.pattern = {other}" if other else "1")


def several_sections(block: Block, called: str, other: str = "") -> Iterator[Finding]:
    """Refuse a single section; `other` names a pattern that sews one."""
    if block.sections < 2:
        what = f"{called} (sewing.pattern) joins sections to each other, and there is {block.sections}"
        yield refuse("text_block.sections", what, f"2 or more, or sewing.pattern = {other}" if other else "2 or more")
