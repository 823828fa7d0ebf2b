"""How each class of line is drawn: width, dashes, grey. Lengths in mm.

Kinds of line follow ISO 128-2: continuous, dashed, long-dashed dotted, long-dashed double-dotted. The lengths of
dashes and gaps are chosen to be read at arm's length on an office printer, its dots longer than the standard's
half line width: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bookplates.plates.drawing import Line


@dataclass(frozen=True, slots=True)
class LineStyle:
    """Width in mm, dashes and gaps by turns in mm (none: continuous), and grey from 0, black, to 1, white."""

    width: float
    dashes: tuple[float, ...] = ()
    grey: float = 0.0


STYLES: Mapping[Line, LineStyle] = {
    "cut": LineStyle(0.35),
    "fold": LineStyle(0.25, (6, 1, 0.5, 1, 0.5, 1)),
    "place": LineStyle(0.25, (3, 1)),
    "centre": LineStyle(0.18, (6, 1, 0.5, 1)),
    "hole": LineStyle(0.18),
    "bar": LineStyle(0.35),
    "thin": LineStyle(0.13),
    "medium": LineStyle(0.25),
    "hidden": LineStyle(0.18, (1.2, 0.6)),
    "light": LineStyle(0.18, grey=0.6),
    "thread": LineStyle(0.45),
    "thread behind": LineStyle(0.45, (1.0, 0.55)),
    "sewn": LineStyle(0.2, grey=0.4),
    "sewn behind": LineStyle(0.2, (1.0, 0.55), 0.4),
}
