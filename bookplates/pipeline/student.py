"""One student's pack: the book's, with a sheet on top and the student's name on every page. This runs in the workers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from bookplates.errors import BookplatesError, Problem
from bookplates.pipeline.book import as_planned, checked_spec

if TYPE_CHECKING:
    from bookplates.book.record import Plan
    from bookplates.pages.place import Page
    from bookplates.pdf.apart import Apart
    from bookplates.pdf.torn import Torn
    from bookplates.plates.cover_sheet import Listed, Whose
    from bookplates.spec.model import Spec
    from bookplates.workshop.students.roster import Student

_CONTINUED = re.compile(r", [0-9]+$")
"""At the end of the title of a page of words that goes on from the one before."""

_TILE = re.compile(r": tile [A-Z]+[0-9]+")
"""In the title of a page that holds a part of a large plate."""

BOOKS_KEPT = 4
"""Different books that are kept laid out: students who make the same one mostly stand together."""


@dataclass(frozen=True, slots=True)
class Course:
    """What is the same for all students.

    Attributes:
        title, date: of the class.
        of: how many students there are.
        guides_only: whether only what is at true scale is wanted.
        loose: whether packs are wanted taken apart, to be joined; else as files of their own.
        folder: where the spec stands, for the font that it may name; None where that is not known.
    """

    title: str
    date: str
    of: int
    guides_only: bool = False
    loose: bool = True
    folder: Path | None = None


@dataclass(frozen=True, slots=True)
class StudentPack:
    """A student's pack, which has been measured.

    Attributes:
        pack: the bytes of a PDF, or its loose pages.
        pages: how many it has.
        parts: how many were compared with the plan.
        largest_difference: between plan and PDF, mm.
    """

    pack: bytes | Torn
    pages: int
    parts: int
    largest_difference: float


@dataclass(frozen=True, slots=True)
class Failed:
    """A pack that cannot be made: the kind of fault, and the problems."""

    kind: type[BookplatesError]
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class _Book:
    """A book laid out, whoever makes it.

    Attributes:
        spec, plan: of the book.
        pages: without their frames.
        only: the plates on them; `excerpt` says so in words, where they are not all.
        apart: what was written of the pages.
    """

    spec: Spec
    plan: Plan
    pages: tuple[Page, ...]
    only: tuple[str, ...]
    excerpt: str
    apart: Apart


def student_pack(course: Course, student: Student) -> StudentPack | Failed:
    """The pack of a student, or why there is none."""
    from bookplates.letters import second_font

    try:
        spec = _spec(student.book, course.folder)
        with second_font(spec.second):
            return _pack(course, student, _book(student.book, course.folder, course.guides_only))
    except BookplatesError as error:
        return Failed(type(error), error.problems)


def _pack(course: Course, student: Student, book: _Book) -> StudentPack:
    from bookplates.pages.place import framed
    from bookplates.pages.sheets import Pack
    from bookplates.pdf import write_pdf
    from bookplates.plates.cover_sheet import Whose
    from bookplates.readback import measure_pdf
    from bookplates.workshop.students.names import printable_name

    plan = book.plan
    whose = Whose(printable_name(student.name, book.spec.second), student.number, course.of, course.title, course.date)
    pages = book.pages if course.guides_only else (*_covers(book, whose), *book.pages)
    sheets = framed(pages, plan.title, whose.called, plan.units)
    pdf = write_pdf(Pack(plan.title, whose.called, sheets, student.source, excerpt=book.excerpt), book.apart)
    verified = as_planned(book.spec, plan, measure_pdf(pdf), book.only)
    return StudentPack(loose(pdf) if course.loose else pdf, len(pages), verified.parts, verified.largest_difference)


def loose(pdf: bytes) -> Torn:
    """The pages of a finished pack, to be joined with others."""
    from bookplates.pdf.torn import torn

    return torn(pdf)


@lru_cache(maxsize=BOOKS_KEPT)
def _spec(source: bytes, folder: Path | None) -> Spec:
    return checked_spec(source, for_printing=True, folder=folder)


@lru_cache(maxsize=BOOKS_KEPT)
def _book(source: bytes, folder: Path | None, guides_only: bool) -> _Book:
    """The book laid out: all of it hangs on the text of its spec alone."""
    from bookplates.book.plan import plan as work_out
    from bookplates.pages.frame import check_paper
    from bookplates.pages.place import laid_out
    from bookplates.pdf.apart import Apart
    from bookplates.plates import WORDS, draw_all, plates_of

    spec = _spec(source, folder)
    plan = work_out(spec)
    check_paper(spec.setup)
    there = plates_of(plan)
    only = tuple(name for name in there if not (guides_only and name in WORDS))
    draw = partial(draw_all, plan, only=only)
    pages = laid_out(draw(spec.setup), spec.setup, copies=spec.print.copies, large=spec.large_setup, draw=draw)
    excerpt = "" if only == there else f"only {', '.join(only)}"
    return _Book(spec, plan, pages, only, excerpt, Apart(page.placements for page in pages))


def _covers(book: _Book, whose: Whose) -> Sequence[Page]:
    """The sheet on top; where it takes several pages, those that follow have higher numbers."""
    from bookplates.pages.place import laid_out
    from bookplates.plates.cover_sheet import draw

    count = 1
    while True:
        listed = tuple(_listed(book.pages, count))
        drawn = draw(book.plan, whose, listed, count + len(book.pages), book.spec.setup)
        if len(drawn) <= count:
            return laid_out(drawn, book.spec.setup)
        count = len(drawn)


def _listed(pages: Sequence[Page], before: int) -> Iterator[Listed]:
    """The pages by what they show, those that show the same plates together."""
    from bookplates.plates.cover_sheet import Listed

    numbered = enumerate(pages, before + 1)
    for _, run in groupby(numbered, lambda one: tuple(drawing.plate for drawing in one[1].drawings)):
        found = list(run)
        (first, _), (last, _) = found[0], found[-1]
        titles = dict.fromkeys(_TILE.sub(", in tiles", _CONTINUED.sub("", page.title)) for _, page in found)
        yield Listed(f"{first}" if first == last else f"{first}-{last}", "; ".join(titles))
