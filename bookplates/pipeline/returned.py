"""A pack, or the PDF of a whole class, that came back from elsewhere, held against the spec and the students it carries."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from typing import TYPE_CHECKING

from bookplates.errors import BadFile, Disagreement, Problem
from bookplates.pipeline.book import as_planned, checked_spec
from bookplates.pipeline.student import BOOKS_KEPT

if TYPE_CHECKING:
    from bookplates.book.record import Plan
    from bookplates.readback import About
    from bookplates.spec.model import Spec
    from bookplates.verify import Verified
    from bookplates.workshop.students.roster import Student


@dataclass(frozen=True, slots=True)
class Checked:
    """A pack that came back and is as planned.

    Attributes:
        verified: what measuring it found.
        excerpt: which part of the pack it says it is, in words; empty for a whole one.
        warnings: what it has lost that its printing hangs on.
    """

    verified: Verified
    excerpt: str
    warnings: tuple[Problem, ...] = ()


def verify(pdf: bytes, source: str | bytes | None = None) -> Checked:
    """Measure a pack that came back from elsewhere, and hold it against its spec.

    Args:
        pdf: the pack, or an excerpt that says it is one.
        source: the spec; without it the one that is attached to the pack.

    Raises:
        BadSpec: with every problem found in the spec.
        BadFile: the PDF cannot be read, holds no parts, or no spec.
        Disagreement: with every mismatch found.
    """
    from bookplates.book.plan import plan as work_out
    from bookplates.pages.excerpt import told
    from bookplates.plates import plates_of
    from bookplates.readback import about, attached_spec, measure_pdf
    from bookplates.verify import forgotten, lost

    if (itself := about(pdf)).of_class:
        return _verify_class(pdf, itself, source)
    measured = measure_pdf(pdf)
    if not measured.has_parts:
        raise BadFile(Problem("", "this document holds no templates that name themselves", "a pack made by bookplates"))
    spec = checked_spec(attached_spec(pdf) if source is None else source, for_printing=True, lettering=False)
    worked_out = work_out(spec)
    plates, numbers = told(itself.excerpt) or ((), ())
    if not set(plates) <= set(plates_of(worked_out, with_stock=spec.shops)):
        plates, numbers = (), ()  # words that no excerpt of this book says excuse nothing
    only = plates or {layout.plate for layout in worked_out.layouts}
    problems = list(lost(itself, measured.pages, len(numbers)))
    try:
        verified = as_planned(spec, worked_out, measured, only, excerpt=bool(numbers))
    except Disagreement as error:
        problems += error.problems
    if problems:
        raise Disagreement(*problems)
    return Checked(verified, itself.excerpt if plates or numbers else "", tuple(forgotten(itself)))


def _verify_class(pdf: bytes, itself: About, source: str | bytes | None = None) -> Checked:
    """Measure the PDF of a class, and hold each student's pages against that student's own book.

    Args:
        pdf: of the class, or of the teacher alone.
        itself: what it says of itself.
        source: the spec; without it the one that is attached.

    Raises:
        BadSpec: with every problem found in the spec.
        BadFile: the PDF or the attached table of students cannot be used, or another class is in them.
        Disagreement: with every mismatch found.
    """
    from bookplates.readback import attached_spec, count_pages
    from bookplates.verify import Verified, forgotten, lost

    text = attached_spec(pdf) if source is None else source.encode() if isinstance(source, str) else source
    spec = checked_spec(text, for_printing=True, lettering=False)
    students = _students(pdf, spec, text, len(itself.of_class) - 1)
    there, should = count_pages(pdf), sum(itself.of_class)
    if there != should:  # nobody could say whose pages they are
        raise Disagreement(Problem("", f"it has {there} pages, not {should}"))
    found = list(_each(pdf, itself.of_class, spec, students))
    problems = [*lost(itself, there, 0), *(problem for one in found if not isinstance(one, Verified) for problem in one)]
    if problems:
        raise Disagreement(*problems)
    verified = [one for one in found if isinstance(one, Verified)]
    largest = max((one.largest_difference for one in verified), default=0.0)
    return Checked(Verified(sum(one.parts for one in verified), largest), "", tuple(forgotten(itself)))


def _students(pdf: bytes, spec: Spec, source: bytes, there: int) -> Sequence[Student]:
    """Whose pages they are. Raises BadFile where the spec and the table tell of another class."""
    from bookplates.readback import attached_students
    from bookplates.workshop.students.differing import read_students
    from bookplates.workshop.students.roster import roster

    if not there:
        return ()
    given = attached_students(pdf)
    table = read_students(given, "students.csv") if given is not None else None
    students = roster(source, spec.taught.students if spec.taught else (), table, lettering=False)
    if len(students) != there:
        raise BadFile(Problem("", f"it holds the pages of {there} students, and its class has {len(students)}", "its own spec"))
    return students


def _each(pdf: bytes, counts: Sequence[int], spec: Spec, students: Sequence[Student]) -> Iterator[Verified | list[Problem]]:
    """What is found of the teacher's pages, and of each student's."""
    from bookplates.readback import measure_runs
    from bookplates.verify import compare

    teachers, *_ = counts
    with closing(measure_runs(pdf, [count for count in counts if count])) as measured:
        if teachers:
            yield _held("the teacher's pages", partial(compare, (), next(measured), spec.setup.reading))
        for student in students:
            own, plan = _book(student.book)
            only = {layout.plate for layout in plan.layouts}
            yield _held(student.called, partial(as_planned, own, plan, next(measured), only))


def _held(whose: str, compared: Callable[[], Verified]) -> Verified | list[Problem]:
    """What a comparison finds, or what is wrong and with whose pages."""
    try:
        return compared()
    except Disagreement as error:
        return [replace(problem, where=f"{whose}, {problem.where}" if problem.where else whose) for problem in error.problems]


@lru_cache(maxsize=BOOKS_KEPT)
def _book(source: bytes) -> tuple[Spec, Plan]:
    from bookplates.book.plan import plan as work_out

    spec = checked_spec(source, for_printing=True, lettering=False)
    return spec, work_out(spec)
