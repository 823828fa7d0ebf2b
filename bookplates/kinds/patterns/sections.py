"""Sewing several sections one to another. The book is built front first: section 1, section 2 upon it, and so on.

A section is sewn along its fold, odd ones from head to tail, even ones from tail to head. What is sewn is told while it
is sewn: each part of the work is a generator that lays its legs, then yields what to say of them, or nothing to go on.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections import deque
from collections.abc import Iterator
from typing import Literal

from bookplates.kinds.block import Block
from bookplates.kinds.patterns.allowances import LINK
from bookplates.kinds.patterns.stitching import HOLD, Stitching, along_the_fold
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import Place, Side, ThreadPath
from bookplates.lengths import told

IN_DETAIL = 3
"""So many sections are told stitch by stitch, and the last; the others are sewn in the same way."""

TRIM = "Trim the ends to about 10 mm."


def telling(nth: int, count: int, most: int = 4) -> Literal["each", "rest", ""]:
    """How the `nth` of `count` like things is told, from 0: where there are more than `most`, the two first and the last.

    The others are told together when the last but one is done ("rest").

    >>> [telling(n, 6) for n in range(6)]
    ['each', 'each', '', '', 'rest', 'each']
    """
    if count <= most or nth < 2 or nth == count - 1:
        return "each"
    return "rest" if nth == count - 2 else ""


class Sections(Stitching, ABC):
    """A needle on its way through several sections.

    Args:
        block: the sections.
        seam: their stations.
        sewn: what is passed together with a fold; boards that are sewn on count as the sections before and after all.
        begin: the side of station 1 of section 1 where the thread begins.
    """

    def __init__(self, block: Block, seam: Seam, sewn: Sewn, begin: Side) -> None:
        self.count, self.last, self.folds = block.sections, len(seam.stations), block.folds
        super().__init__(
            along_the_fold(seam.stations),
            lambda section: block.through(section) + sewn.spine if 0 < section <= self.count else sewn.board,
            Place(1, begin),
            seam.thread_end,
        )
        self.thread_end = told(seam.thread_end, block.units)
        self.head_lies = "right" if block.opening == "left" else "left"

    @property
    def section(self) -> int:
        """The section the thread is at."""
        return self.at.section

    def apart(self) -> float:
        """From the fold of the section before to the one the thread is at, mm."""
        return self.folds[self.section - 1] - self.folds[self.section - 2]

    def climb_on(self) -> None:
        """Outside to the next section."""
        self.climb_to(self.section + 1, self.folds[self.section] - self.folds[self.section - 1])

    def link_below(self) -> None:
        """Down to the stitch of the section before, round it and back."""
        self.link(2 * self.apart() + LINK, self.section - 1)

    def way(self) -> tuple[int, ...]:
        """The stations of the section the thread is at, as they come."""
        stations = range(1, self.last + 1)
        return tuple(stations if self.section % 2 else reversed(stations))

    def sew(self) -> ThreadPath:
        """Section after section, and the last thread end fastened off."""
        for section in range(1, self.count + 1):
            if section <= IN_DETAIL or section == self.count:
                for text in self.one_section(section):
                    self.say(text)
            else:
                deque(self.one_section(section), maxlen=0)
            if IN_DETAIL < section == self.count - 1:
                self.say(self._alike(section))
        return self.finish(self.fasten_off())

    @abstractmethod
    def fasten_off(self) -> str:
        """Tie the last thread end, and what to say of it."""

    def _alike(self, last: int) -> str:
        first = IN_DETAIL + 1
        which = f"section {first}" if last == first else f"sections {first} {'and' if last == first + 1 else 'to'} {last}"
        return (
            f"Sew {which} in the same way. Begin where the thread came out: even sections at the tail, odd ones at the head. "
            "When the thread runs short, tie a new length to it inside a fold with a weaver's knot."
        )

    @abstractmethod
    def one_section(self, section: int) -> Iterator[str]:
        """Sew a section, from the climb to it up to where the thread can climb on, or be fastened off."""

    def in_and_tied(self) -> str:
        """Back into the fold, and round the stitch there."""
        before, station = self.way()[-2:]
        self.pass_through()
        self.hitch()
        self.hitch()
        return (
            f"Go back in through station {station} of section {self.section}. Tie the thread round the inside stitch between "
            f"stations {before} and {station} with two half hitches. {TRIM}"
        )

    def laid(self, section: int) -> str:
        """How a section lies that is sewn to others without a cover."""
        if section == 1:
            return f"Lay section 1 on the table, its first page down, its fold towards you. {self.turned()}"
        return f"Lay section {section} on section {section - 1}, head on head."

    def turned(self) -> str:
        """How the pictures, which have the head at the top, are turned to lie as the book does."""
        hand = self.head_lies
        return (
            f"Now its head is to the {hand}. To see the pictures as the book lies, turn this page a quarter turn to the {hand}."
        )


class AllAlong(Sections):
    """In at one end of the fold, out and over and in again along it, out at the other end; so to the next section.

    That takes an even number of stations. The first thread end stays outside, and is tied when the thread comes back to the head.
    """

    def __init__(self, block: Block, seam: Seam, sewn: Sewn) -> None:
        super().__init__(block, seam, sewn, "outside")

    def one_section(self, section: int) -> Iterator[str]:
        """From end to end of the fold, and the change-over there."""
        yield from self._enter(section)
        way = self.way()
        yield from self._crossings(way)
        self.run_to(way[-1])
        self.pass_through()
        yield f"Inside, go to station {way[-1]}. Go out through it. Draw the thread snug, along the fold and not across it."
        if section == 2:
            self.knot(self.apart(), 1)
            yield self.tied()
        elif section > 2:
            yield self.change_over()

    def _enter(self, section: int) -> Iterator[str]:
        if section > 1:
            self.climb_on()
        self.pass_through()
        at = self.at.station
        if section > 1:
            yield f"{self.laid(section)} Outside, go to station {at} of section {section}. Go in through it."
        else:
            yield (
                f"{self.laid(1)} Begin outside at station 1. Leave a thread end of {self.thread_end} outside. {HOLD} "
                "Go in through station 1."
            )

    def _crossings(self, way: tuple[int, ...]) -> Iterator[str]:
        """Between the first and the last station: out at one, over to the next, in there."""
        pairs = tuple(zip(way[1:-1:2], way[2:-1:2], strict=True))
        for nth, (out, back) in enumerate(pairs):
            self.run_to(out)
            self.pass_through()
            over = self.cross(back)
            self.pass_through()
            match telling(nth, len(pairs)):
                case "each":
                    yield f"Inside, go to station {out}. Go out through it. {over}"
                case "rest":
                    yield f"Do the same at the stations that follow, pair by pair, until you go in through station {back}."

    @abstractmethod
    def cross(self, station: int) -> str:
        """Outside to the next station, and what to say of it and of going in there."""

    def tied(self) -> str:
        """What to say of the knot with the first thread end."""
        return "Outside, at station 1, tie the thread to the first thread end with a reef knot, close to the folds."

    @abstractmethod
    def change_over(self) -> str:
        """Catch the sections below, at head or tail of the third and later ones, and what to say of it."""


class OnSupports(AllAlong):
    """The block is sewn by itself, kettle stitches at head and tail."""

    def change_over(self) -> str:
        """A kettle stitch."""
        self.link_below()
        return (
            f"Kettle stitch: pass the needle behind the thread that joins sections {self.section - 2} and {self.section - 1} "
            f"at station {self.at.station}. Leave a small loop. Take the needle up through it. Draw it tight."
        )

    def fasten_off(self) -> str:
        """Two half hitches; with two sections the knot is enough."""
        if self.count == 2:
            return f"The knot fastens the last thread end, too. {TRIM}"
        self.hitch()
        self.hitch()
        at = f"at station {self.at.station} of section {self.section}"
        return f"Tie the last thread end round the kettle stitch {at} with two half hitches. {TRIM}"
