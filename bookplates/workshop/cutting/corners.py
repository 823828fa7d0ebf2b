"""Pieces one after the other into the corners of free parts, each part cut in two as a piece goes into it.

Which part a piece goes into, which way the part is then cut, and in which order the pieces come, are rules; no rule is
best for all jobs, so many are tried (J. Jylanki 2010, "A thousand ways to pack the bin", describes them).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from bookplates.workshop.cutting.job import Job, Kind, Laid, Layout, Way

Room = tuple[int, int, int, int]
"""A free part: left, bottom, width, height."""

Fit = Callable[[int, int, int, int], int]
"""A part's width and height and a piece's to how badly it goes in: less is better."""

Cutting = Callable[[int, int, int, int], bool]
"""The same to whether the part is cut across: the part above the piece is then as wide as the room."""

FITS: tuple[Fit, ...] = (
    lambda wide, high, width, height: wide * high - width * height,
    lambda wide, high, width, height: min(wide - width, high - height),
    lambda wide, high, width, height: max(wide - width, high - height),
)
"""The smallest part; the least left over on one side; the least left over on the side that leaves more."""

CUTTINGS: tuple[Cutting, ...] = (
    lambda wide, high, width, height: width * (high - height) <= height * (wide - width),
    lambda wide, high, width, height: width * (high - height) >= height * (wide - width),
    lambda wide, high, width, height: wide - width < high - height,
    lambda wide, high, width, height: wide - width >= high - height,
    lambda wide, high, *_: wide < high,
    lambda wide, high, *_: wide >= high,
)
"""By what is left of the part: one part as large as can be, or both alike; by the sides left over; by the sides of the part."""


class Rule(NamedTuple):
    """How pieces are laid.

    Attributes:
        fit: which part a piece goes into.
        cutting: which way that part is cut.
        joined: whether free parts that make one rectangle become one, though that may leave no cut from edge to edge.
        search: sheet by sheet ("first"), the best part of all sheets ("best"), the sheet in hand only ("next"),
            or always the piece that goes best on the sheet in hand ("piece").
    """

    fit: Fit
    cutting: Cutting
    joined: bool
    search: str


RULES = tuple(
    Rule(fit, cutting, joined, search)
    for search in ("first", "best", "piece", "next")
    for joined in (False, True)
    for fit in FITS
    for cutting in CUTTINGS
)


def orders(kinds: Sequence[Kind]) -> Iterator[tuple[int, ...]]:
    """The orders in which kinds may come: by area, half the round, sides and proportions, larger first, and as they stand."""
    seen = set()
    for key in _KEYS:
        order = tuple(sorted(range(len(kinds)), key=lambda number: key(*kinds[number].ways[0][1:]), reverse=True))
        if order not in seen:
            seen.add(order)
            yield order


_KEYS: tuple[Callable[[int, int], tuple[float, ...]], ...] = (
    lambda width, height: (width * height,),
    lambda width, height: (max(width, height), min(width, height)),
    lambda width, height: (min(width, height), max(width, height)),
    lambda width, height: (width + height,),
    lambda width, height: (abs(width - height),),
    lambda width, height: (width / height,),
    lambda *_: (0,),
    lambda width, height: (height, width),
    lambda width, height: (width, height),
)


class Sheet:
    """A sheet as it fills up."""

    def __init__(self, rule: Rule, rooms: list[Room]) -> None:
        self.rule, self.rooms = rule, rooms
        self.laid: list[Laid] = []

    def best(self, ways: Sequence[Way]) -> tuple[int, int, Way] | None:
        """How well a piece goes in, into which part, and which way it then lies; None where it does not."""
        found: tuple[int, int, Way] | None = None
        fit = self.rule.fit
        for way in ways:
            _, width, height = way
            for number, (_, _, wide, high) in enumerate(self.rooms):
                if width <= wide and height <= high:
                    badly = fit(wide, high, width, height)
                    if found is None or badly < found[0]:
                        found = badly, number, way
        return found

    def lay(self, kind: int, number: int, way: Way) -> None:
        """A piece into the corner of a part, which is cut."""
        left, bottom, wide, high = self.rooms.pop(number)
        _, width, height = way
        across = self.rule.cutting(wide, high, width, height)
        if height < high:
            self._free((left, bottom + height, wide if across else width, high - height))
        if width < wide:
            self._free((left + width, bottom, wide - width, height if across else high))
        self.laid.append(Laid(kind, left, bottom, width, height))

    def _free(self, room: Room) -> None:
        while self.rule.joined:
            number = next((number for number, other in enumerate(self.rooms) if _joined(room, other)), None)
            if number is None:
                break
            room = _joined(room, self.rooms.pop(number)) or room
        self.rooms.append(room)


def _joined(one: Room, other: Room) -> Room | None:
    """The rectangle that two parts make; None where they make none."""
    left, bottom, wide, high = one
    x, y, width, height = other
    if left == x and wide == width and (bottom + high == y or y + height == bottom):
        return left, min(bottom, y), wide, high + height
    if bottom == y and high == height and (left + wide == x or x + width == left):
        return min(left, x), bottom, wide + width, high
    return None


def laid_out(job: Job, rule: Rule, order: Sequence[int], most: int) -> list[Layout] | None:
    """The pieces on sheets by a rule; None where that takes more than `most`.

    Args:
        job: what is cut.
        rule: how pieces are laid.
        order: of the kinds.
        most: sheets.
    """
    filled = {"first": _first, "best": _best, "next": _next, "piece": _by_piece}[rule.search](job, rule, order, most)
    return None if filled is None else [tuple(sheet.laid) for sheet in filled]


def _fresh(job: Job, rule: Rule) -> Sheet:
    return Sheet(rule, [(0, 0, job.width, job.height)])


def _first(job: Job, rule: Rule, order: Sequence[int], most: int) -> list[Sheet] | None:
    sheets: list[Sheet] = []
    for kind in order:
        at = 0  # a sheet that does not take one of a kind takes no other of it
        for _ in range(job.kinds[kind].count):
            while at < len(sheets) and not (found := sheets[at].best(job.kinds[kind].ways)):
                at += 1
            if at == len(sheets):
                if at == most:
                    return None
                sheets.append(_fresh(job, rule))
                found = sheets[at].best(job.kinds[kind].ways)
            assert found is not None, "every piece goes on an empty sheet"
            sheets[at].lay(kind, *found[1:])
    return sheets


def _best(job: Job, rule: Rule, order: Sequence[int], most: int) -> list[Sheet] | None:
    sheets: list[Sheet] = []
    for kind in order:
        ways = job.kinds[kind].ways
        fits = [sheet.best(ways) for sheet in sheets]
        for _ in range(job.kinds[kind].count):
            at = min((number for number, fit in enumerate(fits) if fit), key=lambda number: (fits[number] or (0,))[0], default=-1)
            if at < 0:
                if len(sheets) == most:
                    return None
                sheets.append(_fresh(job, rule))
                fits.append(sheets[-1].best(ways))
            found = fits[at]
            assert found is not None, "every piece goes on an empty sheet"
            sheets[at].lay(kind, *found[1:])
            fits[at] = sheets[at].best(ways)
    return sheets


def _next(job: Job, rule: Rule, order: Sequence[int], most: int) -> list[Sheet] | None:
    sheets: list[Sheet] = [_fresh(job, rule)]
    for kind in order:
        for _ in range(job.kinds[kind].count):
            found = sheets[-1].best(job.kinds[kind].ways)
            if found is None:
                if len(sheets) == most:
                    return None
                sheets.append(_fresh(job, rule))
                found = sheets[-1].best(job.kinds[kind].ways)
            assert found is not None, "every piece goes on an empty sheet"
            sheets[-1].lay(kind, *found[1:])
    return sheets


def _by_piece(job: Job, rule: Rule, order: Sequence[int], most: int) -> list[Sheet] | None:
    left = job.counts
    sheets: list[Sheet] = []
    while any(left):
        if len(sheets) == most:
            return None
        sheets.append(_fresh(job, rule))
        fill(sheets[-1], job, left, order)
    return sheets


def fill(sheet: Sheet, job: Job, left: list[int], order: Sequence[int]) -> None:
    """Lay on a sheet what goes best of what is left, until nothing more goes on it."""
    waiting = [kind for kind in order if left[kind]]
    while waiting:
        fits = [(found, kind) for kind in waiting if (found := sheet.best(job.kinds[kind].ways))]
        if not fits:
            return
        found, kind = min(fits, key=lambda pair: pair[0][0])
        sheet.lay(kind, *found[1:])
        left[kind] -= 1
        waiting = [kind for kind in waiting if left[kind]]


def runs(job: Job, work: int) -> Iterator[tuple[Rule, tuple[int, ...]]]:
    """Rules and orders to try, as many as the work allows; the search that suits most jobs first."""
    each = max(1, sum(job.counts) ** 2 // 2)
    tried = list(orders(job.kinds))
    for search, some in groupby(RULES, key=lambda rule: rule.search):
        for rule in some:
            for order in [tuple(range(len(job.kinds)))] if search == "piece" else tried:
                work -= each
                if work < 0:
                    return
                yield rule, order
