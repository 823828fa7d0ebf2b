"""A mitred corner, cut and folded: one arithmetic for every covering with turn-ins.

Lay a board of thickness B on its covering, its corner at the origin, the paper going on to the right
and up. A 45 degree cut that stands m from the corner, square to itself, runs along ``x + y = sqrt(2) m``.
Fold the head's turn-in up round the board's edge and over: a point y beyond the edge comes to lie
``y - B`` inside it. The cut edge then runs, on the board's inner face, ``s = sqrt(2) m - B`` beyond the
line that halves the corner, measured along an edge; the other turn-in does the same from its side. So the
two overlap in a band ``sqrt(2) s`` wide across that line, and where s is below 0 the board's corner is bare.

Sources: Vaughn 1912 for the least clearance, m not under B (handbook TI20); the geometry is our own.
"""

from __future__ import annotations

import math

from bookplates.geometry import Outline, Size
from bookplates.kinds.keys import TurnIns

ROOT_2 = math.sqrt(2)


def slack(mitre: float, board: float) -> float:
    """How far a folded cut edge passes the line that halves the corner, along an edge of the board, mm."""
    return ROOT_2 * mitre - board


def corner_lap(mitre: float, board: float) -> float:
    """Width of the band in which the two turn-ins overlap at a folded corner, mm; below 0 it is bare."""
    return ROOT_2 * slack(mitre, board)


def least_mitre(board: float) -> float:
    """The mitre at which the corner of a board so thick is just not bare, mm."""
    return board / ROOT_2


def most_mitre(turn_in: TurnIns) -> float:
    """The mitre at which the cut just misses the paper, mm: the nearer of head and tail decides."""
    return (min(turn_in.head, turn_in.tail) + turn_in.fore_edge) / ROOT_2


def covering(board: Size, turn_in: TurnIns, mitre: float, short: float = 0.0) -> Outline:
    """Outline of the paper that covers a back board, turned in on three sides, seen from its wrong side.

    The board's spine edge lies at x = 0, its tail at y = 0; the paper is flush at the spine edge, or stops short of it.

    Args:
        board: width and height of the board, mm.
        turn_in: what is folded over at head, tail and fore-edge, mm.
        mitre: distance from the board's corner to the 45 degree cut, square to the cut, mm.
        short: how far from the board's spine edge the paper stops, under what covers that edge, mm.

    Returns:
        Corners counter-clockwise from the lower left, mm.

    Source: Vaughn 1912, "Mitres" (handbook TI20); fold geometry derived in the module's docstring.

    >>> from bookplates.geometry import bounds
    >>> tuple(bounds(covering(Size(100, 150), TurnIns.all(15), 3)))
    (0.0, -15, 115, 165)
    """
    across, up = board
    reach = ROOT_2 * mitre
    right, top, bottom = across + turn_in.fore_edge, up + turn_in.head, -turn_in.tail
    return (
        (short, bottom),
        (across + reach - turn_in.tail, bottom),
        (right, turn_in.fore_edge - reach),
        (right, up + reach - turn_in.fore_edge),
        (across + reach - turn_in.head, top),
        (short, top),
    )


def covering_all_round(board: Size, turn_in: TurnIns, mitre: float) -> Outline:
    """Outline of the paper that covers a board turned in on all four sides, the spine side like the fore-edge.

    The board's lower left corner lies at the origin; the paper is the same for a front and a back board.

    Returns:
        Corners counter-clockwise from the lower left, mm.

    >>> from bookplates.geometry import bounds
    >>> tuple(bounds(covering_all_round(Size(100, 150), TurnIns.all(15), 3)))
    (-15, -15, 115, 165)
    """
    half = covering(board, turn_in, mitre)[1:5]
    other = tuple((board.width - x, y) for x, y in reversed(half))
    return (other[3], *half, *other[:3])


def cuts_apart(board: Size, turn_in: TurnIns, mitre: float, *, all_round: bool = False) -> float:
    """What is left of the shortest edge between two mitre cuts, or a cut and the spine edge, mm.

    Below 0 the cuts would cross, and there is no such piece of paper. `all_round`: with cuts at the spine edge, too.
    """
    outline = covering(board, turn_in, mitre)
    tail, head = outline[1][0], outline[4][0]
    if all_round:  # the cuts at the spine side mirror those at the fore-edge
        tail, head = 2 * tail - board.width, 2 * head - board.width
    return min(tail, outline[3][1] - outline[2][1], head)


def beside_the_cuts(board: Size, turn_in: TurnIns, mitre: float) -> float:
    """From the board's spine edge to the nearer of the two mitre cuts at head and tail, mm: there the paper must begin."""
    outline = covering(board, turn_in, mitre)
    return min(outline[1][0], outline[4][0])


def bare_board_to_spare(turn_in: TurnIns, margin: float, board: float) -> float:
    """How far the turn-ins reach under a lining that leaves `margin` of board on three sides, mm.

    Below 0 bare board shows. Beside a corner a turn-in gives way where the other one ends, plus the slack of
    the cut: with one margin all round that takes nothing away, as a cut without slack is refused by itself.
    """
    return min(turn_in.head, turn_in.tail, turn_in.fore_edge) - board - margin


def mitre_gauge(mitre: float, length: float = 60.0) -> Outline:
    """A strip as wide as the mitre, its ends slanted by 45 degrees, mm: the lower, shorter edge meets the corner."""
    long = max(length, 2 * mitre + 30)
    return (mitre, 0.0), (long - mitre, 0.0), (long, mitre), (0.0, mitre)


HANDLE = 16.0
"""Width of the handle of a mitre gauge, and its height up to where its top begins to slope, mm."""


def gauge_handle(strip: Outline) -> Outline:
    """What is left on the outer edge of a mitre gauge to hold it by: open below, its top sloped by 45 degrees, mm.

    A strip of 2 mm can neither be held nor cut by itself, and its slanted ends are too short to judge an angle by.
    """
    outer, middle, half = max(y for _, y in strip), sum(x for x, _ in strip) / len(strip), HANDLE / 2
    eaves = outer + HANDLE
    return (
        (middle - half, outer),
        (middle - half, eaves),
        (middle, eaves + half),
        (middle + half, eaves),
        (middle + half, outer),
    )
