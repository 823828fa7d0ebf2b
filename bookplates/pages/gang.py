"""Which plates share which page, and how they lie there: as few pages as is reasonable. Lengths in mm.

Plates come in the order in which they are used. They are laid on page after page in that order, which keeps what is
used together, together; another order is taken only where it saves a page, and where copies of a plate then lie in
several places, one page more for each. Many copies of a plate fill pages in rows and columns.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bookplates.geometry import Box, Size
from bookplates.pages.free import FreeRoom

GAP = 4.0
"""Least distance between two plates that share a page."""

Ways = tuple[bool, ...]
"""Whether a plate may be turned a quarter, the better way first."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A plate to be laid on a page.

    Attributes:
        number: its place in the order of the pack.
        upright: what it covers as it stands; None where it may not.
        turned: what it covers turned a quarter; None where it may not be.
        copies: how often it is wanted.
    """

    number: int
    upright: Size | None
    turned: Size | None
    copies: int = 1

    @property
    def ways(self) -> Ways:
        """How it may lie."""
        return tuple(turned for turned, size in ((False, self.upright), (True, self.turned)) if size)

    def size(self, turned: bool) -> Size:
        """What it covers on the page. Raises LookupError where it may not lie so."""
        size = self.turned if turned else self.upright
        if size is None:
            raise LookupError(self.number)
        return size

    @property
    def sides(self) -> Size:
        """Its sides, whichever way it lies."""
        return self.size(self.ways[0])


@dataclass(frozen=True, slots=True)
class Laid:
    """A plate on a page: its number, whether it is turned, and where it lies."""

    number: int
    turned: bool
    box: Box


@dataclass(slots=True)
class Shared:
    """A page, or so many alike, and what lies there."""

    free: FreeRoom
    laid: tuple[Laid, ...] = ()
    times: int = 1

    @property
    def numbers(self) -> set[int]:
        """Which plates lie there."""
        return {one.number for one in self.laid}

    def with_more(self, piece: Piece, most: int, ways: Ways) -> Shared:
        """One such page with as many copies more as it takes, `most` at most."""
        free, laid = self.free.copy(), list(self.laid)
        while len(laid) - len(self.laid) < most:
            found = next(((turned, box) for turned in ways if (box := free.take(piece.size(turned)))), None)
            if found is None:
                break
            laid.append(Laid(piece.number, *found))
        return Shared(free, tuple(laid))


def ganged(pieces: Sequence[Piece], room: Box) -> list[Shared]:
    """The plates on as few pages as is reasonable, in their order where that costs none.

    Args:
        pieces: in the order in which they are used; each goes into the room in one of its ways.
        room: of a page.
    """
    best = _in_order(pieces, room)
    if count(best) > _least(pieces, room):
        bare = [Shared(FreeRoom(room, GAP, tight=tight)) for tight in (False, True)]
        tried = [best, *(_on_the_first(order, page) for page in bare for order in _orders(pieces))]
        best = min(map(_sorted, tried), key=lambda pages: (cost(pages), _scattered(pages), _turned(pages)))
    return _sorted(best)


def _least(pieces: Iterable[Piece], room: Box) -> int:
    """Fewer pages than this have not the area."""
    wide, high = room.size
    area = sum(piece.copies * (piece.sides.width + GAP) * (piece.sides.height + GAP) for piece in pieces)
    return max(1, math.ceil(area / ((wide + GAP) * (high + GAP)) - 1e-6))


def count(pages: Iterable[Shared]) -> int:
    """How many pages they are."""
    return sum(page.times for page in pages)


def cost(pages: Sequence[Shared]) -> int:
    """How many pages they are, and one more for each place in which copies of a plate lie beyond the first."""
    return count(pages) + _torn(pages)


def _orders(pieces: Sequence[Piece]) -> Iterator[Sequence[Piece]]:
    """The order of use, and those in which the largest comes first: by area, height, width or girth."""
    yield pieces
    yield sorted(pieces, key=lambda piece: -piece.sides.width * piece.sides.height)
    yield sorted(pieces, key=lambda piece: -piece.sides.height)
    yield sorted(pieces, key=lambda piece: -piece.sides.width)
    yield sorted(pieces, key=lambda piece: -sum(piece.sides))


def _sorted(pages: Iterable[Shared]) -> list[Shared]:
    """In the order in which their first plates are used; those of one plate alone before those that it shares."""
    return sorted(pages, key=lambda page: (min(page.numbers), len(page.numbers)))


def _torn(pages: Sequence[Shared]) -> int:
    """How often the copies of a plate do not follow each other: gathering them again is worth a page."""
    before = [set[int](), *(page.numbers for page in pages)]
    begun = Counter(number for last, page in pairwise(before) for number in page - last)
    return sum(begun.values()) - len(begun)


def _scattered(pages: Iterable[Shared]) -> int:
    """How many plates lie elsewhere than between their neighbours in the order."""
    return sum(max(page.numbers) - min(page.numbers) + 1 - len(page.numbers) for page in pages)


def _turned(pages: Iterable[Shared]) -> int:
    return sum(page.times * sum(one.turned for one in page.laid) for page in pages)


def _in_order(pieces: Iterable[Piece], room: Box) -> list[Shared]:
    """Each plate on the last page, or on new ones."""
    pages: list[Shared] = []
    last: list[Piece] = []
    for piece in pieces:
        together = _together([*last, piece], room) if last else None
        if together:
            pages[-1], last = together, [*last, piece]
            continue
        new = list(_new(piece, piece.copies, Shared(FreeRoom(room, GAP))))
        pages += new
        last = [replace(piece, copies=len(new[-1].laid))] if new[-1].times == 1 else []
    return pages


def _together(pieces: Sequence[Piece], room: Box) -> Shared | None:
    """All of them on one page, laid down in whichever order does it, or None."""
    for order in _orders(pieces):
        page = Shared(FreeRoom(room, GAP))
        for piece in order:
            page = page.with_more(piece, piece.copies, piece.ways)
        if len(page.laid) == sum(piece.copies for piece in pieces):
            return page
    return None


def _on_the_first(pieces: Iterable[Piece], bare: Shared) -> list[Shared]:
    """Each plate on the first pages that take it, or on new ones like the bare one."""
    pages: list[Shared] = []
    for piece in pieces:
        left, before = piece.copies, pages
        pages = []
        for page in before:
            filled, left = _filled(page, piece, left) if left else ([page], 0)
            pages += filled
        pages += _new(piece, left, bare)
    return pages


def _filled(page: Shared, piece: Piece, wanted: int) -> tuple[list[Shared], int]:
    """Pages alike with copies laid on as many of them as are needed, and how many copies are left."""
    fullest = page.with_more(piece, wanted, piece.ways)
    each = len(fullest.laid) - len(page.laid)
    if not each:
        return [page], wanted
    full = min(page.times, wanted // each)
    left, rest = wanted - full * each, page.times - full
    pages = [Shared(fullest.free, fullest.laid, full)] if full else []
    if left and rest:
        pages.append(page.with_more(piece, left, piece.ways))
        left, rest = 0, rest - 1
    return [*pages, *([Shared(page.free, page.laid, rest)] if rest else [])], left


def _new(piece: Piece, wanted: int, bare: Shared) -> Iterator[Shared]:
    """New pages of one plate, as many on each as go; the last may hold fewer."""
    if not wanted:
        return
    fullest = _fullest(piece, wanted, bare)
    full, left = divmod(wanted, len(fullest.laid))
    if full:
        yield Shared(fullest.free, fullest.laid, full)
    if left:
        yield _fullest(piece, left, bare)


def _fullest(piece: Piece, most: int, bare: Shared) -> Shared:
    """A page with as many copies as any one way of laying them allows; all lying alike where that does as well."""
    ways = dict.fromkeys([*((way,) for way in piece.ways), piece.ways])
    return max((bare.with_more(piece, most, way) for way in ways), key=lambda page: len(page.laid))
