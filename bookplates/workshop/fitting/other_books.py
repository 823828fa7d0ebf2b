"""Ways out that make another book of it: another cover, or a smaller leaf."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from bookplates.lengths import both_sizes
from bookplates.workshop.fitting.leaf_search import largest_leaf
from bookplates.workshop.fitting.mild import lap
from bookplates.workshop.fitting.restyle import restyled
from bookplates.workshop.fitting.way import Asked, Found, Kind, Kindly, Way, both_ways


def other_cover(asked: Asked) -> Found:
    """A case for a taped book, and the other way round."""
    cover = asked.now.spec.cover
    if cover.style == "taped":
        yield from _restyled(asked, "one piece", "a covering in one piece: a case", "case", {"covering": "full"})
    elif getattr(cover, "covering", "") == "full":
        for way in _restyled(asked, "two pieces", "two coverings joined under a tape", "taped", {}):
            yield way
            under = lap(Asked(way.trial, asked.before))
            yield from (both_ways(way, other) for other in under if other.trial.sheets < way.trial.sheets)


CLOTH: tuple[tuple[Kind, str], ...] = (
    ("quarter", "a quarter covering: a cloth spine, and side papers"),
    ("half", "a half covering: cloth spine and corners, and side papers"),
)


def cloth_spine(asked: Asked) -> Found:
    """A case with a spine of cloth, and with corners of it as well."""
    cover = asked.now.spec.cover
    if cover.style not in ("taped", "case"):
        return
    for kind, told in CLOTH:
        if getattr(cover, "covering", "") != kind:
            yield from _restyled(asked, kind, told, "case", {"covering": kind})


def _restyled(asked: Asked, kind: Kind, sentence: str, style: str, keys: Mapping[str, Any]) -> Found:
    found = restyled(asked.now, style, keys)
    if found is not None:
        yield Way((kind,), sentence, found.changes, found.without, found.trial, asked.before)


def leaf(asked: Asked) -> Found:
    """The largest smaller book of the same proportions."""
    found = largest_leaf(asked.now, no_larger=True)
    if found is not None:
        sentence = f"a smaller leaf, {both_sizes(found.size, asked.now.spec.units)}"
        yield Way(("leaf",), sentence, found.changes, (), found.trial, asked.before)


OTHER: tuple[Kindly, ...] = (other_cover, cloth_spine)
