"""The small pictures that stand beside the steps, by name, in the plan's proportions. Lengths in mm."""

from __future__ import annotations

from collections.abc import Callable

from bookplates.book.record import Plan
from bookplates.plates.drawing import Item
from bookplates.plates.pictures import (
    boards,
    covers,
    joining,
    others,
    sewing,
    text,
)
from bookplates.plates.stitches.picture import finished

Picture = Callable[[Plan, float, float], tuple[Item, ...]]


def sew(plan: Plan, _width: float, _height: float) -> tuple[Item, ...]:
    """The whole sewing; its own steps show it stitch by stitch."""
    return finished(plan) if plan.sewing.path.steps else ()


PICTURES: dict[str, Picture] = {
    **text.PICTURES,
    **sewing.PICTURES,
    "sew": sew,
    **boards.PICTURES,
    **joining.PICTURES,
    **covers.PICTURES,
    **others.PICTURES,
}
"""Each draws from its lower left corner, within a width and a height; a name that is not here stands for no picture."""


def picture(name: str, plan: Plan, width: float, height: float) -> tuple[Item, ...]:
    """The picture of that name, or nothing."""
    draw = PICTURES.get(name)
    return draw(plan, width, height) if draw else ()
