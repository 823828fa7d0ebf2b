"""Folios shared out: over sections, and over the lots in which a section is pierced."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby


def in_words(lots: Sequence[int], last: str = " and ") -> str:
    """How many folded sheets there are to a lot; more than three lots are counted.

    Args:
        lots: folded sheets in each, the larger lots first.
        last: what stands before the last of several.

    >>> in_words((10, 10)), in_words((8, 7, 7), ", then "), in_words((10, 10, 10, 9))
    ('10 and 10', '8, 7, then 7', '3 lots of 10 and 1 lot of 9')
    """
    parts = list(map(str, lots)) if len(lots) < 4 else [_counted(size, len(list(same))) for size, same in groupby(lots)]
    return last.join(filter(None, (", ".join(parts[:-1]), parts[-1])))


def _counted(size: int, count: int) -> str:
    return f"{count} lot{'s' if count > 1 else ''} of {size}"


def shared_out(folios: int, sections: int) -> tuple[int, ...]:
    """Folios for each section, as evenly as they go, the thicker ones first.

    >>> shared_out(20, 3)
    (7, 7, 6)
    """
    each, left = divmod(folios, sections)
    return tuple(each + (n < left) for n in range(sections))
