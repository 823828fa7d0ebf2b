"""A stage of the work, as it is handed to a learner."""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.book.record import Plan


@dataclass(frozen=True, slots=True)
class Step:
    """One stage of the work.

    Attributes:
        title: what is done.
        sentences: how, one action a sentence.
        caution: what can hurt there; empty where nothing does.
    """

    title: str
    sentences: tuple[str, ...]
    caution: str = ""


def has(plan: Plan, plate: str, title: str | None = None) -> bool:
    """Whether the pack holds that plate, or that template among a plate's."""
    return any(title in (None, layout.title) for layout in plan.layouts_of(plate))
