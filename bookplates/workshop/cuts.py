"""What is cut from each stock, as it is told once it is worked out. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.geometry import Size
from bookplates.lengths import Units, fits, thread_length
from bookplates.spec.stock import Stock
from bookplates.workshop.cutting.roll import CutRoll
from bookplates.workshop.cutting.tree import CutSheet, Want, puts, stops
from bookplates.workshop.lying import with_grain
from bookplates.workshop.needs import Need


@dataclass(frozen=True, slots=True)
class Entry:
    """A stock as it stands in the spec: the first is number 1; one that nobody wrote has none."""

    stock: Stock
    number: int | None


@dataclass(frozen=True, slots=True)
class Kind:
    """Pieces that are alike to the one who cuts: of one size, and free to lie in the same ways.

    Attributes:
        needs: what they are, one name and one owner each.
        want: their size, how many, and how they may lie.
    """

    needs: tuple[Need, ...]
    want: Want

    @property
    def name(self) -> str:
        """What they are called together.

        A front and a back board of one size are two of "board".
        """
        names = list(dict.fromkeys(need.name for need in self.needs))
        lasts = {name.removeprefix("front ").removeprefix("back ") for name in names}
        called = lasts.pop() if len(names) > 1 and len(lasts) == 1 else " or ".join(names)
        whose = ", ".join(dict.fromkeys(need.whose for need in self.needs if need.whose))
        return f"{called} ({whose})" if whose else called


@dataclass(frozen=True, slots=True)
class SheetCuts:
    """What is cut from one stock of sheets.

    Attributes:
        entry: the stock.
        size: of a sheet, as it lies.
        blade: what a cut takes away.
        kinds: what comes out; a `Put` of a tree names one by its place here.
        ways: how the sheets are cut, each with how many are cut so.
    """

    entry: Entry
    size: Size
    blade: float
    kinds: tuple[Kind, ...]
    ways: tuple[CutSheet, ...]

    @property
    def used(self) -> int:
        """How many sheets it takes."""
        return sum(way.times for way in self.ways)

    @property
    def missing(self) -> int:
        """How many of them are not on hand; nothing where nobody said how many are."""
        count = self.entry.stock.count
        return 0 if count is None else max(0, self.used - count)

    @property
    def against(self) -> bool:
        """Whether a piece lies across the grain."""
        return any(not _with(self.kinds[put.want], put.turned, self.entry.stock) for way in self.ways for put in puts(way.tree))


@dataclass(frozen=True, slots=True)
class RollCuts:
    """What is cut from one stock that comes by the length.

    Attributes:
        entry: the stock.
        length: of a roll.
        kinds: what comes out; the lengths of a roll name one by its place here.
        rolls: how the rolls are cut, each with how many are cut so.
    """

    entry: Entry
    length: float
    kinds: tuple[Kind, ...]
    rolls: tuple[CutRoll, ...]

    @property
    def used(self) -> int:
        """How many rolls it takes."""
        return sum(roll.times for roll in self.rolls)

    @property
    def missing(self) -> int:
        """How many of them are not on hand; nothing where nobody said how many are."""
        count = self.entry.stock.count
        return 0 if count is None else max(0, self.used - count)

    def measured_off(self, roll: CutRoll, units: Units) -> tuple[tuple[float, ...], float]:
        """How long each kind is cut off a roll, and what is left of it: a thread as one measures it, where there is room.

        >>> thread = Need("thread", "thread", Size(0.5, 547.75), "none", 2, "")
        >>> kinds = (Kind((thread,), Want(thread.size, 2)),)
        >>> linen = Entry(Stock.model_construct(material="thread", name="linen"), 1)
        >>> RollCuts(linen, 1200.0, kinds, ()).measured_off(CutRoll((2,), 94.5, 1), "mm")
        ((550.0,), 90.0)
        """
        exact = tuple(kind.want.size.height for kind in self.kinds)
        if self.entry.stock.material != "thread":
            return exact, roll.left
        longer = tuple(thread_length(length, units) for length in exact)
        more = sum((one - length) * times for one, length, times in zip(longer, exact, roll.counts, strict=True))
        return (longer, roll.left - more) if fits(more, roll.left) else (exact, roll.left)


@dataclass(frozen=True, slots=True)
class MaterialCuts:
    """One material.

    Attributes:
        material: its name.
        needs: all that is to be cut of it.
        sheets, rolls: what is cut from each stock of it.
        without: what goes on no stock of it, or of which there is no stock.
    """

    material: str
    needs: tuple[Need, ...]
    sheets: tuple[SheetCuts, ...] = ()
    rolls: tuple[RollCuts, ...] = ()
    without: tuple[Need, ...] = ()

    @property
    def cuts(self) -> tuple[SheetCuts | RollCuts, ...]:
        """What is cut from each stock."""
        return (*self.sheets, *self.rolls)

    @property
    def missing(self) -> int:
        """Sheets and rolls that are not on hand."""
        return sum(cuts.missing for cuts in self.cuts)

    @property
    def used(self) -> int:
        """Sheets and rolls."""
        return sum(cuts.used for cuts in self.cuts)

    @property
    def different_stops(self) -> int:
        """How often the stop is set anew, all sheets together."""
        return len({stop for cuts in self.sheets for way in cuts.ways for stop in stops(way.tree)})


def _with(kind: Kind, turned: bool, stock: Stock) -> bool:
    ways = with_grain(kind.needs[0].grain, stock)
    return ways.turned if turned else ways.upright
