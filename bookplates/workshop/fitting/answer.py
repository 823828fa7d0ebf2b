"""What is said of the paper on the table: which piece goes on what, the ways out, and the largest book."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from bookplates.book.record import Plan
from bookplates.errors import Problem
from bookplates.spec.model import Spec
from bookplates.workshop.fitting.fit import PieceFit, faults, piece_fits, warnings
from bookplates.workshop.fitting.trial import Trial
from bookplates.workshop.fitting.way import Way
from bookplates.workshop.fitting.ways import ways

if TYPE_CHECKING:
    from bookplates.workshop.fitting.largest import Largest


@dataclass(frozen=True, slots=True)
class Answer:
    """What `fit` says.

    Attributes:
        trial: the book as written, and what it takes.
        pieces: every piece on every stock of its material.
        ways: the book as written first, then the ways out, the best first; none where the largest book was asked for.
        largest: the largest book of the paper on hand, where it was asked for.
        faults: what does not fit, and what is too little.
        warnings: stock of no use.
    """

    trial: Trial
    pieces: tuple[PieceFit, ...]
    ways: tuple[Way, ...]
    largest: Largest | None
    faults: tuple[Problem, ...]
    warnings: tuple[Problem, ...]


def answer(spec: Spec, plan: Plan, folder: Path | None = None, *, largest: bool = False) -> Answer:
    """Hold a book against the paper on the table.

    Args:
        spec: the book, with its stock.
        plan: of that book.
        folder: where the spec stands, for the font that it may name.
        largest: whether the largest book is asked for, rather than ways out.
    """
    trial = Trial(spec, plan, folder)
    pieces = piece_fits(trial)
    found = () if largest else ways(trial)
    return Answer(trial, pieces, found, _largest(trial) if largest else None, faults(trial, hint(found)), warnings(trial, pieces))


def _largest(trial: Trial) -> Largest:
    from bookplates.workshop.fitting.largest import largest

    return largest(trial)


def hint(found: tuple[Way, ...]) -> str:
    """The best way out in words, and that there are more; empty where there is none."""
    out = [way for way in found if way.works and way.changes]
    if not out:
        return ""
    more = f", or {len(out) - 1} other way{'s' if len(out) > 2 else ''}" if len(out) > 1 else ""
    return f"{out[0].sentence}{more}"
