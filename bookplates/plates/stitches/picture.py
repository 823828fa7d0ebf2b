"""A sewing stitch by stitch: the path of the thread drawn up to a step. Lengths in mm.

The thread of the step itself is strong, what was sewn before light. What lies outside (or on the front) is solid,
what lies inside (or on the back) dashed, and the two keep to their own sides of the holes, so that both are seen.
Every leg is one stroke, but for a pass through a hole, which fills the hole.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from bookplates.book.record import Plan
from bookplates.geometry import Outline
from bookplates.kinds.thread import Leg, ThreadPath
from bookplates.plates.drawing import Fill, Item, Line, Stroke
from bookplates.plates.stitches.ground import Ground, drawn, ground, sewn
from bookplates.plates.stitches.shapes import SEEN, WAYS, Drawn

LANES = 3
"""So many stitches lie beside each other; further ones lie on the first."""


def shown_with(path: ThreadPath) -> tuple[tuple[Drawn, ...], ...]:
    """The legs of each step, in order.

    The hitch of the first free end, the second leg, goes with the step that says it is tied: there has to be a stitch
    before an end can be tied round it.
    """
    legs = _drawn(path.legs)
    starts = (0, *(step.legs_done for step in path.steps))
    groups = [legs[start : step.legs_done] for start, step in zip(starts, path.steps, strict=False)]
    tied = next((n for n, step in enumerate(path.steps) if step.ties_first), 0)
    if tied:
        groups[tied].append(groups[0].pop(1))
    return tuple(map(tuple, groups))


def _drawn(legs: Sequence[Leg]) -> list[Drawn]:
    around = (None, *legs, None)
    knot = next((leg for leg in legs if leg.deed == "knot"), None)
    return [
        Drawn(leg, lane, last=n == len(legs) - 1, bound=(_binds(around[n]), _binds(around[n + 2])), knot=knot)
        for n, (leg, lane) in enumerate(zip(legs, _lanes(legs), strict=True))
    ]


def _binds(leg: Leg | None) -> bool:
    """Whether it is a stitch round its own thread."""
    return leg is not None and leg.deed == "link" and leg.linked in (None, leg.start.section)


def _lanes(legs: Sequence[Leg]) -> list[int]:
    """For each leg how many of its kind lie already where it lies."""
    there: dict[object, set[int]] = {}
    return [_lane([there.setdefault((_beside(leg), where), set()) for where in _covered(leg)]) for leg in legs]


def _beside(leg: Leg) -> object:
    """Legs of which this is the same may lie on each other."""
    if leg.deed == "run":
        return leg.deed, leg.start.section, leg.start.side
    if leg.deed == "climb":
        return leg.deed, frozenset((leg.start.section, leg.end.section)), leg.start.station
    return leg.deed, leg.start.section, leg.start.station, leg.start.side


def _covered(leg: Leg) -> Sequence[object]:
    """From which stations to the next one it lies; in a fold they are numbered as they lie, other holes are not."""
    low, high = sorted((leg.start.station, leg.end.station))
    return range(low, high) if leg.start.side in ("inside", "outside") and low < high else ((low, high),)


def _lane(there: Sequence[set[int]]) -> int:
    """The first lane that is free all along, taken from now on."""
    lane = next((free for free in range(LANES) if not any(free in taken for taken in there)), 0)
    for taken in there:
        taken.add(lane)
    return lane


def stitch_pictures(plan: Plan) -> tuple[tuple[Item, ...], ...]:
    """A picture for each step of the sewing, its lower left corner at the origin."""
    steps, ends = shown_with(plan.sewing.path), sewn(plan)
    grounds = (ground(plan, [one.leg for one in step], ends) for step in steps)
    return tuple(_picture(on, [one for step in steps[:n] for one in step], steps[n]) for n, on in enumerate(grounds))


def finished(plan: Plan) -> tuple[Item, ...]:
    """The whole sewing, all of it strong."""
    legs = [one for step in shown_with(plan.sewing.path) for one in step]
    return _picture(ground(plan, [one.leg for one in legs], sewn(plan)), (), legs)


def picture_size(plan: Plan) -> tuple[float, float]:
    """Width and height that the largest of the pictures takes."""
    ends = sewn(plan)
    grounds = [ground(plan, [one.leg for one in step], ends) for step in shown_with(plan.sewing.path)]
    return max(on.wide for on in grounds), max(on.top for on in grounds)


def _picture(on: Ground, before: Sequence[Drawn], now: Sequence[Drawn]) -> tuple[Item, ...]:
    tied = any(one.leg.deed == "knot" for legs in (before, now) for one in legs)
    before, now = (_lying([one for one in legs if on.holds(one.leg)], tied=tied) for legs in (before, now))
    return (
        *drawn(on, _passed(before), _passed(now)),
        *(item for one in before for item in stitch(on, one, strong=False)),
        *(item for one in now for item in stitch(on, one, strong=True)),
    )


def _lying(legs: Sequence[Drawn], *, tied: bool) -> Sequence[Drawn]:
    """Free ends as they lie as long as their knot is not among what is sewn."""
    return legs if tied else [replace(one, knot=None) for one in legs]


def _passed(legs: Iterable[Drawn]) -> set[tuple[int, int]]:
    return {(one.leg.start.section, one.leg.start.station) for one in legs if one.leg.deed == "pass"}


def stitch(on: Ground, one: Drawn, *, strong: bool) -> Iterator[Item]:
    """A leg as one stroke, and where it is strong and long enough an arrowhead the way the needle goes."""
    if one.leg.deed == "pass":
        return
    points = WAYS[one.leg.deed](on, one)
    yield Stroke(points, line_of(one.leg, strong=strong))
    if strong and one.leg.deed in ("run", "climb"):
        yield from _way(points)


def line_of(leg: Leg, *, strong: bool) -> Line:
    """Solid where it is seen, dashed where it is not; a wrap comes round to the side that is seen."""
    seen = leg.start.side in SEEN or leg.deed == "wrap"
    if strong:
        return "thread" if seen else "thread behind"
    return "sewn" if seen else "sewn behind"


def _way(points: Outline) -> Iterator[Fill]:
    """A small arrowhead in the middle of the longest straight piece, where that is long enough."""
    longest = max(pairwise(points), key=lambda ends: math.dist(*ends))
    if math.dist(*longest) >= 1.5:
        yield arrowhead(longest, 0.5)


def arrowhead(piece: Outline, where: float = 1.0) -> Fill:
    """A small arrowhead on a straight piece, at its end or at a part of its length."""
    start, end = piece
    long = math.dist(start, end)
    ux, uy = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    ahead = where * long + 0.7
    tip = start[0] + ahead * ux, start[1] + ahead * uy
    base = tip[0] - 1.4 * ux, tip[1] - 1.4 * uy
    return Fill((tip, (base[0] - 0.6 * uy, base[1] + 0.6 * ux), (base[0] + 0.6 * uy, base[1] - 0.6 * ux)))
