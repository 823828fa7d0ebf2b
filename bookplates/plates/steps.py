"""The steps, from sheets to a finished book: what is handed to somebody who has never made one."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.book.record import Plan
from bookplates.geometry import Size
from bookplates.handout.glossary import first_uses
from bookplates.handout.steps import Step, steps, text_of
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing
from bookplates.plates.flow import (
    Entry,
    action,
    columns,
    heading,
    pages,
    pictured,
    shifted,
    under_picture,
    whole_pages,
    with_notes,
)
from bookplates.plates.pad import box_of
from bookplates.plates.pictures.table import picture
from bookplates.plates.stitches.cells import sewing

PICTURE = Size(34.0, 27.0)
"""Room for the picture beside a step, mm."""


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """As many whole pages as the steps take."""
    page = setup.room.size
    return whole_pages("steps", pages(entries(plan, columns(page)[1]), page, close_up=True), page)


def entries(plan: Plan, column: float) -> Iterator[Entry]:
    """Step after step, each with the words that it is the first to use."""
    told = steps(plan)
    new = first_uses([text_of(step) for step in told])
    for number, (step, words) in enumerate(zip(told, new, strict=True), 1):
        yield from with_notes(_step(plan, number, step, column), [f"{term}: {meaning}" for term, meaning in words], column)


def _step(plan: Plan, number: int, step: Step, column: float) -> Iterator[Entry]:
    """Its title, what can hurt there, then what to do, with a picture."""
    yield from heading(f"{number}  {step.title}", column)
    if step.caution:
        yield from action("!", f"Take care. {step.caution}", column, bold=True)
    if _stitch_by_stitch(plan, step):
        yield from sewing(plan, number, column)
        return
    drawn = picture(step.picture, plan, *PICTURE)
    if drawn and column >= PICTURE.width:
        bottom = min(box_of(item).bottom for item in drawn)
        cropped = tuple(shifted(drawn, 0.0, -bottom))
        beside = pictured if column > 2 * PICTURE.width else under_picture
        yield from beside(cropped, Size(PICTURE.width, PICTURE.height - bottom), "–", step.sentences, column)
        return
    for sentence in step.sentences:
        yield from action("–", sentence, column)


def _stitch_by_stitch(plan: Plan, step: Step) -> bool:
    """Whether the step is the sewing itself."""
    texts = tuple(stitch.text for stitch in plan.sewing.path.steps)
    return bool(texts) and step.sentences == texts
