"""A book tried on the paper on the table: as it is written, or with some keys of its spec changed."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import Any

from bookplates.book.plan import plan as work_out
from bookplates.book.record import Plan
from bookplates.errors import BadSpec, Problem
from bookplates.lengths import fits
from bookplates.spec.model import Spec
from bookplates.spec.parse import parse
from bookplates.spec.read import read_spec
from bookplates.spec.stock import Cutting, Stock
from bookplates.spec.write import changed
from bookplates.workshop.cuts import Entry, MaterialCuts, SheetCuts
from bookplates.workshop.lacking import Lack
from bookplates.workshop.needs import Need
from bookplates.workshop.sheets import cut_all, goes_on
from bookplates.workshop.table import Table, lacking, on_table, stock_of, table

Changes = Mapping[str, Any]
"""Values by dotted key; None takes a key out."""


class Remembered:
    """`cut_all`, material by material, each question answered once: of most trials only one material is new."""

    def __init__(self) -> None:
        self._cut: dict[Any, tuple[MaterialCuts, ...]] = {}

    def __call__(
        self, needs: Sequence[Need], entries: Sequence[Entry], cutting: Cutting, *, text_sheet: Entry | None = None
    ) -> tuple[MaterialCuts, ...]:
        """Each material with what is cut from its stock, in the order in which the needs name them."""
        return tuple(
            cuts
            for material in dict.fromkeys(need.material for need in needs)
            for cuts in self._of(
                tuple(need for need in needs if need.material == material),
                tuple(entry for entry in entries if entry.stock.material == material),
                cutting,
                text_sheet,
            )
        )

    def _of(
        self, own: tuple[Need, ...], stock: tuple[Entry, ...], cutting: Cutting, text: Entry | None
    ) -> tuple[MaterialCuts, ...]:
        sheet = text and (text.stock.name, text.stock.size, text.stock.grain)
        asked = own, stock, cutting.blade, cutting.offcut, sheet
        if asked not in self._cut:
            self._cut[asked] = cut_all(own, stock, cutting, text_sheet=text)
        return self._cut[asked]


class Trial:
    """A book that can be made, and what it takes of the paper on the table. Lengths in mm.

    Attributes:
        spec: the book.
        plan: every size of it.
        folder: where the spec stands, for the font that it may name.
    """

    def __init__(self, spec: Spec, plan: Plan, folder: Path | None = None, cut: Remembered | None = None) -> None:
        self.spec = spec
        self.plan = plan
        self.folder = folder
        self._cut = cut or Remembered()

    def after(self, changes: Changes, without: Sequence[str] = ()) -> Trial | None:
        """The same book with keys changed and tables left out; None where there is no such book."""
        try:
            return self._after(changes, without)
        except BadSpec:
            return None

    def refused(self, changes: Changes) -> tuple[Problem, ...]:
        """Why there is no book with these keys; nothing where there is one."""
        try:
            self._after(changes)
        except BadSpec as error:
            return error.problems
        return ()

    def _after(self, changes: Changes, without: Sequence[str] = ()) -> Trial:
        source = changed(self.spec.source, changes, without=without)
        reading = read_spec(source, for_printing=False, folder=self.folder, lettering=False)
        if reading.spec is None or reading.problems:
            raise BadSpec(*reading.problems)
        return Trial(reading.spec, work_out(reading.spec), self.folder, self._cut)

    @cached_property
    def raw(self) -> dict[str, Any]:
        """What is written in the spec, table by table."""
        return parse(self.spec.source)

    @cached_property
    def table(self) -> Table:
        """What is cut from which stock."""
        return table(self.spec, self.plan, cut=self._cut)

    @cached_property
    def stock(self) -> tuple[Entry, ...]:
        """The stock, with the sheet that the book divides where no stock of text paper is written."""
        return on_table(self.spec)

    def stock_of(self, material: str) -> tuple[Entry, ...]:
        """The stock of a material."""
        return stock_of(self.stock, material)

    @cached_property
    def _wanted(self) -> tuple[Need, ...]:
        return self.table.needs if "table" in self.__dict__ else table(self.spec, self.plan, cut=_uncut).needs

    @property
    def goes(self) -> bool:
        """Whether every piece goes on some stock of its material, counts left aside; nothing is cut to know that."""
        stocked = ((need, self.stock_of(need.material)) for need in self._wanted)
        return all(any(goes_on(need, entry.stock) for entry in stock) for need, stock in stocked if stock)

    @cached_property
    def lacks(self) -> tuple[Lack, ...]:
        """Pieces that go on no stock of their material, and stock of which there is too little."""
        return lacking(self.spec, self.table)

    @property
    def works(self) -> bool:
        """Whether every piece can be cut from what is on hand."""
        return self.goes and not self._too_much and not self.lacks

    @property
    def _too_much(self) -> bool:
        """Whether more area of a material is needed than there is on hand: then nothing has to be cut to know that."""
        for material in {need.material for need in self._wanted}:
            there = [_area_on_hand(entry.stock) for entry in self.stock_of(material)]
            wanted = sum(need.count * need.size.width * need.size.height for need in self._wanted if need.material == material)
            if there and not fits(wanted, sum(there)):
                return True
        return False

    @cached_property
    def used(self) -> Mapping[tuple[str, str, str], int]:
        """How many sheets or rolls it takes, by material, "sheet" or "roll", and name of the stock."""
        found: dict[tuple[str, str, str], int] = {}
        for material in self.table.materials:
            for cuts in material.cuts:
                key = (material.material, "sheet" if isinstance(cuts, SheetCuts) else "roll", cuts.entry.stock.name)
                found[key] = found.get(key, 0) + cuts.used
        return found

    @property
    def sheets(self) -> int:
        """How many sheets it takes in all, of every stock."""
        return sum(one.used for cuts in self.table.materials for one in cuts.cuts if isinstance(one, SheetCuts))

    @property
    def missing(self) -> int:
        """How many sheets and rolls are not on hand."""
        return sum(cuts.missing for cuts in self.table.materials)

    @property
    def unstocked(self) -> tuple[str, ...]:
        """Materials of which there is no stock."""
        return tuple(cuts.material for cuts in self.table.materials if not self.stock_of(cuts.material))

    def new_warnings(self, before: Trial) -> tuple[Problem, ...]:
        """What a binder would warn of here and not there; a figure that is a little different is no new warning."""
        known = {_without_figures(problem) for problem in before.plan.warnings}
        return tuple(problem for problem in self.plan.warnings if _without_figures(problem) not in known)


def _area_on_hand(stock: Stock) -> float:
    """In square mm; without end where nobody said how much there is, or it comes on rolls."""
    return math.inf if stock.count is None or stock.size is None else stock.count * stock.size.width * stock.size.height


def _without_figures(problem: Problem) -> tuple[str, str]:
    return problem.where.partition(".")[0], "".join(
        letter for letter in problem.what if letter.isalpha() or letter == " "
    ).replace(" ", "")


def _uncut(
    needs: Sequence[Need],  # noqa: ARG001  # what is asked for is known before anything is cut
    entries: Sequence[Entry],  # noqa: ARG001
    cutting: Cutting,  # noqa: ARG001
    *,
    text_sheet: Entry | None = None,  # noqa: ARG001
) -> tuple[MaterialCuts, ...]:
    """Nothing cut."""
    return ()
