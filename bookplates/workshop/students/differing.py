"""A class as a table: who is in it, and in what each one's book differs from the spec."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from bookplates.errors import BadFile, Problem
from bookplates.lengths import counted, shown
from bookplates.spec.taught import MOST_STUDENTS, name_of
from bookplates.workshop.students.columns import NAMES, known_keys, unknown_header, value_of
from bookplates.workshop.students.csv_file import Line, letter_of, rows_of

LONGEST_CELL = 200
"""Characters of a cell that is not a name: as many as a title may have."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of keys: its place from 0, its header as it is written, and the key of the spec that it stands for."""

    place: int
    header: str
    key: str

    def __str__(self) -> str:
        """What a message calls it: its letter and its header."""
        return _column(self.place, self.header)


@dataclass(frozen=True, slots=True)
class StudentRow:
    """One student: the row as a spreadsheet counts, the name, and what is written under each key."""

    number: int
    name: str
    values: tuple[tuple[str, Any], ...]


@dataclass(frozen=True, slots=True)
class StudentTable:
    """A class, as a CSV file describes it.

    Attributes:
        file: its name.
        columns: those of keys.
        rows: the students, in the order of the file.
        problems: headers and rows that will not do; the rest is read nevertheless.
        named: whether there is a column of names.
    """

    file: str
    columns: tuple[Column, ...]
    rows: tuple[StudentRow, ...]
    problems: tuple[Problem, ...]
    named: bool

    def place(self, row: int) -> str:
        """Where a row is, for a message."""
        return f"{self.file}:row {row}"

    def column_of(self, problem: Problem) -> Column | None:
        """The column that holds the key of a problem, or a part of what it holds."""
        held = [column for column in self.columns if _about(column.key, problem.where)]
        return max(held, key=lambda column: len(column.key), default=None)

    def in_order(self, problems: Iterable[Problem]) -> tuple[Problem, ...]:
        """Problems with one book in the order of the columns; what no column holds comes last."""
        last = self.columns[-1].place + 1 if self.columns else 0
        return tuple(sorted(problems, key=lambda problem: held.place if (held := self.column_of(problem)) else last))

    def fault(self, row: int, problem: Problem) -> Problem:
        """A problem with a student's own book, at the cell that it is about; at the row where no cell is."""
        column = self.column_of(problem)
        key = problem.where if column is None or column.key.startswith(f"{problem.where}.") else ""
        at = ", ".join(filter(None, (str(column) if column else "", key)))
        return Problem(f"{self.place(row)}: {at}".removesuffix(": "), problem.what, problem.hint)


def read_students(data: bytes, file: str) -> StudentTable:
    """Read a class from the bytes of a CSV file.

    Args:
        data: the file: a row of headers, then a row for each student.
        file: its name, for messages.

    Raises:
        BadFile: it is no CSV, holds nobody, or too many; each problem names the file.
    """
    rows = rows_of(data, file)
    if len(rows.lines) < 2:
        raise BadFile(Problem(file, "holds no students", 'a row of headers, such as "name", and a row for each student'))
    header, *lines = rows.lines
    if len(lines) > MOST_STUDENTS:
        raise BadFile(Problem(file, f"holds {len(lines):,} students", f"{MOST_STUDENTS:,} at most"))
    columns = tuple(_columns(header))
    problems = [*_of_header(header, lines, file), *_of_shape(header, lines, file), *_of_length(columns, lines, file)]
    where = _place_of_names(header)
    students = tuple(_student(line, where, columns, rows.decimal_comma) for line in lines)
    return StudentTable(file, columns, students, tuple(problems), where is not None)


def _column(place: int, header: str) -> str:
    return f"column {letter_of(place)}, {header if len(header) <= LONGEST_CELL else shown(header)}"


def _about(key: str, where: str) -> bool:
    """Whether a problem with one key concerns another: they are the same, or one is a part of the other."""
    return key == where or where.startswith(f"{key}.") or key.startswith(f"{where}.")


def _place_of_names(header: Line) -> int | None:
    return next((place for place, name in enumerate(header.cells) if name.casefold() in NAMES), None)


def _columns(header: Line) -> Iterator[Column]:
    seen: set[str] = set()
    for place, name in enumerate(header.cells):
        key = name.casefold()
        if key in known_keys() and key not in seen:
            seen.add(key)
            yield Column(place, name, key)


def _of_header(header: Line, lines: Sequence[Line], file: str) -> Iterator[Problem]:
    """Headers that are no keys, that are missing, or that are there already."""
    first: dict[str, int] = {}
    for place, name in enumerate(header.cells):
        key = "name" if name.casefold() in NAMES else name.casefold()
        where = f"{file}:row {header.number}: {_column(place, name)}".removesuffix(", ")
        if not name:
            if any(line.cells[place] for line in lines if len(line.cells) > place):
                yield Problem(where, "has no header", '"name", or a key of the spec')
        elif key in first:
            yield Problem(where, f"is there already, in column {letter_of(first[key])}", "write it once")
        elif key != "name" and key not in known_keys():
            what, hint = unknown_header(name)
            yield Problem(where, f"{shown(name)} {what}" if what.startswith("is ") else what, hint)
        first.setdefault(key, place)


def _of_shape(header: Line, lines: Sequence[Line], file: str) -> Iterator[Problem]:
    """Rows with more cells than there are headers, or fewer; empty ones at the end count as none too many."""
    wanted = len(header.cells)
    for line in lines:
        there = len(line.cells)
        hint = "a cell for every header, empty where the book is as in the spec; a cell with a comma or semicolon in quotes"
        if there < wanted or any(line.cells[wanted:]):
            yield Problem(f"{file}:row {line.number}", f"has {counted(there, 'cell')}, and the row of headers has {wanted}", hint)


def _of_length(columns: Sequence[Column], lines: Sequence[Line], file: str) -> Iterator[Problem]:
    for line in lines:
        for column in columns:
            cell = _cell(line, column.place)
            if len(cell) > LONGEST_CELL:
                where = f"{file}:row {line.number}: {column}"
                yield Problem(where, f"is {len(cell):,} characters long", f"{LONGEST_CELL} at most")


def _cell(line: Line, place: int | None) -> str:
    return line.cells[place] if place is not None and place < len(line.cells) else ""


def _student(line: Line, where: int | None, columns: Sequence[Column], decimal_comma: bool) -> StudentRow:
    written = ((column.key, _cell(line, column.place)) for column in columns)
    values = tuple(
        (key, value_of(cell, known_keys()[key], decimal_comma=decimal_comma))
        for key, cell in written
        if cell and len(cell) <= LONGEST_CELL
    )
    return StudentRow(line.number, name_of(_cell(line, where)), values)
