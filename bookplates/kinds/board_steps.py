"""The steps that several cover styles share: boards, coverings, mitres, linings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from bookplates.geometry import Size
from bookplates.kinds.cautions import AWL_AGAIN, CLASS_KNIFE, GLUE, GLUE_AGAIN, KNIFE, KNIFE_AGAIN, WEIGHT
from bookplates.kinds.keys import TurnIns
from bookplates.kinds.step import Step
from bookplates.kinds.turn_in_strips import STRIP, Turned
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


def cover_boards(*, flush: bool, stops: str = "") -> Step:
    """Glue each board to its own covering by its wrap outline.

    Args:
        flush: paper and board end together at the spine edge.
        stops: instead, how far from the spine edge the paper stops, in words; empty where it goes on to that edge.
    """
    where = "HEAD to HEAD, flush with the paper at the spine edge" if flush else "HEAD to HEAD"
    pricks, brush, see = "the corners of the board's place", "", ""
    line: tuple[str, ...] = ()
    if stops:
        pricks = "two at the board's fore-edge corners, two where its head and tail edges leave the paper"
        line = (f"On the outside of each board rule a pencil line {stops} from its spine edge: there the paper will end.",)
        brush = " Stop at the line: beyond it tape goes on the bare board."
        see = ", see that the paper ends at the line"
        where = "HEAD to HEAD: its fore-edge corners on two of them, its head and tail edges on the others"
    return Step(
        "Cut and glue the coverings",
        (
            "Lay the front wrap outline on the wrong side of the cover paper.",
            "HEAD goes to the top of the motif, the grain arrow along the grain.",
            f"Prick through the four small circles, {pricks}.",
            "Prick through its four outer corners, too. Take the sheet off, and rule from prick to prick.",
            "Cut the whole rectangle. Do not cut the mitres yet.",
            *line,
            f"Lay clean waste paper under the front board. Brush adhesive thinly over its outside, from the middle out.{brush}",
            f"Lay the board on the four pricks, adhesive down, {where}.",
            f"Turn it over{see}, and rub the paper down from the middle out, through clean paper.",
            "Do the same with the back board and the back wrap outline, on fresh waste paper.",
        ),
        f"{GLUE} {KNIFE_AGAIN} {AWL_AGAIN}",
        "glue covering",
    )


def turn_in_strips(turned: Turned, units: Units) -> tuple[Step, ...]:
    """What makes short turn-ins up: pasted to the inside of a glued board before its covering is turned in."""
    if not turned.strips:
        return ()
    sides, margin = "all four edges" if turned.all_round else "head, tail and fore-edge", turned.margin
    edge = "along the mark" if margin > 0 else "level with the edge of the board"
    gauge = f"With the margin gauge mark {told(margin, units)} from {sides}, on the inside of each glued board."
    sentences = (
        "The turn-ins are shorter than usual, to save paper: strips under the lining make them up.",
        "Cut them from cover paper by ruler: they have no template. Their grain runs as in the coverings.",
        f"For each board: {_strip_sizes(turned, units)}.",
        *((gauge,) if margin > 0 else ()),
        f"Brush each on its wrong side, lay its outer edge {edge}.",
        *_order(turned, units),
        "Rub them down through clean paper.",
        f"Turned in, the covering laps over the strips by {told(turned.join or 0.0, units)}. The lining hides both.",
    )
    return (Step("Paste the turn-in strips", sentences, f"{KNIFE_AGAIN} {GLUE_AGAIN}", "turn-in strips"),)


def _strip_sizes(turned: Turned, units: Units) -> str:
    """How many of which size for a board, across by along; those for several edges that are the same together."""
    same: dict[str, list[str]] = {}
    for strip in turned.strips:
        size = f"{told(strip.width, units)} by {told(strip.height, units)}"
        same.setdefault(size, []).append(strip.name.removesuffix(STRIP))
    return "; ".join(f"{len(edges)} of {size} ({', '.join(edges)})" for size, edges in same.items())


def _order(turned: Turned, units: Units) -> Iterator[str]:
    """Head and tail strips come first; upright ones go between them."""
    level = [name.removesuffix(STRIP) for name in turned.level_names]
    mark = "mark" if turned.margin > 0 else "board's edge"
    if level:
        stop = "level with the spine edge"
        if turned.short > 0:
            stop = f"{told(turned.short, units)} off the spine edge, where the covering ends"
        ends = "both ends to the marks" if turned.all_round else f"one end to the fore-edge mark, the other {stop}"
        yield f"{' and '.join(level).capitalize()} first: {ends.replace('mark', mark)}."
    if len(turned.strips) > len(level):
        what = "those at fore-edge and spine edge" if turned.all_round else "the fore-edge one"
        where = ("from mark to mark", "from that strip to the other mark", "between them, edge to edge")[len(level)]
        yield f"{'Then' if level else 'Lay'} {what} {where.replace('mark', mark)}."


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
