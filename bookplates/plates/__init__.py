"""Plan to drawings: one file for each template, which arranges the plan's numbers and reckons none of its own."""

from __future__ import annotations

from collections.abc import Callable, Collection

from bookplates.book.record import Plan
from bookplates.papers.printing import PageSetup
from bookplates.plates import (
    board_outline,
    cover_punch_guide,
    fold_guide,
    lining_outline,
    punch_guide,
    scale_page,
    sizes,
    spacer,
    steps,
    tape_guide,
    wrap_outline,
)
from bookplates.plates.drawing import Drawing

PLATES: dict[str, Callable[[Plan, PageSetup], tuple[Drawing, ...]]] = {
    "scale page": scale_page.draw,
    "sizes": sizes.draw,
    "steps": steps.draw,
    "board outline": board_outline.draw,
    "wrap outline": wrap_outline.draw,
    "lining outline": lining_outline.draw,
    "tape guide": tape_guide.draw,
    "spacer": spacer.draw,
    "punch guide": punch_guide.draw,
    "cover punch guide": cover_punch_guide.draw,
    "fold guide": fold_guide.draw,
}
"""Every plate, in the order of the pack. One that has no layout in a plan draws nothing; sizes and steps always do."""

ONCE = ("scale page", "sizes", "steps")
"""Plates that nothing is cut from: a pack has them once, however many copies of the others it has."""


WORDS = frozenset({"sizes", "steps"})
"""Plates to read, which hold nothing at true scale."""


WITH_STOCK = ("shopping list", "cutting plan")
"""Plates to read that need the paper on the table, too (see `bench`): where stock or a class is written, they come last."""


def plates_of(plan: Plan, *, with_stock: bool = False) -> tuple[str, ...]:
    """The names of the plates that a book has, in the order of the pack."""
    own = tuple(name for name in PLATES if name in WORDS or plan.layouts_of(name))
    return (*own, *WITH_STOCK) if with_stock else own


def draw_all(plan: Plan, setup: PageSetup, only: Collection[str] = PLATES) -> tuple[Drawing, ...]:
    """All plates of a book, or only those of some names, in the order of the pack, for pages of this set-up."""
    return tuple(drawing for name, draw in PLATES.items() if name in only for drawing in draw(plan, setup))
