"""How a sheet is cut up: a tree of cuts, each from edge to edge of the part in hand. Lengths in mm.

A board shear, a guillotine and a knife along a ruler all cut so. The part lies with one edge against the stop; the
blade falls `stop` away from it, parts what lies between from the rest, and takes its own width off the rest.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bookplates.geometry import Box, Size


@dataclass(frozen=True, slots=True)
class Want:
    """Pieces of one size that are to come out of like sheets.

    Attributes:
        size: width and height of one, upright.
        count: how many.
        upright, turned: whether one may lie upright on the sheet, and turned by a quarter; at least one of the two.
    """

    size: Size
    count: int
    upright: bool = True
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Put:
    """A finished piece: which of the wants it is, and whether it lies turned by a quarter."""

    want: int
    turned: bool
    size: Size


@dataclass(frozen=True, slots=True)
class Offcut:
    """What is left over, as it lies."""

    size: Size


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut through a part.

    Attributes:
        size: of the part in hand, as it lies.
        upright: whether the cut runs from the foot of the part to its top, so that `stop` is measured along its width;
            else it runs across, and `stop` is measured along the height, from the foot.
        stop: how far from the part's left edge, or from its foot, the blade falls.
        first: what lies between that edge and the blade.
        rest: what is left beyond the blade's width; None where that is nothing.
    """

    size: Size
    upright: bool
    stop: float
    first: Node
    rest: Node | None


Node = Cut | Put | Offcut


@dataclass(frozen=True, slots=True)
class CutSheet:
    """A way to cut a sheet up, and how many sheets are cut so."""

    tree: Node
    times: int


def placed(node: Node | None, blade: float, left: float = 0.0, bottom: float = 0.0) -> Iterator[tuple[Node, Box]]:
    """Every node of a tree with its place on the sheet, mm from the sheet's lower left, parts before what is cut of them.

    A strip is cut into as many parts as it holds, one after the other, so a tree is as deep as that: hence no recursion.
    """
    waiting = [(node, left, bottom)]
    while waiting:
        part, x, y = waiting.pop()
        if part is None:
            continue
        yield part, Box(x, y, x + part.size.width, y + part.size.height)
        if isinstance(part, Cut):
            beyond = part.stop + blade
            waiting.append((part.rest, x + beyond * part.upright, y + beyond * (not part.upright)))
            waiting.append((part.first, x, y))


def nodes(node: Node | None) -> Iterator[Node]:
    """Every node of a tree, parts before what is cut of them, what lies at the stop before the rest."""
    return (part for part, _ in placed(node, 0.0))


def stops(node: Node | None) -> frozenset[float]:
    """The different settings of the stop, to a thousandth of a mm."""
    return frozenset(round(part.stop, 3) for part in nodes(node) if isinstance(part, Cut))


def offcuts(node: Node | None) -> tuple[Size, ...]:
    """What is left over."""
    return tuple(part.size for part in nodes(node) if isinstance(part, Offcut))


def puts(node: Node | None) -> tuple[Put, ...]:
    """The pieces that come out, in the order in which they lie."""
    return tuple(part for part in nodes(node) if isinstance(part, Put))
