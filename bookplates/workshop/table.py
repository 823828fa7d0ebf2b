"""All that a number of books take from the paper on the table."""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.book.record import Plan
from bookplates.papers.sizes import called
from bookplates.spec.model import Spec
from bookplates.spec.stock import Stock
from bookplates.workshop.needs import Books, Need, needs, spare_books
from bookplates.workshop.sheets import Entry, MaterialCuts, cut_all


@dataclass(frozen=True, slots=True)
class Table:
    """What is on the table, and what is cut of it.

    Attributes:
        books: how many are made, spare ones not counted.
        spare: how many more books' materials are made ready.
        needs: every piece, for all of them.
        materials: what is cut from which stock.
        lots: the different books, each with how many are made of it and by whom; the spare ones are the last.
    """

    books: int
    spare: int
    needs: tuple[Need, ...]
    materials: tuple[MaterialCuts, ...]
    lots: tuple[Books, ...]

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


def table(spec: Spec, plan: Plan, lots: tuple[Books, ...] = ()) -> Table:
    """What the books of a spec take: of its class where there is one, else one book.

    Args:
        spec: the book, with its stock.
        plan: of that book.
        lots: books that differ from it, with whose they are; none where all are alike.
    """
    count = sum(lot.count for lot in lots) if lots else len(spec.taught.students) if spec.taught else 1
    spare = spare_books(count, spec.taught.spare) if spec.taught else 0
    all_lots = (*(lots or (Books(plan, count),)), *((Books(plan, spare),) if spare else ()))
    wanted = needs(all_lots)
    cuts = cut_all(wanted, entries(spec), spec.cutting, text_sheet=text_sheet(spec))
    return Table(count, spare, wanted, cuts, all_lots)
