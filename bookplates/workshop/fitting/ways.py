"""Ways out when the paper does not suffice, or would with fewer sheets: each made, planned and cut, never only claimed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from bookplates.workshop.fitting.mild import MILD
from bookplates.workshop.fitting.other_books import OTHER, leaf
from bookplates.workshop.fitting.trial import Trial
from bookplates.workshop.fitting.way import ORDER, Asked, Way, both_ways

WITH_LEAF = ("lap", "against grain")
"""What may save much of a leaf; a shorter turn-in saves a few mm of it."""

WORTH = 1.1
"""A leaf so much larger is worth another change of the book."""

COMPARED = ("two pieces", "one piece")
"""Shown also where they save nothing, or do not suffice."""


def ways(before: Trial) -> tuple[Way, ...]:
    """All that was tried and helps, and what is shown to compare it with; the book as written first, then the best first."""
    asked = Asked(before, before)
    mild = [way for kind in MILD for way in kind(asked)]
    other = [way for kind in OTHER for way in kind(asked)]
    if not before.works:
        mild += () if any(way.works for way in mild) else _pairs(asked)
        other += _leaves(asked, mild)
    kept = [way for way in (*mild, *other) if _worth_telling(way)]
    return (as_written(before), *sorted(kept, key=_rank))


def _worth_telling(way: Way) -> bool:
    if way.kinds[0] in COMPARED and len(way.kinds) == 1:
        return True
    if way.works:
        return not way.before.works or way.saved > 0
    return way.trial.goes and (not way.before.goes or way.trial.missing < way.before.missing)


def _rank(way: Way) -> tuple[Any, ...]:
    """The best first: those that suffice, those that alter the book little, those that take few sheets."""
    return not way.works, max(map(ORDER.index, way.kinds)), len(way.kinds), way.trial.sheets, len(way.warnings)


def as_written(before: Trial) -> Way:
    """The book as it is."""
    cover = before.spec.cover
    kind = getattr(cover, "covering", "")
    told = {"taped": "two coverings joined under the tape"}.get(cover.style, {"full": "a covering in one piece"}.get(kind, ""))
    return Way(("as written",), f"as written: {told}" if told else "as written", {}, (), before, before)


def _leaves(asked: Asked, mild: Sequence[Way]) -> Iterator[Way]:
    """A smaller leaf; and with what is mild besides, where a larger one then does."""
    plain = list(leaf(asked))
    yield from plain
    least = _area(plain[0]) if plain else 0.0
    firsts = [way for way in mild if way.kinds[0] in WITH_LEAF and not way.works and _may_serve(way)]
    both = [both_ways(first, then) for first in firsts for then in leaf(Asked(first.trial, asked.before))]
    best = max(both, key=_area, default=None)
    if best is not None and _area(best) > WORTH * least:
        yield best


def _may_serve(way: Way) -> bool:
    """Whether it can be of use beside another: pieces across the grain are only of a material that does not suffice.

    Alone it may change nothing, as where the paper is too small both ways round.
    """
    if way.kinds != ("against grain",):
        return True
    short = {cuts.material for cuts in way.before.table.materials if cuts.without or cuts.missing}
    return any(
        entry.stock.material in short for entry in way.before.stock if f"stock.{entry.number}.against_grain" in way.changes
    )


def _area(way: Way) -> float:
    text = way.trial.plan.text_block
    return text.leaf_width * text.leaf_height


def _pairs(asked: Asked) -> Iterator[Way]:
    """Two mild ways together, where no single one is enough."""
    for number, kind in enumerate(MILD):
        for first in kind(asked):
            if not _may_serve(first):
                continue
            further = Asked(first.trial, asked.before)
            seconds = (second for other in MILD[number + 1 :] for second in other(further))
            yield from (both_ways(first, second) for second in seconds if second.works)
