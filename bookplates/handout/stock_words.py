"""How large stock, offcuts and lengths off a roll are, in words: as a shop writes it, and as a ruler shows it. Lengths in mm."""

from __future__ import annotations

import math

from bookplates.geometry import Size
from bookplates.lengths import MM_PER_INCH, Units, in_inches, in_mm
from bookplates.lengths.rolls import A_HAIR, SHORT, YARD, metres_and_yards

SIXTEENTH = MM_PER_INCH / 16


def sheet_size(size: Size, units: Units) -> str:
    """A sheet as bought: nobody buys it to a tenth of a mm, so the other unit is about so many.

    >>> sheet_size(Size(500, 700), "mm"), sheet_size(Size(203.2, 203.2), "in")
    ('500 × 700 mm (about 19 11/16 × 27 9/16 in)', '8 × 8 in (203.2 × 203.2 mm)')
    """
    inches = f"{_about(size)}{_near(size.width)} × {_near(size.height)} in"
    metric = f"{_digits(size.width)} × {in_mm(size.height)}"
    return f"{inches} ({metric})" if units == "in" else f"{metric} ({inches})"


def side(mm: float, units: Units) -> str:
    """A side of a sheet as bought.

    >>> side(500, "mm"), side(420, "in"), side(279.4, "in")
    ('500 mm (about 19 11/16 in)', 'about 16 17/32 in (420 mm)', '11 in (279.4 mm)')
    """
    inches = f"{_about((mm,))}{_near(mm)} in"
    return f"{inches} ({in_mm(mm)})" if units == "in" else f"{in_mm(mm)} ({inches})"


def _near(mm: float) -> str:
    """Inches to the nearest 1/32, the number alone."""
    return in_inches(mm).partition(" in")[0]


def _about(sides: tuple[float, ...]) -> str:
    return "" if all(in_inches(one).endswith(" in") for one in sides) else "about "


def _digits(mm: float) -> str:
    return in_mm(mm).removesuffix(" mm")


# ---- what is left over


def offcut_size(size: Size, units: Units) -> str:
    """Sides of an offcut in the unit that comes first, rounded down to what a ruler shows: nobody cuts more from it.

    >>> offcut_size(Size(92.7, 700), "mm"), offcut_size(Size(85.725, 762), "in")
    ('92 × 700 mm', '3 3/8 × 30 in')
    """
    wide, high = _down(size.width, units), _down(size.height, units)
    unit = wide.rpartition(" ")[2]
    return f"{wide.removesuffix(f' {unit}')} × {high}" if high.endswith(unit) else f"{wide} × {high}"


def offcut_both(size: Size, units: Units) -> str:
    """The same in both units.

    >>> offcut_both(Size(85.725, 762), "in")
    '3 3/8 × 30 in (85 × 762 mm)'
    """
    return f"{offcut_size(size, units)} ({offcut_size(size, 'mm' if units == 'in' else 'in')})"


def _down(mm: float, units: Units) -> str:
    """Down to a whole mm, or to 1/16 in; a sliver as it is, in mm."""
    part = 1.0 if units == "mm" else SIXTEENTH
    whole = math.floor(mm / part + A_HAIR) * part
    if not whole:
        return in_mm(mm)
    return in_mm(whole) if units == "mm" else in_inches(whole)


# ---- lengths off a roll


def long(mm: float, units: Units = "mm") -> str:
    """A length to be bought, in metres and yards, rounded up.

    >>> long(5000), long(10507, "in")
    ('5 m (5.5 yd)', '11.5 yd (10.51 m)')
    """
    return metres_and_yards(math.ceil(mm / 10 - A_HAIR) / 100, math.ceil(mm / YARD * 10 - A_HAIR) / 10, units)


def left_on_roll(mm: float, units: Units) -> str:
    """What is left on a roll, rounded down; what is shorter than a metre in mm or inches.

    >>> left_on_roll(15066.25, "mm"), left_on_roll(248.8, "in"), left_on_roll(676.8, "mm")
    ('15.06 m (16.4 yd)', '9 3/4 in (248 mm)', '676 mm (26 5/8 in)')
    """
    if mm < SHORT:
        return f"{_down(mm, units)} ({_down(mm, 'mm' if units == 'in' else 'in')})" if mm >= SIXTEENTH else in_mm(mm)
    return metres_and_yards(math.floor(mm / 10 + A_HAIR) / 100, math.floor(mm / YARD * 10 + A_HAIR) / 10, units)
