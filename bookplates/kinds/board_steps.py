"""The steps that several cover styles share: boards, coverings, mitres, linings."""

from __future__ import annotations

from typing import Literal

from bookplates.geometry import Size
from bookplates.kinds.cautions import AWL_AGAIN, CLASS_KNIFE, GLUE, GLUE_AGAIN, KNIFE, KNIFE_AGAIN, WEIGHT
from bookplates.kinds.keys import TurnIns
from bookplates.kinds.step import Step
from bookplates.lengths import Units, both_sizes, told


def cut_boards(board: Size, units: Units, *more: str) -> Step:
    """Prick, rule, cut, for a board outline that serves for both boards; `more` are further sentences."""
    return Step(
        "Cut the boards",
        (
            "Find the grain of the board: bend it lightly both ways.",
            "Lay the board outline on the board, printed side up, its grain arrow along the grain.",
            "Prick the four corners through it.",
            "Take it off, and rule between the pricks.",
            f"Cut along the lines: the board is {both_sizes(board, units)}.",
            "On the side that lies up write: front, inside, HEAD, spine edge.",
            "Turn the outline over like a page, HEAD still away from you, and do the same for the back board.",
            "On that write: back, inside, HEAD, spine edge.",
            *more,
        ),
        f"{KNIFE} {CLASS_KNIFE} {AWL_AGAIN}",
        "cut boards",
    )


def cover_boards(*, flush: bool) -> Step:
    """Glue each board to its own covering by its wrap outline; `flush` where paper and board end together at the spine edge."""
    where = "HEAD to HEAD, flush with the paper at the spine edge" if flush else "HEAD to HEAD"
    return Step(
        "Cut and glue the coverings",
        (
            "Lay the front wrap outline on the wrong side of the cover paper.",
            "HEAD goes to the top of the motif, the grain arrow along the grain.",
            "Prick through the four small circles, the corners of the board's place.",
            "Prick through its four outer corners, too. Take the sheet off, and rule from prick to prick.",
            "Cut the whole rectangle. Do not cut the mitres yet.",
            "Lay clean waste paper under the front board. Brush adhesive thinly over its outside, from the middle out.",
            f"Lay the board on the four pricks, adhesive down, {where}.",
            "Turn it over, and rub the paper down from the middle out, through clean paper.",
            "Do the same with the back board and the back wrap outline, on fresh waste paper.",
        ),
        f"{GLUE} {KNIFE_AGAIN} {AWL_AGAIN}",
        "glue covering",
    )


Covered = Literal["board", "cover", "case"]
"""What a covering is turned in on: a board by itself, a hinged cover (board and hinge strip), or boards joined in a case."""

CORNER_OF: dict[Covered, str] = {"board": "the board", "cover": "the board or hinge strip", "case": "the board"}


def turn_in(turn_ins: TurnIns, mitre: float, units: Units, *, sides: int = 3, of: Covered = "board") -> Step:
    """Mitre and turn in a covering on three sides of its board, or on all four of a board, a hinged cover or a case."""
    widest = told(max(turn_ins.head, turn_ins.tail, turn_ins.fore_edge), units)
    what, last = ("other fore-edge corner", "the fore-edge turn-in") if sides == 3 else ("other corners", _last(of))
    hinge = ("With the bone folder press both turn-ins down into the hinge gap.",) if of == "cover" else ()
    return Step(
        "Mitre and turn in",
        (
            f"At {_first_corner(sides, of)} rest a long edge of the mitre gauge against the corner of {CORNER_OF[of]}.",
            "Turn the gauge until its slanted ends are parallel to the edges there.",
            f"Draw a pencil line along its other long edge: {told(mitre, units)} of paper stays at the corner.",
            "Take the gauge off. Cut along the line by the metal rule.",
            f"Do the same at the {what}.",
            f"What stands beyond the board, at most {widest}, is the turn-in. Lay clean waste paper under the one at the head.",
            "Brush it with adhesive. Take the waste paper away. Fold the turn-in tightly over the edge.",
            "Then do the tail one, on fresh waste paper.",
            *hinge,
            "At each corner tuck the little fold of paper in with the bone folder.",
            f"Brush {last} with adhesive, and fold {'it' if sides == 3 else 'them'} over.",
            "Rub all down through clean paper.",
            *_the_other(sides, of),
        ),
        f"{KNIFE_AGAIN} {GLUE_AGAIN}",
        "turn in",
    )


def _first_corner(sides: int, of: Covered) -> str:
    if sides == 3:
        return "a fore-edge corner"
    return "an outer corner" if of == "case" else "a corner"


def _last(of: Covered) -> str:
    return "the two fore-edge turn-ins" if of == "case" else "the turn-ins at spine edge and fore-edge"


def _the_other(sides: int, of: Covered) -> tuple[str, ...]:
    """Boards that are joined are turned in together, but for those whose papers come one by one."""
    if of == "case":
        return ("Do the same with the other board.",) if sides == 3 else ()
    return (f"Do the same with the other {of}. Mark on both, lightly inside: front or back, HEAD.",)


def line_boards(margin: float, units: Units, *, flush: bool, gauge: bool = True, board: str = "board") -> Step:
    """Paper on the inside of the boards; `flush` at the spine edge, or with the same margin on all four sides.

    `board` is what the one to be lined is called, where a cover has more than one piece.
    """
    sides = "head, tail and fore-edge" if flush else "all four edges"
    spine = f", flush with the {board} at the spine edge" if flush else ""
    mark = (f"With the margin gauge mark {told(margin, units)} from {sides}, on the inside of each {board}.",) if gauge else ()
    where = f"Lay it to the marks{spine}" if gauge else f"Lay it flush with the {board} on all sides"
    return Step(
        "Line the boards",
        (
            "Cut two linings by the lining outline: the front one as it lies, the back one with the outline turned over.",
            *mark,
            "Lay the front lining on clean waste paper, wrong side up. Brush it with adhesive.",
            f"{where}, on the front {board}.",
            f"Rub it down through clean paper. Do the same with the back lining and the back {board}, on fresh waste paper.",
            "Mark front or back and HEAD lightly in pencil on each lining.",
            "Press the boards dry overnight between clean paper, under a weight.",
        ),
        f"{KNIFE_AGAIN} {GLUE_AGAIN} {WEIGHT}",
        "line boards",
    )
