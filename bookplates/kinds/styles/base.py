"""What every cover style answers. A style is a table of keys and pure functions over a `Block`."""

from __future__ import annotations

from abc import abstractmethod
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

    What is abstract every style has to answer; the rest has an answer for styles that have nothing of the kind.

    Attributes:
        style: its name in the spec.
        default_pattern: the sewing it takes where none is written.
        tables: tables of the spec beside [cover] that are this style's own; each is a field of it, too.
    """

    style: str

    default_pattern: ClassVar[str]
    tables: ClassVar[Mapping[str, type[Keys]]] = MappingProxyType({})

    @property
    @abstractmethod
    def sewn_through(self) -> float:
        """Material of the cover that the needle passes where it goes through the spine, mm."""

    @abstractmethod
    def on_cover(self, stations: Sequence[float]) -> tuple[float, ...]:
        """Stations from the head of the cover, given those from the head of the leaf, mm."""

    @abstractmethod
    def cover(self, block: Block) -> Cover:
        """Every size of the cover."""

    @abstractmethod
    def pieces(self, block: Block, cover_stations: Sequence[float]) -> tuple[Piece, ...]:
        """What to cut for it, the text paper left out."""

    @abstractmethod
    def layouts(self, block: Block, cover_stations: Sequence[float], hole_size: float) -> tuple[Layout, ...]:
        """The true-scale shapes of its templates; holes are drawn `hole_size` mm wide."""

    @abstractmethod
    def findings(self, block: Block, cover_stations: Sequence[float]) -> tuple[Finding, ...]:
        """What a binder would say of it."""

    @abstractmethod
    def provisional(self, block: Block) -> tuple[str, ...]:
        """Names of the cover's sizes that hang on the block's thickness or trimmed width, as long as no ruler found those."""

    def tape_sizes(self, block: Block, cover_stations: Sequence[float]) -> TapeSizes | None:  # noqa: ARG002  # a style without one asks for nothing
        """The sizes of a book tape; None for a style without one."""
        return None

    def chosen(self, block: Block) -> Mapping[str, str]:  # noqa: ARG002  # same
        """Values of keys that are worked out where they are not written, in words, by dotted key."""
        return {}

    def idle(self) -> frozenset[str]:
        """Dotted keys that have a default but play no part in this book."""
        return frozenset()
