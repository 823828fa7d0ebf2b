"""What comes by the length, as a shop writes it and as one measures it off. Lengths in mm."""

from __future__ import annotations

import math

from bookplates.lengths.unit import MM_PER_INCH, Units
from bookplates.lengths.writing import both

YARD = 36 * MM_PER_INCH
SHORT = 1000.0
"""What is shorter is told in mm and inches."""

A_HAIR = 1e-6
"""What the last bit of the arithmetic may take off a length, in parts of what it is rounded to."""


def roll_length(mm: float, units: Units) -> str:
    """How long a roll is: what is written of it, and about as much in the other unit.

    >>> roll_length(4572, "in"), roll_length(20000, "mm"), roll_length(406.4, "mm")
    ('5 yd (4.57 m)', '20 m (21.9 yd)', '406.4 mm (16 in)')
    """
    return both(mm, units) if mm < SHORT else metres_and_yards(round(mm / 1000, 2), round(mm / YARD, 1), units)


def metres_and_yards(metres: float, yards: float, units: Units) -> str:
    """A long length in both units, the user's own first; each is rounded already.

    >>> metres_and_yards(4.57, 5.0, "in")
    '5 yd (4.57 m)'
    """
    return f"{yards:.10g} yd ({metres:.10g} m)" if units == "in" else f"{metres:.10g} m ({yards:.10g} yd)"


def thread_length(mm: float, units: Units) -> float:
    """What to cut for a thread that must be so long at least, as one measures it off: up to the next 10 mm, or half inch.

    >>> thread_length(547.75, "mm"), round(thread_length(708.63, "in") / 25.4, 6)
    (550.0, 28.0)
    """
    part = 10.0 if units == "mm" else MM_PER_INCH / 2
    return math.ceil(mm / part - A_HAIR) * part
