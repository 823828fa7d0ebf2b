"""The same book in another cover: what both styles know is carried over, what only the old one knows is dropped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from bookplates.kinds.pairs import goes, patterns_for
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES
from bookplates.workshop.fitting.trial import Trial
from bookplates.workshop.fitting.written import length_key

SETTING_OUT = frozenset({"stations", "count", "spacing", "pairs", "pair_gap", "tapes", "tape_width", "outer_tape"})
"""Keys of [sewing] that say where the needle goes through: of no use to another pattern."""

OPTIONAL = ("mitre", "gap")
"""Keys of [cover] that mean something else, or are not allowed, with another style: tried, and else dropped."""


@dataclass(frozen=True, slots=True)
class Restyled:
    """A book in another cover: the keys of its spec that were changed, and the tables that were left out."""

    trial: Trial
    changes: Mapping[str, Any]
    without: tuple[str, ...]


def restyled(now: Trial, style: str, keys: Mapping[str, Any]) -> Restyled | None:
    """The book with a cover of another style, `keys` being those of [cover] it is to have; None where there is no such book.

    What is turned in stays as it was; what is usual with the new style is taken only where the paper then does.
    """
    found = [one for turned in _turn_ins(now, style) if (one := _restyled(now, style, {**turned, **keys})) is not None]
    return next((one for one in found if one.trial.goes), found[0] if found else None)


def _turn_ins(now: Trial, style: str) -> Iterator[dict[str, Any]]:
    """The usual turn-in of the old style, where nothing else is written and the new one has another; and nothing."""
    written = getattr(now.spec.cover, "turn_in", None)
    if written is not None and "turn_in" not in now.raw["cover"] and style != now.spec.cover.style:
        yield {"turn_in": length_key(written.head, now.spec.units)}
    yield {}


def _restyled(now: Trial, style: str, keys: Mapping[str, Any]) -> Restyled | None:
    without = tuple(name for name in type(now.spec.cover).tables if name in now.raw and name not in STYLES[style].tables)
    for cover in _covers(now, style, keys):
        for sewing in _sewings(now, style):
            changes = {**cover, **sewing}
            trial = now.after(changes, without)
            if trial is not None:
                return Restyled(trial, changes, without)
    return None


def _covers(trial: Trial, style: str, keys: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """What changes in [cover]: as little as may be, then without what may not go with the new style."""
    raw = trial.raw["cover"]
    model = STYLES[style]
    known = [key for key in model.model_fields if key not in model.tables]
    changes = {**({} if raw["style"] == style else {"cover.style": style}), **{f"cover.{key}": keys[key] for key in keys}}
    changes |= {f"cover.{key}": None for key in raw if key not in known}
    yield changes
    dropped = {f"cover.{key}": None for key in OPTIONAL if key in raw and key in known}
    if dropped:
        yield {**changes, **dropped}


def _sewings(trial: Trial, style: str) -> Iterator[dict[str, Any]]:
    """What changes in [sewing]: nothing if it goes with the new style, else one pattern after the other."""
    raw, now = trial.raw.get("sewing", {}), trial.spec.sewing.pattern
    usual = STYLES[style].default_pattern
    if goes(style, now):
        yield {} if "pattern" in raw or now == usual else {"sewing.pattern": now}
    for pattern in dict.fromkeys((usual, *patterns_for(style))):
        kept = set(PATTERNS[pattern].model_fields) - SETTING_OUT
        dropped = {f"sewing.{key}": None for key in raw if key not in kept}
        yield {**dropped, "sewing.pattern": pattern}
