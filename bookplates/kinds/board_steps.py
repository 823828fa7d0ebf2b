"""The steps that several cover styles share: boards, coverings, mitres, linings."""

from __future__ import annotations

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
            "Turn the outline over like a page, and do the same for the back board.",
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
            "Prick through the four corners of the board's place (the small circles).",
            "Cut the whole rectangle. Do not cut the mitres yet.",
            "Brush adhesive thinly over the outside of the front board, from the middle out.",
            f"Lay the board on the four pricks, adhesive down, {where}.",
            "Turn it over, and rub the paper down from the middle out, through clean paper.",
            "Do the same with the back board and the back wrap outline.",
        ),
        f"{GLUE} {KNIFE_AGAIN} {AWL_AGAIN}",
        "glue covering",
    )


def turn_in(turn_ins: TurnIns, mitre: float, units: Units, *, sides: int = 3) -> Step:
    """Mitre and turn in a covering on three sides of its board, or on all four."""
    widest = told(max(turn_ins.head, turn_ins.tail, turn_ins.fore_edge), units)
    others = (
        ("the other fore-edge corner", "the fore-edge turn-in") if sides == 3 else ("the other corners", "the two side turn-ins")
    )
    return Step(
        "Mitre and turn in",
        (
            f"At a {'fore-edge ' if sides == 3 else ''}corner rest a long edge of the mitre gauge against the board's corner.",
            "Turn the gauge until its slanted ends are parallel to the board's edges.",
            f"Cut along its other long edge, so that {told(mitre, units)} of paper stays at the corner.",
            f"Do the same at {others[0]}.",
            f"The turn-ins are what stands beyond the board (up to {widest}). Brush the head one with adhesive.",
            "Fold it tightly over the board's edge. Then do the tail one.",
            "At each corner tuck the little fold of paper in with the bone folder.",
            f"Brush {others[1]} with adhesive, and fold {'it' if sides == 3 else 'them'} over.",
            "Rub all down through clean paper.",
        ),
        f"{KNIFE_AGAIN} {GLUE_AGAIN}",
        "turn in",
    )


def line_boards(margin: float, units: Units, *, flush: bool, gauge: bool = True) -> Step:
    """Paper on the inside of the boards; `flush` at the spine edge, or with the same margin on all four sides."""
    sides = "head, tail and fore-edge" if flush else "all four edges"
    spine = ", flush with the board at the spine edge" if flush else ""
    marked = (
        f"With the margin gauge mark {told(margin, units)} from {sides}, on the inside of each board.",
        "Brush the wrong side of a lining with adhesive.",
        f"Lay it to the marks{spine}.",
    )
    whole = ("Brush the wrong side of a lining with adhesive.", "Lay it flush with the board on all sides.")
    return Step(
        "Line the boards",
        (
            "Cut two linings by the lining outline: turned over for the back one.",
            *(marked if gauge else whole),
            "Rub it down through clean paper.",
            "Press the boards dry overnight between clean paper, under a weight.",
        ),
        f"{KNIFE_AGAIN} {GLUE_AGAIN} {WEIGHT}",
        "line boards",
    )
