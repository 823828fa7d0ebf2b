"""A case: two boards in one covering, made apart from the text block, which its endpapers hold in it.

    front board | joint | block | joint | back board                                    boards apart = thickness + 2 joints
    front board | gap | spine piece | gap | back board     spine piece = thickness + 2 boards; gap = joint + board + movement

Sources: Vaughn 1912, figs. 17 and 42A (handbook JT1, JT2); Brighton worksheets for the stiff spine piece (JT12, JT13).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from bookplates.errors import Finding, refuse
from bookplates.geometry import Size, rectangle
from bookplates.kinds import corner
from bookplates.kinds.block import Block, Gathering, Paper
from bookplates.kinds.boards import FACES
from bookplates.kinds.checks import board_findings, joint_findings, mitre_findings
from bookplates.kinds.cover import Cover
from bookplates.kinds.keys import INCH, EachSide, Span, Squares, TurnIns
from bookplates.kinds.limits import at_least
from bookplates.kinds.mitre import Mitre, chosen_mitre, corner_cut, mitre_key
from bookplates.kinds.parts import Layout, Piece
from bookplates.kinds.seam import Seam
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.styles.base import Style
from bookplates.kinds.styles.case import checks, layouts, steps, tapes
from bookplates.kinds.styles.case.coverings import Case as Laid
from bookplates.lengths import fits, said

ENDPAPERS = 2
"""An open folio at either end of the block: one leaf is pasted down, one stays free."""

SUPER_ON_ENDPAPER = INCH
"""How far the super reaches on each endpaper, mm: Bean & Brodhead 1918 (handbook TI26)."""

SUPER_SHORTER = INCH / 2
"""By how much a super is shorter than the book, mm. The sources say "a little" (handbook TI25, TI26); this is common
practice, no source."""


class Case(Style):
    """Keys of [cover] for style "case"."""

    style: Literal["case"] = "case"
    board: Annotated[float, Span(0.3, 10)] = Field(default=2.0, description="thickness of the boards")
    square: Annotated[Squares, EachSide(Span(0, 50), "1/8 in")] = Field(
        default=Squares.all(INCH / 8), description="how far the boards stand beyond the leaves"
    )
    joint: Annotated[float, Span(0, 50)] = Field(
        default=INCH / 4, description="spine edge of the leaves to the back edge of the board"
    )
    gap: Annotated[float, Span(0, 500)] | None = Field(
        default=None, description="board to spine piece, or board to board where there is none, instead of joint"
    )
    turn_in: Annotated[TurnIns, EachSide(Span(3, 100), "3/4 in")] = Field(
        default=TurnIns.all(INCH * 3 / 4), description="covering folded over the edges of the boards"
    )
    mitre: Mitre = mitre_key()
    covering: Literal["full", "quarter", "half"] = Field(
        default="full", description="full: one piece; quarter: a cloth spine and side papers; half: cloth corners as well"
    )
    cloth_on_board: Annotated[float, Span(3, 300)] = Field(
        default=INCH * 5 / 4, description="quarter and half: cloth lying on each board, and the width of a corner"
    )
    overlap: Annotated[float, Span(0, 50)] = Field(
        default=INCH / 8, description="quarter and half: how far a side paper lies over the cloth"
    )
    spine_piece: Literal["none", "stiff"] = Field(default="none", description="stiff: a strip of board between the boards")
    movement: Annotated[float, Span(0, 20)] = Field(default=1.0, description="spine_piece stiff: play added to the gap")

    default_pattern: ClassVar[str] = "tapes"
    excludes: ClassVar[tuple[tuple[str, str], ...]] = (("joint", "gap"),)

    def gathering(self, paper: Paper) -> Gathering:  # noqa: ARG002  # whatever the paper
        """Nested folios; two folded endpapers thicken the block."""
        return Gathering(endleaves=2 * ENDPAPERS)

    def on_cover(self, stations: Sequence[float]) -> tuple[float, ...]:
        """Stations moved down by the square at the head, mm; the cover itself is not pierced."""
        return tuple(station + self.square.head for station in stations)

    @property
    def corner_cut(self) -> float:
        """The mitre, mm."""
        return corner_cut(self.mitre, self.board)

    @property
    def stiff(self) -> bool:
        """Whether there is a spine piece."""
        return self.spine_piece == "stiff"

    def joint_of(self, block: Block) -> float:
        """Spine edge of the leaves to the back edge of a board, mm; below 0 where a given gap is too narrow."""
        return self.joint if self.gap is None else self.gap - self._least_gap(block) if self.stiff else self._halved(block)

    def _halved(self, block: Block) -> float:
        return ((self.gap or 0.0) - block.thickness) / 2

    def _least_gap(self, block: Block) -> float:
        """The gap at which the joint is 0, mm."""
        return self.board + self.movement if self.stiff else block.thickness

    def spine_width(self, block: Block) -> float | None:
        """Width of the spine piece, mm: the block and both boards (Brighton; handbook JT13)."""
        return block.thickness + 2 * self.board if self.stiff else None

    def spine_gap(self, block: Block) -> float | None:
        """Board to spine piece, mm (Brighton; handbook JT12); without one, the gap as written."""
        return self.joint_of(block) + self.board + self.movement if self.stiff else self.gap

    def laid_open(self, block: Block) -> Laid:
        """The case as it lies open, inside up (handbook SQ2 and SQ8, JT1 and JT12, from one formula each)."""
        joint, spine = self.joint_of(block), self.spine_width(block)
        across = block.width + self.square.fore_edge - joint
        return Laid(
            board=Size(across, block.height + self.square.head + self.square.tail),
            apart=block.thickness + 2 * joint if spine is None else spine + 2 * (self.spine_gap(block) or 0.0),
            spine=spine,
            opening=block.opening,
            turn_in=self.turn_in,
            mitre=self.corner_cut,
            cloth=self.cloth_on_board,
            overlap=self.overlap,
        )

    def cover(self, block: Block) -> Cover:
        """Every size of the cover."""
        laid, cloth = self.laid_open(block), self.covering != "full"
        return Cover(
            style=self.style,
            board_width=laid.board.width,
            board_height=laid.board.height,
            board_thickness=self.board,
            boards_apart=laid.apart,
            spine_piece_width=laid.spine,
            gap=self.spine_gap(block),
            open_width=laid.laid_open.width,
            open_height=laid.laid_open.height,
            joint=self.joint_of(block),
            square_head=self.square.head,
            square_tail=self.square.tail,
            square_fore_edge=self.square.fore_edge,
            turn_in_head=self.turn_in.head,
            turn_in_tail=self.turn_in.tail,
            turn_in_fore_edge=self.turn_in.fore_edge,
            mitre=self.corner_cut,
            corner_lap=corner.corner_lap(self.corner_cut, self.board),
            cloth_on_board=self.cloth_on_board if cloth else None,
            overlap=self.overlap if cloth else None,
        )

    def super_size(self, block: Block) -> Size | None:
        """Width and height of the cloth over the spine, where there is more than one section, mm."""
        if block.sections == 1:
            return None
        on_endpaper = min(SUPER_ON_ENDPAPER, block.width / 2)
        return Size(block.thickness + 2 * on_endpaper, max(block.height - SUPER_SHORTER, block.height / 2))

    def pieces(self, block: Block, seam: Seam) -> tuple[Piece, ...]:
        """Boards, spine piece, covering, endpapers, the super and the sewing tapes; the text paper is left out."""
        laid, mull = self.laid_open(block), self.super_size(block)
        board = rectangle(0, 0, *laid.board)
        endpaper = rectangle(0, 0, 2 * block.leaf_width, block.height)
        stiff = () if laid.spine is None else (rectangle(0, 0, laid.spine, laid.board.height),)
        return (
            *(Piece(f"{face} board", "board", 1, board, "head to tail") for face in FACES),
            *(Piece("spine piece", "board", 1, strip, "head to tail") for strip in stiff),
            *layouts.covering_pieces(laid, self.covering),
            Piece("endpaper", "lining paper", ENDPAPERS, endpaper, "head to tail"),
            *((Piece("super", "cloth", 1, rectangle(0, 0, *mull), "head to tail"),) if mull else ()),
            *tapes.pieces(block, seam),
        )

    def laid_in(self, block: Block, seam: Seam) -> tuple[str, ...]:
        """The sewing tapes, where there are any."""
        return tapes.laid_in(block, seam)

    def layouts(self, block: Block, seam: Seam) -> tuple[Layout, ...]:  # noqa: ARG002  # wherever it is sewn
        """The true-scale shapes of the cover's templates."""
        laid = self.laid_open(block)
        return (
            *layouts.board_layouts(laid),
            *layouts.covering_layouts(laid, self.covering),
            layouts.spacer_layout(laid),
        )

    def findings(self, block: Block, seam: Seam) -> tuple[Finding, ...]:  # noqa: ARG002  # same
        """What a binder would say of the cover."""
        units, joint = block.units, self.joint_of(block)
        joint_key = "cover.joint" if self.gap is None else "cover.gap"
        if not fits(0.0, joint):
            least = self._least_gap(block)
            need = "a board and its movement (cover.board, cover.movement) take" if self.stiff else "the block is thick"
            what = f"{said(self.gap or 0.0, units)} is less than {need}, {said(least, units)}"
            return (refuse("cover.gap", what, f"at least {at_least(least, units)}, or cover.joint instead"),)
        laid = self.laid_open(block)
        of_boards = tuple(board_findings(laid.board, self.square, units, joint_key))
        if any(finding.refused for finding in of_boards):
            return of_boards  # nothing can be said of what goes on a board that is none
        return (*of_boards, *self._of_joint(block, joint_key), *self._of_covering(laid, block))

    def _of_joint(self, block: Block, joint_key: str) -> tuple[Finding, ...]:
        if self.stiff:
            return ()
        swings = 2 * self.board if self.gap is None else block.thickness + 4 * self.board
        return tuple(joint_findings(self.joint_of(block), self.board, block.units, joint_key, swings))

    def _of_covering(self, laid: Laid, block: Block) -> tuple[Finding, ...]:
        units, cloth = block.units, self.covering != "full"
        of_cloth = tuple(checks.cloth_findings(laid, self.covering, units)) if cloth else ()
        written = frozenset(self.model_fields_set)
        if any(finding.refused for finding in of_cloth):
            return of_cloth  # no side paper is left to be mitred
        mitred = {"full": Size(laid.laid_open.width / 2, laid.board.height), "quarter": laid.side, "half": laid.board}
        return (
            *of_cloth,
            *mitre_findings(self.corner_cut, self.board, mitred[self.covering], self.turn_in, units),
            *checks.pasted_leaf_findings(laid, self._leaf_margins(block), self.board, units),
            *checks.reach_findings(laid, self.board, units, corners=self.covering == "half"),
            *checks.unused(written, frozenset(key.partition(".")[2] for key in self.idle())),
        )

    def _leaf_margins(self, block: Block) -> Squares:
        """From the board's edges to the endpaper's leaf, mm: an untrimmed block is wider than its outermost leaf."""
        wider = max(0.0, block.width - block.leaf_width)
        return Squares.model_construct(head=self.square.head, tail=self.square.tail, fore_edge=self.square.fore_edge + wider)

    def work(self, block: Block, seam: Seam) -> tuple[Step | Stage, ...]:
        """The block is sewn and measured first; then its case is made, and it is cased in."""
        laid, units = self.laid_open(block), block.units
        return (
            *("fold", "nest", "trim", "pierce", "thread", "sew"),
            steps.tip_endpapers(Size(2 * block.leaf_width, block.height), units),
            *steps.line_spine(self.super_size(block), units, tapes.STUCK_DOWN if seam.supports else ()),
            *("measure", "gauges"),
            *steps.boards(laid, units),
            "spacers",
            *steps.cover(laid, self.covering, units),
            steps.case_in(self.square, units, super_on=block.sections > 1),
            "press",
        )

    def provisional_supports(self, block: Block, seam: Seam) -> tuple[str, ...]:
        """The sewing tapes, which go round the spine."""
        return ("sewing tape",) if seam.supports and "thickness" not in block.measured else ()

    def chosen(self, block: Block) -> Mapping[str, str]:
        """The mitre, where it is not written."""
        return chosen_mitre(self.mitre, self.board, block.units)

    def idle(self) -> frozenset[str]:
        """The joint where a gap is given, movement without a spine piece, the cloth's keys without any."""
        unused = {"cover.joint"} if self.gap is not None else set()
        unused |= set() if self.stiff else {"cover.movement"}
        return frozenset(unused | ({"cover.cloth_on_board", "cover.overlap"} if self.covering == "full" else set()))

    def provisional(self, block: Block) -> tuple[str, ...]:
        """Names of sizes that hang on the block's thickness or trimmed width, as long as no ruler found those."""
        thick, wide = "thickness" not in block.measured, "width" not in block.measured
        fixed = self.gap is not None and not self.stiff
        full = self.covering == "full"
        names: list[str] = []
        if thick and not fixed:
            names += ["boards apart", *(["spine piece width"] if self.stiff else []), *(() if full else ("cloth width",))]
        if thick and fixed:
            names += ["joint width"]
        if thick and block.sections > 1:
            names += ["super width"]
        if thick or wide:
            names += ["open width", *(("covering width",) if full else ())]
        if wide or (thick and fixed):
            names += ["board width", *(() if full else ("side width",))]
        return tuple(names)
