"""The key `mitre` of covers with turned-in corners, and what is taken where it is not written."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Field

from bookplates.kinds.keys import Span
from bookplates.lengths import Units, both

Mitre = Annotated[float, Span(0, 150)] | None
"""Board corner to the cut, square to it, mm."""


def mitre_key(*examples: str) -> Any:
    """The key as a style has it, with examples for the starter spec."""
    said = "board corner to the cut, square to it; 1.5 x board where not written"
    return Field(default=None, description=said, examples=list(examples) or None)


def corner_cut(mitre: Mitre, board: float) -> float:
    """The mitre, mm: as written, or 1.5 x the board (common practice, no source).

    >>> corner_cut(None, 2.0), corner_cut(4.0, 2.0)
    (3.0, 4.0)
    """
    return 1.5 * board if mitre is None else mitre


def chosen_mitre(mitre: Mitre, board: float, units: Units) -> Mapping[str, str]:
    """What is taken where it is not written, in words, by its dotted key."""
    return {} if mitre is not None else {"cover.mitre": f"{both(corner_cut(mitre, board), units)}, 1.5 x the board"}
