"""From sheets to a finished book, step by step, with this book's own sizes.

The cover style says in what order; its own steps come as they are, and those that all books share are written here
from the plan. A step never speaks of a plate that the pack does not hold.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bookplates.book.record import Plan
from bookplates.handout import leaf_steps, sewing_steps
from bookplates.handout.sewing_steps import has
from bookplates.handout.tools import have_ready
from bookplates.kinds.cautions import GLUE, KNIFE_AGAIN, WEIGHT
from bookplates.kinds.step import Stage, Step

__all__ = ["Step", "has", "steps"]


def steps(plan: Plan) -> tuple[Step, ...]:
    """The whole work, in order."""
    work = tuple(step for entry in plan.work for step in _of(entry, plan))
    return _check(plan), have_ready(plan, work), *work


def _of(entry: Step | str, plan: Plan) -> Iterator[Step]:
    yield from (entry,) if isinstance(entry, Step) else STAGES[entry](plan)


def _check(_: Plan) -> Step:
    return Step(
        "Check the print, and read on",
        (
            'Print at 100 % ("actual size").',
            "When the print is cool and dry, lay a steel ruler on both bars of the scale page.",
            "Each must be 100 mm long. Go on only when they are.",
            "A new word is explained in small letters below the step that uses it first. All words stand on the sizes page.",
        ),
        picture="check",
    )


def _press(plan: Plan) -> Iterator[Step]:
    clips = ("Take the clips off.",) if any("clips" in sentence for sentence in plan.laid_in) else ()
    yield Step("Press the book", (*clips, "Close the book.", "Press it under a weight for a day."), WEIGHT, "press")


# ---- the gauges


def _gauges(plan: Plan) -> Iterator[Step]:
    """What is cut from card and offcuts first, once the sizes stand."""
    cards = [layout.title for layout in plan.layouts if layout.title.endswith(" gauge")]
    cards += ["cover punch guide"] if has(plan, "cover punch guide") else []
    if cards or has(plan, "spacer"):
        caution = f"{KNIFE_AGAIN} {GLUE}" if cards else KNIFE_AGAIN
        yield Step("Make the gauges", (*_of_card(cards), *_spacers(plan)), caution, "gauges")


def _of_card(names: list[str]) -> tuple[str, ...]:
    listed = " and ".join(filter(None, (", ".join(names[:-1]), names[-1]))) if names else ""
    round_them = (
        f"Cut round {'these outlines' if len(names) > 1 else 'this outline'} roughly: {listed}.",
        f"Glue {'them' if len(names) > 1 else 'it'} on card. Let the card dry.",
        f"Cut {'each along its' if len(names) > 1 else 'it along the'} lines.",
    )
    return round_them if names else ()


COUNTS = {1: "a spacer", 2: "two spacers", 3: "three spacers", 4: "four spacers"}


def _spacers(plan: Plan) -> tuple[str, ...]:
    if not has(plan, "spacer"):
        return ()
    count = sum(layout.copies for layout in plan.layouts_of("spacer"))
    covered = ("Cover one face of each with backing paper from an offcut of the tape.",) if plan.tape else ()
    return (f"Cut {COUNTS.get(count, f'{count} spacers')} from board offcuts by the spacer outline.", *covered)


STAGES: dict[Stage | str, Callable[[Plan], Iterator[Step]]] = {
    "fold": leaf_steps.fold,
    "nest": leaf_steps.nest,
    "trim": leaf_steps.trim,
    "measure": leaf_steps.measure,
    "gauges": _gauges,
    "pierce": sewing_steps.pierce,
    "thread": sewing_steps.ready_to_sew,
    "sew": sewing_steps.sew,
    "press": _press,
}
