"""A concertina: panels folded to and fro, joined strip to strip by tabs, and a covered board pasted on either end.

Nothing is sewn and nothing lies at the spine: both upright sides are folds, so the boards stand beyond the panels on all
four sides, and the square of the fore-edge counts on either of them. Own arithmetic; see `kinds.strips`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from bookplates.errors import Finding, refuse, warn
from bookplates.geometry import Size, rectangle
from bookplates.kinds import corner
from bookplates.kinds.all_round import end_panel_findings
from bookplates.kinds.block import Block, Gathering, Paper
from bookplates.kinds.boards import (
    FACES,
    RECTANGLE_FIRST,
    board_layout,
    covering_all_round,
    mitre_gauge_layout,
    wrap_all_round_layout,
)
from bookplates.kinds.checks import board_findings, mitre_findings
from bookplates.kinds.cover import Cover
from bookplates.kinds.keys import INCH, EachSide, Span, Squares, TurnIns
from bookplates.kinds.limits import at_most
from bookplates.kinds.mitre import Mitre, chosen_mitre, corner_cut, mitre_key
from bookplates.kinds.parts import Layout, Part, Piece, outline, rule
from bookplates.kinds.seam import Seam
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.styles.base import Style
from bookplates.kinds.styles.concertina import steps, strips
from bookplates.lengths import both_sizes, fits, said

LONG_STRIP = 1000.0
"""A strip longer than this is not often had in one piece, mm: common practice, no source."""

NOTCH = 3.0
"""How deep and how wide the notches of the fold guide are, mm."""


class Concertina(Style):
    """Keys of [cover] for style "concertina"."""

    style: Literal["concertina"] = "concertina"
    board: Annotated[float, Span(0.3, 10)] = Field(default=2.0, description="thickness of the boards")
    square: Annotated[Squares, EachSide(Span(0, 50), "1/8 in")] = Field(
        default=Squares.all(INCH / 8), description="how far the boards stand beyond the panels, fore_edge on both upright sides"
    )
    turn_in: Annotated[TurnIns, EachSide(Span(3, 100), "3/4 in")] = Field(
        default=TurnIns.all(INCH * 3 / 4),
        description="covering folded over the edges of the board, fore_edge on both upright sides",
    )
    mitre: Mitre = mitre_key()
    panels: Annotated[int, Field(ge=1, le=10_000)] | None = Field(
        default=None, description="how many, instead of sheets or folios; two to a folded sheet where not written"
    )
    tab: Annotated[float, Span(3, 100)] = Field(default=INCH / 2, description="what joins one strip of panels to the next")

    default_pattern: ClassVar[str] = "none"
    stands_for: ClassVar[Mapping[str, str]] = MappingProxyType({"panels": "text_block.sheets"})

    def gathering(self, paper: Paper) -> Gathering:
        """Panels side by side, a leaf each."""
        panels = self.panels or 2 * (paper.folios or 1)  # one folio where nothing is known, to look for more faults by
        cut = strips.divided(panels, paper, self.tab)
        return Gathering(kind="panels", leaves=panels, grain=cut.grain, sheets=cut.sheets)

    def on_cover(self, stations: Sequence[float]) -> tuple[float, ...]:
        """Stations moved down by the square at the head, mm: there are none."""
        return tuple(station + self.square.head for station in stations)

    @property
    def corner_cut(self) -> float:
        """The mitre, mm."""
        return corner_cut(self.mitre, self.board)

    def board_size(self, block: Block) -> Size:
        """Width and height of a board, mm: a panel and the squares on all four sides."""
        return Size(block.width + 2 * self.square.fore_edge, block.height + self.square.head + self.square.tail)

    def cover(self, block: Block) -> Cover:
        """Every size of the cover; open, its two boards lie side by side with the panels between them."""
        board = self.board_size(block)
        return Cover(
            style=self.style,
            board_width=board.width,
            board_height=board.height,
            board_thickness=self.board,
            open_width=2 * board.width + block.thickness,
            open_height=board.height,
            square_head=self.square.head,
            square_tail=self.square.tail,
            square_fore_edge=self.square.fore_edge,
            turn_in_head=self.turn_in.head,
            turn_in_tail=self.turn_in.tail,
            turn_in_fore_edge=self.turn_in.fore_edge,
            mitre=self.corner_cut,
            corner_lap=corner.corner_lap(self.corner_cut, self.board),
        )

    def text_pieces(self, block: Block) -> tuple[Piece, ...]:
        """The strips of panels."""
        return strips.of_block(block, self.tab).pieces

    def pieces(self, block: Block, seam: Seam) -> tuple[Piece, ...]:  # noqa: ARG002  # nothing is sewn
        """Boards and coverings; the end panels line the boards."""
        board = self.board_size(block)
        paper = covering_all_round(board, self.turn_in, self.corner_cut)
        return (
            *(Piece(f"{face} board", "board", 1, rectangle(0, 0, *board), "head to tail") for face in FACES),
            *(Piece(f"{face} covering", "cover paper", 1, paper, "head to tail") for face in FACES),
        )

    def layouts(self, block: Block, seam: Seam) -> tuple[Layout, ...]:  # noqa: ARG002  # same
        """The true-scale shapes of the cover's templates, and of the guide that the strips are folded by."""
        board = self.board_size(block)
        wraps = (wrap_all_round_layout(face, board, self.turn_in, self.corner_cut) for face in FACES)
        return (
            board_layout(board),
            *(replace(wrap, use=WRAP_USE) for wrap in wraps),
            mitre_gauge_layout(self.corner_cut),
            Layout("fold guide", "", self._fold_guide(block), use=steps.guide_use(strips.of_block(block, self.tab))),
        )

    def _fold_guide(self, block: Block) -> tuple[Part, ...]:
        """A panel and a tab, a notch at the head and at the tail of the fold between them."""
        wide, high, half = block.leaf_width, block.height, min(NOTCH, self.tab) / 2
        end = wide + self.tab
        foot = (0.0, 0.0), (wide - half, 0.0), (wide, NOTCH), (wide + half, 0.0), (end, 0.0)
        top = (end, high), (wide + half, high), (wide, high - NOTCH), (wide - half, high), (0.0, high)
        return outline("fold guide", "cut", (*foot, *top)), rule("fold", "fold", (wide, NOTCH), (wide, high - NOTCH))

    def findings(self, block: Block, seam: Seam) -> tuple[Finding, ...]:  # noqa: ARG002  # same
        """What a binder would say of panels and cover."""
        board, units = self.board_size(block), block.units
        return (
            *self._panel_findings(block),
            *_block_findings(block),
            *self._strip_findings(block),
            *board_findings(board, self.square, units, "cover.square"),
            *mitre_findings(self.corner_cut, self.board, board, self.turn_in, units, all_round=True),
            *end_panel_findings(self.square, self.turn_in, self.corner_cut, self.board, units),
        )

    def _panel_findings(self, block: Block) -> Iterator[Finding]:
        if block.leaves < 2:
            yield refuse("cover.panels", f"{block.leaves} panel has no fold", "2 or more; an even number opens like a book")
        elif block.leaves % 2:
            what = f"{block.leaves} panels, an odd number, leave the two free edges on opposite sides of the book"
            yield warn("cover.panels", what, f"that is fine where it is meant; {block.leaves + 1} leave both at the fore-edge")

    def _strip_findings(self, block: Block) -> Iterator[Finding]:
        units, panel = block.units, Size(block.leaf_width, block.height)
        cut = strips.of_block(block, self.tab)
        if not fits(self.tab, panel.width):
            what = f"a tab {said(self.tab, units)} wide passes its panel, {said(panel.width, units)} wide"
            yield refuse("cover.tab", what, f"at most {at_most(panel.width, units)}; {said(INCH / 2, units)} is usual")
        elif block.sheet is not None and not (cut.possible and strips.takes_a_panel(panel, block.sheet, self.tab)):
            what = f"{both_sizes(block.sheet, units)} does not give one panel {both_sizes(panel, units)} and a tab"
            yield refuse("text_block.sheet", what, "a larger sheet, a format of more leaves, or a narrower cover.tab")
        elif block.sheet is None and not fits(cut.last_length, LONG_STRIP):
            what = f"the panels are one strip {said(cut.last_length, units)} long where no sheet is named"
            yield warn("text_block.leaf", what, "text_block.sheet and format instead, for strips joined by tabs")

    def provisional(self, block: Block) -> tuple[str, ...]:
        """Names of sizes that hang on the width of the folded panels, as long as no ruler found it."""
        return () if "width" in block.measured else ("board width", "covering width")

    def work(self, block: Block, seam: Seam) -> tuple[Step | Stage, ...]:  # noqa: ARG002  # same
        """The panels first, then the boards, then both together."""
        sizes = steps.Sizes(strips.of_block(block, self.tab), self.board_size(block), self.square, self.turn_in, self.corner_cut)
        return steps.work(block, sizes)

    def chosen(self, block: Block) -> Mapping[str, str]:
        """The mitre and the number of panels, where they are not written."""
        panels = {} if self.panels is not None else {"cover.panels": f"{block.leaves}, two to a folded sheet"}
        return {**chosen_mitre(self.mitre, self.board, block.units), **panels}


def _block_findings(block: Block) -> Iterator[Finding]:
    """Sections, and a trim that would cut the folds open."""
    if block.sections != 1:
        yield refuse("text_block.sections", f"a concertina has no sections, and {block.sections} are written", "1")
    if "width" not in block.measured and not fits(block.leaf_width, block.width):
        yield refuse("text_block.trim", "cuts the folds of a concertina open", '"flush" or "none"')


WRAP_USE = (
    "The dashed line is the board's place: the paper is turned in on all four sides.",
    "Lay this sheet, printed side up, on the wrong side of the paper. Prick through the board's corners, the small circles.",
    *RECTANGLE_FIRST,
    "Turned over like a page it serves for the other board; turned round it does not.",
)
