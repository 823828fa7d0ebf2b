"""How a wrapper is cut, folded and pierced, in words: for its steps and for its templates."""

from __future__ import annotations

from bookplates.kinds.block import Opening
from bookplates.kinds.cautions import AWL_AGAIN, KNIFE
from bookplates.kinds.step import Step
from bookplates.lengths import Units, both_sizes, in_mm, told


def card_use(opening: Opening, card: float, flap: float | None, units: Units) -> tuple[str, ...]:
    """What the wrap outline of a wrapper says of itself; `card` is how thick it is, `flap` how wide each is inside, mm."""
    wide = (
        "" if flap is None else f"Beyond its fold each flap is {told(flap, units)}, and {in_mm(card)} more for the card's fold."
    )
    return (
        f"INSIDE OF THE COVER UP, the front at the {opening}.",
        "Lay this sheet on the inside of the card, the grain arrow along its grain.",
        "Prick through the four corners, and through both ends of every fold line. Take the sheet off.",
        "Rule from corner to corner, and cut.",
        "Score each fold: draw the tip of the bone folder along a metal rule from prick to prick, several times.",
        f"Fold the spine{'' if flap is None else ' and the flaps'} towards you, the score inside.",
        *((wide,) if wide else ()),
    )


def punch_use(folds: int, sections: int) -> tuple[str, ...]:
    """What the cover punch guide of a wrapper says of itself; `folds` is how many its spine has."""
    return (
        "INSIDE OF THE COVER UP.",
        f"Lay the folded cover open and flat, inside up. Lay the strip on it{_front(sections)}. {_set(folds)}",
        "Head to head, its ends level with the cover's. Hold it with two clips. Pierce straight down into foam.",
    )


def _front(sections: int) -> str:
    """With one section the strip is the same towards front and back."""
    return ", FRONT to the front" if sections > 1 else ""


def _set(folds: int) -> str:
    if folds > 1:
        return "The dashed lines are the folds of the spine: their ends meet the creases at head and tail."
    return "The dashed line is the fold of the spine: both its ends meet the crease, at head and tail."


def score_card(card: tuple[float, float], folds: int, units: Units) -> Step:
    """The card is cut out and scored; `card` is its width and height, mm, `folds` how many it has."""
    others = ("Score the other fold lines likewise.",) if folds > 1 else ()
    return Step(
        "Cut and score the card",
        (
            "Find the grain of the card: bend it lightly both ways.",
            "Lay the wrap outline on the inside of the card, printed side up, its grain arrow along the grain.",
            f"Prick through the four corners, and through both ends of {'every' if others else 'the'} fold line.",
            "Take the outline off. Rule from corner to corner.",
            f"Cut along these lines: the card is {both_sizes(card, units)}.",
            "On the side that lies up write lightly: inside, HEAD, front.",
            f"Lay a metal rule along the two pricks of {'a' if others else 'the'} fold line.",
            "Draw the tip of the bone folder along it several times, until there is a groove.",
            *others,
        ),
        f"{KNIFE} {AWL_AGAIN}",
        "score card",
    )


def fold_card(folds: int, sections: int) -> Step:
    """The spine is folded; `folds` is how many it has."""
    spine = "along one score of the spine, then along the other" if folds > 1 else "along the score in its middle"
    block = "the sections, knocked up together," if sections > 1 else "the section"
    return Step(
        "Fold the cover",
        (
            f"Lay the card inside up. Fold it up {spine}: the groove comes inside.",
            "Rub down each fold with the bone folder, through clean paper." if folds > 1 else _RUB,
            f"Lay {block} into it, and close it.",
            "Look whether the cover stands out alike at head and tail, and reaches over the fore-edge at front and back.",
        ),
        "",
        "fold wrapper",
    )


_RUB = "Rub the fold down with the bone folder, through clean paper."


def turn_flaps(flap: float, units: Units) -> Step:
    """The flaps are turned inside."""
    return Step(
        "Turn the flaps in",
        (
            f"Fold each flap inside along its score. It is {told(flap, units)} wide inside.",
            _RUB,
            "Open the flaps and the cover again.",
        ),
        "",
        "flaps",
    )


FLAPS_BACK = Step("Turn the flaps in again", ("Take the clips off.", "Fold both flaps inside along their scores."), "", "flaps")


def pierce_cover(folds: int, sections: int) -> Step:
    """The spine is pierced by the cover punch guide; `folds` is how many it has."""
    meet = "its dashed lines meet the creases" if folds > 1 else "its dashed line meets the crease"
    return Step(
        "Pierce the cover",
        (
            "Lay the cover open and flat, inside up, its spine over the foam.",
            f"Lay the cover punch guide on it, HEAD to the head{_front(sections)}.",
            f"Set its ends level with the cover's: {meet} at head and tail.",
            "Hold it with two clips.",
            "Pierce every station straight down.",
        ),
        AWL_AGAIN,
        "pierce cover",
    )


def laid_in(square: float, folds: int, units: Units) -> tuple[str, ...]:
    """How one section lies in its wrapper; `square` is the one at the head, mm."""
    where = "midway between the two folds of the spine" if folds > 1 else "in the fold of the spine"
    return (
        f"Lay the cover open, inside up. Lay the section on it, its fold {where}, head to head.",
        f"The section begins {told(square, units)} below the head of the cover: station meets station.",
        "Open the section in the middle, and hold it to the cover with two clips.",
    )
