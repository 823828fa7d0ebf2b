"""A class, read and checked: who is in it, and which books are made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from bookplates.errors import BadSpec, Problem
from bookplates.pipeline.book import checked_spec
from bookplates.pipeline.student import Course

if TYPE_CHECKING:
    from bookplates.book.record import Plan
    from bookplates.spec.model import Spec
    from bookplates.workshop.needs import Books
    from bookplates.workshop.students.roster import Student
    from bookplates.workshop.table import Table

TEACHER = "teacher.pdf"

MOST_WARNINGS = 20
"""So many different warnings are told of books that differ from the spec's."""

MOST_NUMBERS = 40
"""Letters of the numbers of the students whom a warning concerns; of more it is said only how many they are."""


@dataclass(frozen=True, slots=True)
class Given:
    """A table of students as it was given: its name, for messages, and its bytes."""

    name: str
    data: bytes


@dataclass(frozen=True)
class Lesson:
    """A class without fault, before anything is drawn.

    Attributes:
        spec, plan: of the book that all make but for their own changes.
        students: who they are, and the book of each.
        given: the table of students, where there is one.
        lots: the different books, and who makes them.
        course: what is the same for all.
        of_books: what a binder would warn of, each thing once, however many students it concerns.
    """

    spec: Spec
    plan: Plan
    students: tuple[Student, ...]
    given: Given | None
    lots: tuple[Books, ...]
    course: Course
    of_books: tuple[Problem, ...]

    @cached_property
    def table(self) -> Table:
        """What all the books take, worked out when somebody asks: of many that differ it takes its time."""
        from bookplates.workshop.table import table

        return table(self.spec, self.plan, self.lots)

    @property
    def warnings(self) -> tuple[Problem, ...]:
        """What a teacher would want to know before: of the books, and of stock that they do not go on, or that is too little."""
        if not self.spec.stock:
            return self.of_books
        from bookplates.workshop.lacking import told_of
        from bookplates.workshop.table import lacking

        lacks = lacking(self.spec, self.table)
        # `fit` reckons with the students of the spec: who comes from a table is told what would do at once
        return (
            *self.of_books,
            *(told_of(lacks) if self.given is None else (Problem(one.where, one.what, one.buy) for one in lacks)),
        )

    @property
    def file_names(self) -> tuple[str, ...]:
        """Of the students' files, where each has one, and of the teacher's."""
        from bookplates.workshop.students.names import file_name

        of = len(self.students)
        own = (file_name(student.number, student.name, of) for student in self.students)
        return (*own, *(() if self.course.guides_only else (TEACHER,)))


def lesson(source: bytes, given: Given | None = None, folder: Path | None = None, *, guides_only: bool = False) -> Lesson:
    """Read a class, and find everything that is wrong with it or with a student's book.

    Args:
        source: the spec.
        given: the students as a table; without it those of [class].
        folder: where the spec stands, for the font that it may name; None where that is not known.
        guides_only: whether only what is at true scale is wanted of each pack.

    Raises:
        BadSpec: with every problem found in the spec; nobody is in the class.
        BadFile: with every problem found in the table.
    """
    from bookplates.book.plan import plan as work_out
    from bookplates.workshop.students.differing import read_students
    from bookplates.workshop.students.roster import roster, warnings_of

    spec = checked_spec(source, for_printing=True, folder=folder)
    taught = spec.taught
    if taught is None and given is None:
        how = "write [class] with students = 12, or a list of names; or give --students FILE.csv"
        raise BadSpec(Problem("class", "is missing: nobody is in the class", how))
    table = read_students(given.data, given.name) if given else None
    students = roster(source, taught.students if taught else (), table, folder=folder)
    plan = work_out(spec)
    lots = _lots(students)
    title, date = (taught.title, taught.date) if taught else ("", "")
    course = Course(title or plan.title, date, len(students), guides_only, folder=folder)
    warnings = (*warnings_of(students, spec, table), *plan.warnings, *_warnings(lots, plan))
    return Lesson(spec, plan, students, given, lots, course, warnings)


def _lots(students: tuple[Student, ...]) -> tuple[Books, ...]:
    """The different books, each worked out once."""
    from bookplates.book.plan import plan as work_out
    from bookplates.workshop.needs import Books
    from bookplates.workshop.students.roster import groups

    found = groups(students)
    alike = len(found) == 1
    specs = (checked_spec(book, for_printing=False, lettering=False) for book, _ in found)
    plans = (work_out(spec) for spec in specs)
    return tuple(Books(plan, len(them), () if alike else them) for plan, (_, them) in zip(plans, found, strict=True))


def _warnings(lots: tuple[Books, ...], plan: Plan) -> tuple[Problem, ...]:
    """What a binder would say of the students' own books beyond what is said of the spec's: each thing once, and of whom."""
    found: dict[Problem, list[int]] = {}
    for lot in lots:
        for warning in lot.plan.warnings:
            if warning not in plan.warnings:
                found.setdefault(warning, []).extend(lot.students)
    told = [replace(warning, what=f"{warning.what}{_whose(numbers)}") for warning, numbers in found.items()]
    more = len(told) - MOST_WARNINGS
    return (*told[:MOST_WARNINGS], *((Problem("", f"{more} more warnings of students' own books"),) if more > 0 else ()))


def _whose(numbers: Sequence[int]) -> str:
    """Which students these are, or how many, in brackets; nothing where it is all of them."""
    from bookplates.workshop.needs import numbered

    listed = numbered(numbers)
    if len(listed) > MOST_NUMBERS:
        return f" ({len(numbers)} students, the first of them {numbers[0]})"
    return f" (student{'s' if len(numbers) > 1 else ''} {listed})" if listed else ""
