"""The packs of a class: the teacher's pages and one pack for each student, in one PDF or a file each."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from functools import partial
from io import BytesIO
from typing import TYPE_CHECKING, BinaryIO

from bookplates.errors import BadFile, BookplatesError, Disagreement, Problem, reason
from bookplates.pipeline.lesson import TEACHER, Lesson
from bookplates.pipeline.student import Failed, StudentPack, loose, student_pack
from bookplates.pipeline.teacher import measured_bars, teachers_pack
from bookplates.pipeline.workers import in_order, usual_workers

if TYPE_CHECKING:
    from bookplates.pdf.joined import Joining, Saying
    from bookplates.pdf.torn import Torn
    from bookplates.verify import Verified
    from bookplates.workshop.students.roster import Student

STUDENTS = "students.csv"
SUBJECT = "A class that makes books by hand: templates to be printed at 100 %"

MOST_NAMED = 3
"""So many students are named where all of them have the same problem."""

Told = Callable[[int, int], None]
"""Is told how many of how many students are done."""

Where = Callable[[int], Sequence[str]]
"""Says of each student where the pages are, when told how many pages come before all of them."""


@dataclass(slots=True)
class Tally:
    """What has been made so far.

    Attributes:
        students: how many have their pack.
        pages: of all packs, the teacher's included; `teachers` are those alone.
        parts: how many were compared with the plan.
        largest_difference: between plan and PDF, mm.
    """

    students: int = 0
    pages: int = 0
    teachers: int = 0
    parts: int = 0
    largest_difference: float = 0.0

    def add(self, pack: StudentPack) -> None:
        """Count a student's pack."""
        self.students += 1
        self.pages += pack.pages
        self._count(pack.parts, pack.largest_difference)

    def add_teachers(self, pages: int, found: Verified) -> None:
        """Count the teacher's pages."""
        self.pages += pages
        self.teachers = pages
        self._count(found.parts, found.largest_difference)

    def _count(self, parts: int, largest: float) -> None:
        self.parts += parts
        self.largest_difference = max(self.largest_difference, largest)

    @property
    def verified(self) -> Verified:
        """What measuring all of them found."""
        from bookplates.verify import Verified

        return Verified(self.parts, self.largest_difference)


def joined(of: Lesson, tally: Tally, workers: int | None = None, told: Told | None = None) -> BinaryIO:
    """One PDF of the whole class: the teacher's pages, then each student's pack. Each is measured before it is joined.

    Args:
        of: the class.
        tally: counts what is made.
        workers: how many processes make it; None for as many as are worth their while. The bytes are always the same.
        told: hears how far it has come.

    Returns:
        A file without a name, at its beginning.

    Raises:
        BadSpec, PaperTooSmall: a student's pack cannot be made; it is said whose.
        BadFile: the fonts are not installed, or a process ended before its work was done.
        Disagreement: a PDF does not measure as planned.
    """
    try:
        file = tempfile.TemporaryFile()  # noqa: SIM115  # whoever asked for it closes it
        try:
            _join(of, file, tally, workers, told)
            file.seek(0)
        except BaseException:
            file.close()
            raise
    except OSError as error:
        where = "make room in the folder of temporary files"
        raise BadFile(Problem("", f"a temporary file cannot be written ({reason(error)})", where)) from None
    return file


def _join(of: Lesson, file: BinaryIO, tally: Tally, workers: int | None, told: Told | None) -> None:
    """Write the whole class, and read back that its pages are those that were measured."""
    from bookplates.pdf.joined import Joining, same_pages

    joining = Joining(file)
    where = _add_students(of, joining, tally, workers, told)
    if not of.course.guides_only:
        _add_teachers(of, joining, tally, lambda before: [f"{first + before}-{last + before}" for first, last in where])
    joining.end(_saying(of))
    if not same_pages(file, joining.pages):
        raise Disagreement(Problem("", "the joined PDF does not hold the pages that were measured", "please report this"))


def _add_teachers(of: Lesson, joining: Joining, tally: Tally, where: Where) -> None:
    """Join the teacher's pages, before all others.

    Args:
        of: the class.
        joining: the document.
        tally: counts them.
        where: says of each student where the pages are, when told how many are the teacher's.
    """
    from bookplates.workshop.students.names import printable_name

    called = [printable_name(student.name, of.spec.second) or f"student {student.number}" for student in of.students]

    def listed(before: int) -> list[tuple[str, str]]:
        return list(zip(called, where(before), strict=True))

    pages, pdf = teachers_pack(of.spec, of.plan, of.table, of.course, listed)
    tally.add_teachers(pages, measured_bars(pdf, of.spec))
    joining.add(loose(pdf), "Teacher", "teacher ", first=True)


def _saying(of: Lesson) -> Saying:
    """What the document says of itself; it carries what it was made from."""
    from bookplates.pdf.joined import CSV, TOML, Attached, Saying

    spec = Attached("spec.toml", "The description this class was made from", TOML, of.spec.source)
    given = (Attached(STUDENTS, "The students of the class", CSV, of.given.data),) if of.given else ()
    return Saying(of.course.title, of.plan.maker, SUBJECT, (spec, *given), teachers=not of.course.guides_only)


def _add_students(of: Lesson, joining: Joining, tally: Tally, workers: int | None, told: Told | None) -> list[tuple[int, int]]:
    """Join the students' packs; returns the first and last page of each, the teacher's not counted."""
    where: list[tuple[int, int]] = []
    for student, pack in _packs(of, tally, workers, told):
        first = len(joining.pages) + 1
        joining.add(_torn(pack), entitled(student), f"{student.number}-")
        where.append((first, len(joining.pages)))
    return where


def entitled(student: Student) -> str:
    """What the outline calls a student."""
    return f"{student.number}  {student.called}" if student.name else student.called


def _torn(pack: StudentPack) -> Torn:
    if isinstance(pack.pack, bytes):
        raise TypeError("a pack to be joined comes in loose pages")
    return pack.pack


def _whole(pack: StudentPack) -> bytes:
    if not isinstance(pack.pack, bytes):
        raise TypeError("a pack of its own comes in one piece")
    return pack.pack


def separate(
    of: Lesson, tally: Tally, workers: int | None = None, told: Told | None = None
) -> Generator[tuple[str, bytes], None, None]:
    """A file for each student, each a whole pack that has been measured, and one for the teacher, which comes last.

    Raises the same as `joined`, while it is gone through.
    """
    apart, names = replace(of, course=replace(of.course, loose=False)), of.file_names[: len(of.students)]
    for name, (_, pack) in zip(names, _packs(apart, tally, workers, told), strict=True):
        yield name, _whole(pack)
    if not of.course.guides_only:
        yield TEACHER, _teachers_file(of, names, tally)


def _teachers_file(of: Lesson, names: Sequence[str], tally: Tally) -> bytes:
    from bookplates.pdf.joined import Joining

    file = BytesIO()
    joining = Joining(file)
    _add_teachers(of, joining, tally, lambda _: names)
    joining.end(_saying(of))
    return file.getvalue()


def _packs(of: Lesson, tally: Tally, workers: int | None, told: Told | None) -> Iterator[tuple[Student, StudentPack]]:
    """Each student with the pack. Raises with the problems of every book that cannot be made."""
    many = workers or usual_workers(len(of.students))
    with closing(_made(of, of.students, many)) as found:
        for number, (student, pack) in enumerate(zip(of.students, found, strict=True), 1):
            if isinstance(pack, Failed):
                break
            tally.add(pack)
            if told:
                told(number, len(of.students))
            yield student, pack
        else:
            return
    raise _failure(of, student, pack, many)


def _made(of: Lesson, students: Sequence[Student], workers: int) -> Generator[StudentPack | Failed, None, None]:
    return in_order(partial(student_pack, of.course), students, max(1, min(workers, len(students))))


def _failure(of: Lesson, first: Student, failed: Failed, workers: int) -> BookplatesError:
    """Why a book cannot be made, and of the different books after it which others cannot, each with who makes it."""
    makers: dict[bytes, list[Student]] = {}
    for student in of.students:
        makers.setdefault(student.book, []).append(student)
    others = [them[0] for them in makers.values() if them[0].number > first.number]
    with closing(_made(of, others, workers)) as found:
        faults = [(student, one) for student, one in zip(others, found, strict=True) if isinstance(one, Failed)]
    problems = [
        problem if len(makers) == 1 else replace(problem, what=f"{problem.what} (for {_named(makers[student.book])})")
        for student, fault in ((first, failed), *faults)
        for problem in fault.problems
    ]
    return failed.kind(*problems)


def _named(students: Sequence[Student]) -> str:
    """The first of the students by name, and how many more there are."""
    more = len(students) - MOST_NAMED
    return ", ".join(student.called for student in students[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
