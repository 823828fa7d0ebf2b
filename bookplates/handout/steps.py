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
from bookplates.kinds.cautions import CLASS_KNIFE, GLUE, GLUE_AGAIN, KNIFE_AGAIN, WEIGHT
from bookplates.kinds.step import Stage, Step
from bookplates.lengths import in_mm

__all__ = ["Step", "has", "steps", "text_of"]


def steps(plan: Plan) -> tuple[Step, ...]:
    """The whole work, in order."""
    work = tuple(step for entry in plan.work for step in _of(entry, plan))
    return _check(plan), have_ready(plan, work), *work


def text_of(step: Step) -> str:
    """All that a step says, in one string."""
    return " ".join((step.title, step.caution, *step.sentences))


def _of(entry: Step | str, plan: Plan) -> Iterator[Step]:
    yield from (entry,) if isinstance(entry, Step) else STAGES[entry](plan)


def _check(_: Plan) -> Step:
    return Step(
        "Check the print, and read on",
        (
            'Print at 100 % ("actual size").',
            "When the print is cool and dry, lay a steel ruler on both bars of the scale page.",
            "Each must be 100 mm long. Go on only when they are.",
            "A template that goes over several pages (A1, A2, B1) is joined first: each of its pages says how.",
            "A new word is explained in small letters below the step that uses it first. All words stand on the sizes page.",
        ),
        picture="check",
    )


OFF = "Take the clips off."


def _sentences(entry: Step | str) -> tuple[str, ...]:
    """Of a style's own step; a stage that all books share has its own."""
    return entry.sentences if isinstance(entry, Step) else ()


def _press(plan: Plan) -> Iterator[Step]:
    on = any("clips" in sentence for sentence in plan.laid_in) and not any(OFF in _sentences(entry) for entry in plan.work)
    clips = (OFF,) if on else ()
    yield Step("Press the book", (*clips, "Close the book.", "Press it under a weight for a day."), WEIGHT, "press")


# ---- the gauges


def _gauges(plan: Plan) -> Iterator[Step]:
    """What is cut from card and offcuts first, once the sizes stand."""
    cards = [layout.title for layout in plan.layouts if layout.title.endswith(" gauge")]
    cards += ["cover punch guide"] if has(plan, "cover punch guide") else []
    if cards:
        title = "Make the gauges" if cards[0].endswith(" gauge") else "Make the cover punch guide"
        yield Step(title, _of_card(cards), f"{KNIFE_AGAIN} {GLUE}", "gauges")


def _of_card(names: list[str]) -> tuple[str, ...]:
    listed = " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
    return (
        f"Cut roughly round the outline{'s' if len(names) > 1 else ''} of the {listed}.",
        f"Glue {'them' if len(names) > 1 else 'it'} on card. Let the card dry.",
        f"Cut {'each along its' if len(names) > 1 else 'it along the'} lines.",
    )


SPACER_TAPE = 110.0
"""How much book tape gives a set of spacers the backing paper that covers them, mm."""

COUNTS = {1: "a spacer", 2: "two spacers", 3: "three spacers", 4: "four spacers"}


def _spacers(plan: Plan) -> Iterator[Step]:
    """What keeps the boards apart, from what is left of them."""
    if not has(plan, "spacer"):
        return
    count = sum(layout.copies for layout in plan.layouts_of("spacer"))
    covered = (
        f"Cut {in_mm(SPACER_TAPE)} of the book tape. Peel its backing paper off, and put the tape by for trying out.",
        "Cover one face of each spacer with that backing paper: glue its dull side, the smooth side outwards.",
    )
    cut = f"Cut {COUNTS.get(count, f'{count} spacers')} from board offcuts by the spacer outline."
    if plan.tape:
        yield Step("Make the spacers", (cut, *covered), f"{KNIFE_AGAIN} {CLASS_KNIFE} {GLUE_AGAIN}", "spacers")
    else:
        yield Step("Make the spacers", (cut,), f"{KNIFE_AGAIN} {CLASS_KNIFE}", "spacers")


STAGES: dict[Stage | str, Callable[[Plan], Iterator[Step]]] = {
    "fold": leaf_steps.fold,
    "nest": leaf_steps.nest,
    "trim": leaf_steps.trim,
    "measure": leaf_steps.measure,
    "gauges": _gauges,
    "spacers": _spacers,
    "pierce": sewing_steps.pierce,
    "thread": sewing_steps.ready_to_sew,
    "sew": sewing_steps.sew,
    "press": _press,
}
