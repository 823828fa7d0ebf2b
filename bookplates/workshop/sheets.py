"""What is cut from which stock: needs against the paper on the table. Lengths in mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import permutations
from typing import Protocol

from bookplates.geometry import Size
from bookplates.kinds.parts import Grain
from bookplates.lengths import close
from bookplates.spec.stock import Cutting, Stock
from bookplates.workshop.cuts import Entry, Kind, MaterialCuts, RollCuts, SheetCuts
from bookplates.workshop.cutting.engine import cut_up
from bookplates.workshop.cutting.roll import CutRoll, cut_rolls
from bookplates.workshop.cutting.tree import CutSheet, Want, puts
from bookplates.workshop.lying import along_roll, fitting
from bookplates.workshop.needs import Need

MOST_ORDERED = 3
"""Of so many stocks of one material every order is tried; of more, the smallest first and the largest first."""

CutUp = Callable[[tuple[Want, ...], Size], tuple[CutSheet, ...]]


class CutAll(Protocol):
    """What `cut_all` does, by whatever way."""

    def __call__(
        self, needs: Sequence[Need], entries: Sequence[Entry], cutting: Cutting, *, text_sheet: Entry | None = None
    ) -> tuple[MaterialCuts, ...]:
        """Each material with what is cut from its stock."""


def cut_all(
    needs: Sequence[Need], entries: Sequence[Entry], cutting: Cutting, *, text_sheet: Entry | None = None
) -> tuple[MaterialCuts, ...]:
    """Each material with what is cut from its stock, in the order in which the needs name them.

    Args:
        needs: of all books together.
        entries: the stock.
        cutting: what a cut takes away, and what is worth keeping.
        text_sheet: the sheet that the book divides; taken for text paper where no stock of that is written.
    """
    materials = dict.fromkeys(need.material for need in needs)
    return tuple(_material(name, needs, entries, cutting, text_sheet) for name in materials)


def _material(
    name: str, needs: Sequence[Need], entries: Sequence[Entry], cutting: Cutting, text_sheet: Entry | None
) -> MaterialCuts:
    own = tuple(need for need in needs if need.material == name)
    stock = [entry for entry in entries if entry.stock.material == name]
    if not stock and name == "text paper" and text_sheet is not None:
        stock = [text_sheet]
    if not stock:
        return MaterialCuts(name, own, without=own)
    blade = cutting.blade
    if name == "text paper" and text_sheet is not None and all(same_sheet(entry.stock, text_sheet.stock) for entry in stock):
        blade = 0.0  # a sheet that is halved is halved: what the knife takes is not seen
    cut = cache(lambda wants, size: cut_up(wants, size, blade, cutting.offcut))  # many orders begin alike
    tried = (_shared_out(own, order, blade, cut) for order in _orders(stock))
    return min((replace(cuts, material=name) for cuts in tried), key=_cost)


def same_sheet(one: Stock, other: Stock) -> bool:
    """Whether sheets are of one size, whichever side is written first."""
    if one.size is None or other.size is None:
        return False
    return all(close(a, b) for a, b in zip(sorted(one.size), sorted(other.size), strict=True))


def _orders(stock: Sequence[Entry]) -> Iterable[Sequence[Entry]]:
    """The stocks in the orders in which they may be used up: what is on hand before what has to be bought."""
    by_size = sorted(stock, key=lambda entry: _extent(entry.stock))
    orders = permutations(stock) if len(stock) <= MOST_ORDERED else (by_size, by_size[::-1])
    return dict.fromkeys(tuple(sorted(order, key=lambda entry: entry.stock.count is None)) for order in orders)


def _extent(stock: Stock) -> float:
    """How large it is, to compare it with its like: the area of a sheet, the length of a roll."""
    return stock.size.width * stock.size.height if stock.size is not None else stock.length or 0.0


def _cost(cuts: MaterialCuts) -> tuple[int, int, int, int, float, int]:
    """Pieces without stock, sheets not on hand, sheets to buy, sheets, their area, stop settings: less is better."""
    bought = sum(one.used for one in cuts.cuts if one.entry.stock.count is None)
    area = sum(one.used * one.size.width * one.size.height for one in cuts.sheets)
    without = sum(need.count for need in cuts.without)
    return without, cuts.missing, bought, cuts.used, round(area, 3), cuts.different_stops


def _shared_out(needs: Sequence[Need], order: Sequence[Entry], blade: float, cut: CutUp) -> MaterialCuts:
    """Take each stock in turn until it is used up; what is then still missing is missing of the last that takes it."""
    left = list(needs)
    sheets: list[SheetCuts] = []
    rolls: list[RollCuts] = []
    for place, entry in enumerate(order):
        later = order[place + 1 :]
        if entry.stock.on_roll:
            roll, left = _rolls(left, entry, later)
            rolls += [roll] if roll else []
        else:
            sheet, left = _sheets(left, entry, later, blade, cut)
            sheets += [sheet] if sheet else []
    return MaterialCuts(needs[0].material, tuple(needs), tuple(sheets), tuple(rolls), tuple(left))


def goes_on(need: Need, stock: Stock) -> bool:
    """Whether a piece can be cut from a stock at all."""
    if stock.length is not None:
        long = along_roll(need.size, stock.width)
        return long is not None and long <= stock.length + 1e-6
    return need.material != "thread" and bool(fitting(need.size, need.grain, stock))


def _parted(left: Iterable[Need], stock: Stock) -> tuple[list[Need], list[Need]]:
    """What can be cut from a stock, and what cannot."""
    here: list[Need] = []
    over: list[Need] = []
    for need in left:
        (here if goes_on(need, stock) else over).append(need)
    return here, over


def _sheets(
    left: list[Need], entry: Entry, later: Sequence[Entry], blade: float, cut: CutUp
) -> tuple[SheetCuts | None, list[Need]]:
    stock = entry.stock
    here, over = _parted(left, stock)
    if stock.size is None or not here:
        return None, left
    kinds = tuple(_kinds(here, stock))
    ways = cut(tuple(kind.want for kind in kinds), stock.size)
    if stock.count is not None and sum(way.times for way in ways) > stock.count and later:
        ways, back = _no_more(ways, kinds, stock.count, later)
        over += back
    return (SheetCuts(entry, stock.size, blade, kinds, ways) if ways else None), over


def _no_more(
    ways: Sequence[CutSheet], kinds: Sequence[Kind], count: int, later: Sequence[Entry]
) -> tuple[tuple[CutSheet, ...], list[Need]]:
    """As many of the sheets as there are, and what was to come out of the others, as far as later stock takes it.

    Sheets with a piece that has no other place are kept first, and kept even where there are not so many.
    """
    passed_on = _passed_on(kinds, later)
    kept: list[CutSheet] = []
    lost: Counter[int] = Counter()
    for way in sorted(ways, key=lambda way: all(put.want in passed_on for put in puts(way.tree))):
        inside = Counter(put.want for put in puts(way.tree))
        free = passed_on.issuperset(inside)
        taken = min(way.times, max(0, count - sum(one.times for one in kept))) if free else way.times
        kept += [replace(way, times=taken)] if taken else []
        for want, often in inside.items():
            lost[want] += often * (way.times - taken)
    return tuple(kept), [need for number, kind in enumerate(kinds) for need in _last(kind, lost[number])]


def _passed_on(kinds: Sequence[Kind], later: Sequence[Entry]) -> frozenset[int]:
    """The kinds that later stock could take."""
    going = (number for number, kind in enumerate(kinds) if any(goes_on(kind.needs[0], entry.stock) for entry in later))
    return frozenset(going)


def _last(kind: Kind, count: int) -> Iterator[Need]:
    """So many of a kind's pieces, from its last need on."""
    for need in reversed(kind.needs):
        taken = min(need.count, count)
        if taken:
            yield replace(need, count=taken)
        count -= taken


def _rolls(left: list[Need], entry: Entry, later: Sequence[Entry]) -> tuple[RollCuts | None, list[Need]]:
    stock = entry.stock
    here, over = _parted(left, stock)
    if stock.length is None or not here:
        return None, left
    lengths = [along_roll(need.size, stock.width) or 0.0 for need in here]
    kinds = tuple(Kind((need,), Want(Size(min(need.size), long), need.count)) for need, long in zip(here, lengths, strict=True))
    rolls = cut_rolls([(long, need.count) for need, long in zip(here, lengths, strict=True)], stock.length)
    if stock.count is not None and sum(roll.times for roll in rolls) > stock.count and later:
        rolls, back = _no_more_rolls(rolls, kinds, stock.count, later)
        over += back
    return (RollCuts(entry, stock.length, kinds, rolls) if rolls else None), over


def _no_more_rolls(
    rolls: Sequence[CutRoll], kinds: Sequence[Kind], count: int, later: Sequence[Entry]
) -> tuple[tuple[CutRoll, ...], list[Need]]:
    """The same as `_no_more`, of rolls."""
    passed_on = _passed_on(kinds, later)
    order = sorted(rolls, key=lambda roll: all(number in passed_on for number, times in enumerate(roll.counts) if times))
    kept: list[CutRoll] = []
    lost = [0] * len(kinds)
    for roll in order:
        free = all(number in passed_on for number, times in enumerate(roll.counts) if times)
        taken = min(roll.times, max(0, count - sum(one.times for one in kept))) if free else roll.times
        kept += [replace(roll, times=taken)] if taken else []
        lost = [before + times * (roll.times - taken) for before, times in zip(lost, roll.counts, strict=True)]
    return tuple(kept), [need for kind, times in zip(kinds, lost, strict=True) for need in _last(kind, times)]


def _kinds(needs: Iterable[Need], stock: Stock) -> Iterator[Kind]:
    """Needs of one size and one grain are cut as one: they may lie in the same ways, on later stock, too."""
    found: dict[tuple[int, int, Grain], list[Need]] = {}
    for need in needs:
        size = (round(need.size.width * 1e4), round(need.size.height * 1e4))
        found.setdefault((*size, need.grain), []).append(need)
    for alike in found.values():
        ways = fitting(alike[0].size, alike[0].grain, stock)
        want = Want(alike[0].size, sum(need.count for need in alike), upright=ways.upright, turned=ways.turned)
        yield Kind(tuple(alike), want)
