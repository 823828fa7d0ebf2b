"""What a pack that came back says of itself, held against what there is: whether it is all there and will print true."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.errors import Problem
from bookplates.readback import About

MAY_BE_HIDDEN = ("Dimensions", "Notes")
"""Layers without which a template is still whole."""


def lost(itself: About, pages: int, named: int) -> Iterator[Problem]:
    """Pages that are missing or there twice, and lines that do not print.

    Args:
        itself: what the pack says.
        pages: how many it has.
        named: how many it names as those of an excerpt; 0 where it names none.
    """
    for should in dict.fromkeys((itself.pages, named or None)):
        if should not in (None, pages):
            yield Problem("", f"it has {pages} pages, not {should}")
    for name in itself.hidden:
        if name not in MAY_BE_HIDDEN:
            yield Problem("", f"the layer '{name}' is hidden and does not print", "show it, and save the file again")


def forgotten(itself: About) -> Iterator[Problem]:
    """What a pack no longer says of itself, which is no fault of its templates."""
    if not itself.true_size:
        yield Problem("", "it no longer asks the viewer to print it at 100 %", "choose that in the print dialog")
    if itself.pages is None:
        yield Problem("", "it no longer says how many pages it has", "see that no page of words is missing")
