"""How each kind of stitch is drawn: a line of a few straight pieces, from hole to hole. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from bookplates.geometry import Outline, Point
from bookplates.kinds.thread import Deed, Leg
from bookplates.plates.stitches.ground import RIM, Ground

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
    """

    leg: Leg
    lane: int
    last: bool = False
    bound: tuple[bool, bool] = (False, False)

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
    return _from(on.at(one.leg.start), one.sign, up, ((RIM, 0.0), (1.6, 1.0), (3.0, 0.5), (4.2, 1.5)))


def _loop(on: Ground, one: Drawn) -> Outline:
    """A loop that hangs from its hole."""
    steps = ((RIM, 0.1), (1.6, 0.1), (2.5, -0.4), (3.1, -1.2), (3.0, -2.0), (2.4, -2.3), (1.8, -2.0), (1.2, -1.2), (RIM, -0.3))
    return _from(on.at(one.leg.start), one.sign, 1.0, steps)


def _from(hole: Point, sign: float, up: float, steps: Outline) -> Outline:
    return tuple((hole[0] + sign * x, hole[1] + up * y) for x, y in steps)


def _hitch(on: Ground, one: Drawn) -> Outline:
    """A small ring beside the hole, on the side of the stitches; another outside it."""
    x, y = on.at(one.leg.start)
    return _ring((x + one.sign * (LANE + 1.3 * one.lane), y + (-1.8 if on.upper((x, y)) else 1.8)), 0.7)


def _link(on: Ground, one: Drawn) -> Outline:
    """Round the thread's own stitch a larger ring; to another section's stitch, round it and back."""
    x, y = on.at(one.leg.start)
    linked = one.leg.linked
    if linked is None or linked == one.leg.start.section:
        return _ring((x + one.sign * (LANE + NEXT / 2), y), 0.9)
    other = on.column(linked)
    way = math.copysign(1.0, other - x)
    steps = ((1.0, 0.9), (-1.1, 1.0), (-1.7, 0.0), (-1.1, -1.0), (1.0, -0.9))
    return ((x, y + 0.2), *_from((other, y), -way, 1.0, steps), (x, y - 0.2))


def _ring(centre: Point, radius: float) -> Outline:
    turns = (math.pi * n / 5 for n in range(11))
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
    "link": _link,
    "wrap": _wrap,
}
"""The line of each kind of leg; a pass through a hole has none."""
