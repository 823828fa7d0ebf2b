"""Link stitch: sections linked to each other at every station, and two boards sewn on with the first and the last.

At each station the thread comes out of the fold, goes round the stitch of the section before, and in again through the same
hole. With the first section it goes to the front board instead: over the board's edge to its outer face, down through its
hole, back between board and section, and round itself. The last section has both.

Source: Alaska, link stitch on any number of stations (handbook SW16); Vaughn, five punctures for a fold sewn all along (SW6).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from bookplates.errors import Finding
from bookplates.kinds.block import Block
from bookplates.kinds.keys import INCH, Span
from bookplates.kinds.patterns.base import Stitch, spread
from bookplates.kinds.patterns.sections import Sections, telling
from bookplates.kinds.patterns.stitching import HOLD, several_sections
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import ThreadPath
from bookplates.lengths import fits

TALL = 7 * INCH
"""Four stations under this height, else five: common practice, no source, but for the five (SW6)."""


class Link(Stitch):
    """Keys of [sewing] for pattern "link"."""

    pattern: Literal["link"] = "link"
    board_inset: Annotated[float, Span(0, 200)] = Field(
        default=10.0, description="spine edge of a board to the row of holes it is sewn on by"
    )

    called: ClassVar[str] = "link stitch, boards sewn on"
    goes_with: ClassVar[tuple[str, ...]] = ("exposed",)
    least_sections: ClassVar[int] = 2

    def by_custom(self, block: Block) -> tuple[float, ...]:
        """Four stations, or five from 7 in of height."""
        return spread(block.height, self._usual_count(block), self.end_margin)

    def _usual_count(self, block: Block) -> int:
        return 5 if fits(TALL, block.height) else 4

    def custom(self, block: Block) -> Mapping[str, str]:
        """The number of stations."""
        return {"sewing.count": str(self._usual_count(block))}

    def seam(self, block: Block) -> Seam:
        """The stations in the folds, and how far in the boards are pierced."""
        return replace(super().seam(block), inset=self.board_inset)

    def findings(self, block: Block) -> tuple[Finding, ...]:
        """Several sections, and stations that hold; what the holes do to the boards, the cover knows."""
        return *several_sections(block, "link stitch"), *super().findings(block)

    def path(self, seam: Seam, block: Block, sewn: Sewn) -> ThreadPath:
        """Boards and sections, front to back."""
        return _Linking(block, seam, sewn).sew()


class _Linking(Sections):
    def __init__(self, block: Block, seam: Seam, sewn: Sewn) -> None:
        super().__init__(block, seam, sewn, "inside")
        self._over_edge = sewn.board + seam.inset
        self._inset = seam.inset
        self._beyond = {1: (0, self.folds[0]), self.count: (self.count + 1, block.thickness - self.folds[-1])}

    def one_section(self, section: int) -> Iterator[str]:
        """Along the fold, linked at each station."""
        yield from self._enter(section)
        way = self.way()
        inner = way[1:-1]
        for nth, station in enumerate(inner):
            match telling(nth, len(inner), 3):
                case "each":
                    yield from self._linked_at(station)
                case how:
                    deque(self._linked_at(station), maxlen=0)
                    if how == "rest":
                        yield f"Do the same at the stations that follow, one by one, up to station {station}."
        yield from self._linked_at(way[-1])

    def _linked_at(self, station: int) -> Iterator[str]:
        """Inside to a station and out, round the stitch of the section before, through the board that is sewn on here, and in."""
        section, way = self.section, self.way()
        last = station == way[-1]
        self.run_to(station)
        self.pass_through()
        words = [f"Inside, go to station {station}.{' Draw the thread snug, along the fold.' if last else ''} Go out through it."]
        if section > 1:
            words.append(self._link(kettle=last))
        if section in self._beyond:
            if section > 1:
                yield " ".join(words)
                words.clear()
            self._sew_board_on()
            words.append(f"Sew the {self._board(section)} board on at its hole {station} in the same way.")
        if not last:
            self.pass_through()
            words.append(f"Go back in through station {station}.")
        if section == 1 and station == way[1]:
            words.append("Tie the first thread end round the inside stitch between stations 1 and 2 with a half hitch.")
            self.say(" ".join(words), ties_first=True)
        else:
            yield " ".join(words)

    def _link(self, *, kettle: bool) -> str:
        """Outside, round the stitch of the section before; the kettle stitch at the end of a fold has a loop."""
        self.link_below()
        behind = f"Pass the needle behind the stitch of section {self.section - 1} at station {self.at.station}."
        if kettle:
            return f"{behind} Leave a small loop. Take the needle up through it. Draw it tight: this is a kettle stitch."
        return f"{behind} Draw it snug."

    def _enter(self, section: int) -> Iterator[str]:
        """Into the fold at its first station."""
        if section == 1:
            yield from self._begin()
            return
        self.climb_on()
        station = self.at.station
        lay, to = self.laid(section), f"Outside, go to station {station} of section {section}."
        if section in self._beyond:
            yield f"{lay} Lay the back board on it, its outer face up. {to}"
            yield from self._first_on_board()
        else:
            self.pass_through()
            yield f"{lay} {to} Go in through it."

    def _begin(self) -> Iterator[str]:
        self.hitch()
        self.pass_through()
        yield (
            "Lay section 1 on the front board, its first page down, its fold level with the board's spine edge and towards "
            f"you. {self.turned()} Begin inside the fold at station 1. "
            f"Leave a thread end of {self.thread_end} inside. {HOLD} Go out through station 1."
        )
        yield from self._first_on_board()

    def _first_on_board(self) -> Iterator[str]:
        """The first stitch to a board, in full, and into the fold."""
        section, station = self.section, self.at.station
        self._to_board_and_back()
        yield (
            f"Go round the spine edge of the {self._board(section)} board to its outer face. Go through its hole {station}. "
            "Come back between board and section to the fold."
        )
        self.link()
        self.pass_through()
        yield (
            "Pass the needle round the thread that you have just laid. "
            f"Go {'back ' if section == 1 else ''}in through station {station} of section {section}."
        )

    def _sew_board_on(self) -> None:
        """To the board and back to the fold, and round the thread itself."""
        self._to_board_and_back()
        self.link()

    def _to_board_and_back(self) -> None:
        """Round the board's edge to its outer face, through its hole, back to the fold."""
        section = self.section
        board, beyond = self._beyond[section]
        self.climb_to(board, beyond + self._over_edge)
        self.pass_through()
        self.climb_to(section, self._inset + beyond)

    def _board(self, section: int) -> str:
        return "back" if self._beyond[section][0] else "front"

    def fasten_off(self) -> str:
        """Inside the last section."""
        return self.in_and_tied()
