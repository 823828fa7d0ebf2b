"""Whether each piece of a book goes on the paper on the table, how, and what is left of the sheet. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bookplates.errors import Problem
from bookplates.geometry import Size
from bookplates.lengths import Units
from bookplates.spec.model import Spec
from bookplates.spec.stock import Cutting
from bookplates.workshop.cuts import Entry
from bookplates.workshop.cutting.engine import cut_up
from bookplates.workshop.cutting.roll import off_roll
from bookplates.workshop.cutting.tree import CutSheet, Want, offcuts, puts
from bookplates.workshop.fitting.trial import Trial
from bookplates.workshop.lacking import why_not
from bookplates.workshop.lying import along_roll, fitting, with_grain
from bookplates.workshop.needs import Need
from bookplates.workshop.sheets import goes_on

MOST_COUNTED = 400
"""Nobody asks whether more than so many pieces come from one sheet."""


@dataclass(frozen=True, slots=True)
class OnStock:
    """A piece on a stock.

    Attributes:
        entry: the stock.
        upright, turned: how it may lie on a sheet, as the sheet's size is written; neither where it does not go on.
        across: whether it goes on only across the grain.
        each: how many come from one sheet or roll; `most` at least, where counting stops there.
        left: the largest offcut when one is cut, left_full: when as many as possible are; what stays on a roll has its
            width, 0 where that is as wide as the piece; None where nothing is left.
        why: why it does not go on; empty where it does.
    """

    entry: Entry
    upright: bool = False
    turned: bool = False
    across: bool = False
    each: int = 0
    left: Size | None = None
    left_full: Size | None = None
    why: str = ""

    @property
    def goes(self) -> bool:
        """Whether it goes on."""
        return self.each > 0

    @property
    def way(self) -> str:
        """How it lies, in words."""
        if self.entry.stock.on_roll:
            return "off the roll" if self.goes else ""
        ways = " or ".join(word for word, may in (("upright", self.upright), ("turned", self.turned)) if may)
        return f"{ways}, against the grain" if self.across else ways


@dataclass(frozen=True, slots=True)
class PieceFit:
    """A piece, and how it goes on each stock of its material; `on` is empty where there is none."""

    need: Need
    on: tuple[OnStock, ...]

    @property
    def goes(self) -> bool:
        """Whether it goes on any."""
        return any(one.goes for one in self.on)


def piece_fits(trial: Trial) -> tuple[PieceFit, ...]:
    """Every piece of a book on every stock of its material."""
    return tuple(PieceFit(need, tuple(_on(trial, need))) for need in trial.table.needs)


def _on(trial: Trial, need: Need) -> Iterator[OnStock]:
    cutting = _blade(trial, need.material)
    yield from (on_stock(need, entry, cutting, trial.spec.units) for entry in trial.stock_of(need.material))


def _blade(trial: Trial, material: str) -> Cutting:
    """What a cut takes away as the table reckons it: nothing where a sheet is only halved."""
    cutting = trial.spec.cutting
    sheets = trial.table.of(material).sheets
    return cutting if not sheets else cutting.model_copy(update={"blade": sheets[0].blade})


def on_stock(need: Need, entry: Entry, cutting: Cutting, units: Units = "mm") -> OnStock:
    """A piece on a stock."""
    stock = entry.stock
    if not goes_on(need, stock):
        return OnStock(entry, why=why_not(need, stock, units))
    if stock.size is None:
        return _on_roll(need, entry)
    ways, kept = fitting(need.size, need.grain, stock), with_grain(need.grain, stock)
    want = Want(need.size, 1, upright=ways.upright, turned=ways.turned)
    one, full = fullest(want, stock.size, cutting)
    across = not ((ways.upright and kept.upright) or (ways.turned and kept.turned))
    return OnStock(entry, ways.upright, ways.turned, across, len(puts(full.tree)), largest_offcut(one), largest_offcut(full))


def _on_roll(need: Need, entry: Entry) -> OnStock:
    stock = entry.stock
    roll, long = stock.length or 0.0, along_roll(need.size, stock.width) or 1.0
    wide = stock.width or 0.0
    one, full = off_roll(long, roll, 1), off_roll(long, roll)
    lefts = [Size(wide, cut.left) if cut.left > 0 else None for cut in (one, full)]
    return OnStock(entry, each=full.counts[0], left=lefts[0], left_full=lefts[1])


def fullest(want: Want, sheet: Size, cutting: Cutting) -> tuple[CutSheet, CutSheet]:
    """A sheet with one such piece cut from it, and one with as many as can be found."""
    most = math.floor(sheet.width * sheet.height / (want.size.width * want.size.height) + 1e-6)
    one = _fullest_of(want, 1, sheet, cutting)
    best = _fullest_of(want, max(1, min(most, MOST_COUNTED)), sheet, cutting)
    while len(puts(best.tree)) < min(most, MOST_COUNTED):
        more = _fullest_of(want, len(puts(best.tree)) + 1, sheet, cutting)
        if len(puts(more.tree)) <= len(puts(best.tree)):
            break
        best = more
    return one, best


def _fullest_of(want: Want, count: int, sheet: Size, cutting: Cutting) -> CutSheet:
    wants = [Want(want.size, count, upright=want.upright, turned=want.turned)]
    return max(cut_up(wants, sheet, cutting.blade, cutting.offcut), key=lambda way: len(puts(way.tree)))


def largest_offcut(way: CutSheet) -> Size | None:
    """The largest piece left over; None where nothing is."""
    return max(offcuts(way.tree), key=lambda size: size.width * size.height, default=None)


def no_stock(spec: Spec) -> Problem | None:
    """What is wrong with a spec that says nothing of the paper on the table."""
    if spec.stock:
        return None
    sheet = '"8 x 8 in"' if spec.units == "in" else '"200 x 200 mm"'
    entry = f'write [[stock]], and below it material = "cover paper", name = "harbour pad", size = {sheet}'
    return Problem("stock", "nothing is said of the paper on the table", entry)


def faults(trial: Trial, hint: str) -> tuple[Problem, ...]:
    """Pieces that go on no stock of their material, and counts that are too low.

    Args:
        trial: the book as written.
        hint: the best way out, in words; empty where none was found.
    """
    fewer = "fewer books" if trial.table.books > 1 else ""
    return tuple(
        Problem(lack.where, lack.what, ", or ".join(filter(None, (hint, lack.buy, "" if lack.piece else fewer))))
        for lack in trial.lacks
    )


def warnings(trial: Trial, pieces: Sequence[PieceFit]) -> tuple[Problem, ...]:
    """Stock that this book has no use for."""
    return tuple(_idle(trial, pieces))


def _idle(trial: Trial, pieces: Sequence[PieceFit]) -> Iterator[Problem]:
    used = [cuts.material for cuts in trial.table.materials]
    for entry in trial.stock:
        name, material = entry.stock.name, entry.stock.material
        if entry.number is None:
            continue
        if material not in used:
            yield Problem(f"stock.{entry.number}.material", f"{name}: this book needs no {material}", f"it needs {_listed(used)}")
            continue
        fits = [piece for piece in pieces if piece.need.material == material]
        if any(piece.goes for piece in fits) and not any(one.goes for piece in fits for one in piece.on if one.entry == entry):
            key = "length" if entry.stock.on_roll else "size"
            yield Problem(f"stock.{entry.number}.{key}", f"no piece of {material} goes on {name}", "another stock takes them")


def _listed(materials: Sequence[str]) -> str:
    return ", ".join(dict.fromkeys(materials))
