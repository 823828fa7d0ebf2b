"""The steps of piercing and sewing, for all patterns; a book that is not sewn has none."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from bookplates.book.record import Plan
from bookplates.kinds.cautions import AWL, GLUE_AGAIN, KNIFE_AGAIN, NEEDLE
from bookplates.kinds.lots import in_words
from bookplates.kinds.step import Step
from bookplates.lengths import in_mm, thread_length, told


def has(plan: Plan, plate: str, title: str | None = None) -> bool:
    """Whether the pack holds that plate, or that template among a plate's."""
    return any(title in (None, layout.title) for layout in plan.layouts_of(plate))


def pierce(plan: Plan) -> Iterator[Step]:
    """Every section by the punch guide, in its fold."""
    if not plan.sewing.stations or not has(plan, "punch guide"):
        return
    many = plan.text_block.sections > 1
    yield Step(
        "Pierce the sections" if many else "Pierce the section",
        (
            "Print the page with the punch guide on heavy paper.",
            "Cut the guide out exactly at head and tail. Fold it as a valley, printed side up.",
            *_in_lots(plan),
            f"Open {_opened(plan)} in the middle, and hold it in the cradle.",
            "Lay the guide in the innermost fold, HEAD to the head, and knock both up to the head.",
            "Pierce every station with the awl, down and out along the fold, no wider than the needle.",
            *_and_so_on(plan),
        ),
        f"{AWL} {KNIFE_AGAIN}",
        "pierce",
    )


def _most(plan: Plan) -> tuple[int, ...]:
    """The lots of the section that has most of them."""
    return max(plan.sewing.punching, key=lambda lots: (len(lots), lots), default=())


def _in_lots(plan: Plan) -> tuple[str, ...]:
    lots = _most(plan)
    if len(lots) < 2:
        return ()
    into = f"{'lots of ' if len(lots) < 4 else ''}{in_words(lots)}"
    which = "the section" if plan.text_block.sections == 1 else "a thick section"
    return (f"Take {which} apart into {into} folded sheets.",)


def _opened(plan: Plan) -> str:
    if len(_most(plan)) > 1:
        return "a lot"
    return "the section" if plan.text_block.sections == 1 else "a section"


def _and_so_on(plan: Plan) -> tuple[str, ...]:
    lots, many = len(_most(plan)) > 1, plan.text_block.sections > 1
    each = ("Do the same with each lot, the guide the same way up. Then nest the lots again.",) if lots else ()
    others = "Pierce each further section by the same guide, the same way up. Keep the sections in their order."
    return (*each, *((others,) if many else ()))


LONG = 1500.0
"""A thread longer than this tangles, and takes an arm's length more at each stitch, mm: common practice, no source."""


def ready_to_sew(plan: Plan) -> Iterator[Step]:
    """Thread, needle, and how all is laid."""
    sewing = plan.sewing
    if not sewing.path.steps:
        return
    first = "Hole 1 is the one nearest to the head in the main row." if sewing.holes else "Station 1 is nearest to the head."
    yield Step(
        "Get ready to sew",
        (
            f"Cut {told(to_cut(plan), plan.units)} of thread, {in_mm(sewing.thread)} thick.",
            f"The sewing takes {told(sewing.thread_length, plan.units)}. The rest, a quarter, is for a learner.",
            *_in_pieces(plan),
            "Draw it over the beeswax, unless it is waxed already.",
            "Thread the needle. Make no knot.",
            *plan.laid_in,
            first,
            *filter(None, (plan.sides,)),
            "Never pierce a thread that is already in a hole.",
        ),
        _dangers(plan.laid_in),
        "thread",
    )


DANGERS = ((r"^(Cut|Slit)\b(?!.* with scissors)", KNIFE_AGAIN), (r"\b[Aa]dhesive\b(?! tape)|\bglue\b|^Glue\b", GLUE_AGAIN))
"""What a style may have laid and fixed before the sewing, and the caution that belongs to it."""


def _dangers(sentences: Sequence[str]) -> str:
    return " ".join(caution for words, caution in DANGERS if any(re.search(words, sentence) for sentence in sentences))


def to_cut(plan: Plan) -> float:
    """The thread to cut as one measures it off."""
    return thread_length(plan.sewing.thread_to_cut, plan.units)


def _in_pieces(plan: Plan) -> tuple[str, ...]:
    """A long thread between sections may be pieced together; one that lies open on a cover may not."""
    if plan.sewing.holes or plan.text_block.sections < 2 or plan.sewing.thread_to_cut <= LONG:
        return ()
    return (
        f"Begin with about {told(LONG, plan.units)} of it: more tangles.",
        "When that is used up inside a fold, tie the next piece on there with a weaver's knot.",
    )


def sew(plan: Plan) -> Iterator[Step]:
    """The path of the thread, step by step."""
    if plan.sewing.path.steps:
        yield Step(f"Sew: {plan.sewing.called}", tuple(step.text for step in plan.sewing.path.steps), NEEDLE, "sew")
