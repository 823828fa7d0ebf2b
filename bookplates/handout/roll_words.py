"""How tape and thread are cut off their rolls, in words. Lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence

from bookplates.handout.cutting_words import base_name, for_whom
from bookplates.handout.stock_words import left_on_roll, side
from bookplates.lengths import Units, both, counted, fits, roll_length, thread_length
from bookplates.workshop.cuts import Kind, RollCuts
from bookplates.workshop.cutting.roll import CutRoll


def roll_words(cuts: RollCuts, units: Units) -> tuple[str, ...]:
    """How each roll of a stock is cut, sentence by sentence."""
    each = ", each " if cuts.used > 1 else ", "
    said = [f"{counted(cuts.used, 'roll')} of {cuts.entry.stock.name}{each}{roll_length(cuts.length, units)} long."]
    for roll in cuts.rolls:
        where = "From the roll" if cuts.used == 1 else f"From {'each of ' if roll.times > 1 else ''}{counted(roll.times, 'roll')}"
        lengths, left = _lengths(cuts.kinds, roll, units)
        said.append(
            f"{where} cut {'; '.join(lengths)}. {left_on_roll(left, units)} {'is' if roll.times == 1 else 'of each is'} left."
        )
    return tuple(said)


def _lengths(kinds: Sequence[Kind], roll: CutRoll, units: Units) -> tuple[tuple[str, ...], float]:
    """What comes off a roll, and what is left of it; threads are a little longer where the roll has that to spare."""
    off = [(kind, times) for kind, times in zip(kinds, roll.counts, strict=True) if times]
    longer = [thread_length(kind.want.size.height, units) if _is_thread(kind) else kind.want.size.height for kind, _ in off]
    more = sum((one - kind.want.size.height) * times for one, (kind, times) in zip(longer, off, strict=True))
    if not fits(more, roll.left):
        longer, more = [kind.want.size.height for kind, _ in off], 0.0
    said = (
        ", ".join(filter(None, (f"{times} × {base_name(kind)}", f"{_length(kind, one, units)} long", for_whom(kind))))
        for one, (kind, times) in zip(longer, off, strict=True)
    )
    return tuple(said), roll.left - more


def _is_thread(kind: Kind) -> bool:
    return all(need.material == "thread" for need in kind.needs)


def _length(kind: Kind, length: float, units: Units) -> str:
    """Tape as exactly as its guide has it; a thread is never so exact."""
    return side(length, units) if _is_thread(kind) else both(length, units)
