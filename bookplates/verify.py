"""What the plan says against what the PDF measures: every part, up to a turn and a move, never a reflection."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from bookplates.errors import Disagreement, Problem
from bookplates.geometry import Box, Matrix, Outline, Point, Size, bounds, covered, signed_area
from bookplates.kinds.parts import Layout, Part
from bookplates.papers.printing import BAR, TRUE_READING
from bookplates.readback import Measured, MeasuredPart, measure_pdf

TOLERANCE = 0.01
"""How far a point may lie from the plan, mm. Writing a PDF rounds by 0.0003 mm at worst; more is a mistake."""

BARS = ("bar across", "bar along")

Key = tuple[str, str]
Pair = tuple[Part, MeasuredPart]


@dataclass(frozen=True, slots=True)
class Verified:
    """A PDF that agrees with its plan: how many parts were compared, and by how much they differ at most, mm."""

    parts: int
    largest_difference: float

    @property
    def text(self) -> str:
        """The finding in one line.

        >>> Verified(57, 0.00041).text
        'verified: 57 parts, largest difference 0.0004 mm'
        """
        return f"verified: {self.parts} parts, largest difference {self.largest_difference:.4f} mm"


def verify_pack(layouts: Sequence[Layout], data: bytes, readings: Size = TRUE_READING) -> Verified:
    """Measure a finished pack and hold every part of it against the plan.

    Args:
        layouts: the plan's.
        data: the PDF.
        readings: what a ruler read on an earlier print's bars, mm: bars are printed 100 x 100 / reading long.

    Raises:
        Disagreement: with every mismatch found.
        BadFile: the PDF cannot be read.
    """
    return compare(layouts, measure_pdf(data), readings)


def compare(layouts: Sequence[Layout], measured: Measured, readings: Size = TRUE_READING) -> Verified:
    """Hold measured parts against the plan; see `verify_pack`. Raises Disagreement with every mismatch found."""
    search = _Search(tuple(layout for layout in layouts if layout.parts))
    for page in range(1, measured.pages + 1):
        parts = [part for part in measured.parts if part.page == page]
        search.bars(page, parts, readings)
        search.templates(page, parts)
    search.absent()
    if search.problems:
        raise Disagreement(*search.problems)
    return Verified(len(measured.parts), search.largest)


class _Search:
    """Looks for the plan's layouts in a PDF, page by page, and keeps what it finds."""

    def __init__(self, layouts: tuple[Layout, ...]) -> None:
        self.layouts = layouts
        self.problems: list[Problem] = []
        self.largest = 0.0
        self._seen: set[int] = set()
        self._windows: dict[int, list[Box]] = {}

    def bars(self, page: int, parts: Sequence[MeasuredPart], readings: Size) -> None:
        """Each page carries both bars once, as long as the printer's reading asks."""
        printed = Size(BAR * BAR / readings.width, BAR * BAR / readings.height)
        for name, size in zip(BARS, (Size(printed.width, 0.0), Size(0.0, printed.height)), strict=True):
            found = [part for part in parts if part.name == name]
            if len(found) != 1:
                drawn = f"drawn {len(found)} times" if found else "not drawn"
                self._problem(f"page {page}", f"{name} is {drawn}; it must stand there once")
            for bar in found:
                self._bar(bar, size)

    def _bar(self, bar: MeasuredPart, printed: Size) -> None:
        where, on_paper = f"page {bar.page}", bounds(bar.points).size
        off = max(abs(is_ - should) for is_, should in zip(on_paper, printed, strict=True))
        if bar.line != "bar":
            self._problem(where, f"the line of {bar.name} is {bar.line!r}, not 'bar'")
        if off > TOLERANCE or abs(max(bar.width, bar.height) - BAR) > TOLERANCE:
            length = f"{on_paper.width:.4f} x {on_paper.height:.4f} mm"
            self._problem(where, f"{bar.name} prints {length}, not {printed.width:.4f} x {printed.height:.4f} mm")
        else:
            self.largest = max(self.largest, off)

    def templates(self, page: int, parts: Sequence[MeasuredPart]) -> None:
        """Divide what stands on a page into templates, and compare each."""
        known = {(layout.plate, *_key(part)) for layout in self.layouts for part in layout.parts}
        for part in parts:
            if (part.plate, *_key(part)) not in known and part.name not in BARS:
                self._problem(f"page {page}, {part.plate}", f"{part.name} ({part.line}) is not in the plan")
        planned = [part for part in parts if (part.plate, *_key(part)) in known]
        for _, run in groupby(planned, key=lambda part: part.plate):
            self._run(tuple(run))

    def _run(self, run: tuple[MeasuredPart, ...]) -> None:
        """Parts of one plate in a row: one template after the other."""
        while run:
            layout, pairs = self._next(run)
            if layout is None:
                pairs = self._incomplete(run)
            run = run[len(pairs) :]

    def _next(self, run: tuple[MeasuredPart, ...]) -> tuple[Layout | None, list[Pair]]:
        """The layout that the run begins with, compared: the first that agrees, else the nearest."""
        tried = []
        for index, layout in self._candidates(run):
            pairs = _paired(layout, run[: len(layout.parts)])
            motion, off = _motion(pairs)
            if off <= TOLERANCE:
                self._show(index, layout, pairs, motion)
                self.largest = max(self.largest, off)
                return layout, pairs
            tried.append((off, index, layout, pairs, motion))
        if not tried:
            return None, []
        _, index, layout, pairs, motion = min(tried, key=lambda entry: entry[:2])
        self._seen.add(index)
        self.problems += [problem for pair in pairs for problem in _differences(*pair, motion)]
        return layout, pairs

    def _candidates(self, run: tuple[MeasuredPart, ...]) -> list[tuple[int, Layout]]:
        """Layouts with exactly the names and lines the run begins with, those not seen whole yet first, large ones first."""
        fitting = [
            (index, layout)
            for index, layout in enumerate(self.layouts)
            if layout.plate == run[0].plate and _keys(layout.parts) == _keys(run[: len(layout.parts)])
        ]
        return sorted(fitting, key=lambda entry: (-len(entry[1].parts), entry[0] in self._seen))

    def _incomplete(self, run: tuple[MeasuredPart, ...]) -> list[Pair]:
        """The run begins with no whole template: say what the likeliest one lacks, and pass over what there is."""
        on_plate = [(i, layout) for i, layout in enumerate(self.layouts) if layout.plate == run[0].plate]
        index, layout = max(on_plate, key=lambda entry: len(_begun(entry[1], run)))
        pairs = _begun(layout, run)
        self._seen.add(index)
        missing = _keys(layout.parts) - _keys([part for _, part in pairs])
        where = f"page {run[0].page}, {_called(layout)}"
        self.problems += [Problem(where, f"{name} ({line}) is missing") for name, line in sorted(missing)]
        return pairs

    def _show(self, index: int, layout: Layout, pairs: Sequence[Pair], motion: Matrix) -> None:
        """Keep what of a layout a page shows, as it lies in the plan: a tile shows its window, another page all of it."""
        shown = [part.window for _, part in pairs]
        box = bounds(point for part in layout.parts for point in part.points)
        windows = self._windows.setdefault(index, [])
        back = motion.inverse
        windows += [bounds(map(back.at, window.corners)) for window in shown[:1] if window]
        if None in shown or covered(box, windows, TOLERANCE):
            self._seen.add(index)

    def absent(self) -> None:
        """Every layout of the plan must have been found, and its tiles must show all of it."""
        for index, layout in enumerate(self.layouts):
            if index not in self._seen and index in self._windows:
                self._problem(_called(layout), "the pages that it is spread over do not show all of it")
            elif index not in self._seen:
                self._problem(_called(layout), "it is in the plan but on no page")

    def _problem(self, where: str, what: str) -> None:
        self.problems.append(Problem(where, what))


def _called(layout: Layout) -> str:
    return f"{layout.plate} ({layout.title})" if layout.title else layout.plate


def _key(part: Part | MeasuredPart) -> Key:
    return part.name, part.line


def _keys(parts: Sequence[Part | MeasuredPart]) -> Counter[Key]:
    return Counter(_key(part) for part in parts)


def _paired(layout: Layout, parts: Sequence[MeasuredPart]) -> list[Pair]:
    """Planned and measured parts side by side, by name and line; of several alike in their order."""
    return list(zip(sorted(layout.parts, key=_key), sorted(parts, key=_key), strict=True))


def _begun(layout: Layout, run: Sequence[MeasuredPart]) -> list[Pair]:
    """As much of the run's beginning as belongs to one instance of the layout."""
    left = list(layout.parts)
    pairs: list[Pair] = []
    for part in run:
        planned = next((other for other in left if _key(other) == _key(part)), None)
        if planned is None:
            break
        left.remove(planned)
        pairs.append((planned, part))
    return pairs


def _differences(planned: Part, measured: MeasuredPart, motion: Matrix) -> Iterator[Problem]:
    where, name = f"page {measured.page}, {measured.plate}", f"{planned.name} ({planned.line})"
    if not _same_shape(planned, measured):
        has, should = _shape(measured), _shape(planned)
        yield Problem(where, f"{name} is {has}, not {should}")
        return
    off = _off(planned, _begun_alike(planned, measured, motion), motion)
    if off > TOLERANCE:
        turned_over = planned.closed and signed_area(planned.points) * signed_area(measured.plate_points) < 0
        mirrored = " and runs the other way round, mirrored" if turned_over else ""
        yield Problem(where, f"{name} is {off:.4f} mm from the plan{mirrored}")


def _shape(part: Part | MeasuredPart) -> str:
    kind = "a closed outline" if part.closed else "an open line"
    return f"{kind} of {len(part.points)} points"


def _same_shape(planned: Part, measured: MeasuredPart) -> bool:
    return planned.closed == measured.closed and len(planned.points) == len(measured.plate_points)


def _motion(pairs: Sequence[Pair]) -> tuple[Matrix, float]:
    """The one turn and move that takes the plan on to what was measured, and the largest distance left, mm.

    A closed outline may begin at any corner, so which corner is which is tried on the largest part and follows
    from it for the others; of several that will do, as all four of a square will, the one it is drawn from. Parts of
    another shape leave an infinite distance.
    """
    alike = [pair for pair in pairs if _same_shape(*pair)]
    if not alike:
        return Matrix(), math.inf
    largest, drawn = max(alike, key=lambda pair: math.hypot(*pair[0].box.size))
    tried = (_settled(alike, _fitted(largest.points, begun)) for begun in _beginnings(drawn))
    motion, off = min(tried, key=lambda entry: max(entry[1], TOLERANCE))
    return motion, off if len(alike) == len(pairs) else math.inf


def _settled(pairs: Sequence[Pair], rough: Matrix) -> tuple[Matrix, float]:
    """The motion that fits all parts best, near a rough one."""
    begun = [_begun_alike(part, measured, rough) for part, measured in pairs]
    points = [point for part, _ in pairs for point in part.points]
    motion = _fitted(points, [point for outline in begun for point in outline])
    return motion, max(_off(part, outline, motion) for (part, _), outline in zip(pairs, begun, strict=True))


def _beginnings(part: MeasuredPart) -> list[Outline]:
    """The measured points begun at each corner in turn; an open line has but one beginning."""
    points = part.plate_points
    return [points[i:] + points[:i] for i in range(len(points) if part.closed else 1)]


def _begun_alike(planned: Part, measured: MeasuredPart, motion: Matrix) -> Outline:
    """The measured points begun at the corner where the plan begins."""
    return min(_beginnings(measured), key=lambda points: _off(planned, points, motion))


def _off(planned: Part, points: Outline, motion: Matrix) -> float:
    return max(math.dist(motion.at(plan), is_) for plan, is_ in zip(planned.points, points, strict=True))


def _fitted(plan: Sequence[Point], measured: Sequence[Point]) -> Matrix:
    """Turn and move that leave the least sum of squares; a reflection is not among them.

    In the plane the best turn follows from two sums over the points about their means: those along (the dot
    products) and those across (the cross products) are its cosine and sine (Kabsch 1976, for two dimensions).
    """
    (px, py), (mx, my) = _mean(plan), _mean(measured)
    about = [(x - px, y - py, u - mx, v - my) for (x, y), (u, v) in zip(plan, measured, strict=True)]
    along = math.fsum(x * u + y * v for x, y, u, v in about)
    across = math.fsum(x * v - y * u for x, y, u, v in about)
    length = math.hypot(along, across)
    cos, sin = (along / length, across / length) if length > 0 else (1.0, 0.0)
    turn = Matrix(cos, sin, -sin, cos)
    return Matrix.move(mx, my).after(turn).after(Matrix.move(-px, -py))


def _mean(points: Sequence[Point]) -> Point:
    xs, ys = zip(*points, strict=True)
    return math.fsum(xs) / len(points), math.fsum(ys) / len(points)
