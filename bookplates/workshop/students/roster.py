"""The students of a class, each with the book that is theirs. Those who make the same book share its text."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import tomli_w
from pydantic import ValidationError

from bookplates.book.plan import findings
from bookplates.errors import BadFile, BadSpec, Problem
from bookplates.spec.faults import problems_of
from bookplates.spec.model import Spec
from bookplates.spec.read import read_spec
from bookplates.spec.second import Second
from bookplates.spec.tables import Head
from bookplates.spec.write import changed
from bookplates.workshop.students.differing import StudentRow, StudentTable
from bookplates.workshop.students.names import called, lacking, printable_name

CLASS_ONLY = ("class", "stock", "cutting")
"""Tables that have no place in a student's own book."""

MOST_TOLD = 200
"""So many problems of a table are told one by one."""

MOST_NAMES_TOLD = 10
"""So many names that cannot be printed are told one by one."""

_MAKER = "\x00"
"""Stands for the maker until a student's name takes its place: no text of a spec holds it."""


@dataclass(frozen=True, slots=True)
class Student:
    """Somebody in the class.

    Attributes:
        number: from 1, in the order in which they are written.
        name: as it is given, on one line; empty where none is.
        source: the spec of the student's own book, with the name as its maker where it can be printed.
        book: the same with the maker of the class's spec; equal for all who make the same book.
        place: where the student is written, for a message.
    """

    number: int
    name: str
    source: bytes
    book: bytes = field(repr=False, default=b"")
    place: str = ""

    @property
    def called(self) -> str:
        """The name, or the number where there is none."""
        return called(self.number, self.name)


@dataclass(frozen=True, slots=True)
class _Book:
    """A book that some of the class make: its text, and that text in two parts with the maker between."""

    whole: bytes
    before: bytes
    after: bytes

    def made_by(self, maker: str) -> bytes:
        """The text with somebody's name in it."""
        return self.before + tomli_w.dumps({"maker": maker}).encode() + self.after


def roster(
    source: bytes,
    students: Sequence[str],
    table: StudentTable | None = None,
    *,
    folder: Path | None = None,
    lettering: bool = True,
) -> tuple[Student, ...]:
    """Who is in the class, and the book of each.

    Args:
        source: the spec of the class.
        students: their names, empty where one has none; a table takes their place.
        table: the class as a CSV file describes it, if there is one.
        folder: where the spec stands, for the font that it may name; None where that is not known.
        lettering: False where no letters will be printed; no font is then looked for, nor letters that it lacks.

    Raises:
        BadSpec: the spec is at fault.
        BadFile: the table is: every cell and every row that will not do, the first 200 of them one by one.
    """
    spec = _spec_of(source, folder, lettering)
    if table is None:
        rows = [StudentRow(0, name, ()) for name in students]
    else:
        _check(source, spec, table)
        rows = list(table.rows)
    books: dict[str, _Book] = {}
    for row in rows:
        if _same(row) not in books:
            books[_same(row)] = _book(source, dict(row.values))
    return tuple(_student(number, row, books[_same(row)], spec, table) for number, row in enumerate(rows, 1))


def _student(number: int, row: StudentRow, book: _Book, spec: Spec, table: StudentTable | None) -> Student:
    name = printable_name(row.name, spec.second)
    own = book.made_by(name) if name is not None and "maker" not in dict(row.values) else book.whole
    return Student(number, row.name, own, book.whole, table.place(row.number) if table else "class.students")


def _same(row: StudentRow) -> str:
    """Equal for rows that ask for the same book."""
    return json.dumps(row.values)


def _book(source: bytes, values: Mapping[str, Any]) -> _Book:
    whole = changed(source, values, without=CLASS_ONLY)
    marked = changed(source, {**values, "maker": _MAKER}, without=CLASS_ONLY)
    before, _, after = marked.partition(tomli_w.dumps({"maker": _MAKER}).encode())
    return _Book(whole, before, after)


def groups(students: Iterable[Student]) -> tuple[tuple[bytes, tuple[int, ...]], ...]:
    """Each different book of a class, as the text of its spec, with the numbers of the students who make it."""
    found: dict[bytes, list[int]] = {}
    for student in students:
        found.setdefault(student.book, []).append(student.number)
    return tuple((book, tuple(numbers)) for book, numbers in found.items())


def warnings_of(students: Sequence[Student], spec: Spec, table: StudentTable | None = None) -> tuple[Problem, ...]:
    """What a teacher would want to know of a class: names that are left to be written by hand, a table without names."""
    nameless = table is not None and not table.named
    what = 'there is no column "name": the students are only numbered'
    unnamed = (Problem(f"{table.file}:row 1", what, 'a column headed "name"'),) if table is not None and nameless else ()
    by_hand = [_by_hand(student, letters, spec) for student in students if (letters := lacking(student.name, spec.second))]
    more = len(by_hand) - MOST_NAMES_TOLD
    rest = (Problem("", f"{more} more names cannot be printed, and are written by hand"),) if more > 0 else ()
    return (*unnamed, *by_hand[:MOST_NAMES_TOLD], *rest)


def _by_hand(student: Student, letters: str, spec: Spec) -> Problem:
    from bookplates.letters import unshaped

    fonts = "fonts lack" if spec.second else "font lacks"
    what = f"the name of student {student.number} holds letters that the printed {fonts}: {' '.join(letters[:8])}"
    hint = "" if unshaped(letters) else f", or print.font with {'another' if spec.second else 'a'} font that has them"
    return Problem(student.place, what, f"it is left to be written by hand{hint}")


def _spec_of(source: bytes, folder: Path | None, lettering: bool) -> Spec:
    """The spec of the class. Raises BadSpec."""
    reading = read_spec(source, folder=folder, lettering=lettering)
    if reading.spec is None or reading.problems:
        raise BadSpec(*reading.problems)
    if refused := _refused(reading.spec):
        raise BadSpec(*refused)
    return reading.spec


def _refused(spec: Spec) -> tuple[Problem, ...]:
    return tuple(finding.problem for finding in findings(spec) if finding.refused)


def _check(source: bytes, spec: Spec, table: StudentTable) -> None:
    """Raises BadFile with every problem of the table. Books that are the same are looked at once."""
    seen: dict[str, tuple[Problem, ...]] = {}
    found = list(table.problems)
    for row in table.rows:
        key = _same(row)
        if key not in seen:
            seen[key] = table.in_order(_problems(source, spec, dict(row.values))) if row.values else ()
        found += [table.fault(row.number, problem) for problem in seen[key]]
    if len(found) > MOST_TOLD:
        rest = Problem(table.file, f"{len(found) - MOST_TOLD:,} more", "mend these first")
        found = [*found[:MOST_TOLD], rest]
    if found:
        raise BadFile(*found)


def _problems(source: bytes, spec: Spec, values: Mapping[str, Any]) -> Iterator[Problem]:
    """What is wrong with a book in which keys are set."""
    yield from _unprintable(spec, values)
    try:
        # Its letters are looked at above, with the one font of the class: nobody opens that again for each book
        reading = read_spec(changed(source, values, without=CLASS_ONLY), lettering=False)
    except BadSpec as error:
        yield from error.problems
        return
    told = [problem for problem in reading.problems if problem.where not in ("title", "maker")]
    yield from dict.fromkeys(told)
    if reading.spec is not None and not told:
        yield from _refused(replace(reading.spec, second=spec.second))


def _unprintable(spec: Spec, values: Mapping[str, Any]) -> Iterator[Problem]:
    texts = {key: values[key] for key in ("title", "maker") if key in values}
    try:
        Head.model_validate({"title": spec.head.title, **texts}, context={"second": Second(spec.second)})
    except ValidationError as error:
        yield from problems_of(error, "", Head)
