"""The steps that make a case and set the book in it."""

from __future__ import annotations

from dataclasses import replace

from bookplates.geometry import Size
from bookplates.kinds import board_steps
from bookplates.kinds.cautions import AWL_AGAIN, GLUE, GLUE_AGAIN, KNIFE_AGAIN, WEIGHT
from bookplates.kinds.keys import Squares
from bookplates.kinds.step import Step
from bookplates.kinds.styles.case.coverings import Case
from bookplates.lengths import Units, both_sizes, told

TIP = 3.0
"""Width of adhesive that tips an endpaper on, mm: common practice, no source."""

SPINE_CLOTH = "the spine cloth wrap outline"


def tip_endpapers(open_folio: Size, units: Units) -> Step:
    """A folded endpaper at the front and at the back of the block, held by a strip of adhesive along the fold."""
    return Step(
        "Tip on the endpapers",
        (
            f"Cut two endpapers from the lining paper, {both_sizes(open_folio, units)}, the grain from head to tail.",
            "Fold each in half, right side in, with the bone folder.",
            f"Lay waste paper on one so that only {told(TIP, units)} along its fold is bare. Brush adhesive on that strip.",
            "Take the waste paper away. Turn the endpaper over like a page, adhesive down.",
            "Lay it on the front of the book, fold to fold, head to head.",
            "Rub it down. Do the same with the other at the back.",
            "Leave them to dry under a weight.",
        ),
        f"{KNIFE_AGAIN} {GLUE} {WEIGHT}",
        "tip endpapers",
    )


def line_spine(mull: Size | None, units: Units, tapes: tuple[str, ...] = ()) -> tuple[Step, ...]:
    """Adhesive and super on the spine of several sections; `tapes` says what becomes of sewing tapes."""
    if mull is None:
        return ()
    glued = Step(
        "Glue the spine",
        (
            "Knock the book up at the spine and the head.",
            "Lay it between two pressing boards, the spine just standing out, a weight on top.",
            "Brush adhesive thinly on the spine. Work it in between the sections with a fingertip.",
            "Keep it off head, tail and endpapers.",
        ),
        f"{GLUE_AGAIN} {WEIGHT}",
        "glue spine",
    )
    lined = Step(
        "Put on the super",
        (
            f"Cut the super with scissors, {both_sizes(mull, units)}.",
            "Brush the spine with adhesive once more.",
            "Lay the super on it, the same length free at head and tail, the same width hanging over at front and back.",
            "Rub it down on the spine with the bone folder. Leave its two sides loose.",
            *tapes,
            "Leave it to dry.",
        ),
        GLUE_AGAIN,
        "super",
    )
    return glued, lined


def boards(case: Case, units: Units) -> tuple[Step, ...]:
    """The boards, and the spine piece where there is one."""
    if case.spine is None:
        return (board_steps.cut_boards(case.board, units),)
    size = both_sizes((case.spine, case.board.height), units)
    return (
        board_steps.cut_boards(
            case.board,
            units,
            f"Cut the spine piece, {size}, by its own outline, its grain from head to tail.",
        ),
    )


def cover(case: Case, kind: str, units: Units) -> tuple[Step, ...]:
    """The covering laid out, glued and turned in, whatever its kind."""
    if kind == "full":
        turned = board_steps.turn_in(case.turn_in, case.mitre, units, sides=4, of="case")
        return _lay_out(case, units), replace(turned, picture="turn in case")
    corners = (_corners(case, units),) if kind == "half" else ()
    return (_spine_cloth(case, units), *corners, *_sides(case, units, slanted=kind == "half"))


def _between(case: Case, units: Units) -> tuple[str, ...]:
    """How the second board finds its place beside the first."""
    if case.spine is None:
        return (
            "Push the two spacers against its spine edge, one at the head, one at the tail, their outer ends standing out.",
            f"Lay the back board against them, heads level: the boards are {told(case.apart, units)} apart.",
            "Draw the spacers out at once.",
        )
    gap = told((case.apart - case.spine) / 2, units)
    return (
        "Push a spacer against its spine edge, and lay the spine piece against that, heads level.",
        f"Push the other spacer against the spine piece, and lay the back board against it: each gap is {gap}.",
        "Draw the spacers out at once.",
    )


def _lay_out(case: Case, units: Units) -> Step:
    return Step(
        "Lay out and glue the case",
        (
            "Lay the covering wrap outline on the wrong side of the cover paper.",
            "HEAD goes to the top of the motif, the grain arrow along the grain.",
            "Prick through the small circles, the corners of both boards.",
            "Prick through its four outer corners, too. Take the sheet off, and rule from prick to prick.",
            "Cut the whole rectangle. Do not cut the mitres yet.",
            *_brushed("paper"),
            "Lay the front board on its pricks, inside up.",
            *_between(case, units),
            "Turn all over, and rub the paper down from the middle out, through clean paper.",
            "Turn it back, inside up.",
        ),
        f"{GLUE} {KNIFE_AGAIN} {AWL_AGAIN}",
        "lay out case",
    )


def _spine_cloth(case: Case, units: Units) -> Step:
    return Step(
        "Join the boards with the spine cloth",
        (
            f"Lay {SPINE_CLOTH} on the wrong side of the cloth.",
            "Prick through the small circles and the four outer corners.",
            "Take the sheet off, rule from corner to corner, and cut the rectangle.",
            *_brushed("cloth"),
            f"Lay the front board on it, inside up, its spine edge on its two pricks, {told(case.cloth, units)} on the cloth.",
            *_between(case, units),
            "Turn the cloth over the head of boards and spine. Rub it down, and into the gap with the bone folder.",
            "Do the same at the tail.",
            "Turn all over. Rub the cloth down on the outside, through clean paper.",
        ),
        f"{GLUE} {KNIFE_AGAIN} {AWL_AGAIN}",
        "cloth spine",
    )


def _brushed(what: str) -> tuple[str, ...]:
    """Adhesive on the wrong side of paper or cloth, and the table clean again before anything is laid on it."""
    return (
        f"Lay the {what} on clean waste paper, wrong side up. Brush adhesive thinly over it, from the middle out.",
        "Take the waste paper away.",
    )


def _which(case: Case) -> str:
    """Where a corner goes: one turned round serves the board's other end, on the other board."""
    if case.one_corner:
        return "As drawn they go to the front board's head and the back board's tail; turned over, to the other two corners."
    return "As drawn they go to the front board; turned over, to the back board."


def _corners(case: Case, units: Units) -> Step:
    how_many = "four corners" if case.one_corner else "two head corners and two tail corners"
    return Step(
        "Cover the corners",
        (
            f"Cut {how_many} of cloth by the corner outline: half of them with the sheet turned over.",
            "Write on the wrong side of each: head or tail edge, fore-edge, and where it goes.",
            _which(case),
            "Lay one on clean waste paper, wrong side up. Brush it with adhesive.",
            "Take the waste paper away. Lay a fore-edge corner of the board, inside up, on its prick.",
            "Rest a long edge of the mitre gauge against the board's corner, its slanted ends parallel to the board's edges.",
            f"Draw a pencil line along its other long edge: {told(case.mitre, units)} of cloth stays at the corner.",
            "Take the gauge off. Cut along the line by the metal rule.",
            "Fold the cloth over the head or tail edge. Tuck the little fold in with the bone folder.",
            "Fold the cloth over the fore-edge. Rub it down.",
            "Do the same at the other three corners.",
        ),
        f"{GLUE_AGAIN} {KNIFE_AGAIN} {AWL_AGAIN}",
        "corners",
    )


def _sides(case: Case, units: Units, *, slanted: bool) -> tuple[Step, ...]:
    """The side papers, laid over the cloth from outside; with cloth corners they need no mitre."""
    shows = told(case.side_edge, units)
    over = f"{told(case.overlap, units)} over the cloth"
    cut = "the rectangle and the two slanted edges" if slanted else "the rectangle. Do not cut the mitres yet"
    laid = Step(
        "Paste on the side papers",
        (
            "Lay the front side wrap outline on the wrong side of the cover paper.",
            "Prick through the small circles and the outer corners.",
            f"Take the sheet off, rule from corner to corner, and cut {cut}.",
            f"Lay the case outside up. On the cloth mark {shows} from the front board's spine edge, at head and tail.",
            *_brushed("paper"),
            f"Lay its straight inner edge on the two marks, {over}, with the same turn-ins as on the outline.",
            "Rub it down from the middle out, through clean paper. Do the same with the back side, on fresh waste paper.",
            *(_turned_in() if slanted else ()),
        ),
        f"{GLUE_AGAIN} {KNIFE_AGAIN} {AWL_AGAIN}",
        "side papers",
    )
    if slanted:
        return (laid,)
    return laid, replace(board_steps.turn_in(case.turn_in, case.mitre, units, of="case"), picture="turn in case")


def _turned_in() -> tuple[str, ...]:
    return (
        "Turn the case over. Brush the head and tail turn-ins of the papers with adhesive, fold them tightly over, rub down.",
        "Do the same at the fore-edges. There is no mitre: the paper stops short of the corners.",
    )


def case_in(squares: Squares, units: Units, *, super_on: bool) -> Step:
    """The endpapers pasted down, one side after the other."""
    mull = ("Brush adhesive under the super, and rub it down on the endpaper.",) if super_on else ()
    edge = _squares(squares, units)
    return Step(
        "Case in",
        (
            "The spine of the book gets no adhesive: only the endpapers hold it in its case.",
            "Lay the book in the case, dry. Check that the head is at the head, and the squares are as planned.",
            f"The boards stand beyond the leaves by {edge}.",
            "Lay a waste sheet inside the front endpaper, between its two leaves.",
            *mull,
            "Brush the outer leaf with adhesive, from the middle out, over all edges.",
            "Take the waste sheet out at once. Lay a clean one in its place.",
            "Close the front board on the leaf, squares even, and press it down with your hand.",
            "Turn the book over. Do the same at the back.",
            "Press the joints in with the bone folder, along both spine edges.",
            "Keep a clean waste sheet inside each endpaper while it dries.",
        ),
        f"{GLUE_AGAIN} {WEIGHT}",
        "case in",
    )


def _squares(squares: Squares, units: Units) -> str:
    sides = (("head", squares.head), ("tail", squares.tail), ("fore-edge", squares.fore_edge))
    same: dict[str, list[str]] = {}
    for name, mm in sides:
        same.setdefault(told(mm, units), []).append(name)
    if len(same) == 1:
        return f"{next(iter(same))} at head, tail and fore-edge"
    return ", ".join(f"{size} at {' and '.join(names)}" for size, names in same.items())
