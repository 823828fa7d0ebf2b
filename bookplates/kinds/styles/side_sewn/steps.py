"""The steps of a book sewn through its side: leaves, covers, holes, then all together."""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.geometry import Size
from bookplates.kinds import board_steps
from bookplates.kinds.block import Block
from bookplates.kinds.cautions import AWL_AGAIN, AWL_CLAMPED, CLASS_KNIFE, DRILL, GLUE, GLUE_AGAIN, KNIFE, KNIFE_AGAIN, WEIGHT
from bookplates.kinds.keys import Squares
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.styles.side_sewn.hinge import Hinged
from bookplates.lengths import Units, both_sizes, close, in_mm, told

BY_AWL = 5.0
"""A stack thinner than this is pierced with an awl, mm: common practice, no source."""

SHOWN = 0.05
"""A trim smaller than this is none, mm."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """What the steps tell. Lengths in mm.

    Attributes:
        cover: width and height of a whole cover.
        thick: of its card or board.
        square: how far it stands beyond the leaves.
        folded: whether the leaves are folded at the fore-edge.
        hinged: its boards, where it has a hinge.
        same_guide: whether the guide for the leaves serves for the covers.
        score: from the spine edge to the line along which a soft cover bends.
    """

    cover: Size
    thick: float
    square: Squares
    folded: bool
    hinged: Hinged | None
    same_guide: bool
    score: float


def work(block: Block, hole: float, sizes: Sizes) -> tuple[Step | Stage, ...]:
    """Leaves, covers, holes of `hole` mm, then all together."""
    units = block.units
    covers = (_cut_cards(sizes, units),) if sizes.hinged is None else _hinged_covers(sizes.hinged, units)
    return (
        _folded_leaves(block) if sizes.folded else _single_leaves(block),
        _stack(sizes),
        *_trim(block),
        *("measure", "gauges"),
        *covers,
        _clamp(),
        _drill(block, hole),
        _pierce_covers(sizes),
        _lay_covers(sizes, units),
        *("thread", "sew"),
        Step("Press the book", ("Take the clips off.", "Press the book under a weight for a day."), WEIGHT, "press"),
    )


# ---- leaves


GRAIN = "Find the grain of the paper first: bend it lightly both ways, it bends most easily along it. It runs head to tail."


def _single_leaves(block: Block) -> Step:
    leaf = both_sizes(block.cut_leaf, block.units)
    if block.sheet is None:
        return Step("Cut the leaves", (GRAIN, f"Cut {block.leaves} leaves {leaf}."), KNIFE, "fold")
    each = _parts(block)
    return Step(
        "Cut the leaves",
        (
            f"Take the sheets of text paper, {both_sizes(block.sheet, block.units)}.",
            f"Cut each into {each} equal leaves, {leaf}: {block.leaves} leaves in all.",
        ),
        KNIFE,
        "fold",
    )


def _parts(block: Block) -> int:
    """How many leaves a sheet is divided into."""
    assert block.sheet is not None
    return round(block.sheet.width * block.sheet.height / (block.cut_leaf.width * block.cut_leaf.height))


def _folded_leaves(block: Block) -> Step:
    units, folios = block.units, block.leaves // 2
    leaf = both_sizes(block.cut_leaf, units)
    spread = both_sizes((2 * block.cut_leaf.width, block.cut_leaf.height), units)
    cut = (GRAIN, f"Cut {folios} pieces {spread}.")
    if block.sheet is not None and _parts(block) == 2:
        cut = (f"Take {folios} sheets of text paper, {spread}.", "They are folded as they are.")
    elif block.sheet is not None:
        sheets = f"Take the sheets of text paper, {both_sizes(block.sheet, units)}."
        cut = (sheets, f"Cut each into {_parts(block) // 2} equal pieces, {spread}: {folios} pieces in all.")
    return Step(
        "Cut and fold the leaves",
        (
            *cut,
            f"Fold each piece in half with the bone folder, to {leaf}.",
            "The fold is the fore-edge; the open edges go to the spine.",
            f"Of the {2 * block.leaves} pages half lie inside the folds, and stay closed: write or print on the outsides only.",
        ),
        KNIFE,
        "fold",
    )


def _stack(sizes: Sizes) -> Step:
    edge = "the open edges to the spine, the folds to the fore-edge" if sizes.folded else "the first page up"
    return Step(
        "Stack the leaves",
        (
            f"Lay the leaves on each other in their order, heads together, {edge}.",
            "Mark HEAD and spine edge lightly on the top leaf.",
            "Knock the stack up: tap its spine edge on the table, then its head, until all leaves are level there.",
            "Press it under a weight overnight, between clean boards.",
        ),
        WEIGHT,
        "stack leaves",
    )


def _trim(block: Block) -> tuple[Step, ...]:
    off = block.leaf_width - block.width
    if "width" in block.measured or off < SHOWN:
        return ()
    told_width = told(block.width, block.units)
    return (
        Step(
            "Trim the fore-edge",
            (f"Mark {told_width} from the spine edge, at head and tail.", "Cut the stack along these marks, square to the head."),
            f"{KNIFE_AGAIN} In a class an adult cuts, or someone trained on a guillotine.",
            "trim",
        ),
    )


# ---- covers


def _cut_cards(sizes: Sizes, units: Units) -> Step:
    return Step(
        "Cut the covers",
        (
            "Find the grain of the card: bend it lightly both ways.",
            "Lay the board outline on the card, printed side up, its grain arrow along the grain.",
            "Prick the four corners through it.",
            "Take it off, and rule between the pricks.",
            f"Cut along the lines: the cover is {both_sizes(sizes.cover, units)}.",
            "On the side that lies up write: front, inside, HEAD, spine edge.",
            "Turn the outline over like a page, and do the same for the back cover.",
            "On that write: back, inside, HEAD, spine edge.",
            f"Turn both covers outside up. Mark {told(sizes.score, units)} from the spine edge, at head and tail.",
            "With the bone folder score from mark to mark along a ruler, just beyond where the holes come.",
            "The covers bend there.",
        ),
        f"{KNIFE} {CLASS_KNIFE} {AWL_AGAIN}",
        "cut boards",
    )


def _hinged_covers(hinged: Hinged, units: Units) -> tuple[Step, ...]:
    strip = both_sizes((hinged.strip, hinged.whole.height), units)
    strips = f"Cut two hinge strips, {strip}, by the hinge strip outline, the grain from head to tail."
    return (
        board_steps.cut_boards(hinged.board, units, strips),
        _glue_coverings(hinged, units),
        board_steps.turn_in(hinged.turn_in, hinged.mitre, units, sides=4, of="cover"),
        _inner_strip(hinged, units),
        board_steps.line_boards(hinged.margin, units, flush=False, gauge=hinged.margin > 0, board="main board"),
    )


def _glue_coverings(hinged: Hinged, units: Units) -> Step:
    return Step(
        "Glue the hinged boards to their coverings",
        (
            "Lay the front wrap outline on the wrong side of the cover paper.",
            "HEAD goes to the top of the motif, the grain arrow along the grain.",
            "Prick through the small circles: four are the corners of the board, four those of the hinge strip.",
            "Prick through its four outer corners, too. Take the sheet off, and rule from prick to prick.",
            "Cut the whole rectangle. Do not cut the mitres yet.",
            "Lay clean waste paper under the front board. Brush adhesive thinly over its outside. Brush none on the cover paper.",
            "Lay the board on its four pricks, adhesive down, HEAD to HEAD.",
            "Brush a hinge strip in the same way, and lay it on its pricks at the spine side.",
            f"Between strip and board stays the hinge gap, {told(hinged.gap, units)} wide, without adhesive: it has to bend.",
            "Turn it over, and rub the paper down from the middle out, through clean paper.",
            "Do the same with the back board, the other strip and the back wrap outline.",
        ),
        f"{GLUE} {KNIFE_AGAIN} {AWL_AGAIN}",
        "hinge boards",
    )


def _inner_strip(hinged: Hinged, units: Units) -> Step:
    margin = told(hinged.margin, units)
    return Step(
        "Cover the hinge inside",
        (
            f"Cut two inner strips of cover paper, {both_sizes(hinged.inner_strip, units)}.",
            "Lay one on clean waste paper, wrong side up. Brush it with adhesive.",
            f"Lay it on the inside of the hinge strip, {margin} from head, tail and spine edge.",
            "It reaches over the gap, and on to the main board.",
            "With the bone folder press it into the gap, down to the covering.",
            "Do the same on the other cover, on fresh waste paper.",
            "The linings will lie over the strips' edges, not over the hinge.",
        ),
        f"{GLUE_AGAIN} {KNIFE_AGAIN}",
        "hinge inside",
    )


# ---- holes


def _clamp() -> Step:
    return Step(
        "Clamp the leaves",
        (
            "Print the page with the punch guide on heavy paper. Cut the guide out exactly at head, tail and spine edge.",
            "Lay the stack on waste board, the first page up. Knock it up to spine and head once more.",
            "Lay the guide on it, printed side up, its spine edge on the leaves' spine edge, HEAD to the head.",
            "Lay an offcut of board on the guide, clear of the holes. Clamp all of it to the table with two clamps.",
        ),
        KNIFE_AGAIN,
        "clamp",
    )


def _drill(block: Block, hole: float) -> Step:
    if block.thickness <= BY_AWL:
        way, caution = (
            f"Pierce every hole straight down into the waste board with the awl, {in_mm(hole)} wide: many threads pass it.",
            AWL_CLAMPED,
        )
    else:
        way = f"Drill every hole straight down into the waste board, with a bit of {in_mm(hole)}. Hold the drill upright."
        caution = DRILL
    return Step(
        "Pierce the leaves" if block.thickness <= BY_AWL else "Drill the leaves",
        (way, "Go through all leaves at once.", "Keep the clamps on until the last hole is through.", "Lift the guide off."),
        caution,
        "drill",
    )


def _pierce_covers(sizes: Sizes) -> Step:
    if sizes.same_guide:
        laid = "Lay the punch guide on the front cover, its outside up: spine edge to spine edge, HEAD to the head."
    else:
        laid = "Lay the cover punch guide on the front cover, its outside up: spine edge to spine edge, head and tail level."
    on = " They lie in the hinge strip." if sizes.hinged else ""
    return Step(
        "Pierce the covers",
        (
            laid,
            f"Clamp it on waste board, and pierce or drill every hole straight down.{on}",
            "Lay the back cover with its inside up and the guide on it in the same way, printed side up. Pierce it, too.",
        ),
        f"{AWL_AGAIN} {DRILL}",
        "pierce boards",
    )


def _lay_covers(sizes: Sizes, units: Units) -> Step:
    return Step(
        "Lay the covers on the leaves",
        (
            "Lay the back cover on the table, its inside up. Lay the leaves on it, the first page up.",
            "Lay the front cover on top, its outside up.",
            f"All spine edges are level. {_stand_out(sizes.square, units)}",
            "Put the needle through the first and the last hole: they meet from cover to cover.",
            "Hold everything together with two clips, scraps of card under them.",
        ),
        picture="lay covers",
    )


def _stand_out(square: Squares, units: Units) -> str:
    """How far the covers stand beyond the leaves, sides that are alike in one."""
    if max(square.head, square.tail, square.fore_edge) < 0.05:
        return "Covers and leaves are level on all sides."
    if close(square.head, square.tail) and close(square.head, square.fore_edge):
        return f"The covers stand out {told(square.head, units)} at head, tail and fore-edge."
    head, tail, fore = (told(mm, units) for mm in (square.head, square.tail, square.fore_edge))
    return f"The covers stand out {head} at the head, {tail} at the tail and {fore} at the fore-edge."
