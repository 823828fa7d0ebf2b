"""Of plans with the same number of sheets the one that is best to cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from bookplates.workshop.cutting.corners import RULES, laid_out, orders
from bookplates.workshop.cutting.job import Job, Layout, Plan, pruned, renumbered, sheets, turned, used
from bookplates.workshop.cutting.shelves import Shelves
from bookplates.workshop.cutting.trees import Inner, Merit, cutters, merit

MOST_JUDGED = 60
"""So many plans with the same number of sheets are turned into cuts and held against each other."""

MOST_TIDIED = 40
"""Of more different sheets none is laid out anew: among so many the stops and offcuts of one are little."""

MOST_LAID_ANEW = 40
"""A sheet with more pieces is left as it is."""


class Sheets(NamedTuple):
    """Sheets cut alike."""

    layout: Layout
    times: int
    tree: Inner
    merit: Merit


Score = tuple[int, int, int, int]
"""Different stops, minus the largest offcut worth keeping, offcuts, and minus that offcut to the last unit.

Of all sheets together; less is better.
"""


def score(merits: Iterable[tuple[Merit, int]]) -> Score:
    """How good sheets are, each given with how many are alike."""
    stops: frozenset[int] = frozenset()
    kept, offcuts, largest = 0, 0, 0
    for one, times in merits:
        stops |= one.stops
        kept = min(kept, one.kept)
        offcuts += one.offcuts * times
        largest = min(largest, one.largest)
    return len(stops), kept, offcuts, largest


def chosen(task: Job, plans: Iterable[Plan]) -> list[Sheets]:
    """The best plan in the order of aims, its sheets laid out anew where that makes it better."""
    judge = Judge(task)
    found = [(score((one.merit, one.times) for one in whole), whole) for whole in judge.whole(_with_fewest_sheets(plans, judge))]
    _, best = min(found, key=lambda pair: pair[0])
    return judge.tidied(best)


def _with_fewest_sheets(plans: Iterable[Plan], judge: Judge) -> list[Plan]:
    kept: list[Plan] = []
    fewest = 0
    for plan in plans:
        count = sheets(plan)
        if kept and (count > fewest or (count == fewest and (len(kept) == MOST_JUDGED or plan in kept))):
            continue
        if all(judge.trees(layout) for layout, _ in plan):
            kept = [plan] if count < fewest else [*kept, plan]
            fewest = count
    return kept


class Judge:
    """Finds the cuts of layouts, and holds them against each other."""

    def __init__(self, task: Job) -> None:
        self.task = task
        self._cutters = cutters(task)
        self._known: dict[Layout, list[tuple[Inner, Merit]]] = {}

    def trees(self, layout: Layout) -> list[tuple[Inner, Merit]]:
        """Every manner of cutting a layout; none where it cannot be cut from edge to edge."""
        if layout not in self._known:
            found = (cutter.tree(layout, self.task.width, self.task.height) for cutter in self._cutters)
            self._known[layout] = [
                (tree, merit(tree, self.task, self.task.width, self.task.height))
                for tree in dict.fromkeys(found)
                if tree is not None
            ]
        return self._known[layout]

    def whole(self, plans: Iterable[Plan]) -> Iterator[list[Sheets]]:
        """Plans with their cuts: for each layout those that set the stop least often, with all that went before."""
        for plan in plans:
            done: list[Sheets] = []
            for layout, times in plan:
                tree, one = self._least(self.trees(layout), times, done)
                done.append(Sheets(layout, times, tree, one))
            yield done

    def _least(self, trees: Sequence[tuple[Inner, Merit]], times: int, others: Sequence[Sheets]) -> tuple[Inner, Merit]:
        merits = [(other.merit, other.times) for other in others]
        return min(trees, key=lambda pair: score([*merits, (pair[1], times)]))

    def tidied(self, whole: list[Sheets]) -> list[Sheets]:
        """The same pieces on each sheet, laid out anew where that leaves fewer stops or better offcuts."""
        for at, one in enumerate(whole if len(whole) <= MOST_TIDIED else ()):
            others = [other for number, other in enumerate(whole) if number != at]
            trees = [(layout, *pair) for layout in (one.layout, *self._anew(one.layout)) for pair in self.trees(layout)]
            merits = [(other.merit, other.times) for other in others]
            layout, tree, new = min(trees, key=lambda found: score([*merits, (found[2], one.times)]))
            whole[at] = Sheets(layout, one.times, tree, new)
        return whole

    def _anew(self, layout: Layout) -> Iterator[Layout]:
        if len(layout) > MOST_LAID_ANEW:
            return
        counts = used(layout, len(self.task.kinds))
        part, numbers = pruned(self.task.of(counts))
        for one in dict.fromkeys(_single_sheets(part)):
            yield renumbered([(one, 1)], numbers)[0][0]


def _single_sheets(part: Job) -> Iterator[Layout]:
    """Layouts of all pieces on one sheet."""
    pieces = sum(part.counts)
    worth = [float(kind.area) for kind in part.kinds]
    for last_first in (False, True):
        lying = Shelves(part, last_first=last_first).sheet(part.counts, worth)
        upright = turned(Shelves(part.turned, last_first=last_first).sheet(part.counts, worth))
        yield from (layout for layout in (lying, upright) if len(layout) == pieces)
    some = list(orders(part.kinds))[:3]
    for rule in RULES:
        for order in some if rule.search == "first" and not rule.joined else ():
            layouts = laid_out(part, rule, order, 1)
            yield from layouts or ()
