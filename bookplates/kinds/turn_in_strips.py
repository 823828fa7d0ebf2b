"""Turn-ins for paper that is short: cut to end under the lining, and made up by strips of the same paper.

Own construction; that paper may be pieced where a lining hides it is common practice, no source. On the inside
of a board, from its edge inwards, B being its thickness, m the lining's margin, j the join and t the turn-in asked for:

    0 ......... m ......... m + j ........... t - B
    |-- turn-in of the covering --|                      B + m + j of paper
                |-- strip --------------------|          t - B - m of paper
                |-- lining ------------------------------

The strips are pasted on the bare board first, their outer edges where the lining's will lie, and the turn-ins lap over
them by the join. So no edge of a strip can show, though it lies a little askew: the covering hides the outer one, the
lining both. Strips that butt against the turn-ins would lie flatter, but have to be cut and laid to a hair, and a
gap between them shows as a groove in the lining. Head and tail strips go the whole way; upright strips between them,
edge to edge, so that no three papers lie on each other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field

from bookplates.errors import Finding, refuse
from bookplates.geometry import Size, rectangle
from bookplates.kinds.keys import SIDES, Span, TurnIns
from bookplates.kinds.limits import at_most
from bookplates.kinds.parts import Piece
from bookplates.lengths import Units, fits, said

LEAST_JOIN = 3.0
"""A join under this may show beside the lining, mm: common practice, no source."""

Join = Annotated[float, Span(LEAST_JOIN, 50)] | None
"""How far the cut turn-ins go under the lining, mm."""

STRIP = " turn-in strip"
"""How the names of the strips end."""


def join_key() -> Any:
    """The key as a style has it."""
    said_of_it = "cut the turn-ins so far beyond the lining's edge, and make the rest up by strips under the lining"
    return Field(default=None, description=said_of_it, examples=["6 mm"])


@dataclass(frozen=True, slots=True)
class Turned:
    """What is turned in over a lined board.

    Attributes:
        asked: the turn-ins of the spec, mm.
        join: how far they go under the lining where they are cut and made up by strips; None where they are whole.
        thickness: of the board, mm.
        margin: board showing round the lining, mm.
        lining: width and height of the lining, mm.
        short: how far from the board's spine edge the covering stops, mm; so far the strips stop, too.
        all_round: whether the spine edge is turned in as well, like the fore-edge.
    """

    asked: TurnIns
    join: float | None
    thickness: float
    margin: float
    lining: Size
    short: float = 0.0
    all_round: bool = False

    @property
    def key(self) -> str:
        """The dotted key that says how wide the cut turn-ins are."""
        return "cover.turn_in" if self.join is None else "cover.join"

    @property
    def cut(self) -> TurnIns:
        """The turn-ins of the covering as it is cut, mm: as asked, or no more than the board, the margin and the join."""
        if self.join is None:
            return self.asked
        most = self.thickness + self.margin + self.join
        return TurnIns.model_construct(**{side: min(getattr(self.asked, side), most) for side in SIDES})

    def _deep(self, side: str) -> float:
        """From the lining's edge to where the whole turn-in would reach, mm; 0 where the covering itself reaches there."""
        asked: float = getattr(self.asked, side)
        whole = fits(asked, getattr(self.cut, side))
        return 0.0 if whole else asked - self.thickness - self.margin

    @property
    def _level(self) -> float:
        """How long head and tail strips are, mm."""
        return self.lining.width - self.short

    @property
    def _between(self) -> float:
        """How long what goes between head and tail strips is, mm."""
        return self.lining.height - self._deep("head") - self._deep("tail")

    @property
    def strips(self) -> tuple[Piece, ...]:
        """What makes the turn-ins of both boards up, by measure: it has no template."""
        fore = Size(self._deep("fore_edge"), self._between)
        sizes = {
            "head": Size(self._level, self._deep("head")),
            "tail": Size(self._level, self._deep("tail")),
            "fore-edge": fore,
            **({"spine edge": fore} if self.all_round else {}),
        }
        return tuple(
            Piece(f"{side}{STRIP}", "cover paper", 2, rectangle(0, 0, *size), "head to tail")
            for side, size in sizes.items()
            if min(size) > 0
        )

    @property
    def level_names(self) -> tuple[str, ...]:
        """The names of the strips that are as long as the board is wide, or nearly."""
        return tuple(piece.name for piece in self.strips if piece.name.startswith(("head", "tail")))

    def findings(self, units: Units) -> Iterator[Finding]:
        """A join that saves no paper, strips that have no room."""
        if self.join is None or min(self.lining) <= 0:
            return
        most = max(getattr(self.asked, side) for side in SIDES) - self.thickness - self.margin
        if fits(most, self.join):
            what = f"turn-ins that end {said(self.join, units)} under the lining are no shorter than cover.turn_in"
            less = f"less than {at_most(most, units)}, or " if most > LEAST_JOIN else ""
            yield refuse("cover.join", what, f"{less}leave it out")
        elif not self._have_room:
            what = "the strips that make the turn-ins up under the lining would meet inside the board"
            yield refuse("cover.turn_in", what, "a smaller turn-in, or a larger leaf (text_block)")

    @property
    def _have_room(self) -> bool:
        """Whether the strips stay clear of each other."""
        across = (2 if self.all_round else 1) * self._deep("fore_edge")
        least = LEAST_JOIN if across > 0 else 0.0
        return fits(least, self._between) and fits(across, self._level)
