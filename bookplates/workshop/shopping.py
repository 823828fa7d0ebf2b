"""What to buy for a number of books: stock by the sheet and the roll, and what no stock is written for. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from bookplates.geometry import Size
from bookplates.kinds.parts import Grain
from bookplates.lengths import Units, thread_length
from bookplates.spec.stock import ON_ROLLS
from bookplates.workshop.cuts import MaterialCuts, RollCuts, SheetCuts
from bookplates.workshop.cutting.roll import CUT_ALLOWANCE
from bookplates.workshop.needs import Need
from bookplates.workshop.prices import Price, read_price
from bookplates.workshop.table import Table

What = Literal["sheets", "rolls", "pieces", "length", "tool", "note"]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a shopping list.

    Attributes:
        what: whether it is sheets or rolls of written stock, pieces or a length of a material without, a tool, or a note.
        material: as in the plan, or "thread"; empty for tools and notes.
        name: of the stock, the pieces or the tool; of a note its words.
        number: of the stock in the spec, from 1; None where it is not written there.
        needed: sheets, rolls, pieces or tools.
        on_hand: sheets or rolls there are; None where nobody said.
        to_buy: how many of them then have to be bought.
        size: of a sheet or a piece; of tape or thread without a roll width and length of a cut one; None for what has none.
        length: of a roll, or altogether where there is none, allowances for its cuts included.
        lengths: how many come off the rolls, and `taken`: how much of them that takes, their cuts included; 0 for what does
            not come on rolls.
        area: of all pieces, mm2; 0 for what is not cut from sheets.
        grain: of a stock "long", "short" or "none", of a piece which way it runs on the book.
        price: as written, of one sheet or roll.
        each: the same as a number; None where it is none.
        whose: numbers of the students it is for, where it is not everybody's.
        unfit: whether there is stock of the material, but none that it goes on.
        share: of a tool, how it is shared: "each", "two" or "room"; else empty, and empty where there is one book.
    """

    what: What
    material: str
    name: str
    number: int | None = None
    needed: int = 0
    on_hand: int | None = None
    to_buy: int = 0
    size: Size | None = None
    length: float | None = None
    area: float = 0.0
    grain: str = "none"
    price: str = ""
    each: Price | None = None
    whose: str = ""
    share: str = ""
    lengths: int = 0
    taken: float = 0.0
    unfit: bool = False

    @property
    def total(self) -> Price | None:
        """What is to be bought of it costs; None where the price is no number."""
        return self.each.times(self.to_buy) if self.each else None


def shopping(table: Table) -> tuple[Line, ...]:
    """What to buy, material by material, in their order."""
    return tuple(line for cuts in table.materials for line in _of_material(cuts, table))


def totals(lines: Iterable[Line]) -> tuple[Price, ...]:
    """What all written stock together costs, in each currency; nothing where a price among them is no number."""
    bought = [line for line in lines if line.number is not None and line.to_buy]
    sums: dict[str, Price] = {}
    for line in bought:
        if line.total is None:
            return ()
        one, before = line.total, sums.get(line.total.currency)
        sums[one.currency] = one if before is None else Price(before.amount + one.amount, one.currency, one.before, one.comma)
    return tuple(sums.values())


def _of_material(cuts: MaterialCuts, table: Table) -> Iterator[Line]:
    units = table.usual.units
    yield from (_of_stock(cuts.material, one) for one in cuts.sheets)
    yield from (_of_roll(cuts.material, one, units) for one in cuts.rolls)
    pieces = _by_the_length(cuts.without, units) if cuts.material in ON_ROLLS else map(_pieces, cuts.without)
    yield from (replace(line, unfit=cuts.material in table.stocked) for line in pieces)


def _of_stock(material: str, cuts: SheetCuts | RollCuts) -> Line:
    stock = cuts.entry.stock
    return Line(
        what="sheets" if isinstance(cuts, SheetCuts) else "rolls",
        material=material,
        name=stock.name,
        number=cuts.entry.number,
        needed=cuts.used,
        on_hand=stock.count,
        to_buy=cuts.used - min(cuts.used, stock.count or 0),
        size=stock.size,
        length=stock.length,
        grain=stock.grain,
        price=stock.price,
        each=read_price(stock.price),
    )


def _of_roll(material: str, cuts: RollCuts, units: Units) -> Line:
    """Of a roll it is told, too, how many lengths come off, and how much they and their cuts take."""
    lengths = sum(roll.times * sum(roll.counts) for roll in cuts.rolls)
    taken = sum(roll.times * (cuts.length - cuts.measured_off(roll, units)[1]) for roll in cuts.rolls)
    return replace(_of_stock(material, cuts), lengths=lengths, taken=taken)


def _by_the_length(needs: Iterable[Need], units: Units) -> Iterator[Line]:
    """Tape and thread that no stock is written for: all that is equally wide and cut equally long together."""
    found: dict[tuple[float, float], list[Need]] = {}
    for need in needs:
        length = thread_length(max(need.size), units) if need.material == "thread" else max(need.size)
        found.setdefault((round(min(need.size), 3), round(length, 3)), []).append(need)
    for (wide, long), alike in found.items():
        count = sum(need.count for need in alike)
        yield Line(
            what="length",
            material=alike[0].material,
            name=" and ".join(dict.fromkeys(need.name for need in alike)),
            needed=count,
            to_buy=count,
            size=Size(wide, long),
            length=count * (long + CUT_ALLOWANCE),
            whose=_whose(alike),
        )


def _whose(alike: Iterable[Need]) -> str:
    """Whose they are; nobody's in particular where some are everybody's."""
    told = list(dict.fromkeys(need.whose for need in alike))
    return ", ".join(told) if all(told) else ""


def _pieces(need: Need) -> Line:
    area = need.count * need.size.width * need.size.height
    grain: Grain = need.grain
    return Line(
        what="pieces",
        material=need.material,
        name=need.name,
        needed=need.count,
        to_buy=need.count,
        size=need.size,
        area=area,
        grain=grain,
        whose=need.whose,
    )
