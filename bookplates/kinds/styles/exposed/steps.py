"""How boards are pierced and laid for a book whose spine stays bare, in words: for steps and templates."""

from __future__ import annotations

from bookplates.kinds.block import Opening
from bookplates.kinds.cautions import AWL, DRILL
from bookplates.kinds.step import Step
from bookplates.lengths import Units, in_mm, told

PUNCH_USE = (
    "FRONT BOARD OUTSIDE UP.",
    "Prick every station through first. Lay the strip on the outside of the covered board, its spine edge on the board's.",
    "Head to head, its ends level with the board's. Pierce or drill straight down, into a waste board.",
    "Back board: the strip turned over like a page, printed side down, HEAD to the head, the board outside up.",
    DRILL,
)
"""What the cover punch guide says of itself."""


def pierce_boards(inset: float, hole: float, units: Units) -> Step:
    """Both boards are pierced by one strip: holes of `hole` mm, `inset` mm from the spine edge."""
    return Step(
        "Pierce the boards",
        (
            "Prick every station of the cover punch guide through.",
            "Lay the front board on a waste board, outside up.",
            "Lay the guide on it, printed side up, HEAD to the head, its spine edge level with the board's spine edge.",
            f"The row of holes stands {told(inset, units)} from the spine edge. Hold guide and board with two clips.",
            f"Pierce every station straight down with a strong awl, or drill it, {in_mm(hole)} wide.",
            "The hole goes through covering, board and lining.",
            "Turn the guide over like a page, printed side down, HEAD still to the head.",
            "Do the same with the back board, outside up.",
            "Rub down what stands up round the holes inside, with the bone folder.",
        ),
        f"{AWL} {DRILL}",
        "pierce boards",
    )


def laid_in(square: float, opening: Opening, units: Units) -> tuple[str, ...]:
    """How boards and sections lie while they are sewn: the front board lowest; `square` is the one at the head, mm."""
    hand = "right" if opening == "left" else "left"
    return (
        f"Lay the front board on the table, outside down, its spine edge towards you, its head at your {hand}.",
        "Section 1 is the front one: it is laid on that board first, its front down, its fold level with the board's spine edge.",
        f"Each section begins {told(square, units)} below the head of the board: station meets station.",
        "Lay each further section on the one before. The back board comes last, outside up.",
    )
