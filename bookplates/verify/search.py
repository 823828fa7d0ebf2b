"""What the plan says against what the PDF measures: every part, up to a turn and a move, never a reflection."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from itertools import groupby, repeat

from bookplates.errors import Disagreement, Problem
from bookplates.geometry import Box, Matrix, Size, bounds, covered
from bookplates.kinds.parts import Layout
from bookplates.lengths import close
from bookplates.pages.excerpt import ranges
from bookplates.papers.printing import BAR, TRUE_READING
from bookplates.readback import Measured, MeasuredPart, measure_pdf
from bookplates.verify.fitting import TOLERANCE, Pair, begun, best_motion, differences, name_of, names_of, paired

_PAGE = re.compile(r"page (\d+)")
SAME_WINDOW = 0.05
"""Tiles whose windows differ by no more than this show the same of a layout, mm."""

BARS = ("bar across", "bar along")


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


def verify_pack(
    layouts: Sequence[Layout],
    data: bytes,
    readings: Size = TRUE_READING,
    *,
    times: Sequence[int] = (),
    excerpt: bool = False,
) -> Verified:
    """Measure a finished pack and hold every part of it against the plan.

    Args:
        layouts: the plan's.
        data: the PDF.
        readings: what a ruler read on an earlier print's bars, mm: bars are printed 100 x 100 / reading long.
        times: how often each layout is printed; once or more often where nothing is said.
        excerpt: whether the PDF is part of a pack, so that a layout may be missing.

    Raises:
        Disagreement: with every mismatch found.
        BadFile: the PDF cannot be read.
    """
    return compare(layouts, measure_pdf(data), readings, times=times, excerpt=excerpt)


def compare(
    layouts: Sequence[Layout],
    measured: Measured,
    readings: Size = TRUE_READING,
    *,
    times: Sequence[int] = (),
    excerpt: bool = False,
) -> Verified:
    """Hold measured parts against the plan; see `verify_pack`. Raises Disagreement with every mismatch found."""
    wanted = [(layout, often) for layout, often in zip(layouts, times or repeat(None), strict=False) if layout.parts]
    search = _Search(tuple(layout for layout, _ in wanted), tuple(often for _, often in wanted))
    pages: dict[int, list[MeasuredPart]] = {page: [] for page in range(1, measured.pages + 1)}
    for part in measured.parts:
        pages[part.page].append(part)
    for page, parts in pages.items():
        search.bars(page, parts, readings)
        search.templates(page, parts)
    if not excerpt:
        search.absent()
    if search.problems:
        raise Disagreement(*_gathered(search.problems))
    return Verified(len(measured.parts), search.largest)


def _gathered(problems: Iterable[Problem]) -> Iterator[Problem]:
    """What is wrong with many pages in the same way is told once, where it is first met."""
    pages: dict[Problem, list[int]] = {}
    for problem in problems:
        match = _PAGE.fullmatch(problem.where)
        alike = replace(problem, where="") if match else problem
        pages.setdefault(alike, []).extend([int(match[1])] if match else [])
    for problem, numbers in pages.items():
        where = f"page{'s' if len(numbers) > 1 else ''} {ranges(numbers)}" if numbers else problem.where
        yield replace(problem, where=where)


class _Search:
    """Looks for the plan's layouts in a PDF, page by page, and keeps what it finds."""

    def __init__(self, layouts: tuple[Layout, ...], times: tuple[int | None, ...]) -> None:
        self.layouts = layouts
        self.times = times
        self.problems: list[Problem] = []
        self.largest = 0.0
        self._found: Counter[int] = Counter()
        self._lying: dict[int, list[tuple[Box, Layout]]] = {}
        self._windows: dict[int, Counter[Box]] = {}
        self._known = {(layout.plate, *name_of(part)) for layout in layouts for part in layout.parts}
        self._boxes = [bounds(point for part in layout.parts for point in part.points) for layout in layouts]
        self._names = [names_of(layout.parts) for layout in layouts]

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
        if bar.window and not all(map(bar.window.grown(TOLERANCE).holds, bar.plate_points)):
            self._problem(where, f"{bar.name} is not all shown")
        off = max(abs(is_ - should) for is_, should in zip(on_paper, printed, strict=True))
        if bar.line != "bar":
            self._problem(where, f"the line of {bar.name} is {bar.line!r}, not 'bar'")
        if off > TOLERANCE or abs(max(bar.width, bar.height) - BAR) > TOLERANCE:
            (has, aside), way = (on_paper, "across") if printed.width > printed.height else (on_paper.turned, "along")
            slant = f" and {aside:.4f} mm the other way" if aside > TOLERANCE else ""
            self._problem(where, f"{bar.name} reaches {has:.4f} mm {way} the page{slant}, not {max(printed):.4f} mm")
        else:
            self.largest = max(self.largest, off)

    def templates(self, page: int, parts: Sequence[MeasuredPart]) -> None:
        """Divide what stands on a page into templates, and compare each."""
        for part in parts:
            if (part.plate, *name_of(part)) not in self._known and part.name not in BARS:
                self._problem(f"page {page}, {part.plate}", f"{part.name} ({part.line}) is not in the plan")
        planned = [part for part in parts if (part.plate, *name_of(part)) in self._known]
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
            pairs = paired(layout, run[: len(layout.parts)])
            motion, off = best_motion(pairs)
            if off <= TOLERANCE:
                self._show(index, pairs, motion)
                self._lay(layout, pairs)
                self.largest = max(self.largest, off)
                return layout, pairs
            tried.append((off, index, layout, pairs, motion))
        if not tried:
            return None, []
        _, index, layout, pairs, motion = min(tried, key=lambda entry: entry[:2])
        self._found[index] += 1
        self.problems += [problem for pair in pairs for problem in differences(*pair, motion)]
        return layout, pairs

    def _candidates(self, run: tuple[MeasuredPart, ...]) -> list[tuple[int, Layout]]:
        """Layouts with exactly the names and lines the run begins with, those still wanted first, large ones first."""
        lengths = {len(layout.parts) for layout in self.layouts if layout.plate == run[0].plate}
        names = {count: names_of(run[:count]) for count in lengths}
        fitting = [
            (index, layout)
            for index, layout in enumerate(self.layouts)
            if layout.plate == run[0].plate and self._names[index] == names[len(layout.parts)]
        ]
        return sorted(fitting, key=lambda entry: (-len(entry[1].parts), self._count(entry[0]) >= (self.times[entry[0]] or 1)))

    def _incomplete(self, run: tuple[MeasuredPart, ...]) -> list[Pair]:
        """The run begins with no whole template: say what the likeliest one lacks, and pass over what there is."""
        on_plate = [(i, layout) for i, layout in enumerate(self.layouts) if layout.plate == run[0].plate]
        index, layout = max(on_plate, key=lambda entry: len(begun(entry[1], run)))
        pairs = begun(layout, run)
        self._found[index] += 1
        missing = names_of(layout.parts) - names_of([part for _, part in pairs])
        where = f"page {run[0].page}, {_called(layout)}"
        self.problems += [Problem(where, f"{name} ({line}) is missing") for name, line in sorted(missing)]
        return pairs

    def _show(self, index: int, pairs: Sequence[Pair], motion: Matrix) -> None:
        """Keep what of a layout a page shows, as it lies in the plan: a tile shows its window, another page all of it."""
        seen = [part.window for _, part in pairs if part.window]
        if not seen:
            self._found[index] += 1
            return
        back = motion.inverse
        window = bounds(map(back.at, reduce(Box.met, seen).corners))
        windows = self._windows.setdefault(index, Counter())
        alike = (other for other in windows if all(close(a, b, SAME_WINDOW) for a, b in zip(window, other, strict=True)))
        windows[next(alike, window)] += 1

    def _count(self, index: int) -> int:
        """How often a layout was found: whole, or on tiles that together show all of it."""
        windows = self._windows.get(index)
        whole = windows and covered(self._boxes[index], list(windows), TOLERANCE)
        return self._found[index] + (min(windows.values()) if windows and whole else 0)

    def _lay(self, layout: Layout, pairs: Sequence[Pair]) -> None:
        """No template lies on another: of two that share a page neither could be cut out."""
        here = bounds(point for _, part in pairs for point in part.plate_points)
        page = pairs[0][1].page
        lying = self._lying.setdefault(page, [])
        for box, other in lying:
            if min(here.met(box).size) > TOLERANCE:
                self._problem(f"page {page}", f"{_called(layout)} lies on {_called(other)}")
        lying.append((here, layout))

    def absent(self) -> None:
        """Every layout must have been found as often as it is wanted, and its tiles must show all of it."""
        for index, layout in enumerate(self.layouts):
            found, wanted, windows = self._count(index), self.times[index], self._windows.get(index, Counter())
            if not found and windows:
                self._problem(_called(layout), "the pages that it stands on do not show all of it")
            elif not found:
                self._problem(_called(layout), "it is in the plan but on no page")
            elif wanted and found != wanted:
                self._problem(_called(layout), f"it stands on the pages {found} times, not {wanted}")
            elif len(set(windows.values())) > 1:
                self._problem(_called(layout), "some of its pages are there more often than others")

    def _problem(self, where: str, what: str) -> None:
        self.problems.append(Problem(where, what))


def _called(layout: Layout) -> str:
    return f"{layout.plate} ({layout.title})" if layout.title else layout.plate
