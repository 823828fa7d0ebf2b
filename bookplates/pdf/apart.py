"""Pages that are alike but for their frames: what lies on them is made into streams once, however many documents hold it.

In each of those documents the letters of these pages are given their codes first and in the same order: the streams are
then the same, byte for byte.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from bookplates.pages.sheets import Placement
from bookplates.plates.drawing import Label, Layer


class Stream(NamedTuple):
    """Operators, and the same packed."""

    plain: bytes
    packed: bytes


Kept = tuple[Stream, frozenset[Layer]]
Key = tuple[int, ...]


def packed(plain: bytes) -> Stream:
    """The stream of these operators."""
    return Stream(plain, zlib.compress(plain))


class Apart:
    """What the documents of one book have in common.

    Attributes:
        letters: of what lies on the pages, regular and bold, each once.
    """

    def __init__(self, pages: Iterable[Sequence[Placement]]) -> None:
        """For pages on which these lie, frames left out."""
        self._pages = {_key(page): page for page in pages}  # held, so that no others take their places in memory
        self._kept: dict[Key, Kept] = {}
        items = (item for page in self._pages.values() for one in page for item in one.drawing.items)
        texts = dict.fromkeys((item.text, item.bold) for item in items if isinstance(item, Label))
        self.letters = tuple((_distinct(text for text, bold in texts if bold is wanted), wanted) for wanted in (False, True))

    def kept(self, placements: Sequence[Placement]) -> Kept | None:
        """The stream of what lies on a page, and the layers in it, where it was made before."""
        return self._kept.get(_key(placements))

    def keep(self, placements: Sequence[Placement], kept: Kept) -> None:
        """Keep what will come again; what lies on no page of the book will not."""
        if _key(placements) in self._pages:
            self._kept[_key(placements)] = kept


def _key(placements: Sequence[Placement]) -> Key:
    return tuple(map(id, placements))


def _distinct(texts: Iterable[str]) -> str:
    return "".join(dict.fromkeys("".join(texts)))
