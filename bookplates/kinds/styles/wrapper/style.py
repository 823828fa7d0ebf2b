"""One piece of card, folded round the text block and sewn through its spine.

    flap | front | spine | back | flap        open width = 2 (block width + fore-edge square) + thickness, flaps left out

The fold lines of the spine stand half the thickness either side of the middle; a spine under 1 mm is one fold.
A flap turns inside along the cover's fore-edge: beyond that line it takes its own width and what the fold
takes of it, the thickness of the card. Own derivation.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from bookplates.errors import Finding, refuse, warn
from bookplates.geometry import rectangle
from bookplates.kinds.block import Block
from bookplates.kinds.checks import LEAST_BOARD, WIDE_SQUARE
from bookplates.kinds.cover import Cover
from bookplates.kinds.keys import INCH, EachSide, Span, Squares
from bookplates.kinds.limits import at_most
from bookplates.kinds.parts import Layout, Part, Piece, outline, rule
from bookplates.kinds.rows import front_side, laid_in_rows, row_findings, section_rows
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.styles.base import Style
from bookplates.kinds.styles.wrapper import steps
from bookplates.lengths import fits, said

ONE_FOLD = 1.0
"""A spine thinner than this is a single fold, mm: common practice, no source."""

STIFF_CARD = 1.0
"""Card thicker than this does not fold cleanly, mm: common practice, no source."""

NARROW_FLAP = 10.0
"""A flap narrower than this springs out again, mm: common practice, no source."""

GUIDE_FLANK = 32.0
"""How far a cover punch guide reaches beyond the spine on either side, so that its numbers can be read, mm."""


class Wrapper(Style):
    """Keys of [cover] for style "wrapper"."""

    style: Literal["wrapper"] = "wrapper"
    board: Annotated[float, Span(0.3, 10)] = Field(default=0.5, description="thickness of the card")
    square: Annotated[Squares, EachSide(Span(0, 50), "1/8 in")] = Field(
        default=Squares.all(INCH / 8), description="how far the cover stands beyond the leaves"
    )
    flap: Annotated[float, Span(1, 1000)] | None = Field(
        default=None, description="turned inside along the fore-edge of front and back; none where it is not written"
    )

    default_pattern: ClassVar[str] = "pamphlet"

    @property
    def sewn(self) -> Sewn:
        """The card, once."""
        return Sewn(spine=self.board, head=self.square.head, tail=self.square.tail)

    def on_cover(self, stations: Sequence[float]) -> tuple[float, ...]:
        """Stations moved down by the square at the head, mm."""
        return tuple(station + self.square.head for station in stations)

    def panel(self, block: Block) -> float:
        """Width of the front or the back, spine to fore-edge, mm."""
        return block.width + self.square.fore_edge

    def height(self, block: Block) -> float:
        """Head to tail, mm."""
        return block.height + self.square.head + self.square.tail

    def open_width(self, block: Block) -> float:
        """Fore-edge to fore-edge, flaps left out, mm."""
        return 2 * self.panel(block) + block.thickness

    @property
    def beyond(self) -> float:
        """What a flap adds at a fore-edge, mm: itself and the fold."""
        return 0.0 if self.flap is None else self.flap + self.board

    def cover(self, block: Block) -> Cover:
        """Every size of the cover; flaps are not in its open width."""
        return Cover(
            style=self.style,
            board_thickness=self.board,
            open_width=self.open_width(block),
            open_height=self.height(block),
            square_head=self.square.head,
            square_tail=self.square.tail,
            square_fore_edge=self.square.fore_edge,
            flap=self.flap,
        )

    def pieces(self, block: Block, seam: Seam) -> tuple[Piece, ...]:  # noqa: ARG002  # the card is the same however it is sewn
        """The card."""
        card = rectangle(0, 0, self.open_width(block) + 2 * self.beyond, self.height(block))
        return (Piece("wrapper", "card", 1, card, "head to tail"),)

    def layouts(self, block: Block, seam: Seam) -> tuple[Layout, ...]:
        """The card with its folds, inside up, and the guide to pierce it by."""
        return self._card(block, seam), *((self._punch_guide(block, seam),) if seam.stations else ())

    def _card(self, block: Block, seam: Seam) -> Layout:
        (piece,) = self.pieces(block, seam)
        middle, up = piece.width / 2, piece.height
        spine = self._spine_folds(block)
        reach = self.open_width(block) / 2
        flaps = _either_side("flap fold", front_side(block), reach) if self.flap is not None else {}
        folds = (_upright(name, "fold", middle + x, up) for name, x in (*spine.items(), *flaps.items()))
        centre = (_upright("spine centre", "centre", middle, up),) if len(spine) > 1 else ()
        card = outline("wrapper", "cut", piece.outline)
        return Layout(
            "wrap outline",
            "wrapper",
            (card, *folds, *centre),
            use=steps.card_use(block.opening, self.board, self.flap, block.units),
        )

    def _spine_folds(self, block: Block) -> dict[str, float]:
        """The folds of the spine, from the middle of the cover, inside up, mm."""
        if not fits(ONE_FOLD, block.thickness):
            return {"spine fold": 0.0}
        return _either_side("spine fold", front_side(block), block.thickness / 2)

    def _punch_guide(self, block: Block, seam: Seam) -> Layout:
        """A flat strip laid on the inside, as tall as the cover, its lines on the folds of the spine."""
        up, half = self.height(block), block.thickness / 2 + min(GUIDE_FLANK, self.panel(block))
        folds = self._spine_folds(block)
        places = tuple(_upright(f"{name} place", "place", x, up) for name, x in folds.items())
        strip = outline("cover punch guide", "cut", rectangle(-half, 0, 2 * half, up))
        holes = section_rows(block, self.on_cover(seam.stations), up, seam.hole)
        return Layout("cover punch guide", "", (strip, *places, *holes), use=steps.punch_use(len(folds), block.sections))

    def findings(self, block: Block, seam: Seam) -> tuple[Finding, ...]:
        """What a binder would say of the cover."""
        rows = row_findings(block) if seam.stations else ()
        return *self._card_findings(block), *self._flap_findings(block), *rows

    def _card_findings(self, block: Block) -> Iterator[Finding]:
        units, square = block.units, self.square
        if not fits(self.board, STIFF_CARD):
            what = f"card {said(self.board, units)} thick does not fold cleanly, even scored"
            yield warn("cover.board", what, f"{at_most(STIFF_CARD, units)} or less; boards go with another cover.style")
        widest = max(square.head, square.tail, square.fore_edge)
        if not fits(widest, WIDE_SQUARE):
            usual = f"{said(INCH / 8, units)} to {said(INCH / 4, units)} is usual"  # Bean & Brodhead, Problem I (handbook SQ10)
            yield warn("cover.square", f"the cover stands {said(widest, units)} beyond the leaves, which is much", usual)
        if self.panel(block) < LEAST_BOARD:
            what = f"leaves a cover {said(self.panel(block), units)} wide"
            yield refuse("text_block.trim", what, "less trim, or a wider leaf (text_block)")

    def _flap_findings(self, block: Block) -> Iterator[Finding]:
        """A flap that does not go inside the cover, or does not stay there."""
        units, panel = block.units, self.panel(block)
        if self.flap is None:
            return
        if not fits(self.flap, panel):
            what = f"a flap of {said(self.flap, units)} is wider than the front or back it turns in on, {said(panel, units)}"
            yield refuse("cover.flap", what, f"{at_most(panel, units)} at most")
        elif not fits(NARROW_FLAP, self.flap):
            what = f"a flap of {said(self.flap, units)} is so narrow that it springs out again"
            yield warn("cover.flap", what, f"{said(NARROW_FLAP, units)} or more")

    def work(self, block: Block, seam: Seam) -> tuple[Step | Stage, ...]:
        """The card is cut, folded and pierced; then the sections are sewn through it."""
        (card,), folds = self.pieces(block, seam), len(self._spine_folds(block))
        return (
            *("fold", "nest", "trim", "measure", "gauges"),
            steps.score_card((card.width, card.height), folds + (2 if self.flap is not None else 0), block.units),
            steps.fold_card(folds, block.sections),
            *((steps.turn_flaps(self.flap, block.units),) if self.flap is not None else ()),
            "pierce",
            *((steps.pierce_cover(folds, block.sections),) if seam.stations else ()),
            *("thread", "sew"),
            *((steps.FLAPS_BACK,) if self.flap is not None else ()),
            "press",
        )

    def laid_in(self, block: Block, seam: Seam) -> tuple[str, ...]:  # noqa: ARG002  # wherever its stations are
        """The fold lies on the spine of the card."""
        if block.sections > 1:
            return laid_in_rows("the cover", self.square.head, block)
        return steps.laid_in(self.square.head, len(self._spine_folds(block)), block.units)

    def provisional(self, block: Block) -> tuple[str, ...]:
        """The width of the card, as long as thickness and trimmed width are only reckoned."""
        spine = () if "thickness" in block.measured else ("spine width",)
        whole = () if {"thickness", "width"} <= set(block.measured) else ("open width", "wrapper width")
        return (*spine, *whole)


def _either_side(name: str, front: float, x: float) -> dict[str, float]:
    """Two lines `x` mm either side of the middle, named after front and back."""
    return {f"front {name}": front * x, f"back {name}": -front * x}


def _upright(name: str, line: Literal["fold", "place", "centre"], x: float, height: float) -> Part:
    """A line from tail to head."""
    return rule(name, line, (x, 0.0), (x, height))
