"""The operators that set a class of line (ISO 32000-1, 8.4.4 and 8.6.8)."""

from __future__ import annotations

from collections.abc import Mapping

from bookplates.pdf.operators import number, numbers
from bookplates.plates.drawing import Line
from bookplates.plates.lines import STYLES, LineStyle


def _operators(style: LineStyle) -> str:
    return f"{number(style.width)} w [{numbers(style.dashes)}] 0 d {number(style.grey)} G"


OPERATORS: Mapping[Line, str] = {line: _operators(style) for line, style in STYLES.items()}
