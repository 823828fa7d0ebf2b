"""Some of a book's plates, by name."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence

from bookplates.book.record import Plan
from bookplates.errors import Problem, WrongUse
from bookplates.plates import PLATES, WITH_STOCK, plates_of

OPTION = "--plates"


def chosen(text: str, plan: Plan, *, with_stock: bool = False) -> tuple[str, ...]:
    """The plates named in a text, with commas between, in the order of the pack.

    Capitals, hyphens and spaces too many are forgiven.

    Raises:
        WrongUse: with every name that is no plate, or none of this book.
    """
    asked = dict.fromkeys(filter(None, (" ".join(re.split(r"[\s_-]+", name.casefold())).strip() for name in text.split(","))))
    there = plates_of(plan, with_stock=with_stock)
    problems = [_unknown(name, there, plan) for name in asked if name not in there]
    if not asked:
        problems = [Problem(OPTION, "no plate is named", f"this book has: {', '.join(there)}")]
    if problems:
        raise WrongUse(*problems)
    return tuple(name for name in there if name in asked)


def _unknown(name: str, there: Sequence[str], plan: Plan) -> Problem:
    if holder := _holders(plan).get(name):
        return Problem(OPTION, f"{name!r} is no plate", f"it comes with {holder}")
    if name in WITH_STOCK:
        return Problem(OPTION, f"this book has no {name}", "that comes where [[stock]] or [class] is written in the spec")
    what = f"this book has no {name}" if name in PLATES else f"{name!r} is no plate"
    near = sorted(there, key=lambda other: -difflib.SequenceMatcher(None, name, other).ratio())
    return Problem(OPTION, what, f"this book has: {', '.join(near)}")


def _holders(plan: Plan) -> dict[str, str]:
    """Templates that have a name of their own, and the plate that each comes with."""
    return {layout.title: layout.plate for layout in plan.layouts if layout.title}
