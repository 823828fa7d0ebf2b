"""Two boards, each covered on its own on all four sides, sewn to the sections through holes; the spine stays bare.

front board, block, back board        boards as wide as the block and the fore-edge square: no joint, no gap
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from bookplates.errors import Finding, refuse, warn
from bookplates.geometry import Size, rectangle
from bookplates.kinds import board_steps, corner
from bookplates.kinds.block import Block
from bookplates.kinds.boards import (
    FACES,
    board_layout,
    covering_all_round,
    inset_lining_layouts,
    mitre_gauge_layout,
    wrap_all_round_layout,
)
from bookplates.kinds.checks import board_findings, lining_findings, mitre_findings
from bookplates.kinds.cover import Cover
from bookplates.kinds.guides import station_row
from bookplates.kinds.keys import INCH, EachSide, Span, Squares, TurnIns
from bookplates.kinds.limits import at_least, at_most
from bookplates.kinds.mitre import Mitre, chosen_mitre, corner_cut, mitre_key
from bookplates.kinds.parts import Layout, Piece, outline, rule
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.styles.base import Style
from bookplates.kinds.styles.exposed import steps
from bookplates.kinds.turn_in_strips import Join, Turned, join_key
from bookplates.lengths import fits, said

NEAREST_EDGE = 3.0
"""A hole nearer than this to an upright edge of its board tears out, mm: common practice, no source."""

CLEAR_OF_LINING = 1.0
"""A hole stays its own size and this clear of the lining's edge, which it would lift, mm: common practice, no source."""

GUIDE_FLANK = 32.0
"""How far a cover punch guide reaches beyond its row of holes, so that its numbers can be read, mm."""


class Exposed(Style):
    """Keys of [cover] for style "exposed"."""

    style: Literal["exposed"] = "exposed"
    board: Annotated[float, Span(0.3, 10)] = Field(default=2.0, description="thickness of the boards")
    square: Annotated[Squares, EachSide(Span(0, 50), "1/8 in")] = Field(
        default=Squares.all(INCH / 8), description="how far the boards stand beyond the leaves"
    )
    turn_in: Annotated[TurnIns, EachSide(Span(3, 100), "3/4 in")] = Field(
        default=TurnIns.all(INCH * 3 / 4),
        description="covering folded over the edges of the board; over the spine edge as over the fore-edge",
    )
    mitre: Mitre = mitre_key()
    lining_margin: Annotated[float, Span(0, 50)] = Field(default=INCH / 8, description="board showing round the lining")
    join: Join = join_key()

    default_pattern: ClassVar[str] = "link"

    @property
    def sewn(self) -> Sewn:
        """Two boards with holes of their own."""
        return Sewn(board=self.board, head=self.square.head, tail=self.square.tail)

    def on_cover(self, stations: Sequence[float]) -> tuple[float, ...]:
        """Stations moved down by the square at the head, mm."""
        return tuple(station + self.square.head for station in stations)

    @property
    def corner_cut(self) -> float:
        """The mitre, mm."""
        return corner_cut(self.mitre, self.board)

    def board_size(self, block: Block) -> Size:
        """Width and height of a board, mm: from the folds to beyond the fore-edge."""
        return Size(block.width + self.square.fore_edge, block.height + self.square.head + self.square.tail)

    def lining_size(self, block: Block) -> Size:
        """Width and height of the lining of one board, mm: the same margin on four sides (handbook TI11)."""
        across, up = self.board_size(block)
        return Size(across - 2 * self.lining_margin, up - 2 * self.lining_margin)

    def turned(self, block: Block) -> Turned:
        """What of a covering is turned in."""
        lining = self.lining_size(block)
        return Turned(self.turn_in, self.join, self.board, self.lining_margin, lining, all_round=True)

    def cover(self, block: Block) -> Cover:
        """Every size of the cover; its open width is that of the book laid open flat, the bare spine between the boards."""
        board, turn_in = self.board_size(block), self.turned(block).cut
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
            turn_in_head=turn_in.head,
            turn_in_tail=turn_in.tail,
            turn_in_fore_edge=turn_in.fore_edge,
            mitre=self.corner_cut,
            corner_lap=corner.corner_lap(self.corner_cut, self.board),
            lining_margin=self.lining_margin,
            join=self.join,
        )

    def pieces(self, block: Block, seam: Seam) -> tuple[Piece, ...]:  # noqa: ARG002  # the boards are the same however sewn
        """Boards, coverings and linings."""
        size, turned = self.board_size(block), self.turned(block)
        board, lining = rectangle(0, 0, *size), rectangle(0, 0, *self.lining_size(block))
        paper = covering_all_round(size, turned.cut, self.corner_cut)
        return (
            *(Piece(f"{face} board", "board", 1, board, "head to tail") for face in FACES),
            *(Piece(f"{face} covering", "cover paper", 1, paper, "head to tail") for face in FACES),
            *turned.strips,
            *(Piece(f"{face} lining", "lining paper", 1, lining, "head to tail") for face in FACES),
        )

    def layouts(self, block: Block, seam: Seam) -> tuple[Layout, ...]:
        """The true-scale shapes of the cover's templates."""
        board, turn_in = self.board_size(block), self.turned(block).cut
        return (
            board_layout(board),
            *(wrap_all_round_layout(face, board, turn_in, self.corner_cut) for face in FACES),
            mitre_gauge_layout(self.corner_cut),
            *inset_lining_layouts(board, self.lining_size(block), self.lining_margin),
            *((self._punch_guide(block, seam),) if seam.stations else ()),
        )

    def _punch_guide(self, block: Block, seam: Seam) -> Layout:
        """A strip laid on the outside of the front board, its edge at x = 0 on the board's spine edge."""
        board = self.board_size(block)
        wide = min(seam.inset + GUIDE_FLANK, board.width)
        way = 1.0 if block.opening == "left" else -1.0  # outside up, the spine edge is on the side the book is bound
        strip = outline("cover punch guide", "cut", rectangle(min(0.0, way * wide), 0, wide, board.height))
        edge = rule("spine edge place", "place", (0.0, 0.0), (0.0, board.height))
        holes = station_row(self.on_cover(seam.stations), way * seam.inset, board.height, seam.hole)
        return Layout("cover punch guide", "", (strip, edge, *holes), use=steps.PUNCH_USE)

    def findings(self, block: Block, seam: Seam) -> tuple[Finding, ...]:
        """What a binder would say of the cover."""
        units, board = block.units, self.board_size(block)
        of_boards = tuple(board_findings(board, self.square, units, "text_block.trim"))
        if any(finding.refused for finding in of_boards):
            return of_boards  # nothing can be said of what goes on a board that is none
        turned = self.turned(block)
        return (
            *of_boards,
            *mitre_findings(self.corner_cut, self.board, board, turned.cut, units, all_round=True, turn_key=turned.key),
            *lining_findings(self.lining_margin, turned.lining, turn_in=turned.cut, board_thickness=self.board, units=units),
            *turned.findings(units),
            *(self._hole_findings(block, seam) if seam.stations else ()),
        )

    def _hole_findings(self, block: Block, seam: Seam) -> Iterator[Finding]:
        """Holes that tear out of the board, or stand on the very edge of the lining."""
        units, inset, far = block.units, seam.inset, self.board_size(block).width - NEAREST_EDGE
        if not fits(NEAREST_EDGE, inset):
            what = f"holes {said(inset, units)} from the board's spine edge tear out of it"
            yield refuse("sewing.board_inset", what, f"at least {at_least(NEAREST_EDGE, units)}")
        elif not fits(inset, far):
            what = f"holes {said(inset, units)} from the board's spine edge come out at its fore-edge, or past it"
            yield refuse("sewing.board_inset", what, f"{at_most(far, units)} at most")
        else:
            yield from self._lining_edge_findings(block, seam)

    def _lining_edge_findings(self, block: Block, seam: Seam) -> Iterator[Finding]:
        """Holes so near to an edge of the lining that the thread lifts it."""
        units, margin, clear = block.units, self.lining_margin, seam.hole + CLEAR_OF_LINING
        what = "the holes stand {} from the edge of the lining, which the thread would lift"
        off = abs(seam.inset - margin)
        if not fits(clear, off):
            hint = f"at least {at_least(margin + clear, units)}, or another cover.lining_margin"
            yield warn("sewing.board_inset", what.format(said(off, units)), hint)
        places, up = self.on_cover(seam.stations), self.board_size(block).height
        near = min(abs(place - edge) for place in places for edge in (margin, up - margin))
        if seam.inset > margin and not fits(clear, near):
            first = min(places[0], up - places[-1])
            hint = f"{at_most(first - clear, units)} or less" if fits(clear, first) else "other stations ([sewing])"
            yield warn("cover.lining_margin", what.format(said(near, units)), hint)

    def work(self, block: Block, seam: Seam) -> tuple[Step | Stage, ...]:
        """The boards are made and pierced first; then they are sewn on with the sections."""
        units, turned = block.units, self.turned(block)
        pierced = (steps.pierce_boards(seam.inset, seam.hole, units),) if seam.stations else ()
        return (
            *("fold", "nest", "trim", "measure", "gauges"),
            board_steps.cut_boards(self.board_size(block), units),
            board_steps.cover_boards(flush=False),
            *board_steps.turn_in_strips(turned, units),
            board_steps.turn_in(turned.cut, self.corner_cut, units, sides=4),
            board_steps.line_boards(self.lining_margin, units, flush=False, gauge=self.lining_margin > 0),
            *pierced,
            *("pierce", "thread", "sew", "press"),
        )

    def laid_in(self, block: Block, seam: Seam) -> tuple[str, ...]:  # noqa: ARG002  # wherever its stations are
        """The book is built on its front board."""
        return steps.laid_in(self.square.head, block.opening, block.units)

    def chosen(self, block: Block) -> Mapping[str, str]:
        """The mitre, where it is not written."""
        return chosen_mitre(self.mitre, self.board, block.units)

    def provisional(self, block: Block) -> tuple[str, ...]:
        """The width of boards and papers, as long as no ruler found the trimmed width."""
        if "width" in block.measured:
            return ()
        return ("board width", "covering width", "lining width", *self.turned(block).level_names)
