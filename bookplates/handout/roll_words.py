"""How tape and thread are cut off their rolls, in words. Lengths in mm."""

from __future__ import annotations

from bookplates.handout.cutting_words import base_name, for_whom
from bookplates.handout.stock_words import left_on_roll, side
from bookplates.lengths import Units, both, counted, roll_length
from bookplates.workshop.cuts import RollCuts
from bookplates.workshop.cutting.roll import CutRoll


def roll_words(cuts: RollCuts, units: Units) -> tuple[str, ...]:
    """How each roll of a stock is cut, sentence by sentence."""
    each = ", each " if cuts.used > 1 else ", "
    said = [f"{counted(cuts.used, 'roll')} of {cuts.entry.stock.name}{each}{roll_length(cuts.length, units)} long."]
    for roll in cuts.rolls:
        where = "From the roll" if cuts.used == 1 else f"From {'each of ' if roll.times > 1 else ''}{counted(roll.times, 'roll')}"
        lengths, left = _lengths(cuts, roll, units)
        said.append(
            f"{where} cut {'; '.join(lengths)}. {left_on_roll(left, units)} {'is' if roll.times == 1 else 'of each is'} left."
        )
    return tuple(said)


def _lengths(cuts: RollCuts, roll: CutRoll, units: Units) -> tuple[tuple[str, ...], float]:
    """What comes off a roll, and what is left of it."""
    # Tape as exactly as its guide has it; a thread is never so exact
    in_words = side if cuts.entry.stock.material == "thread" else both
    lengths, left = cuts.measured_off(roll, units)
    off = [(kind, length, times) for kind, length, times in zip(cuts.kinds, lengths, roll.counts, strict=True) if times]
    said = (
        ", ".join(filter(None, (f"{times} × {base_name(kind)}", f"{in_words(length, units)} long", for_whom(kind))))
        for kind, length, times in off
    )
    return tuple(said), left
