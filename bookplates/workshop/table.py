"""All that a number of books take from the paper on the table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bookplates.book.record import Plan
from bookplates.papers.sizes import called
from bookplates.spec.model import Spec
from bookplates.spec.stock import Cutting, Stock
from bookplates.workshop.cuts import Entry, MaterialCuts
from bookplates.workshop.lacking import Lack, lacks
from bookplates.workshop.needs import Books, Need, needs, spare_books
from bookplates.workshop.sheets import CutAll, cut_all


@dataclass(frozen=True, slots=True)
class Table:
    """What is on the table, and what is cut of it.

    Attributes:
        books: how many are made, spare ones not counted.
        spare: how many more books' materials are made ready.
        needs: every piece, for all of them.
        materials: what is cut from which stock.
        lots: the different books, each with how many are made of it and by whom; the spare ones are the last.
        cutting: how paper is cut, and which offcuts are worth keeping.
        stocked: materials of which stock is written, whether or not anything goes on it.
    """

    books: int
    spare: int
    needs: tuple[Need, ...]
    materials: tuple[MaterialCuts, ...]
    lots: tuple[Books, ...]
    cutting: Cutting
    stocked: frozenset[str] = frozenset()

    @property
    def usual(self) -> Plan:
        """The book that most make."""
        return usual(self.lots)

    def of(self, material: str) -> MaterialCuts:
        """What is cut of a material. Raises KeyError where none is needed."""
        for cuts in self.materials:
            if cuts.material == material:
                return cuts
        raise KeyError(material)


def entries(spec: Spec) -> tuple[Entry, ...]:
    """The stock that the spec writes."""
    return tuple(Entry(stock, number) for number, stock in enumerate(spec.stock, 1))


def text_sheet(spec: Spec) -> Entry | None:
    """The sheet that is divided into leaves, as stock; None where only the leaf is known."""
    keys = spec.text_block
    if keys.sheet is None:
        return None
    stock = Stock.model_construct(material="text paper", name=called(keys.sheet), size=keys.sheet, grain=keys.grain)
    return Entry(stock, None)


def on_table(spec: Spec) -> tuple[Entry, ...]:
    """The stock, with the sheet that the book divides where no stock of text paper is written."""
    written, sheet = entries(spec), text_sheet(spec)
    if sheet is None or any(entry.stock.material == "text paper" for entry in written):
        return written
    return (*written, sheet)


def stock_of(stock: Sequence[Entry], material: str) -> tuple[Entry, ...]:
    """The stock of a material."""
    return tuple(entry for entry in stock if entry.stock.material == material)


def lacking(spec: Spec, there: Table) -> tuple[Lack, ...]:
    """What the paper on the table does not give."""
    stock = on_table(spec)
    return tuple(lacks(there.materials, lambda material: stock_of(stock, material), spec.units))


def usual(lots: Sequence[Books]) -> Plan:
    """The book that most make: spare ones are of that, for of what most make there is most to go wrong."""
    return max(lots, key=lambda lot: lot.count).plan


def table(spec: Spec, plan: Plan, lots: tuple[Books, ...] = (), *, cut: CutAll = cut_all) -> Table:
    """What the books of a spec take: of its class where there is one, else one book.

    Args:
        spec: the book, with its stock.
        plan: of that book.
        lots: books that differ from it, with whose they are; none where all are alike.
        cut: shares needs out over the stock; one that remembers what it was asked before saves time.
    """
    count = sum(lot.count for lot in lots) if lots else len(spec.taught.students) if spec.taught else 1
    spare = spare_books(count, spec.taught.spare) if spec.taught else 0
    made = lots or (Books(plan, count),)
    all_lots = (*made, *((Books(usual(made), spare),) if spare else ()))
    wanted = needs(all_lots)
    cuts = cut(wanted, entries(spec), spec.cutting, text_sheet=text_sheet(spec))
    stocked = frozenset(stock.material for stock in spec.stock)
    return Table(count, spare, wanted, cuts, all_lots, spec.cutting, stocked)
