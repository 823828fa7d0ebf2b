"""Link stitch: sections linked to each other at every station, and two boards sewn on with the first and the last.

At each station the thread comes out of the fold, goes round the stitch of the section before, and in again through the same
hole. With the first section it goes to the front board instead: over the board's edge to its outer face, down through its
hole, back between board and section, and round itself. The last section has both.

Source: Alaska, link stitch on any number of stations (handbook SW16); Vaughn, five punctures for a fold sewn all along (SW6).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from bookplates.errors import Finding
from bookplates.kinds.block import Block
from bookplates.kinds.keys import INCH, Span
from bookplates.kinds.patterns.base import Stitch, spread
from bookplates.kinds.patterns.sections import Sections, telling
from bookplates.kinds.patterns.stitching import several_sections
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
            self._out_at(station)
            linked = self._linked()
            self.pass_through()
            match telling(nth, len(inner), 3):
                case "each":
                    yield f"Inside, go to station {station}. Go out through it. {linked}Go back in through station {station}."
                case "rest":
                    yield f"Do the same at the stations that follow, one by one, up to station {station}."
        self._out_at(way[-1])
        out = f"Inside, go to station {way[-1]}. Draw the thread snug, along the fold. Go out through it."
        yield f"{out} {self._linked()}".rstrip()

    def _out_at(self, station: int) -> None:
        self.run_to(station)
        self.pass_through()

    def _enter(self, section: int) -> Iterator[str]:
        """Into the fold at its first station."""
        if section == 1:
            yield from self._begin()
            return
        self.climb_on()
        station = self.at.station
        board = self._sew_board_on(in_full=True) if section in self._beyond else ""
        self.pass_through()
        lay = f"{self.laid(section)} {'Lay the back board on it, its outer face up. ' if board else ''}"
        yield f"{lay}Outside, go to station {station} of section {section}. {board}Go in through station {station}."

    def _begin(self) -> Iterator[str]:
        self.hitch()
        self.pass_through()
        yield (
            "Lay section 1 on the front board, its first page down, its fold level with the board's spine edge. "
            f"Begin inside the fold at station 1. Leave a thread end of {self.thread_end} inside. Go out through station 1."
        )
        board = self._sew_board_on(in_full=True)
        self.pass_through()
        yield (
            f"{board}Go back in through station 1 of section 1. "
            "As soon as there is a stitch inside, tie the first thread end round it with a half hitch."
        )

    def _linked(self) -> str:
        """Outside at a station: round the stitch of the section before, and through the board that is sewn on here."""
        section, said_of_it = self.section, ""
        if section > 1:
            self.link_below()
            kettle = " This is a kettle stitch." if self.at.station in (1, self.last) else ""
            said_of_it = f"Pass the needle behind the stitch of section {section - 1} below it, and draw it snug.{kettle} "
        return said_of_it + (self._sew_board_on() if section in self._beyond else "")

    def _sew_board_on(self, *, in_full: bool = False) -> str:
        """Round the board's edge to its outer face, through its hole, back to the fold, and round the thread itself."""
        section, station = self.section, self.at.station
        board, beyond = self._beyond[section]
        self.climb_to(board, beyond + self._over_edge)
        self.pass_through()
        self.climb_to(section, self._inset + beyond)
        self.link()
        which = "back" if board else "front"
        if not in_full:
            return f"Sew the {which} board on at its hole {station} in the same way. "
        return (
            f"Go round the edge of the {which} board to its outer face. Go through its hole {station}. "
            "Come back between board and section to the fold. Pass the needle round the thread that you have just laid. "
        )

    def fasten_off(self) -> str:
        """Inside the last section."""
        return self.in_and_tied()
