"""The teacher's pages: who is in the class, what to buy, how to cut, when to do what, and what can hurt."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bookplates.book.record import Plan
    from bookplates.pipeline.student import Course
    from bookplates.spec.model import Spec
    from bookplates.verify import Verified
    from bookplates.workshop.table import Table

Listed = Callable[[int], Sequence[tuple[str, str]]]
"""What each student is called and where the pages are, when told how many pages are the teacher's."""


def teachers_pack(spec: Spec, plan: Plan, there: Table, course: Course, listed: Listed) -> tuple[int, bytes]:
    """The teacher's pages as a PDF, and how many they are.

    Args:
        spec: of the book.
        plan: of the book.
        there: what all the books take of the paper on the table.
        course: the class.
        listed: whom to list, and where each one's pages are.

    Raises:
        PaperTooSmall: they do not go on the printer's paper.
        BadFile: the fonts are not installed.
    """
    from bookplates.letters import second_font
    from bookplates.pages.frame import check_paper
    from bookplates.pages.place import framed, laid_out
    from bookplates.pages.sheets import Pack
    from bookplates.pdf import write_pdf
    from bookplates.plates.bench import draw_bench
    from bookplates.plates.cover_sheet import draw_list

    setup = spec.setup
    check_paper(setup)
    with second_font(spec.second):
        bench = draw_bench(there.usual, there, setup)
        count, first = 0, draw_list(plan, course.title, course.date, listed(len(bench)), setup)
        while len(first) > count:  # where the pages are hangs on how many list them
            count = len(first)
            first = draw_list(plan, course.title, course.date, listed(count + len(bench)), setup)
        pages = laid_out((*first, *bench), setup)
        sheets = framed(pages, plan.title, plan.maker, plan.units)
        return len(pages), write_pdf(Pack(course.title, plan.maker, sheets, spec.source))


def measured_bars(pdf: bytes, spec: Spec) -> Verified:
    """What measuring pages finds on which nothing but the bars is at true scale. Raises Disagreement."""
    from bookplates.readback import measure_pdf
    from bookplates.verify import compare

    return compare((), measure_pdf(pdf), spec.setup.reading)
