"""What every cover style answers. A style is a table of keys and pure functions over a `Block`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import ClassVar

from bookplates.errors import Finding
from bookplates.kinds.block import Block
from bookplates.kinds.cover import Cover, TapeSizes
from bookplates.kinds.keys import Keys
from bookplates.kinds.parts import Layout, Piece


class Style(Keys):
    """A cover style: its keys of [cover], and what it answers. Stations on the cover run from its head, mm.

    Attributes:
        style: its name in the spec.
        default_pattern: the sewing it takes where none is written.
        tables: tables of the spec beside [cover] that are this style's own; each is a field of it, too.
    """

    style: str

    default_pattern: ClassVar[str] = "none"
    tables: ClassVar[Mapping[str, type[Keys]]] = MappingProxyType({})

    @property
    def sewn_through(self) -> float:
        """Material of the cover that the needle passes where it goes through the spine, mm."""
        raise NotImplementedError

    def on_cover(self, stations: Sequence[float]) -> tuple[float, ...]:
        """Stations from the head of the cover, given those from the head of the leaf, mm."""
        raise NotImplementedError

    def cover(self, block: Block) -> Cover:
        """Every size of the cover."""
        raise NotImplementedError

    def tape_sizes(self, block: Block, cover_stations: Sequence[float]) -> TapeSizes | None:
        """The sizes of a book tape, where the style has one."""
        raise NotImplementedError

    def pieces(self, block: Block, cover_stations: Sequence[float]) -> tuple[Piece, ...]:
        """What to cut for it, the text paper left out."""
        raise NotImplementedError

    def layouts(self, block: Block, cover_stations: Sequence[float], hole_size: float) -> tuple[Layout, ...]:
        """The true-scale shapes of its templates."""
        raise NotImplementedError

    def findings(self, block: Block, cover_stations: Sequence[float]) -> tuple[Finding, ...]:
        """What a binder would say of it."""
        raise NotImplementedError

    def chosen(self, block: Block) -> Mapping[str, str]:
        """Values of keys that are worked out where they are not written, in words, by dotted key."""
        raise NotImplementedError

    def idle(self) -> frozenset[str]:
        """Dotted keys that have a default but play no part in this book."""
        raise NotImplementedError

    def provisional(self, block: Block) -> tuple[str, ...]:
        """Names of sizes that hang on the block's thickness or trimmed width, as long as no ruler found those."""
        raise NotImplementedError
