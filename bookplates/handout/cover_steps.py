"""The steps that make a cover: gauges, boards, coverings, linings, and the tape that joins the boards."""

from __future__ import annotations

from collections.abc import Iterator

from bookplates.book.record import Plan, TapeSizes
from bookplates.handout.cautions import AWL_AGAIN, CLASS_KNIFE, GLUE, GLUE_AGAIN, KNIFE, KNIFE_AGAIN, TAPE, WEIGHT
from bookplates.handout.step import Step, has
from bookplates.lengths import both_sizes, told


def gauges(plan: Plan) -> Iterator[Step]:
    """What is cut from card and offcuts first, once the sizes stand."""
    cards = [layout.title for layout in plan.layouts if layout.title.endswith(" gauge")]
    cards += ["cover punch guide"] if has(plan, "cover punch guide") else []
    if cards:
        yield Step("Make the gauges", (*_of_card(cards), *_spacers(plan)), f"{KNIFE_AGAIN} {GLUE}")


def _of_card(names: list[str]) -> tuple[str, ...]:
    listed = " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
    return f"Cut round these outlines roughly: {listed}.", "Glue them on card, and let them dry.", "Cut each along its lines."


def _spacers(plan: Plan) -> tuple[str, ...]:
    if not has(plan, "spacer"):
        return ()
    return (
        "Make two spacers from board offcuts by the spacer outline.",
        "Cover one face of each with backing paper from an offcut of the tape.",
    )


def boards(plan: Plan) -> Iterator[Step]:
    """Prick, rule, cut."""
    if not has(plan, "board outline"):
        return
    board = plan.piece("front board")
    size = both_sizes((board.width, board.height), plan.units)
    yield Step(
        "Cut the boards",
        (
            "Find the grain of the board (the way its fibres lie: it bends most easily along it).",
            "Lay the board outline on the board, printed side up, its grain arrow along the grain.",
            "Prick the four corners through it. Take it off, and rule between the pricks.",
            f"Cut along the lines: the board is {size}.",
            "On the side that lies up write: front, inside, HEAD, spine edge.",
            "Turn the outline over like a page, and do the same for the back board.",
        ),
        f"{KNIFE} {CLASS_KNIFE} {AWL_AGAIN}",
    )


def coverings(plan: Plan) -> Iterator[Step]:
    """Glue the paper to the boards, then mitre and turn in."""
    if not has(plan, "wrap outline"):
        return
    yield Step(
        "Cut and glue the coverings",
        (
            "Lay the front wrap outline on the wrong side of the cover paper: the side that will not be seen.",
            "HEAD goes to the top of the motif (the paper's pattern), the grain arrow along the grain.",
            "Prick through the four corners of the board's place (the small circles).",
            "Cut the whole rectangle. Do not cut the mitres (slanted corners) yet.",
            "Brush adhesive thinly over the outside of the front board, from the middle out.",
            "Lay the board on the four pricks, adhesive down, HEAD to HEAD, flush with the paper at the spine edge.",
            "Turn it over, and rub the paper down from the middle out, through clean paper.",
            "Do the same with the back board and the back wrap outline.",
        ),
        f"{GLUE} {KNIFE_AGAIN} {AWL_AGAIN}",
    )
    yield _turning_in(plan)


def _turning_in(plan: Plan) -> Step:
    turn_ins = [plan.cover.turn_in_head, plan.cover.turn_in_tail, plan.cover.turn_in_fore_edge]
    widest = told(max(filter(None, turn_ins), default=0.0), plan.units)
    return Step(
        "Mitre and turn in",
        (
            "At a fore-edge corner rest a long edge of the mitre gauge against the board's corner.",
            "Turn the gauge until its slanted ends are parallel to the board's edges.",
            f"Cut along its other long edge, so that {told(plan.cover.mitre or 0.0, plan.units)} of paper stays at the corner.",
            "Do the same at the other fore-edge corner.",
            f"The turn-ins are the paper that stands beyond the board (up to {widest}). Brush the head one with adhesive.",
            "Fold it tightly over the board's edge. Then do the tail one.",
            "At each corner tuck the little fold of paper in with the bone folder.",
            "Brush the fore-edge turn-in with adhesive, and fold it over.",
            "Rub all down through clean paper.",
        ),
        f"{KNIFE_AGAIN} {GLUE_AGAIN}",
    )


def linings(plan: Plan) -> Iterator[Step]:
    """Paper on the inside of the boards."""
    if not has(plan, "lining outline"):
        return
    margin = plan.cover.lining_margin or 0.0
    marked = (
        f"With the margin gauge mark {told(margin, plan.units)} from head, tail and fore-edge, on the inside of each board.",
        "Brush the wrong side of a lining with adhesive. Lay it to the marks, flush with the board at the spine edge.",
    )
    flush = ("Brush the wrong side of a lining with adhesive. Lay it flush with the board on all sides.",)
    yield Step(
        "Line the boards",
        (
            "Cut two linings (the paper on the inside of the boards) by the lining outline: turned over for the back one.",
            *(marked if has(plan, "lining outline", "margin gauge") else flush),
            "Rub it down through clean paper.",
            "Press the boards dry overnight between clean paper, under a weight.",
        ),
        f"{KNIFE_AGAIN} {GLUE_AGAIN} {WEIGHT}",
    )


def tape(plan: Plan) -> Iterator[Step]:
    """Join the boards."""
    sizes = plan.tape
    if sizes is None:
        return
    yield Step("Set the boards for the tape", _set(plan, sizes), WEIGHT)
    yield Step("Lay the tape", (*_laid(plan, sizes), *_ends(plan, sizes)), f"{KNIFE_AGAIN} {TAPE}")


def _set(plan: Plan, sizes: TapeSizes) -> tuple[str, ...]:
    gauge = has(plan, "tape guide", "tape gauge")
    mark = f"With the tape gauge mark lightly {told(sizes.on_board, plan.units)} from each board's spine edge, on its outside."
    guide = (
        "Fix the tape guide to the table.",
        "Lay the covered boards on it, outside up, heads at HEAD, the front board at FRONT, the back board at BACK.",
        "Set their spine edges on the two inner dashed lines, head and tail on the lines across.",
    )
    return (
        *((mark,) if gauge else ()),
        *(guide if has(plan, "tape guide") else ("Lay the covered boards side by side, outside up, heads level.",)),
        *_apart(plan),
        "Weigh the boards down, clear of the marks.",
    )


def _apart(plan: Plan) -> tuple[str, ...]:
    apart = told(plan.cover.boards_apart or 0.0, plan.units)
    if not has(plan, "spacer"):
        return (f"Set them {apart} apart.",)
    return (
        "Push one spacer into the gap from the head, one from the tail, backing paper up, their outer ends standing out.",
        f"Close the boards up to them: they are now {apart} apart.",
    )


def _laid(plan: Plan, sizes: TapeSizes) -> tuple[str, ...]:
    head, tail = told(sizes.hang_head, plan.units), told(sizes.hang_tail, plan.units)
    return (
        f"Cut {told(sizes.length, plan.units)} of tape, {told(sizes.width, plan.units)} wide.",
        f"On its backing paper rule a line across, {head} from one end, the head end, and one {tail} from the other.",
        "Slit the backing paper along both lines. Peel off the piece between them, and leave the two ends on.",
        "Lay the tape from above, adhesive down, its edges on the marks, the two slits level with the boards' head and tail.",
        "Rub it down from the middle out, on the boards only.",
        "Draw both spacers out by their ends." if has(plan, "spacer") else "Let go of the boards.",
        "Lift the work off, and turn it over on clean paper, inside up.",
    )


def _ends(plan: Plan, sizes: TapeSizes) -> tuple[str, ...]:
    groove = "With the bone folder press the tape into the groove along both spine edges, from inside and from outside."
    if sizes.inside == "full":
        return (
            "Peel the backing off the tail end. Fold it tightly over the boards, and rub it down.",
            "Peel the backing off the long head end bit by bit. Fold it over, and lay it down over the gap to the tail.",
            f"The two ends overlap by {told(sizes.overlap or 0.0, plan.units)} near the tail.",
            groove,
        )
    strip = next((piece for piece in plan.pieces if piece.name == "inner strip"), None)
    cut = f"Cut the inner strip, {both_sizes((strip.width, strip.height), plan.units)}, from tape." if strip else ""
    return (
        "Peel the backing off the head end. Fold it tightly over the boards, and rub it down. Then the tail end.",
        *filter(None, (cut,)),
        "Peel its backing off. Lay it over the adhesive left bare in the gap, centred between head and tail and over the gap.",
        groove,
    )
