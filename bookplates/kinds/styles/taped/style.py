"""Two boards, each covered on its own, joined by a book tape down the spine.

    front board | joint | block | joint | back board        boards apart = thickness + 2 joints

Closed, the tape follows the fold of the section. Taken as a wedge with a right angle (a sharp fold), it
needs sqrt(2) times the thickness to go round; as a half circle (a round fold), pi/2 times. What that takes
more than the flat thickness draws the boards towards the fold, and what they are drawn back less than half
the thickness stands out at the fore-edge: the square grows by ``thickness (1 - a/2)``, a being that factor.
The tape's own thickness and the boards' are left out. Own derivation.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from bookplates.errors import Finding, refuse
from bookplates.geometry import Size, rectangle
from bookplates.kinds import board_steps, corner
from bookplates.kinds.block import Block
from bookplates.kinds.boards import (
    FACES,
    board_layout,
    covering_outline,
    lining_layouts,
    mitre_gauge_layout,
    wrap_layout,
)
from bookplates.kinds.checks import board_findings, joint_findings, lining_findings, mitre_findings
from bookplates.kinds.cover import Cover, TapeSizes
from bookplates.kinds.keys import INCH, EachSide, Keys, Span, Squares, TurnIns
from bookplates.kinds.limits import at_least
from bookplates.kinds.mitre import Mitre, chosen_mitre, corner_cut, mitre_key
from bookplates.kinds.parts import Layout, Piece, outline, rule
from bookplates.kinds.rows import front_side, laid_in_rows, row_findings, section_rows
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.styles.base import Style
from bookplates.kinds.styles.taped import steps
from bookplates.kinds.styles.taped import tape as book_tape
from bookplates.kinds.styles.taped.tape import Tape
from bookplates.kinds.turn_in_strips import Join, Turned, join_key
from bookplates.lengths import fits, said, told

TAPE_LAYER = 0.25
"""Thickness of one layer of book tape, mm: common practice, no source."""

GROOVE_PLAY = 1.0
"""What a cover punch guide is narrower than the groove it drops into, mm."""


class Taped(Style):
    """Keys of [cover] for style "taped"."""

    style: Literal["taped"] = "taped"
    board: Annotated[float, Span(0.3, 10)] = Field(default=2.0, description="thickness of the boards")
    square: Annotated[Squares, EachSide(Span(0, 50), "1/8 in")] = Field(
        default=Squares.all(INCH / 8), description="how far the boards stand beyond the leaves"
    )
    joint: Annotated[float, Span(0, 50)] = Field(
        default=INCH / 4, description="spine edge of the leaves to the back edge of the board"
    )
    gap: Annotated[float, Span(0, 500)] | None = Field(
        default=None, description="board to board, instead of joint", examples=["16 mm"]
    )
    turn_in: Annotated[TurnIns, EachSide(Span(3, 100), "1 in")] = Field(
        default=TurnIns.all(INCH), description="covering folded over the edges of the board"
    )
    mitre: Mitre = mitre_key("3 mm")
    tape: Tape = Field(default=Tape(), description="the table [tape]")
    lining_margin: Annotated[float, Span(0, 50)] = Field(default=INCH * 3 / 8, description="board showing round the lining")
    join: Join = join_key()

    default_pattern: ClassVar[str] = "chain"
    excludes: ClassVar[tuple[tuple[str, str], ...]] = (("joint", "gap"),)
    tables: ClassVar[Mapping[str, type[Keys]]] = MappingProxyType({"tape": Tape})

    @property
    def sewn(self) -> Sewn:
        """Two layers of tape, one outside and one inside."""
        return Sewn(spine=2 * TAPE_LAYER, head=self.square.head, tail=self.square.tail)

    def on_cover(self, stations: Sequence[float]) -> tuple[float, ...]:
        """Stations moved down by the square at the head, mm."""
        return tuple(station + self.square.head for station in stations)

    @property
    def corner_cut(self) -> float:
        """The mitre, mm."""
        return corner_cut(self.mitre, self.board)

    def joint_of(self, block: Block) -> float:
        """Spine edge of the leaves to the back edge of a board, mm; below 0 where a given gap is too narrow."""
        return self.joint if self.gap is None else (self.gap - block.thickness) / 2

    def boards_apart(self, block: Block) -> float:
        """Between the boards' back edges, mm: thickness and two joints (Vaughn, fig. 17; handbook JT1)."""
        return block.thickness + 2 * self.joint_of(block)

    def board_size(self, block: Block) -> Size:
        """Width and height of a board, mm (handbook SQ2 and SQ8 from one formula)."""
        across = block.width + self.square.fore_edge - self.joint_of(block)
        return Size(across, block.height + self.square.head + self.square.tail)

    def lining_size(self, block: Block) -> Size:
        """Width and height of the lining of one board, mm: flush at the spine edge, where the tape covers it."""
        across, up = self.board_size(block)
        return Size(across - self.lining_margin, up - 2 * self.lining_margin)

    def turned(self, block: Block) -> Turned:
        """What of a covering is turned in."""
        lining, short = self.lining_size(block), self.short(block)
        return Turned(self.turn_in, self.join, self.board, self.lining_margin, lining, short)

    def short(self, block: Block) -> float:
        """How far from the spine edge of its board a covering stops, mm: under the tape, or 0."""
        return book_tape.short(self.tape, self.boards_apart(block))

    def closed_square(self, block: Block) -> float:
        """The fore-edge square of the closed book, mm; see the module's docstring."""
        way_round = math.sqrt(2) if block.fold == "sharp" else math.pi / 2
        return self.square.fore_edge + block.thickness * (1 - way_round / 2)

    def cover(self, block: Block) -> Cover:
        """Every size of the cover."""
        board, apart, turn_in = self.board_size(block), self.boards_apart(block), self.turned(block).cut
        return Cover(
            style=self.style,
            board_width=board.width,
            board_height=board.height,
            board_thickness=self.board,
            boards_apart=apart,
            spine_piece_width=None,
            gap=self.gap,
            open_width=2 * board.width + apart,
            open_height=board.height,
            joint=self.joint_of(block),
            square_head=self.square.head,
            square_tail=self.square.tail,
            square_fore_edge=self.square.fore_edge,
            closed_square=self.closed_square(block) if block.sections == 1 else None,
            turn_in_head=turn_in.head,
            turn_in_tail=turn_in.tail,
            turn_in_fore_edge=turn_in.fore_edge,
            mitre=self.corner_cut,
            corner_lap=corner.corner_lap(self.corner_cut, self.board),
            lining_margin=self.lining_margin,
            join=self.join,
        )

    def tape_sizes(self, block: Block, seam: Seam) -> TapeSizes:
        """The sizes of the tape."""
        board = self.board_size(block)
        return book_tape.sizes(self.tape, board, self.board, self.boards_apart(block), board.height - self._last(seam))

    def pieces(self, block: Block, seam: Seam) -> tuple[Piece, ...]:
        """Boards, coverings, linings and the tape; the text paper is left out."""
        size, tape = self.board_size(block), self.tape_sizes(block, seam)
        board, lining = rectangle(0, 0, *size), rectangle(0, 0, *self.lining_size(block))
        turned, of_board = self.turned(block), (block.opening, size)
        papers = {face: covering_outline(face, *of_board, turned.cut, self.corner_cut, short=turned.short) for face in FACES}
        pieces = (
            *(Piece(f"{face} board", "board", 1, board, "head to tail") for face in FACES),
            *(Piece(f"{face} covering", "cover paper", 1, papers[face], "head to tail") for face in FACES),
            *turned.strips,
            *(Piece(f"{face} lining", "lining paper", 1, lining, "head to tail") for face in FACES),
            Piece("tape", "tape", 1, rectangle(0, 0, tape.width, tape.length), "none"),
        )
        return (*pieces, *book_tape.inner_strip(self.tape, size, self.boards_apart(block)))

    def layouts(self, block: Block, seam: Seam) -> tuple[Layout, ...]:
        """The true-scale shapes of the cover's templates."""
        board, opening, turned = self.board_size(block), block.opening, self.turned(block)
        return (
            board_layout(board),
            *(wrap_layout(face, opening, board, turned.cut, self.corner_cut, short=turned.short) for face in FACES),
            mitre_gauge_layout(self.corner_cut),
            *lining_layouts(opening, board, self.lining_size(block), self.lining_margin),
            *book_tape.guide_layouts(self.tape, board, self.boards_apart(block), opening),
            Layout("spacer", "", (outline("spacer", "cut", rectangle(0, 0, self.boards_apart(block), 100.0)),), copies=2),
            self._cover_guide(block, seam),
        )

    def _last(self, seam: Seam) -> float:
        """The last station from the head of the boards, mm."""
        return max(self.on_cover(seam.stations), default=0.0)

    def _cover_guide(self, block: Block, seam: Seam) -> Layout:
        """A card that drops into the groove between the boards, inside up: so the front board is at the left."""
        up, apart = self.board_size(block).height, self.boards_apart(block)
        half = (apart - min(GROOVE_PLAY, apart / 4)) / 2
        front = front_side(block)
        lines = (
            rule("spine centre", "centre", (0.0, 0.0), (0.0, up)),
            rule("front board edge", "place", (front * apart / 2, 0.0), (front * apart / 2, up)),
            rule("back board edge", "place", (-front * apart / 2, 0.0), (-front * apart / 2, up)),
        )
        holes = section_rows(block, self.on_cover(seam.stations), up, seam.hole)
        card = outline("cover punch guide", "cut", rectangle(-half, 0, 2 * half, up))
        return Layout("cover punch guide", "", (card, *lines, *holes))

    def findings(self, block: Block, seam: Seam) -> tuple[Finding, ...]:
        """What a binder would say of the cover."""
        joint, units, board = self.joint_of(block), block.units, self.board_size(block)
        joint_key = "cover.joint" if self.gap is None else "cover.gap"
        if not fits(0.0, joint):
            what = f"{said(self.gap or 0.0, units)} is less than the block is thick, {said(block.thickness, units)}"
            return (refuse("cover.gap", what, f"at least {at_least(block.thickness, units)}, or cover.joint instead"),)
        of_boards = tuple(board_findings(board, self.square, units, joint_key))
        if any(finding.refused for finding in of_boards):
            return of_boards  # nothing can be said of what goes on a board that is none
        swings = 2 * self.board if self.gap is None else block.thickness + 4 * self.board
        turned = self.turned(block)
        return (
            *of_boards,
            *joint_findings(joint, self.board, units, joint_key, swings),
            *mitre_findings(self.corner_cut, self.board, board, turned.cut, units, turn_key=turned.key),
            *lining_findings(self.lining_margin, turned.lining, turn_in=turned.cut, board_thickness=self.board, units=units),
            *turned.findings(units),
            *book_tape.hold_findings(self.tape, board, self.boards_apart(block), units, joint_key),
            *book_tape.end_findings(self.tape, board, board.height - self._last(seam), units),
            *self._lap_findings(block),
            *(row_findings(block) if seam.stations else ()),
        )

    def _lap_findings(self, block: Block) -> tuple[Finding, ...]:
        """Of coverings that stop under the tape."""
        cuts = corner.beside_the_cuts(self.board_size(block), self.turned(block).cut, self.corner_cut)
        return (
            *book_tape.lap_findings(self.tape, self.boards_apart(block), cuts, block.units),
            *book_tape.bare_findings(self.tape, self.lining_margin, block.units),
        )

    def work(self, block: Block, seam: Seam) -> tuple[Step | Stage, ...]:
        """The cover is made and pierced first; then the section is sewn through it."""
        units, apart, turned = block.units, self.boards_apart(block), self.turned(block)
        strips = book_tape.inner_strip(self.tape, self.board_size(block), apart)
        strip = Size(strips[0].width, strips[0].height) if strips else None
        return (
            *("fold", "nest", "trim", "measure", "gauges"),
            board_steps.cut_boards(self.board_size(block), units),
            "spacers",
            board_steps.cover_boards(flush=True, stops=told(turned.short, units) if self.tape.lap else ""),
            *board_steps.turn_in_strips(turned, units),
            board_steps.turn_in(turned.cut, self.corner_cut, units),
            board_steps.line_boards(self.lining_margin, units, flush=True, gauge=self.lining_margin > 0),
            *steps.join(self.tape_sizes(block, seam), apart, strip, units),
            "pierce",
            steps.PIERCE_COVER,
            *("thread", "sew", "press"),
        )

    def laid_in(self, block: Block, seam: Seam) -> tuple[str, ...]:  # noqa: ARG002  # wherever its stations are
        """The fold lies in the groove."""
        if block.sections > 1:
            return laid_in_rows("the cover", self.square.head, block)
        return steps.laid_in_groove(self.square.head, block.units)

    def chosen(self, block: Block) -> Mapping[str, str]:
        """The mitre, where it is not written."""
        return chosen_mitre(self.mitre, self.board, block.units)

    def idle(self) -> frozenset[str]:
        """The joint where a gap is given; what only the other way of finishing the tape's ends needs."""
        unused = {"cover.joint"} if self.gap is not None else set()
        return frozenset(unused | ({"tape.turn_in"} if self.tape.inside == "full" else set()))

    def provisional(self, block: Block) -> tuple[str, ...]:
        """Names of sizes that hang on the block's thickness or trimmed width, as long as no ruler found those."""
        thick, wide = "thickness" not in block.measured, "width" not in block.measured
        names: list[str] = []
        if thick and self.gap is None:
            stops = ["covering off the spine edge"] if self.tape.lap is not None else []
            names += ["boards apart", "tape on each board", *stops, *(["inner strip"] if self.tape.inside == "turn-in" else [])]
        if thick and self.gap is not None:
            names += ["joint width"]
        if thick and block.sections == 1:
            names += ["square, fore-edge"]
        if thick or wide:
            names += ["open width"]
        if wide or (thick and self.gap is not None):
            names += ["board width", "covering width", "lining width", *self.turned(block).level_names]
        elif thick and self.tape.lap is not None:
            names += ["covering width", *self.turned(block).level_names]
        return tuple(names)
