"""Reads the finished bytes of any PDF back into named geometry in mm, by a way of its own.

Shares with the rest of the program only geometry, lengths and errors, so that it cannot repeat its mistakes.
"""

from __future__ import annotations

from bookplates.readback.document import measure_pdf
from bookplates.readback.measured import Measured, MeasuredPart, as_json

__all__ = ["Measured", "MeasuredPart", "as_json", "measure_pdf"]
