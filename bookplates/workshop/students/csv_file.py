"""The bytes of a CSV file -> its rows, by whatever program it was saved."""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from string import ascii_uppercase

from bookplates.errors import BadFile, Problem

LARGEST_CSV = 4 * 1024 * 1024
"""Bytes of a CSV that is read."""

AS_CSV = "save the table as CSV, in UTF-8"

_MARKS = 'a cell with a quotation mark in it is written "so ""to say"""'

_NONE = "\x1f"
"""A delimiter that no text holds, for a table of one column: a comma there is part of a name."""


@dataclass(frozen=True, slots=True)
class Line:
    """A row of a table: its number as a spreadsheet counts, from 1, and its cells without the spaces round them."""

    number: int
    cells: tuple[str, ...]

    @property
    def blank(self) -> bool:
        """Whether nothing stands in it."""
        return not any(self.cells)


@dataclass(frozen=True, slots=True)
class Rows:
    """A table as it was written.

    Attributes:
        lines: those with anything in them, the header first.
        decimal_comma: whether a comma may stand in a number, as it does not part the cells.
    """

    lines: tuple[Line, ...]
    decimal_comma: bool


def letter_of(column: int) -> str:
    """What a spreadsheet calls a column, counted from 0.

    >>> letter_of(0), letter_of(25), letter_of(26)
    ('A', 'Z', 'AA')
    """
    before = letter_of(column // 26 - 1) if column >= 26 else ""
    return before + ascii_uppercase[column % 26]


def rows_of(data: bytes, file: str) -> Rows:
    """The rows of a CSV file: UTF-8 or, with a mark that says so, UTF-16; parted by commas, semicolons or tabs.

    Args:
        data: the file.
        file: its name, for messages.

    Raises:
        BadFile: it is no such file, too large, or a quotation mark in it has no partner.
    """
    if len(data) > LARGEST_CSV:
        raise BadFile(Problem(file, "is too large", f"{LARGEST_CSV // 1024**2} MiB at most"))
    text = _text(data, file)
    delimiter = _delimiter(text)
    return Rows(tuple(line for line in _lines(text, delimiter, file) if not line.blank), delimiter in (";", "\t"))


def _text(data: bytes, file: str) -> str:
    wide = data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    if (b"\0" in data and not wide) or data.startswith((b"%PDF", b"PK\3\4", b"\xd0\xcf\x11\xe0")):
        kind = "a PDF" if data.startswith(b"%PDF") else "a workbook or an archive" if data.startswith(b"PK") else "no text"
        raise BadFile(Problem(file, f"is {kind}, not a CSV", AS_CSV))
    try:
        text = data.decode("utf-16" if wide else "utf-8-sig")
    except UnicodeDecodeError as error:
        line = "" if wide else f":line {_line_at(data, error.start)}"
        raise BadFile(Problem(f"{file}{line}", f"is not {'UTF-16' if wide else 'UTF-8'} text", AS_CSV)) from None
    if "\0" in text:
        raise BadFile(Problem(file, "is no text, not a CSV", AS_CSV))
    return text


def _line_at(data: bytes, at: int) -> int:
    return data.count(b"\n", 0, at) + 1


def _delimiter(text: str) -> str:
    """What parts the cells: whichever stands most often in the header, outside quotation marks."""
    header = next((line for line in text.splitlines() if line.strip(",;\t ")), "")
    bare = "".join(header.split('"')[::2])
    most = max(",;\t", key=bare.count)
    return most if most in bare else _NONE


def _lines(text: str, delimiter: str, file: str) -> Iterator[Line]:
    whole = 0
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True, skipinitialspace=True)
    try:
        for cells in reader:
            whole += 1
            yield Line(whole, tuple(cell.strip() for cell in cells))
    except csv.Error as error:
        raise BadFile(Problem(f"{file}:row {whole + 1}", *_fault(str(error)))) from None


def _fault(words: str) -> tuple[str, str]:
    if "limit" in words:
        return "a cell is too long", "a quotation mark may be missing"
    if "expected after" in words:
        return "something stands after the quotation mark that ends a cell", _MARKS
    return "a quotation mark has no partner", _MARKS
