"""How each kind of stitch is drawn: a line of a few straight pieces, from hole to hole. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from bookplates.geometry import Outline, Point
from bookplates.kinds.thread import Deed, Leg
from bookplates.plates.stitches.ground import PITCH, RIM, Ground

LANE, NEXT = 1.3, 1.1
"""How far a stitch keeps from the line of the holes, and from another beside it."""
BOUND = 0.5
"""How near to the hole a thread comes that goes round a stitch there."""
SEEN = ("outside", "front")
"""Sides that are seen from where a sewing is drawn."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A leg and where it lies.

    Attributes:
        leg: of the path.
        lane: its place among others of its kind, from the holes outwards.
        last: whether it is the last free end.
        bound: whether it begins, and whether it ends, round another stitch and not at the hole.
        knot: the knot that ties the two ends, where it is tied by now.
    """

    leg: Leg
    lane: int
    last: bool = False
    bound: tuple[bool, bool] = (False, False)
    knot: Leg | None = None

    @property
    def sign(self) -> float:
        """Stitches that are seen lie at the right of their holes, the others at the left."""
        return 1.0 if self.leg.start.side in SEEN else -1.0


def _run(on: Ground, one: Drawn) -> Outline:
    """From rim to rim, a little beside the straight way; where it is bound to another stitch it stays beside."""
    start, end = on.at(one.leg.start), on.at(one.leg.end)
    long = math.dist(start, end) or 1.0
    ux, uy = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    nx, ny = (uy, -ux) if (uy, -ux) > (0.0, 0.0) else (-uy, ux)
    off = LANE + NEXT * one.lane

    def beside(hole: Point, away: float, along: float) -> Point:
        away *= one.sign
        return hole[0] + nx * away + ux * along, hole[1] + ny * away + uy * along

    near, far = (BOUND if bound else min(off, long / 4) for bound in one.bound)
    first = () if one.bound[0] else (beside(start, RIM, 0.0),)
    last = () if one.bound[1] else (beside(end, RIM, 0.0),)
    return (*first, beside(start, off, near), beside(end, off, -far), *last)


def _climb(on: Ground, one: Drawn) -> Outline:
    """From column to column, bent towards the nearer end of the spine."""
    start, end = on.at(one.leg.start), on.at(one.leg.end)
    bend = (LANE + NEXT * one.lane) * (1.0 if on.upper(start) else -1.0)
    way = math.copysign(1.6, end[0] - start[0])
    return start, (start[0] + way, start[1] + bend), (end[0] - way, end[1] + bend), end


def _end(on: Ground, one: Drawn) -> Outline:
    """A free end beside its hole: the first one upwards, the last one downwards."""
    up = -1.0 if one.last else 1.0
    if one.knot and (not one.last or one.leg.start == one.knot.start):
        x, y = _knot_at(on, one.knot, one.sign)
        hole = () if one.last else _from(on.at(one.leg.start), one.sign, up, ((RIM, 0.0),))
        return (*hole, (x, y), (x + one.sign * 2.2, y + up * 1.6))
    return _from(on.at(one.leg.start), one.sign, up, ((RIM, 0.0), (1.6, 1.0), (3.0, 0.5), (4.2, 1.5)))


def _loop(on: Ground, one: Drawn) -> Outline:
    """A loop that hangs from its hole."""
    steps = ((RIM, 0.1), (1.6, 0.1), (2.5, -0.4), (3.1, -1.2), (3.0, -2.0), (2.4, -2.3), (1.8, -2.0), (1.2, -1.2), (RIM, -0.3))
    return _from(on.at(one.leg.start), one.sign, 1.0, steps)


def _from(hole: Point, sign: float, up: float, steps: Outline) -> Outline:
    return tuple((hole[0] + sign * x, hole[1] + up * y) for x, y in steps)


def _hitch(on: Ground, one: Drawn) -> Outline:
    """A small ring beside the hole, on the side of the stitches; another outside it; or where the other stitch is."""
    if one.leg.linked is not None and one.leg.linked != one.leg.start.section:
        return _hitch_on(on, one, one.leg.linked)
    x, y = on.at(one.leg.start)
    return _ring((x + one.sign * (LANE + 1.3 * one.lane), y + (-1.8 if on.upper((x, y)) else 1.8)), 0.7)


def _hitch_on(on: Ground, one: Drawn, linked: int) -> Outline:
    """To the stitch outside that joins another section to the one before it, a small ring round it, and back."""
    x, y = on.at(one.leg.start)
    bend = LANE if on.upper((x, y)) else -LANE
    way = math.copysign(1.0, on.column(linked) - x)
    centre = on.column(linked) + way * 2.6, y + bend
    ring = _ring(centre, 0.8, 0.0 if way < 0 else math.pi)
    return ((x, y + bend / 2), *ring, (x, y - bend / 4))


def _knot(on: Ground, one: Drawn) -> Outline:
    """To the first free end, and a ring round both."""
    x, y = on.at(one.leg.start)
    centre = _knot_at(on, one.leg, one.sign)
    return ((x, y), *_ring(centre, 0.9, math.atan2(y - centre[1], x - centre[0])))


def _knot_at(on: Ground, knot: Leg, sign: float) -> Point:
    """On the stitch beside the hole; where the end comes from another section, halfway between the two."""
    x, y = on.at(knot.start)
    if knot.linked is None:
        return x + sign * LANE, y + (-2.0 if on.upper((x, y)) else 2.0)
    towards_front = 1.0 if on.plan.opening == "left" else -1.0
    return x + math.copysign(PITCH / 2, towards_front * (knot.start.section - knot.linked)), y


def _link(on: Ground, one: Drawn) -> Outline:
    """Round the thread's own stitch a larger ring; to another section's stitch, round it and back."""
    if one.leg.end != one.leg.start and one.leg.linked is not None:
        return _link_on(on, one, one.leg.linked)
    x, y = on.at(one.leg.start)
    linked = one.leg.linked
    if linked is None or linked == one.leg.start.section:
        return _ring((x + one.sign * (LANE + NEXT / 2), y), 0.9)
    other = on.column(linked)
    way = math.copysign(1.0, other - x)
    steps = ((1.0, 0.9), (-1.1, 1.0), (-1.7, 0.0), (-1.1, -1.0), (1.0, -0.9))
    return ((x, y + 0.2), *_from((other, y), -way, 1.0, steps), (x, y - 0.2))


def _link_on(on: Ground, one: Drawn, linked: int) -> Outline:
    """Beside the holes from one to the next, and halfway out to another section's stitch, round it and back."""
    (x, start), (_, end) = on.at(one.leg.start), on.at(one.leg.end)
    middle, gap = (start + end) / 2, (start - end) / 2
    wide, narrow = math.copysign(min(0.9, abs(gap) / 2), gap), math.copysign(min(0.35, abs(gap) / 5), gap)
    lane, bend = x + one.sign * LANE, math.copysign(min(LANE, abs(gap) / 3), gap)
    tip = on.column(linked) + one.sign * LANE + math.copysign(1.0, on.column(linked) - x)
    half = ((x + one.sign * RIM, start), (lane, start - bend), (lane, middle + narrow), (tip, middle + wide))
    return (*half, *((px, 2 * middle - py) for px, py in reversed(half)))


def _ring(centre: Point, radius: float, first: float = 0.0) -> Outline:
    turns = (first + math.pi * n / 5 for n in range(11))
    return tuple((centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)) for turn in turns)


def _wrap(on: Ground, one: Drawn) -> Outline:
    """To an edge, and round it."""
    x, y = on.at(one.leg.start)
    if one.leg.edge == "spine":
        over = on.spine - (0.7 if on.plan.opening == "left" else -0.7)
        return (x, y), (over, y), (over, y - 0.5), (on.spine, y - 0.5)
    over = on.foot + on.high + 0.5 if one.leg.edge == "head" else on.foot - 0.5
    return (x, y), (x, over), (x + 0.5, over)


WAYS: Mapping[Deed, Callable[[Ground, Drawn], Outline]] = {
    "run": _run,
    "climb": _climb,
    "end": _end,
    "loop": _loop,
    "hitch": _hitch,
    "knot": _knot,
    "link": _link,
    "wrap": _wrap,
}
"""The line of each kind of leg; a pass through a hole has none."""
