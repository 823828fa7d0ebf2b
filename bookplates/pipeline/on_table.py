"""What a book takes from the paper on the table: worked out once, when somebody asks."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bookplates.book.record import Plan
    from bookplates.errors import Problem
    from bookplates.plates.drawing import Drawing
    from bookplates.spec.model import Spec
    from bookplates.workshop.table import Table


@dataclass(frozen=True)
class OnTable:
    """A spec and its plan, with the paper; of a spec that says nothing of paper nothing is loaded for it."""

    spec: Spec
    plan: Plan

    @cached_property
    def table(self) -> Table:
        """All that the books take."""
        from bookplates.workshop.table import table

        return table(self.spec, self.plan)

    @property
    def warnings(self) -> tuple[Problem, ...]:
        """What a binder would warn of: of the book, and of stock that it does not go on, or that is too little."""
        return (*self.plan.warnings, *(lacking_of(self.spec, self.table) if self.spec.stock else ()))

    def drawings(self, only: Collection[str]) -> tuple[Drawing, ...]:
        """The plates of what to buy and how to cut it, as far as they are wanted."""
        from bookplates.plates import WITH_STOCK

        names = [name for name in WITH_STOCK if name in only]
        if not names:
            return ()
        from bookplates.plates.bench import draw_bench

        return draw_bench(self.plan, self.table, self.spec.setup, names)


def lacking_of(spec: Spec, there: Table) -> tuple[Problem, ...]:
    """What the paper on the table does not give, to be warned of."""
    from bookplates.workshop.lacking import told_of
    from bookplates.workshop.table import lacking

    return told_of(lacking(spec, there))
