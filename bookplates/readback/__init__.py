"""Reads the finished bytes of any PDF back into named geometry in mm, by a way of its own.

Shares with the rest of the program only geometry, lengths and errors, so that it cannot repeat its mistakes.
"""

from __future__ import annotations

from bookplates.readback.about import About, about
from bookplates.readback.attached import attached_spec, attached_students
from bookplates.readback.document import count_pages, measure_pdf, measure_runs
from bookplates.readback.measured import Measured, MeasuredPart, as_json

__all__ = [
    "About",
    "Measured",
    "MeasuredPart",
    "about",
    "as_json",
    "attached_spec",
    "attached_students",
    "count_pages",
    "measure_pdf",
    "measure_runs",
]
