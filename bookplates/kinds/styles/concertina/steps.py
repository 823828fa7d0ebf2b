"""The steps of a concertina: strips cut, folded and joined, boards pasted on."""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.geometry import Size
from bookplates.kinds import board_steps
from bookplates.kinds.block import Block
from bookplates.kinds.cautions import GLUE, GLUE_AGAIN, KNIFE, KNIFE_AGAIN, WEIGHT
from bookplates.kinds.keys import Squares, TurnIns
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.styles.concertina.strips import Strips, in_half_again
from bookplates.lengths import Units, both_sizes, close, told


@dataclass(frozen=True, slots=True)
class Sizes:
    """What the steps tell. Lengths in mm.

    Attributes:
        strips: how the panels are cut.
        board: width and height of a board.
        square: how far the boards stand beyond the panels.
        turn_in, mitre: of the coverings.
    """

    strips: Strips
    board: Size
    square: Squares
    turn_in: TurnIns
    mitre: float


def work(block: Block, sizes: Sizes) -> tuple[Step | Stage, ...]:
    """The panels first, then the boards, then both together."""
    units, strips = block.units, sizes.strips
    return (
        _cut(block, strips),
        _fold(block, strips),
        *((_join(strips, units),) if strips.full else ()),
        *("measure", "gauges"),
        board_steps.cut_boards(sizes.board, units),
        board_steps.cover_boards(flush=False),
        board_steps.turn_in(sizes.turn_in, sizes.mitre, units, sides=4),
        _paste(block, sizes),
        _press(block),
    )


def _cut(block: Block, strips: Strips) -> Step:
    units = block.units
    return Step(
        "Cut the strips",
        (
            _grain(block, strips),
            *_each_strip(block, strips, units),
            "Cut head and tail parallel, and the ends square to them: every fold depends on it.",
            "Mark HEAD lightly in one corner of each strip, all at the same end.",
        ),
        KNIFE,
        "cut strips",
    )


def _grain(block: Block, strips: Strips) -> str:
    find = "Find the grain of the paper first: bend it lightly both ways, it bends most easily along it."
    if block.sheet is None or strips.grain == "head to tail":
        return f"{find} It runs across the strips, along the folds."
    return f"{find} It runs along the strips, across the folds: score each fold before folding, or it cracks."


def _each_strip(block: Block, strips: Strips, units: Units) -> tuple[str, ...]:
    last = both_sizes((strips.last_length, strips.panel.height), units)
    if not strips.full:
        return (f"Cut one strip, {last}: it holds all {strips.last} panels.",)
    full = both_sizes((strips.full_length, strips.panel.height), units)
    from_sheets = f" from {strips.sheets} sheets of {both_sizes(block.sheet, units)}" if block.sheet and strips.sheets else ""
    return (
        f"Cut {_times(strips.full, 'strip')}, {full}{from_sheets}.",
        f"Each holds {_times(strips.each, 'panel')} and, at one end, a tab.",
        f"Cut the last strip, {last}: it holds {_times(strips.last, 'panel')} and no tab.",
    )


def _times(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _fold(block: Block, strips: Strips) -> Step:
    ready = "Cut out the fold guide, glue it on card, and cut it again along its lines, its two notches too."
    way = _halving(strips.last) if not strips.full and in_half_again(strips.last) else by_the_guide(strips)
    return Step(
        "Fold the strips" if strips.full else "Fold the strip",
        (
            ready,
            *way,
            "Fold to and fro: each fold turns the other way from the one before it.",
            *_first_folds(strips),
            _free_edges(block.leaves),
        ),
        f"{KNIFE_AGAIN} {GLUE_AGAIN}",
        "fold strips",
    )


def _first_folds(strips: Strips) -> tuple[str, ...]:
    """Which way each strip's first fold goes, so that the joined strips go on to and fro."""
    if not strips.full:
        return ()
    if strips.each % 2 == 0:
        return ("Begin every strip, the same side up, with a fold towards you.",)
    return ("Begin the first strip with a fold towards you, the next with one away from you, and so on by turns.",)


def _halving(panels: int) -> tuple[str, ...]:
    """Halves, then quarters, and so on: each fold is found by the ones before it."""
    first = "Bring one end of the strip to the other, edges level, and crease the fold in the middle with the bone folder."
    check = "Open it. Lay the fold guide between end and fold: every panel must be as wide as the guide to its notches."
    if panels == 2:
        return first, check
    again = {4: "quarters", 8: "quarters, then eighths", 16: "quarters, eighths, then sixteenths"}
    shares = again.get(panels, "quarters, and go on so")
    return (
        first,
        f"Open it. Bring both ends to the middle fold, and crease. So fold {shares}, always a fold to the next one.",
        check,
        "Turn every second fold over.",
    )


def by_the_guide(strips: Strips) -> tuple[str, ...]:
    """Panel by panel."""
    tab = ("After the last panel of a strip with a tab, tick the last fold too: the tab lies beyond it.",) if strips.full else ()
    return (
        "Lay the fold guide on the strip, HEAD to the head, its plain end level with the end that has no tab."
        if strips.full
        else "Lay the fold guide on the strip, HEAD to the head, its plain end level with the strip's end.",
        "Tick the strip in both notches. Take the guide off, and score between the ticks with the bone folder along a ruler.",
        "Fold there, and crease.",
        "Lay the guide's plain end to this fold, and mark the next one. Go on panel by panel.",
        *tab,
    )


def guide_use(strips: Strips) -> tuple[str, ...]:
    """What the fold guide says of itself."""
    beyond = (
        "What lies beyond the fold line is the tab of a strip that another one follows."
        if strips.full
        else "What lies beyond the fold line only holds the notches: one strip needs no tab."
    )
    return (
        "Cut it exactly at head and tail, and cut both notches.",
        "Plain end to the end of the strip, or to the last fold. Tick in both notches, score between the ticks, and fold.",
        beyond,
    )


def _free_edges(panels: int) -> str:
    if panels % 2:
        return (
            f"{panels} panels are an odd number: the two free edges lie on opposite sides, the front one at the fore-edge, "
            "the back one at the spine edge. The book is drawn open to both sides."
        )
    return f"{panels} panels are an even number: both free edges lie on one side, the fore-edge. The book opens there."


def _join(strips: Strips, units: Units) -> Step:
    return Step(
        "Join the strips by their tabs",
        (
            f"Fold the tab, {told(strips.tab, units)} wide, to and fro like a panel: it then lies behind the next strip.",
            "Lay clean waste paper under the tab. Brush the side that faces away from the last panel thinly with adhesive.",
            "Take the waste paper away. Lay the end of the next strip on the adhesive, exactly along the fold, head to head.",
            "Rub it down through clean paper. The next panel turns the other way, as if the paper went on.",
            "Go on strip by strip, the last one without a tab.",
            "Press the folded panels dry under a weight. Where a tab lies the book is one layer of paper thicker.",
        ),
        f"{GLUE} {WEIGHT}",
        "join strips",
    )


def _paste(block: Block, sizes: Sizes) -> Step:
    units = block.units
    return Step(
        "Paste the end panels to the boards",
        (
            "Fold the panels together. The panel that lies on top, HEAD up, is the front end panel.",
            "Lay clean waste paper between it and the next panel. Brush it with adhesive, from the middle out.",
            "Take the waste paper away, and keep clean paper there instead while it dries.",
            f"Lay the front board on it, inside down, HEAD to HEAD: {_squares(sizes.square, units)}.",
            "Turn the book over. Paste the other end panel to the back board in the same way, level with the front one.",
            "The end panels cover the turn-ins: the boards need no other lining.",
        ),
        f"{GLUE} {WEIGHT}",
        "paste ends",
    )


def _squares(square: Squares, units: Units) -> str:
    """How far the board stands out, in a few words where it is the same all round."""
    if close(square.head, square.tail) and close(square.head, square.fore_edge):
        return f"the board stands out {told(square.head, units)} on all four sides"
    head, tail, fore = (told(mm, units) for mm in (square.head, square.tail, square.fore_edge))
    return f"the board stands out {head} at the head, {tail} at the tail, and {fore} on both upright sides"


def _press(block: Block) -> Step:
    free = "spine and fore-edge" if block.leaves % 2 else "fore-edge"
    return Step(
        "Press the book",
        (
            f"Close the book, its free edges at the {free}, clean paper behind each end panel.",
            "Press it between boards under a weight for a day.",
            "Take the paper out.",
        ),
        WEIGHT,
        "press",
    )
