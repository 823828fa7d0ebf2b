"""Leaves and two covers sewn through the side, a little in from the spine edge, all spine edges level.

Soft: two cards. Hinged (``hinge`` written): boards of two pieces, a strip that is sewn and a main board that swings.
Single leaves, or folded sheets whose fold is at the fore-edge: nothing is nested, so nothing creeps, and there is no joint.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from bookplates.errors import Finding, refuse
from bookplates.geometry import Size, rectangle
from bookplates.kinds import corner
from bookplates.kinds.block import Block, Gathering, Paper
from bookplates.kinds.boards import FACES
from bookplates.kinds.checks import board_findings
from bookplates.kinds.cover import Cover
from bookplates.kinds.keys import INCH, EachSide, Span, Squares, TurnIns
from bookplates.kinds.mitre import Mitre, chosen_mitre, corner_cut, mitre_key
from bookplates.kinds.parts import Layout, Piece, outline
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.styles.base import Style
from bookplates.kinds.styles.side_sewn import steps
from bookplates.kinds.styles.side_sewn.checks import hinge_findings, stack_findings
from bookplates.kinds.styles.side_sewn.guides import cover_guide, leaf_guide
from bookplates.kinds.styles.side_sewn.hinge import Hinged
from bookplates.lengths import both, close, fits

CARD, BOARD = 0.3, 2.0
"""Thickness of a soft cover's card and of hinged boards where none is written, mm: common practice, no source."""

BEYOND_HOLES = 2.0
"""From the edge of the innermost holes to the line along which a soft cover bends, mm: common practice, no source."""


class SideSewn(Style):
    """Keys of [cover] for style "side-sewn"."""

    style: Literal["side-sewn"] = "side-sewn"
    board: Annotated[float, Span(0.3, 10)] | None = Field(
        default=None, description="thickness of the card or boards; 0.3 mm for a soft cover, 2 mm with a hinge"
    )
    square: Annotated[Squares, EachSide(Span(0, 50), "1/8 in")] = Field(
        default=Squares.all(INCH / 8), description="how far the covers stand beyond the leaves"
    )
    leaves: Literal["single", "fore-edge folded"] = Field(
        default="single", description="single leaves, or folded sheets whose fold is at the fore-edge"
    )
    hinge: Annotated[float, Span(3, 300)] | None = Field(
        default=None, description="width of the strip that stays at the spine; written, the covers are hinged boards"
    )
    hinge_gap: Annotated[float, Span(0, 100)] = Field(default=INCH / 8, description="hinge strip to main board")
    turn_in: Annotated[TurnIns, EachSide(Span(3, 100), "3/4 in")] = Field(
        default=TurnIns.all(INCH * 3 / 4), description="covering folded over the edges, fore_edge on both upright sides"
    )
    mitre: Mitre = mitre_key()
    lining_margin: Annotated[float, Span(0, 50)] = Field(default=INCH / 8, description="board showing round the lining")

    default_pattern: ClassVar[str] = "four-hole"
    needs: ClassVar[tuple[tuple[str, tuple[str, ...]], ...]] = (
        ("hinge_gap", ("hinge",)),
        ("turn_in", ("hinge",)),
        ("mitre", ("hinge",)),
        ("lining_margin", ("hinge",)),
    )

    def gathering(self, paper: Paper) -> Gathering:  # noqa: ARG002  # the same whatever the paper
        """Leaf on leaf, or fold on fold."""
        return Gathering(kind="single leaves" if self.leaves == "single" else "fore-edge folded")

    @property
    def thick(self) -> float:
        """Thickness of a cover's card or board, mm."""
        usual = CARD if self.hinge is None else BOARD
        return usual if self.board is None else self.board

    @property
    def corner_cut(self) -> float:
        """The mitre, mm."""
        return corner_cut(self.mitre, self.thick)

    @property
    def sewn(self) -> Sewn:
        """Two covers, each with holes of its own."""
        return Sewn(board=self.thick, head=self.square.head, tail=self.square.tail)

    def on_cover(self, stations: Sequence[float]) -> tuple[float, ...]:
        """Stations moved down by the square at the head, mm."""
        return tuple(station + self.square.head for station in stations)

    def cover_size(self, block: Block) -> Size:
        """Width and height of a whole cover, mm: level with the leaves at the spine edge (handbook SQ12 elsewhere)."""
        return Size(block.width + self.square.fore_edge, block.height + self.square.head + self.square.tail)

    def hinged(self, block: Block) -> Hinged | None:
        """The boards in two pieces; None of a soft cover."""
        if self.hinge is None:
            return None
        return Hinged(self.cover_size(block), self.hinge, self.hinge_gap, self.turn_in, self.corner_cut, self.lining_margin)

    def cover(self, block: Block) -> Cover:
        """Every size of a cover; the two are never joined: open, they lie either side of the spine edges."""
        whole, hinged = self.cover_size(block), self.hinged(block)
        soft = Cover(
            style=self.style,
            board_width=whole.width,
            board_height=whole.height,
            board_thickness=self.thick,
            open_width=2 * whole.width + block.thickness,
            open_height=whole.height,
            square_head=self.square.head,
            square_tail=self.square.tail,
            square_fore_edge=self.square.fore_edge,
        )
        if hinged is None:
            return soft
        return replace(
            soft,
            board_width=hinged.board.width,
            turn_in_head=self.turn_in.head,
            turn_in_tail=self.turn_in.tail,
            turn_in_fore_edge=self.turn_in.fore_edge,
            mitre=self.corner_cut,
            corner_lap=corner.corner_lap(self.corner_cut, self.thick),
            lining_margin=self.lining_margin,
            hinge=hinged.strip,
            hinge_gap=hinged.gap,
        )

    def text_pieces(self, block: Block) -> tuple[Piece, ...] | None:
        """Single leaves where no sheet is known; else sheets or folios as in other books."""
        if self.leaves != "single" or block.sheet is not None:
            return None
        leaf = rectangle(0, 0, *block.cut_leaf)
        return (Piece("text sheet", "text paper", block.leaves, leaf, "head to tail"),)

    def pieces(self, block: Block, seam: Seam) -> tuple[Piece, ...]:  # noqa: ARG002  # wherever it is sewn
        """Two cards, or all that two hinged boards are made of."""
        hinged = self.hinged(block)
        if hinged is not None:
            return hinged.pieces()
        card = rectangle(0, 0, *self.cover_size(block))
        return tuple(Piece(f"{face} covering", "card", 1, card, "head to tail") for face in FACES)

    def layouts(self, block: Block, seam: Seam) -> tuple[Layout, ...]:
        """The true-scale shapes of the covers, and the guide for their holes where the leaves' own does not serve."""
        hinged = self.hinged(block)
        covers = (self._card(block),) if hinged is None else hinged.layouts(block.opening)
        return covers if self.guide_serves_both else (*covers, cover_guide(block, seam, self.square, self.hinge))

    def _card(self, block: Block) -> Layout:
        card = outline("front covering", "cut", rectangle(0, 0, *self.cover_size(block)))
        return Layout("board outline", "", (card,), copies=2, use=CARD_USE)

    @property
    def guide_serves_both(self) -> bool:
        """Whether covers are as tall as the leaves, so that one guide serves for both."""
        return fits(self.square.head, 0.0) and fits(self.square.tail, 0.0)

    def guides(self, block: Block, seam: Seam) -> tuple[Layout, ...]:
        """A flat guide along the spine edge of the leaves."""
        return (leaf_guide(block, seam, for_covers=self.guide_serves_both),) if seam.holes else ()

    def findings(self, block: Block, seam: Seam) -> tuple[Finding, ...]:
        """What a binder would say of leaves, covers and holes."""
        hinged = self.hinged(block)
        if hinged is None:
            of_cover = tuple(board_findings(self.cover_size(block), self.square, block.units, "cover.square"))
        else:
            of_cover = tuple(hinge_findings(hinged, self.thick, self.square, seam, block.units))
        return (*_block_findings(block), *stack_findings(block, self.thick), *of_cover)

    def provisional(self, block: Block) -> tuple[str, ...]:
        """Names of sizes that hang on the trimmed width, as long as no ruler found it."""
        names = ("board width", "covering width", "lining width") if self.hinge is not None else ("board width", "covering width")
        return () if "width" in block.measured else names

    def work(self, block: Block, seam: Seam) -> tuple[Step | Stage, ...]:
        """Leaves, covers, holes, then all together."""
        sizes = steps.Sizes(
            self.cover_size(block),
            self.thick,
            self.square,
            self.leaves != "single",
            self.hinged(block),
            self.guide_serves_both,
            score=max((x for x, _ in seam.holes), default=seam.inset) + seam.hole / 2 + BEYOND_HOLES,
        )
        return steps.work(block, seam.hole, sizes)

    def chosen(self, block: Block) -> Mapping[str, str]:
        """What hangs on whether there is a hinge: the board, and its mitre."""
        board = {} if self.board is not None else {"cover.board": both(self.thick, block.units)}
        return {**board, **(chosen_mitre(self.mitre, self.thick, block.units) if self.hinge is not None else {})}

    def idle(self) -> frozenset[str]:
        """What only hinged boards have."""
        of_hinge = ("cover.hinge_gap", "cover.turn_in", "cover.lining_margin")
        return frozenset(of_hinge) if self.hinge is None else frozenset()


def _block_findings(block: Block) -> Iterator[Finding]:
    """Sections, and a trim that would cut folds open."""
    if block.sections != 1:
        what = f"leaves sewn through the side (cover.style) have no sections, and {block.sections} are written"
        yield refuse("text_block.sections", what, "1")
    trimmed = "width" not in block.measured and not close(block.leaf_width, block.width)
    if block.gathered == "fore-edge folded" and trimmed:
        yield refuse("text_block.trim", "cuts the folds at the fore-edge open", '"flush" or "none", or cover.leaves = "single"')


CARD_USE = (
    "THIS SIDE UP: the inside of the front cover. It serves for both covers: turned over like a page it is the back cover.",
    "Lay this sheet on the card, printed side up, the grain arrow along the card's grain.",
    "Prick through the four corners, take the sheet off, and rule from prick to prick. The middle of the line is the size.",
)
