"""The plates that are drawn from a plan and the paper on the table: what to buy, how to cut, how to teach."""

from __future__ import annotations

from collections.abc import Callable, Collection

from bookplates.book.record import Plan
from bookplates.papers.printing import PageSetup
from bookplates.plates import cutting_plan, safety_sheet, shopping_list, timetable
from bookplates.plates.drawing import Drawing
from bookplates.workshop.table import Table

BENCH: dict[str, Callable[[Plan, Table, PageSetup], tuple[Drawing, ...]]] = {
    "shopping list": shopping_list.draw,
    "cutting plan": lambda plan, table, setup: cutting_plan.draw(table, setup, plan.units),
    "timetable": timetable.draw,
    "safety sheet": lambda plan, _, setup: safety_sheet.draw(plan, setup),
}
"""In the order in which a teacher takes them up."""


def draw_bench(plan: Plan, table: Table, setup: PageSetup, only: Collection[str] = tuple(BENCH)) -> tuple[Drawing, ...]:
    """These plates, or only those of some names, in their order, for pages of this set-up; each is a whole page."""
    return tuple(drawing for name, draw in BENCH.items() if name in only for drawing in draw(plan, table, setup))
