"""The packs of a class: in one PDF and apart, of students who differ, made by any number of workers; and what may go wrong."""

from __future__ import annotations

import errno
import io
import os
import re
import signal
import subprocess
import time
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pdfplumber
import pikepdf
import pypdf
import pypdfium2  # type: ignore[import-untyped]  # it ships no types
import pytest

from bookplates.errors import BadFile
from bookplates.pipeline import verify
from bookplates.pipeline.lesson import Given, lesson
from bookplates.pipeline.packs import Tally, joined, separate
from bookplates.pipeline.workers import in_order
from bookplates.readback import MeasuredPart, measure_pdf
from commands import PROGRAM, Ran, bookplates, listening, names_in, said_until, terminal
from fonts import font
from outside import called, parts_in
from page_check import findings

BOOK = """\
title = "Tide pool notes"
maker = "Lantern Quay Press"
[text_block]
leaf = "100 x 150 mm"
folios = 8
[cover]
style = "taped"
"""
CLASS = '[class]\ntitle = "Low water, first lesson"\ndate = "the fourth of May"\n'
HARBOUR = "5 sheets of harbour pad on hand"
TEACHERS = ("class list", "shopping list", "cutting plan", "timetable", "safety sheet")
NAMES = ("Ana Pérez", "Bo", "Ωραία Μηλιά", "", "Zoë O'Łęcka", "Bo")
HEADERS = "name,cover.square,text_block.folios\n"
THIRTY = HEADERS + "".join(f"{NAMES[n % 6]},{2 + n // 10}.{n % 10} mm,{6 + n % 3}\n" for n in range(30))
"""Squares of 2.0, 2.1 ... 4.9 mm, and 6, 7 or 8 folded sheets."""

SEVEN = "".join(THIRTY.splitlines(keepends=True)[:8])


def of_students(*names: str) -> str:
    return f"{BOOK}{CLASS}students = [{', '.join(repr(name) for name in names)}]\n"


def made(spec: str, table: str | None = None, *, workers: int = 1, guides_only: bool = False) -> bytes:
    """The PDF of a class."""
    of = lesson(spec.encode(), Given("students.csv", table.encode()) if table else None, guides_only=guides_only)
    with joined(of, Tally(), workers) as file:
        return file.read()


@pytest.fixture(scope="module")
def thirty() -> bytes:
    return made(BOOK + CLASS, THIRTY)


@pytest.fixture(scope="module")
def seven() -> bytes:
    return made(BOOK + CLASS, SEVEN)


@pytest.fixture(scope="module")
def six() -> bytes:
    return made(of_students(*NAMES))


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(data))


def counts(data: bytes) -> list[int]:
    """How many pages the teacher has and each student, by where the outline's first level begins."""
    with opened(data) as pdf, pdf.open_outline() as outline:
        numbers = {page.objgen: number for number, page in enumerate(pdf.pages)}
        begins = [numbers[_page(entry).objgen] for entry in outline.root]
        return [end - begin for begin, end in zip(begins, [*begins[1:], len(pdf.pages)], strict=True)]


def _page(entry: Any) -> Any:
    return (entry.destination if entry.destination is not None else entry.action.D)[0]


def pages_of(data: bytes, student: int) -> bytes:
    """The pages of a student alone, as another program takes them out."""
    each = counts(data)
    begin = sum(each[:student])
    return taken_out(data, range(begin, begin + each[student]))


def taken_out(data: bytes, numbers: Iterable[int]) -> bytes:
    """These pages alone, counted from 0."""
    with opened(data) as pdf, pikepdf.new() as apart:
        apart.pages.extend([pdf.pages[number] for number in numbers])
        stream = io.BytesIO()
        apart.save(stream)
    return stream.getvalue()


@cache
def parts_of_each(data: bytes) -> list[list[MeasuredPart]]:
    """The parts on the teacher's pages and on each student's, whose pages are numbered from 1."""
    each, found = counts(data), measure_pdf(data).parts
    begins = [sum(each[:number]) for number in range(len(each))]
    return [
        [replace(part, page=part.page - begin) for part in found if begin < part.page <= begin + count]
        for begin, count in zip(begins, each, strict=True)
    ]


@cache
def texts(data: bytes) -> list[str]:
    """The words of each page, in the order in which they are drawn."""
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(data)]


def lines_of(data: bytes, number: int) -> str:
    """The words of a page, counted from 0, line by line."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        text: str = pdf.pages[number].extract_text()
    return text


class TestThirtyWhoDiffer:
    def test_each_pack_is_that_students_own(self, thirty: bytes) -> None:
        """A board is as high as the leaf and a square at head and tail: 150 + 2 x 2.0 = 154 mm, and 0.2 mm more each time."""
        teachers, *students = parts_of_each(thirty)
        assert len(students) == 30
        assert {part.name for part in teachers} == {"bar across", "bar along"}
        heights = [{round(part.height, 3) for part in parts if part.name == "front board"} for parts in students]
        assert heights == [{round(154 + 0.2 * n, 3)} for n in range(30)]

    @pytest.mark.parametrize(("student", "height"), [(1, 154.0), (17, 157.2), (30, 159.8)])
    def test_another_reader_finds_the_same(self, thirty: bytes, student: int, height: float) -> None:
        (board,) = called(parts_in(pages_of(thirty, student)), "board outline", "front board")
        assert board.size[1] == pytest.approx(height, abs=0.001)

    def test_every_pack_apart_is_a_whole_pack_with_a_spec_of_its_own(self, tmp_path: Path, seven: bytes) -> None:
        (tmp_path / "book.toml").write_text(BOOK + CLASS)
        (tmp_path / "students.csv").write_text(SEVEN)
        ran = bookplates("class", "book.toml", "--students", "students.csv", "--separate", "packs", cwd=tmp_path)
        assert ran.code == 0, ran.err
        names = sorted(names_in(tmp_path / "packs"))
        assert len(names) == 8 and names[:3] == ["1-ana-perez.pdf", "2-bo.pdf", "3-student.pdf"]
        teachers, *joined_parts = parts_of_each(seven)
        for name, parts in zip(names, [*joined_parts, teachers], strict=True):
            data = (tmp_path / "packs" / name).read_bytes()
            checked = verify(data)
            assert (checked.excerpt, checked.warnings, checked.verified.parts) == ("", (), len(parts))
            assert list(measure_pdf(data).parts) == parts

    def test_the_bytes_hang_on_no_number_of_workers(self, seven: bytes) -> None:
        """Three make what one makes; two do so where a font is used that is not built in, below."""
        assert made(BOOK + CLASS, SEVEN, workers=3) == seven

    def test_it_is_verified_whole(self, tmp_path: Path, thirty: bytes) -> None:
        (tmp_path / "class.pdf").write_bytes(thirty)
        ran = bookplates("verify", tmp_path / "class.pdf")
        assert (ran.code, ran.err) == (0, "")
        assert ran.out.startswith(f"verified: {len(measure_pdf(thirty).parts)} parts")

    def test_two_packs_in_each_others_places_are_told(self, tmp_path: Path, thirty: bytes) -> None:
        each = counts(thirty)
        first, second = each[0], each[0] + each[1]
        with opened(thirty) as pdf:
            swapped = [*range(second, second + each[2]), *range(first, second)]
            pages = [pdf.pages[number] for number in swapped]
            for at, page in enumerate(pages, first):
                pdf.pages[at] = page
            pdf.save(tmp_path / "swapped.pdf")
        ran = bookplates("verify", tmp_path / "swapped.pdf")
        assert ran.code == 3
        assert "Ana Pérez, " in ran.err

    def test_a_lost_page_is_missed(self, tmp_path: Path, six: bytes) -> None:
        with opened(six) as pdf:
            there = len(pdf.pages)
            del pdf.pages[9]
            pdf.save(tmp_path / "lost.pdf")
        ran = bookplates("verify", tmp_path / "lost.pdf")
        assert ran.code == 3
        assert f"it has {there - 1} pages, not {there}" in ran.err

    def test_what_was_made_makes_it_again(self, tmp_path: Path) -> None:
        """The students whom it carries come with it, from standard input, too."""
        two = made(BOOK + CLASS, "name,text_block.folios\nAna,6\nBo,7\n")
        (tmp_path / "class.pdf").write_bytes(two)
        for source in ("class.pdf", "-"):
            ran = bookplates("class", source, "-o", "again.pdf", given=two, cwd=tmp_path)
            assert ran.code == 0, ran.err
            assert (tmp_path / "again.pdf").read_bytes() == two
            (tmp_path / "again.pdf").unlink()


class TestOneDocument:
    def test_another_program_has_nothing_to_say_against_it(self, six: bytes, thirty: bytes) -> None:
        for data in (six, thirty):
            with opened(data) as pdf:
                assert pdf.check_pdf_syntax() == []
                assert pdf.get_warnings() == []
            assert data.startswith(b"%PDF-1.7")

    def test_pypdf_finds_nothing_to_mend(self, six: bytes) -> None:
        assert len(pypdf.PdfReader(io.BytesIO(six), strict=True).pages) == sum(counts(six))

    def test_what_packs_have_in_common_is_there_once(self) -> None:
        """Fonts, whoever's names in plain letters are printed with them, and drawings that all students have alike."""
        one, many = made(of_students("Ana")), made(of_students(*(f"Bo {n}" for n in range(12))))
        with opened(many) as pdf:
            fonts = [one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/FontFile2" in one]
            assert len(fonts) == 4  # the students' two; the teacher's have other letters
            assert len([one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/OCG"]) == 6
        pack = next(data for _, data in separate(lesson(of_students("Ana").encode()), Tally(), 1))
        assert (len(many) - len(one)) / 11 < 0.3 * len(pack)  # a name and a cover sheet, not the whole pack once more

    def test_it_asks_to_be_printed_as_large_as_it_is(self, six: bytes) -> None:
        """ISO 32000-1, 12.2."""
        with opened(six) as pdf:
            asked = pdf.Root.ViewerPreferences
            assert (asked.PrintScaling, list(asked.Enforce), asked.PickTrayByPDFSize) == ("/None", ["/PrintScaling"], True)
            assert (pdf.Root.Lang, pdf.docinfo["/Title"]) == ("en-GB", "Low water, first lesson")
            assert pdf.docinfo["/PageCount"] == str(len(pdf.pages))

    def test_every_page_has_its_paper_and_a_ruler(self, six: bytes) -> None:
        with opened(six) as pdf:
            assert {tuple(round(float(side), 2) for side in page.MediaBox) for page in pdf.pages} == {(0, 0, 595.28, 841.89)}
            assert all(page.VP[0].Measure.Subtype == "/RL" for page in pdf.pages)

    def test_it_carries_what_it_was_made_from(self, six: bytes, thirty: bytes) -> None:
        with opened(six) as pdf, opened(thirty) as other:
            assert {name: file.get_file().read_bytes() for name, file in pdf.attachments.items()} == {
                "spec.toml": of_students(*NAMES).encode()
            }
            assert {name: file.get_file().read_bytes() for name, file in other.attachments.items()} == {
                "spec.toml": (BOOK + CLASS).encode(),
                "students.csv": THIRTY.encode(),
            }

    def test_the_outline_has_everybody(self, six: bytes) -> None:
        with opened(six) as pdf, pdf.open_outline() as outline:
            titles = ["Teacher", "1  Ana Pérez", "2  Bo", "3  Ωραία Μηλιά", "student 4", "5  Zoë O'Łęcka", "6  Bo"]
            assert [entry.title for entry in outline.root] == titles
            assert [entry.title for entry in outline.root[2].children][:3] == ["cover sheet", "scale page", "sizes"]
            first = [page.objgen for page in pdf.pages].index(_page(outline.root[2].children[1]).objgen)
            assert "scale page" in texts(six)[first]

    def test_pages_are_labelled_by_student(self, six: bytes) -> None:
        """ISO 32000-1, 12.4.2."""
        labels, each = pypdf.PdfReader(io.BytesIO(six)).page_labels, counts(six)
        assert labels[0] == "teacher 1"
        assert labels[each[0] + each[1]] == "2-1"
        assert labels[-1] == f"6-{each[6]}"

    def test_a_layer_is_hidden_for_all_at_once(self, six: bytes) -> None:
        with opened(six) as pdf:
            names = [str(group.Name) for group in pdf.Root.OCProperties.OCGs]
            assert len(names) == len(set(names)) == 6
            pdf.Root.OCProperties.D.OFF = pikepdf.Array([one for one in pdf.Root.OCProperties.OCGs if one.Name == "Cut lines"])
            stream = io.BytesIO()
            pdf.save(stream)
        pages = [part.page - 1 for part in measure_pdf(six).parts if (part.plate, part.name) == ("board outline", "front board")]
        assert len(pages) == 6
        for page in pages:
            assert _ink(stream.getvalue(), page) < _ink(six, page)


def _ink(data: bytes, page: int) -> int:
    shown = pypdfium2.PdfDocument(data)[page].render(grayscale=True).to_numpy()
    return int((255 - np.asarray(shown).astype(int)).sum())


class TestWhatIsOnThePages:
    def test_a_students_pages_are_numbered_by_themselves_and_named(self, six: bytes) -> None:
        each = counts(six)
        whose = ["Lantern Quay Press", "Ana Pérez", "Bo", "Ωραία Μηλιά", "student 4", "Zoë O'Łęcka", "Bo"]
        wanted = [(name, n, count) for name, count in zip(whose, each, strict=True) for n in range(1, count + 1)]
        for text, (name, number, of) in zip(texts(six), wanted, strict=True):
            assert f"page {number} of {of}" in text
            assert name in text

    def test_the_teachers_come_first(self, six: bytes) -> None:
        pages = texts(six)[: counts(six)[0]]
        for plate in TEACHERS:
            assert any(plate in text.lower() for text in pages), plate
        assert "Low water, first lesson" in pages[0] and "the fourth of May" in pages[0]

    def test_the_class_list_says_where_each_ones_pages_are(self, six: bytes) -> None:
        each = counts(six)
        rows = re.findall(r"^(\d) .*?(\d+)-(\d+)$", lines_of(six, 0), re.MULTILINE)
        ends = [sum(each[: n + 1]) for n in range(7)]
        assert rows == [(str(n), str(ends[n - 1] + 1), str(ends[n])) for n in range(1, 7)]

    def test_a_cover_sheet_says_whose_it_is_and_what_follows(self, six: bytes) -> None:
        each = counts(six)
        text = lines_of(six, each[0])
        of_class, of_book = ("Low water, first lesson", "the fourth of May"), ("Tide pool notes", "100 × 150 mm")
        for words in (*of_class, *of_book, "Ana Pérez", "student 1 of 6", f"there are {each[1]}"):
            assert words in text
        with pdfplumber.open(io.BytesIO(six)) as pdf:
            page = pdf.pages[each[0]]
            head = next(word for word in page.extract_words() if word["text"] == "What")
            listed = page.crop((head["x0"] - 1, head["top"], page.width, page.height)).extract_text()
        ranges = re.findall(r"^(\d+)(?:-(\d+))? [a-z]", listed, re.MULTILINE)
        pages = [page for first, last in ranges for page in range(int(first), int(last or first) + 1)]
        assert pages == list(range(2, each[1] + 1))

    def test_a_name_is_as_large_as_the_page_takes_it(self, six: bytes) -> None:
        each = counts(six)
        with pdfplumber.open(io.BytesIO(six)) as pdf:
            bo = [char["size"] for char in pdf.pages[each[0] + each[1]].chars]
        assert max(bo) == pytest.approx(16 * 72 / 25.4, abs=0.1)  # letters of 16 mm

    @pytest.mark.parametrize("paper", ["A4", "A5"])
    def test_the_longest_names_stay_on_their_pages(self, paper: str) -> None:
        names = ("W" * 200, "Al " * 66, "Annabel Featherstonehaugh-Quill of the Seven Lower Meadows", "Bo", "")
        data = made(f'{of_students(*names)}[print]\npaper = "{paper}"\nmargin = "5 mm"\n')
        each = counts(data)
        assert findings(io.BytesIO(taken_out(data, [sum(each[: n + 1]) for n in range(-1, 5)]))) == []

    def test_a_name_that_cannot_be_printed_is_left_to_be_written(self) -> None:
        data = made(of_students("王小梅"))
        text = lines_of(data, counts(data)[0])
        assert re.search(r"^name$", text, re.MULTILINE)
        assert "student 1" in text


IN_TWO_FONTS = ("書", "Ana", "本 ქარ", "Zoë 書本", "王", "Bo ½")


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[Ran]]:
    """A folder with a class as one process makes it and as two do; and what the two commands said."""
    folder = tmp_path_factory.mktemp("own")
    (folder / "own.ttf").write_bytes(font())
    spec = of_students(*IN_TWO_FONTS).replace("Tide pool notes", "本 notes")
    (folder / "book.toml").write_text(f'{spec}[print]\nfont = "own.ttf"\n', encoding="utf-8")
    return folder, [bookplates("class", "book.toml", "-o", f"{n}.pdf", "--workers", str(n), cwd=folder) for n in (1, 2)]


class TestAFontOfOnesOwn:
    """Letters of names and of the book come from two fonts, and have the same codes whoever's pages are written first."""

    def test_the_bytes_hang_on_no_number_of_workers(self, both: tuple[Path, list[Ran]]) -> None:
        folder, ran = both
        assert [one.code for one in ran] == [0, 0], ran[0].err
        assert (folder / "1.pdf").read_bytes() == (folder / "2.pdf").read_bytes()

    def test_every_name_is_printed_that_can_be(self, both: tuple[Path, list[Ran]]) -> None:
        folder, ran = both
        assert len([line for line in ran[0].lines if "王" in line]) == 1
        data = (folder / "1.pdf").read_bytes()
        whose = ["Lantern Quay Press", *(name if name != "王" else "student 5" for name in IN_TWO_FONTS)]
        words = iter(texts(data))
        for name, count in zip(whose, counts(data), strict=True):
            for text in (next(words) for _ in range(count)):
                assert name in text and "本 notes" in text

    def test_it_is_verified_without_the_font(self, both: tuple[Path, list[Ran]], tmp_path: Path) -> None:
        (tmp_path / "class.pdf").write_bytes((both[0] / "1.pdf").read_bytes())
        assert bookplates("verify", "class.pdf", cwd=tmp_path).code == 0


@pytest.fixture(scope="module")
def guides() -> bytes:
    return made(of_students(*NAMES[:3]), guides_only=True)


class TestGuidesOnly:
    def test_there_is_nothing_to_read_and_nothing_for_the_teacher(self, guides: bytes) -> None:
        plates = "\n".join(texts(guides))
        for word in (
            "class list",
            "shopping list",
            "timetable",
            "cover sheet",
            "Cut and fold the text paper",
            "Before you begin",
        ):
            assert word not in plates
        each = counts(guides)
        assert len(each) == 3 and len(set(each)) == 1
        assert f"page 1 of {each[0]}" in plates

    def test_all_is_there_that_is_at_true_scale(self, guides: bytes, six: bytes) -> None:
        def drawn(data: bytes) -> set[tuple[str, str, str]]:
            return {(part.plate, part.name, part.line) for part in measure_pdf(data).parts if not part.name.startswith("bar ")}

        assert drawn(guides) == drawn(six)

    def test_it_is_verified(self, tmp_path: Path, guides: bytes) -> None:
        (tmp_path / "guides.pdf").write_bytes(guides)
        assert bookplates("verify", tmp_path / "guides.pdf").code == 0

    def test_a_file_for_each_says_that_it_is_an_excerpt(self) -> None:
        of = lesson(of_students("Ana", "Bo").encode(), guides_only=True)
        files = dict(separate(of, Tally(), 1))
        assert list(files) == ["1-ana.pdf", "2-bo.pdf"]
        assert verify(files["2-bo.pdf"]).excerpt.startswith("only scale page, ")


class TestCommand:
    @pytest.fixture
    def spec(self, tmp_path: Path) -> Path:
        path = tmp_path / "pool.toml"
        path.write_text(of_students("Ana", "Bo", "Cy", "Dee", "Eli", "Flo"))
        return path

    def test_it_says_what_it_made_and_shows_no_bar_where_nobody_looks(self, spec: Path) -> None:
        ran = bookplates("class", spec, cwd=spec.parent)
        assert (ran.code, ran.err) == (0, "")
        assert names_in(spec.parent) == {"pool.toml", "pool-class.pdf"}
        data = (spec.parent / "pool-class.pdf").read_bytes()
        verified, written = ran.out.splitlines()
        assert re.fullmatch(rf"verified: {len(measure_pdf(data).parts)} parts, largest difference 0\.00\d\d mm", verified)
        teachers, *_ = each = counts(data)
        said = f"6 students, {sum(each)} pages, {teachers} of them the teacher's, print at 100 %"
        assert written == f"pool-class.pdf: {said}"

    def test_a_terminal_is_shown_that_long_work_goes_on(self, tmp_path: Path) -> None:
        stock = '[[stock]]\nmaterial = "cover paper"\nname = "harbour pad"\nsize = "420 x 594 mm"\n'
        (tmp_path / "pool.toml").write_text(of_students("Ana") + stock)
        (tmp_path / "sixty.csv").write_text(HEADERS + "".join(f"{n},{2 + n / 20:.2f} mm,{6 + n % 3}\n" for n in range(60)))
        with terminal("class", "pool.toml", "--students", "sixty.csv", "--workers", "1", cwd=tmp_path) as (process, screen):
            said = said_until(screen, b"cutting plans") + said_until(screen, b"students ")
            assert b"pool-class.pdf" not in said  # which is said at the end
            said_until(screen, b"pool-class.pdf: 60 students, ")
            assert process.wait(20) == 0

    def test_it_goes_to_standard_output_alone(self, spec: Path) -> None:
        ran = bookplates("class", spec, "-o", "-", "--guides-only", "--workers", "1")
        assert ran.code == 0
        assert ran.raw.startswith(b"%PDF-1.7") and ran.raw.endswith(b"%%EOF\n")
        assert ran.err.startswith("verified: ")

    def test_a_class_of_one(self, tmp_path: Path) -> None:
        (tmp_path / "one.toml").write_text(of_students("Ana"))
        ran = bookplates("class", "one.toml", "--workers", "3", cwd=tmp_path)
        assert ran.code == 0
        assert "1 student, " in ran.out

    def test_a_warning_is_told_once(self, tmp_path: Path) -> None:
        (tmp_path / "thick.toml").write_text(of_students("Ana", "Bo").replace("folios = 8", "folios = 13"))
        ran = bookplates("class", "thick.toml", cwd=tmp_path)
        assert ran.code == 0
        assert len([line for line in ran.lines if "text_block.folios: " in line and ": warning: " in line]) == 1

    def test_a_book_of_ones_own_is_warned_of_by_number(self, tmp_path: Path) -> None:
        (tmp_path / "book.toml").write_text(BOOK)
        (tmp_path / "them.csv").write_text("name,text_block.folios\nAna,\nBo,13\nCy,13\n")
        ran = bookplates("class", "book.toml", "--students", "them.csv", cwd=tmp_path)
        assert ran.code == 0
        assert len([line for line in ran.lines if "text_block.folios: " in line and "(students 2-3)" in line]) == 1

    def test_paper_that_is_short_is_warned_of(self) -> None:
        """A sheet of 160 x 210 mm takes one covering of 156.35 + 2 x 25.4 = 207.15 mm; there are two to a book.

        Three students and a spare book take 8 sheets. Two of a table and a spare book take 6: `fit` knows nothing of
        them, and is not spoken of.
        """
        stock = '[[stock]]\nmaterial = "cover paper"\nname = "harbour pad"\nsize = "160 x 210 mm"\ncount = 5\n'
        spec = (of_students("Ana", "Bo", "Cy") + stock).encode()
        (three,) = lesson(spec).warnings
        assert (three.where, three.what) == ("stock.1.count", f"cover paper: {HARBOUR}, 8 needed: 3 missing")
        assert "`bookplates fit`" in three.hint
        (two,) = lesson(spec, Given("them.csv", b"name\nAna\nBo\n")).warnings
        assert (two.what, two.hint) == (f"cover paper: {HARBOUR}, 6 needed: 1 missing", "more of it")

    def test_what_all_students_share_names_none_of_them(self) -> None:
        """All make one book that is not the spec's: 14 folded sheets, over the 12 that do not spring open."""
        them = Given("them.csv", b"name,text_block.folios\nAna,14\nBo,14\n")
        of = lesson(of_students().encode().replace(b"students = []\n", b""), them)
        told = [problem.what for problem in of.warnings if problem.where == "text_block.folios"]
        assert told == ["14 folded sheets in a section spring open"]
        assert [(lot.plan.text_block.folios, lot.count) for lot in of.table.lots] == [(14, 2), (14, 1)]  # the spare one, too

    def test_nobody_in_the_class(self, tmp_path: Path) -> None:
        (tmp_path / "book.toml").write_text(BOOK)
        ran = bookplates("class", "book.toml", cwd=tmp_path)
        assert ran.code == 1
        assert ran.err.startswith("book.toml:1: class: is missing") and "--students FILE.csv" in ran.err
        assert names_in(tmp_path) == {"book.toml"}

    @pytest.mark.parametrize(
        "wrong",
        [
            ("-o", "x.pdf", "--separate", "packs"),
            ("--workers", "0"),
            ("--separate", "-"),
            ("--separate", ""),
            ("-o", ""),
            ("--students", ""),
        ],
    )
    def test_wrong_use(self, spec: Path, wrong: tuple[str, ...]) -> None:
        assert bookplates("class", spec, *wrong, cwd=spec.parent).code == 2
        assert names_in(spec.parent) == {"pool.toml"}

    def test_both_from_standard_input(self) -> None:
        assert bookplates("class", "-", "--students", "-").code == 2

    def test_students_from_standard_input(self, tmp_path: Path) -> None:
        (tmp_path / "book.toml").write_text(BOOK)
        assert bookplates("class", "book.toml", "--students", "-", given=b"name\nAna\nBo\n", cwd=tmp_path).code == 0
        assert names_in(tmp_path) == {"book.toml", "book-class.pdf"}


class TestNothingIsLeft:
    """A failing command leaves no new file, and every old one as it was."""

    @pytest.fixture
    def folder(self, tmp_path: Path) -> Path:
        (tmp_path / "book.toml").write_text(BOOK)
        small = "Bo,120 x 160 mm,\nCy,120 x 160 mm,9\nDee,120 x 160 mm,\n"
        (tmp_path / "small.csv").write_text(f"name,print.paper,text_block.folios\nAna,,\n{small}")
        (tmp_path / "packs").mkdir()
        (tmp_path / "packs" / "1-ana.pdf").write_bytes(b"as it was")
        return tmp_path

    def test_a_pack_that_cannot_be_made_is_told_of_with_whose_it_is(self, folder: Path) -> None:
        before = names_in(folder)
        for workers in ("1", "2"):
            ran = bookplates("class", "book.toml", "--students", "small.csv", "--workers", workers, cwd=folder)
            assert ran.code == 1
            first, second = ran.lines
            assert "print.paper: " in first and "(for Bo, Dee)" in first
            assert "print.paper: " in second and "(for Cy)" in second
            assert names_in(folder) == before

    @pytest.mark.parametrize("where", ["packs", "new"])
    def test_of_many_files_none_is_written(self, folder: Path, where: str) -> None:
        ran = bookplates("class", "book.toml", "--students", "small.csv", "--separate", where, cwd=folder)
        assert ran.code == 1
        assert names_in(folder) == {"book.toml", "small.csv", "packs"}
        assert names_in(folder / "packs") == {"1-ana.pdf"}
        assert (folder / "packs" / "1-ana.pdf").read_bytes() == b"as it was"

    @pytest.mark.parametrize("name", ["book.toml", "small.csv"])
    def test_what_is_read_is_not_written(self, folder: Path, name: str) -> None:
        before = (folder / name).read_bytes()
        ran = bookplates("class", "book.toml", "--students", "small.csv", "-o", name, cwd=folder)
        assert ran.code == 1 and "is the file that is read" in ran.err
        assert (folder / name).read_bytes() == before

    def test_a_folder_that_is_not_there_is_told_of_before_the_work(self, folder: Path) -> None:
        (folder / "names.csv").write_text("name\n" + "Ana\n" * 2000)
        began = time.monotonic()
        assert bookplates("class", "book.toml", "--students", "names.csv", "-o", "not/there.pdf", cwd=folder).code == 1
        assert time.monotonic() - began < 20  # the packs alone would take some minutes

    @pytest.mark.skipif(os.name != "posix", reason="how large a file may grow is limited on POSIX systems")
    def test_no_room_for_a_temporary_file(self, folder: Path) -> None:
        """It is no fault of the spec's, and is not told as one."""
        before = names_in(folder)
        ran = bookplates("class", "book.toml", "--students", "-", given=b"name\nAna\n", cwd=folder, preexec_fn=_small_files)
        assert ran.code == 1
        (line,) = ran.lines
        assert line.startswith("a temporary file cannot be written (")
        assert names_in(folder) == before

    @pytest.mark.parametrize(
        ("number", "code", "after", "how"),
        [
            (signal.SIGINT, 130, 0.7, ("-o", "x.pdf")),
            (signal.SIGINT, 130, 1.6, ("--separate", "packs")),
            (signal.SIGTERM, 143, 1.6, ("-o", "x.pdf")),
            (signal.SIGTERM, 143, 0.7, ("--separate", "packs")),
        ],
    )
    @pytest.mark.skipif(os.name != "posix", reason="signals go to a group of processes on POSIX systems")
    def test_an_interrupt_ends_all_of_it(
        self, folder: Path, number: signal.Signals, code: int, after: float, how: tuple[str, ...]
    ) -> None:
        (folder / "names.csv").write_text("name\n" + "Ana\n" * 2000)
        line = [*PROGRAM, "class", "book.toml", "--students", "names.csv", "--workers", "2", *how]
        before = names_in(folder)
        pipes: dict[str, Any] = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
        with subprocess.Popen(line, cwd=folder, start_new_session=True, preexec_fn=listening, **pipes) as process:  # noqa: PLW1509
            time.sleep(after)
            os.killpg(process.pid, number)
            out, err = process.communicate(timeout=30)
        said = {130: b"bookplates: interrupted\n", 143: b"bookplates: told to end\n"}[code]
        assert (process.returncode, out, err) == (code, b"", said)
        assert names_in(folder) == before and names_in(folder / "packs") == {"1-ana.pdf"}
        until = time.monotonic() + 10  # what tidies up for Python ends a moment later
        while list(_running(process.pid)) and time.monotonic() < until:
            time.sleep(0.05)
        assert list(_running(process.pid)) == []


def _small_files() -> None:
    import resource

    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))


def _running(session: int) -> Iterator[str]:
    """Processes of a session that still run, where the system lists them; one that has ended may wait to be fetched."""
    for entry in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, _, _, of, *_ = entry.read_text().rpartition(")")[2].split()
        except OSError:  # it has just ended
            continue
        if int(of) == session and state != "Z":
            yield entry.parent.name


class TestNames:
    ANY = ("../../etc/passwd", "CON", "", "a/b\\c:d*e", "  ", "ana", "ANA", "مريم", "王小梅", "𝓐na", "é" * 300, "=1+1", "- -")

    def test_every_one_has_a_file_within_the_folder(self, tmp_path: Path) -> None:
        listed = "".join(f'"{name}",8\n' for name in self.ANY)
        (tmp_path / "book.toml").write_text(BOOK)
        (tmp_path / "names.csv").write_text(f"name,text_block.folios\n{listed}", encoding="utf-8")
        ran = bookplates("class", "book.toml", "--students", "names.csv", "--separate", "packs", "--guides-only", cwd=tmp_path)
        assert ran.code == 0, ran.err
        assert names_in(tmp_path) == {"book.toml", "names.csv", "packs"}
        names = names_in(tmp_path / "packs")
        assert len({name.casefold() for name in names}) == len(names) == len(self.ANY)
        assert all(re.fullmatch(r"\d\d-[a-z0-9-]{1,60}\.pdf", name) for name in names)


class TestWorkers:
    def test_results_come_in_the_order_of_the_work(self) -> None:
        assert list(in_order(abs, range(-40, 0), 3)) == list(range(40, 0, -1))

    def test_work_is_taken_no_further_ahead_than_need_be(self) -> None:
        """However many students there are, no more than a few packs for each worker wait to be joined."""
        taken: list[int] = []

        def jobs() -> Iterator[int]:
            for number in range(500):
                taken.append(number)
                yield number

        for done, _ in enumerate(in_order(abs, jobs(), 2)):
            assert len(taken) - done <= 6

    def test_a_worker_that_dies_is_told_of_in_a_line(self) -> None:
        with pytest.raises(BadFile) as caught:
            list(in_order(os._exit, [3] * 4, 2))
        (problem,) = caught.value.problems
        assert "ended before its work was done" in problem.what

    def test_that_none_can_be_begun_is_told_of_in_a_line(self, monkeypatch: pytest.MonkeyPatch) -> None:
        def full(*_: object) -> None:
            raise OSError(errno.EMFILE, "too many open files")

        monkeypatch.setattr(ProcessPoolExecutor, "submit", full)
        with pytest.raises(BadFile) as caught:
            list(in_order(abs, [1, 2], 2))
        assert str(caught.value) == "no other processes can be begun (too many open files); do without them: --workers 1"

    def test_who_stops_listening_waits_for_nobody(self) -> None:
        results = in_order(time.sleep, [0.01, 60, 60, 60], 2)
        next(results)
        began = time.monotonic()
        results.close()
        assert time.monotonic() - began < 20
