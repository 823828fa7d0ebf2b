"""Lays a path of thread: keeps the place where the thread is, so that each leg starts where the last one ended."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bookplates.errors import Finding, refuse
from bookplates.kinds.block import Block
from bookplates.kinds.patterns.allowances import HITCH, LINK
from bookplates.kinds.thread import Deed, Leg, Place, SewingStep, Side, ThreadPath


class Stitching:
    """A needle on its way.

    Args:
        stations: from the head, mm.
        through: what the needle passes at each station, mm.
        start: the station, from 1, inside which the thread begins.
        end: the free end left there, mm.
    """

    def __init__(self, stations: Sequence[float], through: float, start: int, end: float) -> None:
        self._stations = stations
        self._through = through
        self._end = end
        self._at = Place(start, "inside")
        self._legs: list[Leg] = []
        self._steps: list[SewingStep] = []
        self._add(self._at, "end", end)

    @property
    def side(self) -> Side:
        """The side the thread is on."""
        return self._at.side

    def _add(self, to: Place, deed: Deed, length: float, through: float = 0.0) -> None:
        self._legs.append(Leg(self._at, to, deed, length, through))
        self._at = to

    def pass_through(self) -> None:
        """Through the hole to the other side."""
        other: Side = "outside" if self._at.side == "inside" else "inside"
        self._add(Place(self._at.station, other), "pass", self._through, self._through)

    def run_to(self, station: int) -> None:
        """Along the side the thread is on."""
        distance = abs(self._stations[station - 1] - self._stations[self._at.station - 1])
        self._add(Place(station, self._at.side), "run", distance)

    def leave_loop(self, length: float) -> None:
        """A loop left standing at the hole."""
        self._add(self._at, "loop", length)

    def link(self) -> None:
        """Round the stitch that is there."""
        self._add(self._at, "link", LINK)

    def hitch(self) -> None:
        """A half hitch where the thread is."""
        self._add(self._at, "hitch", HITCH)

    def say(self, text: str) -> None:
        """What has been sewn since the last step, in words."""
        self._steps.append(SewingStep(text, len(self._legs)))

    def finish(self, text: str) -> ThreadPath:
        """Leave the other free end; `text` says how it is tied."""
        self._add(self._at, "end", self._end)
        self.say(text)
        return ThreadPath(tuple(self._legs), tuple(self._steps))


def one_section_only(block: Block, called: str) -> Iterator[Finding]:
    """Refuse more than one section."""
    if block.sections != 1:
        yield refuse("text_block.sections", f"{called} (sewing.pattern) sews one section, not {block.sections}", "1")
