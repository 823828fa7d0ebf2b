"""The cuts of a sheet in the order in which they are made. Lengths in mm.

Whoever stands at the shear sets the stop once and makes every cut it serves before setting it again. So the cuts are
not made part by part: with the stop as it stands, every part in hand that wants it is cut, strips before what is cut
of strips. Parts have numbers, written on them as they come off: the sheet is part 0, every cut makes the next two.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from bookplates.geometry import Box
from bookplates.workshop.cutting.tree import Cut, Node, nodes

Setting = tuple[bool, float]
"""Which way the cut runs, and where the stop stands, to a thousandth of a mm."""


@dataclass(frozen=True, slots=True)
class Step:
    """One cut.

    Attributes:
        number: of the cut, from 1.
        part: number of the part that is cut; it is used up.
        upright: whether the cut runs from the part's foot to its top, so that the stop is measured along its width.
        stop: how far from the part's left edge, or from its foot, the blade falls.
        first: number of the part that lies between that edge and the blade.
        rest: number of what is left beyond the blade; None where that is nothing.
    """

    number: int
    part: int
    upright: bool
    stop: float
    first: int
    rest: int | None

    @property
    def setting(self) -> Setting:
        """The stop, and which way the cut runs: cuts of one setting that follow each other need no new one."""
        return self.upright, round(self.stop, 3)


@dataclass(frozen=True, slots=True)
class Part:
    """The sheet, or what a cut made.

    Attributes:
        number: 0 is the sheet; `Step` names parts by it.
        node: what becomes of it: a `Cut`, or finished as a `Put` or an `Offcut`.
        box: where it lies on the sheet, from the sheet's lower left.
        strips: how often the direction of the cuts changed on the way to it: 0 the sheet and what is cut of it in the
            direction of the first cut, 1 what is then cut across, and so on.
    """

    number: int
    node: Node
    box: Box
    strips: int

    @property
    def finished(self) -> bool:
        """Whether nothing more is cut of it."""
        return not isinstance(self.node, Cut)


def steps(tree: Node, blade: float) -> tuple[Step, ...]:
    """The cuts, numbered in the order in which to make them; none where the sheet itself is the piece.

    Args:
        tree: how the sheet is cut.
        blade: what a cut takes away.
    """
    return _worked(tree, blade)[0]


def parts(tree: Node, blade: float) -> tuple[Part, ...]:
    """The sheet and every part that the steps make, by their numbers; those that are `finished` are pieces and offcuts."""
    return _worked(tree, blade)[1]


def _worked(tree: Node, blade: float) -> tuple[tuple[Step, ...], tuple[Part, ...]]:
    everything = [Part(0, tree, Box(0.0, 0.0, *tree.size), 0)]
    in_hand = list(everything) if isinstance(tree, Cut) else []
    to_come = Counter(_setting(node) for node in nodes(tree) if isinstance(node, Cut))
    done: list[Step] = []
    setting: Setting | None = None
    while in_hand:
        if setting is None or not to_come[setting] or all(_setting(part.node) != setting for part in in_hand):
            setting = _next_setting(in_hand, to_come)
        part = _next_part(in_hand, setting)
        made = tuple(_cut(part, blade, len(everything)))
        done.append(_step(len(done) + 1, part, made))
        everything += made
        in_hand = [other for other in in_hand if other is not part] + [new for new in made if not new.finished]
        to_come[setting] -= 1
    return tuple(done), tuple(everything)


def _setting(node: Node) -> Setting:
    assert isinstance(node, Cut), "only what is to be cut is in hand"
    return node.upright, round(node.stop, 3)


def _next_setting(in_hand: list[Part], to_come: Counter[Setting]) -> Setting:
    """Strips before what is cut of strips; sooner one that need not be set again; then the one that most parts want."""
    wanted = Counter(_setting(part.node) for part in in_hand)
    level = {setting: min(part.strips for part in in_hand if _setting(part.node) == setting) for setting in wanted}
    once = {setting: _all_within_reach(setting, in_hand) >= to_come[setting] for setting in wanted}
    first = {setting: min(part.number for part in in_hand if _setting(part.node) == setting) for setting in wanted}
    return min(wanted, key=lambda setting: (not once[setting], level[setting], -wanted[setting], first[setting]))


def _all_within_reach(setting: Setting, in_hand: list[Part]) -> int:
    """How many cuts can be made without setting the stop anew."""
    reached = 0
    waiting = [part.node for part in in_hand]
    while waiting:
        node = waiting.pop()
        if isinstance(node, Cut) and _setting(node) == setting:
            reached += 1
            waiting += [one for one in (node.first, node.rest) if one is not None]
    return reached


def _next_part(in_hand: list[Part], setting: Setting) -> Part:
    """What is left of the part cut last goes under the blade again; else the part that came off first."""
    wanted = [part for part in in_hand if _setting(part.node) == setting]
    return wanted[-1] if wanted[-1] is in_hand[-1] else wanted[0]


def _cut(part: Part, blade: float, number: int) -> Iterator[Part]:
    """What a cut makes of a part, numbered from `number`."""
    node, box = part.node, part.box
    assert isinstance(node, Cut), "only what is to be cut is in hand"
    ends = (box.left + node.stop, box.top) if node.upright else (box.right, box.bottom + node.stop)
    first = Box(box.left, box.bottom, *ends)
    beyond = (ends[0] + blade, box.bottom) if node.upright else (box.left, ends[1] + blade)
    for made, place in ((node.first, first), (node.rest, Box(*beyond, box.right, box.top))):
        if made is not None:
            turns = isinstance(made, Cut) and made.upright != node.upright
            yield Part(number, made, place, part.strips + turns)
            number += 1


def _step(number: int, part: Part, made: tuple[Part, ...]) -> Step:
    node = part.node
    assert isinstance(node, Cut), "only what is to be cut is in hand"
    return Step(number, part.number, node.upright, node.stop, made[0].number, made[1].number if len(made) > 1 else None)
