"""The unit (mm), and lengths as people write and read them."""

from bookplates.lengths.counts import counted
from bookplates.lengths.reading import LONGEST_TEXT, NotALength, checked_text, read_length, shown, unit_written
from bookplates.lengths.rolls import roll_length, thread_length
from bookplates.lengths.unit import MM_PER_INCH, POINT, Units, close, fits
from bookplates.lengths.writing import both, both_sizes, in_inches, in_mm, said, told

__all__ = [
    "LONGEST_TEXT",
    "MM_PER_INCH",
    "POINT",
    "NotALength",
    "Units",
    "both",
    "both_sizes",
    "checked_text",
    "close",
    "counted",
    "fits",
    "in_inches",
    "in_mm",
    "read_length",
    "roll_length",
    "said",
    "shown",
    "thread_length",
    "told",
    "unit_written",
]
