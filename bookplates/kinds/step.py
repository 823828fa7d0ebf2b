"""A stage of the work, as it is handed to a learner."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Stage = Literal["fold", "nest", "trim", "measure", "gauges", "spacers", "pierce", "thread", "sew", "press"]
"""Stages that are the same for all books, in words that the handout fills in: a style says when their turn comes."""


@dataclass(frozen=True, slots=True)
class Step:
    """One stage of the work.

    Attributes:
        title: what is done.
        sentences: how, one action a sentence.
        caution: what can hurt there; empty where nothing does.
        picture: which small drawing stands beside it; empty for none.
    """

    title: str
    sentences: tuple[str, ...]
    caution: str = ""
    picture: str = ""
