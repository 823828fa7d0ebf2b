"""What every cover style answers. A style is a table of keys and pure functions over a `Block` and a `Seam`."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import ClassVar

from bookplates.errors import Finding
from bookplates.kinds.block import Block, Gathering, Paper
from bookplates.kinds.cover import Cover, TapeSizes
from bookplates.kinds.guides import fold_guide
from bookplates.kinds.keys import Keys
from bookplates.kinds.parts import Layout, Piece
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.step import Stage, Step


class Style(Keys):
    """A cover style: its keys of [cover], and what it answers. Stations on the cover run from its head, mm.

    What is abstract every style has to answer; the rest has an answer for styles that have nothing of the kind.

    Attributes:
        style: its name in the spec.
        default_pattern: the sewing it takes where none is written.
        takes: patterns it goes with beside those that name it.
        tables: tables of the spec beside [cover] that are this style's own; each is a field of it, too.
        stands_for: keys of this style that take the place of a needed key of another table, dotted.
    """

    style: str

    default_pattern: ClassVar[str]
    takes: ClassVar[tuple[str, ...]] = ()
    tables: ClassVar[Mapping[str, type[Keys]]] = MappingProxyType({})
    stands_for: ClassVar[Mapping[str, str]] = MappingProxyType({})

    def gathering(self, paper: Paper) -> Gathering:  # noqa: ARG002  # nested folios are the same whatever the paper
        """How the leaves hang together: folios nested in sections, unless a style says otherwise."""
        return Gathering()

    @property
    def sewn(self) -> Sewn:
        """What the needle meets of the cover; nothing where it only sews the text block."""
        return Sewn()

    @abstractmethod
    def on_cover(self, stations: Sequence[float]) -> tuple[float, ...]:
        """Stations from the head of the cover, given those from the head of the leaf, mm."""

    @abstractmethod
    def cover(self, block: Block) -> Cover:
        """Every size of the cover."""

    @abstractmethod
    def pieces(self, block: Block, seam: Seam) -> tuple[Piece, ...]:
        """What to cut for it, the text paper left out."""

    def text_pieces(self, block: Block) -> tuple[Piece, ...] | None:  # noqa: ARG002  # sheets or folios are the same for all
        """The text paper, where that is not sheets or folios; else None."""
        return None

    @abstractmethod
    def layouts(self, block: Block, seam: Seam) -> tuple[Layout, ...]:
        """The true-scale shapes of the cover's templates."""

    def guides(self, block: Block, seam: Seam) -> tuple[Layout, ...]:
        """The punch guides of the text block: one for its folds, unless a style pierces it elsewhere."""
        return (fold_guide(block, seam),) if seam.stations else ()

    @abstractmethod
    def findings(self, block: Block, seam: Seam) -> tuple[Finding, ...]:
        """What a binder would say of it."""

    @abstractmethod
    def provisional(self, block: Block) -> tuple[str, ...]:
        """Names of the cover's sizes that hang on the block's thickness or trimmed width, as long as no ruler found those."""

    def provisional_supports(self, block: Block, seam: Seam) -> tuple[str, ...]:  # noqa: ARG002  # most have none
        """The same of what the block is sewn on."""
        return ()

    @abstractmethod
    def work(self, block: Block, seam: Seam) -> tuple[Step | Stage, ...]:
        """The whole work in its order: steps of this style's own, and the names of those that all books share."""

    def laid_in(self, block: Block, seam: Seam) -> tuple[str, ...]:  # noqa: ARG002  # a block sewn by itself is laid into nothing
        """How block and cover lie to each other while they are sewn, sentence by sentence."""
        return ()

    def tape_sizes(self, block: Block, seam: Seam) -> TapeSizes | None:  # noqa: ARG002  # a style without one asks for nothing
        """The sizes of a book tape; None for a style without one."""
        return None

    def chosen(self, block: Block) -> Mapping[str, str]:  # noqa: ARG002  # same
        """Values of keys that are worked out where they are not written, in words, by dotted key."""
        return {}

    def idle(self) -> frozenset[str]:
        """Dotted keys that have a default but play no part in this book."""
        return frozenset()
