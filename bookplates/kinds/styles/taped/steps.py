"""The steps that join two boards by a book tape."""

from __future__ import annotations

from bookplates.geometry import Size
from bookplates.kinds.cautions import AWL_AGAIN, KNIFE_AGAIN, TAPE, WEIGHT
from bookplates.kinds.cover import TapeSizes
from bookplates.kinds.step import Step
from bookplates.lengths import Units, both_sizes, told


def join(sizes: TapeSizes, apart: float, strip: Size | None, units: Units) -> tuple[Step, ...]:
    """Set the boards, lay the tape, turn its ends in.

    Args:
        sizes: of the tape.
        apart: the boards' back edges from each other, mm.
        strip: width and height of the inner strip, where there is one.
        units: shown first.
    """
    laid = (*_laid(sizes, units), *_ends(sizes, strip, units))
    return (
        Step("Set the boards for the tape", _set(sizes, apart, units), WEIGHT, "set boards"),
        Step("Lay the tape", laid, f"{KNIFE_AGAIN} {TAPE}", "lay tape"),
    )


def _set(sizes: TapeSizes, apart: float, units: Units) -> tuple[str, ...]:
    return (
        f"With the tape gauge mark lightly {told(sizes.on_board, units)} from each board's spine edge, on its outside.",
        "Fix the tape guide to the table with adhesive tape.",
        "Lay the covered boards on it, outside up, heads at HEAD, the front board at FRONT, the back board at BACK.",
        "Set their spine edges on the two inner dashed lines, head and tail on the lines across.",
        "Push one spacer into the gap from the head, one from the tail, backing paper up, their outer ends standing out.",
        f"Close the boards up to them: they are now {told(apart, units)} apart.",
        "Weigh the boards down, clear of the marks.",
    )


def _laid(sizes: TapeSizes, units: Units) -> tuple[str, ...]:
    head, tail = told(sizes.hang_head, units), told(sizes.hang_tail, units)
    return (
        f"Cut {told(sizes.length, units)} of book tape, {told(sizes.width, units)} wide.",
        f"On its backing paper rule a line across, {head} from one end, the head end, and one {tail} from the other.",
        "Slit the backing paper along both lines. Peel off the piece between them, and leave the two ends on.",
        "Lay the tape from above, adhesive down, its edges on the marks, the two slits level with the boards' head and tail.",
        *((f"It covers the bare board and {told(sizes.lap, units)} of each covering.",) if sizes.lap else ()),
        "Rub it down on the boards only, from the gap outwards. Over the gap leave it slack.",
        "Draw both spacers out by their ends.",
        "With the bone folder press the tape into the gap, down along both spine edges.",
        "Lift the work off, and turn it over on clean paper, inside up.",
    )


def _ends(sizes: TapeSizes, strip: Size | None, units: Units) -> tuple[str, ...]:
    groove = "Then rub it up over each spine edge and out on the boards, so that no air stays under it."
    if strip is None:
        return (
            "Peel the backing off the tail end. Fold it tightly over the boards, and rub it down.",
            "Peel the backing off the long head end bit by bit. Fold it over.",
            "Lay its middle down in the gap first, on to the tail.",
            "With the bone folder press it into the groove between the boards, on to the tape below.",
            f"The two ends overlap by {told(sizes.overlap or 0.0, units)} near the tail.",
            groove,
        )
    return (
        "Peel the backing off the head end. Fold it tightly over the boards, and rub it down. Then the tail end.",
        f"Cut the inner strip, {both_sizes(strip, units)}, from tape.",
        "Peel its backing off. Lay it over the adhesive left bare in the gap, its middle down in the gap first.",
        "With the bone folder press it into the groove between the boards, on to the tape below.",
        groove,
    )


PIERCE_COVER = Step(
    "Pierce the cover",
    (
        "Lay the cover open, inside up, the groove between the boards over the foam.",
        "Drop the cover punch guide into the groove, HEAD to the head, its ends level with the boards.",
        "Pierce every station straight down.",
    ),
    AWL_AGAIN,
    "pierce cover",
)


def laid_in_groove(square: float, units: Units) -> tuple[str, ...]:
    """How the section lies in a cover that it is sewn through; `square` is the one at the head, mm."""
    return (
        "Lay the cover open, inside up. Lay the section on it, its fold in the groove, head to head.",
        f"The section begins {told(square, units)} below the head of the boards: station meets station.",
        "Open the section in the middle, and hold it to the cover with two clips.",
    )
