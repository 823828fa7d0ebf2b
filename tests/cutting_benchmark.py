"""How well sheets are cut, beside rectpack's guillotine packers at their best.

Run by hand or with the benchmark: ``python tests/cutting_benchmark.py [PART]``; PART, 1 unless given, is the share of the
instances. Nothing is judged here: the target stands beside each number, and the exit code is 0.

rectpack lays each instance out offline in every way it has: every class that joins a choice of section with a split,
every sort order, every way to choose a bin, its sections merged and not. It knows no blade, so its pieces and sheets are
a blade larger each way, as a cut takes one; and it turns all pieces or none, so an instance is of one of the two sorts.
Of its layouts only those count that can be cut from edge to edge, which is looked for here, sheet by sheet.
Offcuts are counted in two ways: as each leaves them itself (our trees, its free sections), and for both alike, as the
fewest that any order of cuts leaves of its layout.
"""

from __future__ import annotations

import inspect
import math
import random
import sys
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from typing import NamedTuple

import rectpack
from rectpack import guillotine

from bookplates.geometry import Size
from bookplates.workshop.cutting.bounds import by_area
from bookplates.workshop.cutting.choose import Judge, score
from bookplates.workshop.cutting.engine import bound, cut_up
from bookplates.workshop.cutting.job import PER_MM, job
from bookplates.workshop.cutting.job import Laid as Piece
from bookplates.workshop.cutting.tree import CutSheet, Put, Want, offcuts, placed, stops

TO_UNITS = 10**6
FORGIVEN = 2  # the last bit of sums such as three thirds of a sheet, units
USABLE = 30.0

Laid = tuple[int, int, int, int]
"""Left, bottom, width, height, in units, a blade larger than the piece."""

PACKERS = sorted(
    (
        made
        for name, made in inspect.getmembers(guillotine, inspect.isclass)
        if name.startswith("Guillotine") and sum(letter.isupper() for letter in name) == 3
    ),
    key=lambda made: made.__name__,
)
ORDERS = [getattr(rectpack, name) for name in sorted(vars(rectpack)) if name.startswith("SORT_")]


class Instance(NamedTuple):
    """A job: pieces with how many of each, all free to turn or none."""

    name: str
    sheet: Size
    pieces: tuple[tuple[float, float, int], ...]
    turned: bool
    blade: float

    @property
    def wants(self) -> list[Want]:
        return [Want(Size(w, h), count, upright=True, turned=self.turned) for w, h, count in self.pieces if self.fits(w, h)]

    def fits(self, width: float, height: float) -> bool:
        return Size(width, height).goes_into(self.sheet) or (self.turned and Size(height, width).goes_into(self.sheet))


SHEETS = {
    "8 x 8 in": Size(203.2, 203.2),
    "12 x 12 in": Size(304.8, 304.8),
    "A4": Size(210, 297),
    "A3": Size(297, 420),
    "board 300 x 400": Size(300, 400),
    "25 x 38 in": Size(635, 965.2),
    "70 x 100 cm": Size(700, 1000),
}

BOOKS = {
    "quarto covers": ((130.175, 196.85, 2), (98.425, 127.0, 2)),  # a taped Letter quarto: covering, lining
    "quarto boards": ((111.125, 146.05, 2),),
    "folios": ((215.9, 139.7, 20),),
    "case cloth": ((262.0, 187.0, 1), (36.0, 150.0, 1)),  # A6: cloth in one piece, super
    "case boards": ((106.0, 154.0, 2), (8.0, 154.0, 1)),  # two boards and a spine stiffener
    "quarter": ((92.0, 184.0, 1), (86.0, 184.0, 2)),  # cloth, sides
    "half": ((76.0, 184.0, 1), (80.0, 184.0, 2), (57.0, 57.0, 4)),  # cloth, sides, corners
    "exposed": ((136.0, 186.0, 2), (98.0, 148.0, 2), (105.0, 148.0, 4)),
    "side-sewn": ((25.0, 210.0, 2), (117.0, 210.0, 2), (148.5, 210.0, 4)),
}


def from_books() -> Iterator[Instance]:
    """Pieces of 1, 2, 5, 12 and 30 books on plausible sheets; grain keeps every second job from turning."""
    number = 0
    for name, pieces in BOOKS.items():
        for books, sheet in ((1, "A3"), (2, "12 x 12 in"), (5, "board 300 x 400"), (12, "70 x 100 cm"), (30, "25 x 38 in")):
            number += 1
            many = tuple((w, h, count * books) for w, h, count in pieces)
            if sum(count for *_, count in many) <= MOST_PIECES:
                yield Instance(f"{books} x {name}, {sheet}", SHEETS[sheet], many, number % 2 == 0, (0.0, 1.0, 3.0)[number % 3])


MOST_PIECES = 72  # rectpack takes a quarter of a minute for all its ways with more


def drawn(count: int) -> Iterator[Instance]:
    """Jobs drawn by lot, always the same ones."""
    lot = random.Random(12)
    for number in range(count):
        sheet = SHEETS[lot.choice(sorted(SHEETS))]
        least, most = min(sheet) / lot.choice((4, 6, 8)), min(sheet) / lot.choice((1.2, 1.6, 2))
        kinds = lot.choice((1, 2, 3, 4, 6, 10, 16))
        sizes = [(round(lot.uniform(least, most), 1), round(lot.uniform(least, most), 1)) for _ in range(kinds)]
        pieces = tuple((*size, max(1, round(lot.randint(12, 40) / kinds))) for size in sizes)
        yield Instance(f"drawn {number}, {kinds} kinds", sheet, pieces, lot.random() < 0.5, lot.choice((0.0, 0.0, 0.5, 2.0)))


def units(length: float) -> int:
    return round(length * TO_UNITS)


@cache
def fewest_offcuts(laid: tuple[Laid, ...], width: int, height: int, blade: int) -> float:
    """How many parts are left over at least when a layout is cut from edge to edge; infinite where it cannot be."""
    if not laid:
        return 1
    if len(laid) == 1 and width - laid[0][2] <= FORGIVEN and height - laid[0][3] <= FORGIVEN:
        return 0
    best = math.inf
    for axis in (0, 1):
        room, other = (width, height) if axis == 0 else (height, width)
        strips = strips_of(laid, axis)
        extent = sum(wide for wide, _ in strips)
        over = room - extent
        waste = over > blade + FORGIVEN
        if len(strips) > 1 or over > FORGIVEN:
            sizes = ((wide, other) if axis == 0 else (other, wide) for wide, _ in strips)
            parts = (fewest_offcuts(part, *size, blade) for (_, part), size in zip(strips, sizes, strict=True))
            best = min(best, waste + sum(parts))
        if len(strips) > 1 and over > FORGIVEN:  # what is over goes first, and the strips stay together
            size = (extent, other) if axis == 0 else (other, extent)
            best = min(best, waste + fewest_offcuts(together(strips, axis), *size, blade))
    return best


def together(strips: Sequence[tuple[int, tuple[Laid, ...]]], axis: int) -> tuple[Laid, ...]:
    """Strips side by side again, with nothing between them."""
    found: list[Laid] = []
    start = 0
    for wide, part in strips:
        found += [(x + start, y, w, h) if axis == 0 else (x, y + start, w, h) for x, y, w, h in part]
        start += wide
    return tuple(sorted(found))


def strips_of(laid: Sequence[Laid], axis: int) -> list[tuple[int, tuple[Laid, ...]]]:
    """What lies between cuts from edge to edge, each strip with its extent, and moved to its own edge."""
    strips: list[list[Laid]] = []
    end = -1
    for one in sorted(laid, key=lambda one: one[axis]):
        if one[axis] >= end - FORGIVEN:
            strips.append([])
        strips[-1].append(one)
        end = max(end, one[axis] + one[axis + 2])
    found = []
    for strip in strips:
        start = strip[0][axis]
        moved = tuple(sorted((x - start, y, w, h) if axis == 0 else (x, y - start, w, h) for x, y, w, h in strip))
        found.append((max(one[axis] + one[axis + 2] for one in strip) - start, moved))
    return found


class Theirs(NamedTuple):
    """The best of rectpack's ways, of those with the fewest sheets that can be cut.

    Attributes:
        sheets: how many.
        own: the fewest free sections that it leaves itself.
        offcuts: the fewest that any order of cuts leaves of any of its layouts.
        aims: different stops, minus the largest offcut, and offcuts, of the layouts that are best in that order.
        uncuttable: the fewest sheets of those that cannot be cut.
    """

    sheets: float
    own: float
    offcuts: float
    aims: tuple[int, int, int, int]
    uncuttable: float


MOST_JUDGED = 60
"""Of so many different plans of rectpack's, those with the fewest offcuts, the stops are counted."""

Bins = tuple[tuple[tuple[Laid, ...], int], ...]


def theirs(instance: Instance) -> Theirs:
    """Every way that rectpack has."""
    sheet = units(instance.sheet.width + instance.blade) + FORGIVEN, units(instance.sheet.height + instance.blade) + FORGIVEN
    best: dict[Bins, float] = {}
    fewest, uncuttable = math.inf, math.inf
    for merge in (False, True):
        for packer in packers(instance.turned):
            bins = tuple(sorted(packed(packer, instance, sheet, merge)))
            if len(bins) > fewest or bins in best:
                continue
            cuts = sum(fewest_offcuts(laid, *sheet, units(instance.blade)) for laid, _ in bins)
            if math.isinf(cuts):
                uncuttable = min(uncuttable, len(bins))
                continue
            best = {bins: cuts} if len(bins) < fewest else {**best, bins: cuts}
            fewest = len(bins)
    judged = sorted(best, key=lambda bins: best[bins])[:MOST_JUDGED]
    own = min(sum(free for _, free in bins) for bins in best)
    return Theirs(fewest, own, min(best.values()), min(aims(instance, bins) for bins in judged), uncuttable)


def aims(instance: Instance, bins: Bins) -> tuple[int, int, int, int]:
    """What our way of cutting makes of a plan of rectpack's: different stops, minus the largest offcut, offcuts."""
    task = job(instance.wants, instance.sheet, instance.blade, USABLE)
    scale = PER_MM // TO_UNITS
    plan = [(tuple(Piece(0, *(scale * number for number in one)) for one in laid), 1) for laid, _ in bins]
    (whole,) = Judge(task).whole([plan])
    return score((one.merit, one.times) for one in whole)


def packers(turned: bool) -> Iterator[object]:
    chosen = rectpack.PackingBin
    for way in PACKERS:
        for bins in (chosen.BNF, chosen.BFF, chosen.BBF):
            for order in ORDERS:
                yield rectpack.newPacker(rectpack.PackingMode.Offline, bins, way, order, turned)
        yield rectpack.newPacker(rectpack.PackingMode.Offline, chosen.Global, way, rotation=turned)


def packed(packer, instance: Instance, sheet: tuple[int, int], merge: bool) -> list[tuple[tuple[Laid, ...], int]]:
    """Each bin's pieces, and how many free sections are left in it."""
    pieces = [(want.size, want.count) for want in instance.wants]
    for size, count in pieces:
        for _ in range(count):
            packer.add_rect(units(size.width + instance.blade), units(size.height + instance.blade))
    packer.add_bin(*sheet, count=sum(count for _, count in pieces), merge=merge)
    packer.pack()
    least = units(instance.blade) + FORGIVEN
    found = []
    for one in packer:
        laid = tuple(sorted((int(r.x), int(r.y), int(r.width), int(r.height)) for r in one))
        found.append((laid, sum(min(free.width, free.height) > least for free in one._sections)))
    assert sum(len(laid) for laid, _ in found) == sum(count for _, count in pieces)
    return found


class Ours(NamedTuple):
    sheets: int
    own: int
    offcuts: float
    stops: int
    seconds: float


def ours(instance: Instance) -> Ours:
    began = time.process_time()
    cuts = cut_up(instance.wants, instance.sheet, instance.blade, USABLE)
    seconds = time.process_time() - began
    sheet = units(instance.sheet.width + instance.blade) + FORGIVEN, units(instance.sheet.height + instance.blade) + FORGIVEN
    return Ours(
        sum(cut.times for cut in cuts),
        sum(len(offcuts(cut.tree)) * cut.times for cut in cuts),
        sum(fewest_offcuts(laid(cut, instance.blade), *sheet, units(instance.blade)) * cut.times for cut in cuts),
        len(frozenset().union(*(stops(cut.tree) for cut in cuts))),
        seconds,
    )


def laid(cut: CutSheet, blade: float) -> tuple[Laid, ...]:
    found = []
    for node, box in placed(cut.tree, blade):
        if isinstance(node, Put):
            found.append((units(box.left), units(box.bottom), units(node.size.width + blade), units(node.size.height + blade)))
    return tuple(sorted(found))


def compared(instance: Instance) -> tuple[Instance, Ours, Theirs]:
    return instance, ours(instance), theirs(instance)


def counted(pairs: Sequence[tuple[float, float]]) -> str:
    fewer, equal = sum(a < b for a, b in pairs), sum(a == b for a, b in pairs)
    return f"fewer {fewer}  equal {equal}  more {len(pairs) - fewer - equal}"


def class_of(students: int, *, alike: bool) -> list[Instance]:
    """All that a class cuts of sheets, a material each: cover paper, boards, text paper; alike, or each book another size."""
    lot = random.Random(7)
    jobs: dict[str, list[tuple[float, float, int]]] = {"8 x 8 in": [], "board 300 x 400": [], "A4": [], "25 x 38 in": []}
    for _ in range(1 if alike else students):
        w, h = (106.4, 139.7) if alike else (round(lot.uniform(80, 110), 1), round(lot.uniform(110, 150), 1))
        often = students if alike else 1
        jobs["8 x 8 in"] += [(w + 23.8, h + 57.1, 2 * often)]
        jobs["25 x 38 in"] += [(w - 8.0, h - 12.7, 2 * often), (w + 23.8, h + 57.1, 2 * often)]
        jobs["board 300 x 400"] += [(w + 4.7, h + 6.3, 2 * often)]
        jobs["A4"] += [(2 * min(w, 105), h, 20 * often)]
    return [Instance(name, SHEETS[name], tuple(pieces), False, 0.5) for name, pieces in jobs.items()]


def timed(students: int, alike: bool) -> float:
    return sum(ours(job).seconds for job in class_of(students, alike=alike))


def main(part: float) -> None:
    instances = [*from_books(), *drawn(48)]
    instances = instances[: max(1, round(part * len(instances)))]
    with ProcessPoolExecutor() as pool:
        found = list(pool.map(compared, instances))
    report(found)
    for students in (12, 30):
        for alike in (True, False):
            kind = "alike" if alike else "each another book"
            target = "under 1 s" if students == 12 else "none"
            print(f"  {students} students, {kind}, four materials: {timed(students, alike):.2f} s (target: {target})")


def report(found: Sequence[tuple[Instance, Ours, Theirs]]) -> None:
    print(f"\ncutting plans against rectpack's guillotine packers, the best of {len(list(packers(False))) * 2} ways each")
    print(f"  instances {len(found)}, {sum(one.turned for one, *_ in found)} of them free to turn")
    print(f"  sheets (target: never more): {counted([(us.sheets, them.sheets) for _, us, them in found])}")
    same = [(us, them) for _, us, them in found if us.sheets == them.sheets]
    print(f"  where sheets are equal ({len(same)}), against its layout that is best by the same aims, cut up as ours are:")
    print(f"    stops: {counted([(us.stops, them.aims[0]) for us, them in same])}")
    print(f"    offcuts (target: fewer or equal on most): {counted([(us.own, them.aims[2]) for us, them in same])}")
    print("  against that of its layouts that leaves the fewest offcuts, whatever the stops:")
    print(f"    the fewest that any order of cuts leaves of each: {counted([(us.offcuts, them.offcuts) for us, them in same])}")
    print(f"    our trees against its own free sections: {counted([(us.own, them.own) for us, them in same])}")
    than_its, than_ours = (sum(t.uncuttable < limit for limit, t in ((o[n].sheets, o[2]) for o in found)) for n in (2, 1))
    print(f"  layouts of its that cannot be cut took fewer sheets than its others: {than_its}, than ours: {than_ours}")
    gaps = [100 * (us.sheets / bound(one.wants, one.sheet, one.blade) - 1) for one, us, _ in found]
    print(f"  sheets beyond the lower bound: mean {sum(gaps) / len(gaps):.1f} %, most {max(gaps):.0f} %")
    gaps = [100 * (us.sheets / by_area(job(one.wants, one.sheet, one.blade, USABLE)) - 1) for one, us, _ in found]
    print(f"  sheets beyond what the area alone asks for: mean {sum(gaps) / len(gaps):.1f} %, most {max(gaps):.0f} %")
    seconds = [us.seconds for _, us, _ in found]
    print(f"  seconds of the processor, all instances {sum(seconds):.1f}, the longest {max(seconds):.2f}")
    for one, us, them in found:
        if us.sheets > them.sheets or "-v" in sys.argv:
            print(f"    {one.name}: {us} {them}")


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 1.0)
