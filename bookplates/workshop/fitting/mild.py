"""Mild ways out: the book looks as it was meant to. Lengths in mm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from bookplates.kinds.keys import INCH, SIDES
from bookplates.lengths import Units, fits, said
from bookplates.workshop.cuts import Entry
from bookplates.workshop.fitting.search import Answer, last_that_works
from bookplates.workshop.fitting.trial import Trial
from bookplates.workshop.fitting.way import Asked, Found, Kindly, tried
from bookplates.workshop.fitting.written import down, grid, length_key
from bookplates.workshop.lacking import sheet_in_words
from bookplates.workshop.sheets import goes_on

LAP = INCH / 2
"""How far a covering goes on under the tape, mm: as far as a hinge's cloth laps on the board (handbook TI12)."""

JOIN = {"mm": 6.0, "in": INCH / 4}
"""How far a cut turn-in goes on under the lining, mm: common practice, no source."""

LEAST_TURN_IN = {"mm": 10.0, "in": INCH / 2}
"""The least that is turned in: 10 mm (Adam), 1/2 in (Bean & Brodhead; handbook, where the sources disagree)."""

CAUTIONS = {
    "board": "a board across its grain bows from head to tail, and no paper pulls it straight again",
    "text paper": "leaves across their grain do not lie flat, and cockle along the spine where they are pasted",
}
CAUTION = (
    "across its grain paper or cloth stretches when it is pasted and warps the boards, cracks at folds and along the joint, "
    "and drags at a hinge; try one first"
)
"""What comes of work against the grain: common practice, no source."""


def lap(asked: Asked) -> Found:
    """Coverings that stop under the tape."""
    now = asked.now
    tape = getattr(now.spec.cover, "tape", None)
    if tape is None or "lap" not in type(tape).model_fields or tape.lap is not None:
        return
    units = now.spec.units
    reach = LAP if units == "in" else down(LAP, units)
    sentence = f"coverings that stop under the tape, {said(reach, units)} past its edge"
    yield from tried(asked, "lap", sentence, {"tape.lap": length_key(reach, units)})


def join(asked: Asked) -> Found:
    """Turn-ins cut short and made up under the lining."""
    now = asked.now
    if "join" not in type(now.spec.cover).model_fields or getattr(now.spec.cover, "join", None) is not None:
        return
    units = now.spec.units
    sentence = f"a join under the lining: turn-ins that end {said(JOIN[units], units)} under it, and strips to make them up"
    yield from tried(asked, "join", sentence, {"cover.join": length_key(JOIN[units], units)})


def turn_in(asked: Asked) -> Found:
    """The largest smaller turn-in that helps, if it is no less than is sensible and nobody warns of it."""
    now, units = asked.now, asked.now.spec.units
    written = getattr(now.spec.cover, "turn_in", None)
    if written is None or getattr(now.spec.cover, "hinge", written) is None:
        return  # nothing is turned in
    sides = {side: getattr(written, side) for side in SIDES}
    steps = _steps(max(sides.values()), units)
    found = last_that_works(0, len(steps) - 1, lambda step: _helps(asked, sides, steps[step]), 0) if steps else None
    if found is not None:
        turned = steps[found]
        changes = {"cover.turn_in": _turned_in(sides, turned, units)}
        was = "" if len(set(sides.values())) > 1 else f" instead of {said(written.head, units)}"
        ways = tried(asked, "turn-in", f"turn-ins of {said(turned, units)}{was}", changes)
        yield from (way for way in ways if not way.trial.new_warnings(now))


def _steps(most: float, units: Units) -> list[float]:
    """Turn-ins below `most` on the scale of a ruler, the smallest first, from the sensible least on."""
    step, least = grid(units), LEAST_TURN_IN[units]
    first = down(most - 1e-3, units)
    count = int((first - least) / step + 1e-6)
    return [first - number * step for number in range(count, -1, -1)] if fits(least, first) else []


def _helps(asked: Asked, sides: Mapping[str, float], turned: float) -> Answer:
    """Whether the book can be cut so, and takes fewer sheets if it could be cut before; the less is turned in, the better."""
    trial = asked.now.after({"cover.turn_in": _turned_in(sides, turned, asked.now.spec.units)})
    if trial is None:
        return "none"
    return "works" if (_saves(asked, trial) if asked.before.works else trial.works) else "too large"


def _saves(asked: Asked, trial: Trial) -> bool:
    return trial.goes and trial.sheets < min(asked.before.sheets, asked.now.sheets)


def _turned_in(sides: Mapping[str, float], most: float, units: Units) -> Any:
    """No side more than that; one length where all are then the same."""
    kept = {side: length_key(min(mm, most), units) for side, mm in sides.items()}
    return kept if len(set(kept.values())) > 1 else kept["head"]


def against_grain(asked: Asked) -> Found:
    """Pieces turned across the grain, stock by stock; and on all of those together without which something goes on none."""
    crossed = [entry for entry in asked.now.stock if _may_be_crossed(asked.now, entry)]
    for entry in crossed:
        yield from _across(asked, [entry])
    needed = [entry for entry in crossed if _takes_what_is_left(asked.now, entry)]
    if len(needed) > 1:
        yield from _across(asked, needed)


def _may_be_crossed(now: Trial, entry: Entry) -> bool:
    stock = entry.stock
    kept = entry.number is None or stock.grain == "none" or stock.against_grain
    return not kept and any(need.material == stock.material for need in now.table.needs)


def _takes_what_is_left(now: Trial, entry: Entry) -> bool:
    """Whether a piece that goes on no stock, or more of what is too little, would come out of this one."""
    crossed = entry.stock.model_copy(update={"against_grain": True})
    cuts = now.table.of(entry.stock.material)
    return any(goes_on(need, crossed) for need in (cuts.needs if cuts.missing else cuts.without))


def _across(asked: Asked, entries: Sequence[Entry]) -> Found:
    named = [_named(asked.now, entry) for entry in entries]
    sentence = f"pieces across the grain of {', '.join(named[:-1])}{' and ' if named[:-1] else ''}{named[-1]}, too"
    changes = {f"stock.{entry.number}.against_grain": True for entry in entries}
    cautions = dict.fromkeys(CAUTIONS.get(entry.stock.material, CAUTION) for entry in entries)
    yield from tried(asked, "against grain", sentence, changes, "; ".join(cautions))


def _named(now: Trial, entry: Entry) -> str:
    """A stock by its name; where another one has that too, with its material, and with its size if need be."""
    stock = entry.stock
    same = [other.stock for other in now.stock if other.stock.name == stock.name]
    if len(same) == 1:
        return stock.name
    alone = [other.material for other in same].count(stock.material) == 1
    return f"{stock.name} ({stock.material})" if alone else f"{sheet_in_words(stock, now.spec.units)} ({stock.material})"


MILD: tuple[Kindly, ...] = (lap, join, against_grain, turn_in)
"""The one that searches comes last: after another it searches on."""
