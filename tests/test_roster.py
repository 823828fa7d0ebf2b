"""A class from a list or from a CSV: who is in it, whose book differs, and every cell that will not do."""

from __future__ import annotations

import csv
import io
import re
import time
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookplates.errors import BadFile, BadSpec
from bookplates.pipeline import plan, problems_of
from bookplates.spec.read import read_spec
from bookplates.spec.taught import name_of
from bookplates.workshop.students.columns import known_keys, value_of
from bookplates.workshop.students.csv_file import letter_of
from bookplates.workshop.students.differing import StudentTable, read_students
from bookplates.workshop.students.roster import Student, groups, roster, warnings_of
from fonts import font

SAMPLES = Path(__file__).parent.parent / "sample_specs"
SPEC = b"""title = "Bean rows"
units = "in"
[text_block]
sheet = "Letter"
format = "quarto"
sheets = 5
[cover]
style = "taped"
[sewing]
spacing = "1/2 in"
[[stock]]
material = "board"
name = "grey board"
size = "20 x 30 in"
[cutting]
blade = "1 mm"
[class]
students = 3
"""
BARE = {
    "title": "Bean rows",
    "units": "in",
    "text_block": {"sheet": "Letter", "format": "quarto", "sheets": 5},
    "cover": {"style": "taped"},
    "sewing": {"spacing": "1/2 in"},
}
"""The same without what belongs to the class."""


def read(text: str, encoding: str = "utf-8") -> StudentTable:
    return read_students(text.encode(encoding), "beans.csv")


def on_one_line(text: str) -> str:
    """The text with each of its line breaks, and the spaces round it, as one space."""
    return " ".join(filter(None, (line.strip() for line in re.split("[\r\n]", text))))


def class_of(text: str, spec: bytes = SPEC) -> tuple[Student, ...]:
    return roster(spec, (), read(text))


def told(text: str, spec: bytes = SPEC) -> list[str]:
    """Every problem of a class, as it is printed."""
    with pytest.raises(BadFile) as caught:
        class_of(text, spec)
    return [str(problem) for problem in caught.value.problems]


def asked(text: str) -> list[tuple[str, dict]]:
    """Name and keys of each row."""
    return [(row.name, dict(row.values)) for row in read(text).rows]


class TestList:
    def test_each_has_a_book_with_their_name(self) -> None:
        ana, nobody = roster(SPEC, ("Ana Perez", ""))
        assert (ana.number, ana.name, ana.called) == (1, "Ana Perez", "Ana Perez")
        assert (nobody.number, nobody.name, nobody.called) == (2, "", "student 2")
        assert tomllib.loads(ana.source.decode()) == {**BARE, "maker": "Ana Perez"}
        assert tomllib.loads(nobody.source.decode()) == BARE

    def test_who_has_no_name_has_the_maker_of_the_spec(self) -> None:
        (nobody,) = roster(b'maker = "Plot 14"\n' + SPEC, ("",))
        assert tomllib.loads(nobody.source.decode())["maker"] == "Plot 14"

    def test_all_make_the_same_book(self) -> None:
        students = roster(SPEC, ("Ana", "Bo", "", "Ana"))
        assert [numbers for _, numbers in groups(students)] == [(1, 2, 3, 4)]
        assert students[0].source == students[3].source  # two of one name are told apart by their numbers

    def test_a_name_may_be_toml(self) -> None:
        name = 'Ana "\\" [cover] # {title = 1} \u2028'
        (student,) = roster(SPEC, (name_of(name),))
        assert tomllib.loads(student.source.decode())["maker"] == 'Ana "\\" [cover] # {title = 1}'

    def test_a_name_that_cannot_be_printed_does_not_fail_the_class(self) -> None:
        students = roster(SPEC, ("Ana", "佐藤", "\u05e9\u05e8\u05d4"))
        assert [student.name for student in students] == ["Ana", "佐藤", "\u05e9\u05e8\u05d4"]
        assert "maker" not in tomllib.loads(students[1].source.decode())
        spec = read_spec(SPEC).spec
        assert spec is not None
        warned = [str(problem) for problem in warnings_of(students, spec)]
        assert warned == [
            (
                "class.students: the name of student 2 holds letters that the printed font lacks: 佐 藤; "
                "it is left to be written by hand, or print.font with a font that has them"
            ),
            (
                "class.students: the name of student 3 holds letters that the printed font lacks: \u05e9 \u05e8 \u05d4; "
                "it is left to be written by hand"
            ),
        ]

    def test_a_font_of_ones_own_prints_it(self, tmp_path: Path) -> None:
        (tmp_path / "box.ttf").write_bytes(font())
        (student,) = roster(SPEC + b'[print]\nfont = "box.ttf"\n', ("書",), folder=tmp_path)
        assert tomllib.loads(student.source.decode())["maker"] == "書"

    def test_of_many_such_names_ten_are_told(self) -> None:
        spec = read_spec(SPEC).spec
        assert spec is not None
        warned = warnings_of(roster(SPEC, ("佐",) * 25), spec)
        assert len(warned) == 11
        assert warned[-1].what == "15 more names cannot be printed, and are written by hand"

    def test_a_spec_at_fault_is_told_as_one(self) -> None:
        with pytest.raises(BadSpec) as caught:
            roster(SPEC.replace(b'"quarto"', b'"quatro"'), ("Ana",))
        assert caught.value.problems[0].where == "text_block.format"

    @given(names=st.lists(st.text(max_size=320), min_size=1, max_size=6))
    @settings(deadline=None)
    def test_any_names_make_books(self, names: list[str]) -> None:
        students = roster(SPEC, [name_of(name) for name in names])
        assert len(students) == len(names)
        for student in students:
            assert problems_of(student.source) == ()
            assert {**tomllib.loads(student.source.decode()), "maker": ""} == {**BARE, "maker": ""}


class TestCsv:
    @pytest.mark.parametrize("delimiter", [",", ";", "\t"])
    @pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
    @pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
    def test_however_it_was_saved(self, delimiter: str, end: str, encoding: str) -> None:
        lines = [("Name", "text_block.sheets", "title"), ("Zoë", "4", "Peas"), ("Ana", "", "")]
        text = end.join(delimiter.join(cells) for cells in lines) + end
        rows = read_students(text.encode(encoding), "beans.csv").rows
        assert [(row.number, row.name, dict(row.values)) for row in rows] == [
            (2, "Zoë", {"text_block.sheets": 4, "title": "Peas"}),
            (3, "Ana", {}),
        ]

    def test_a_students_own_keys_are_set(self) -> None:
        text = "name,text_block.sheets,cover.square.head,sewing.end_margin\nAna,4,5 mm,12 mm\nBo,,,\n"
        ana, bo = class_of(text)
        spec = tomllib.loads(ana.source.decode())
        assert spec["text_block"]["sheets"] == 4
        assert spec["cover"]["square"] == {"head": "5 mm"}
        assert spec["sewing"] == {"spacing": "1/2 in", "end_margin": "12 mm"}
        assert tomllib.loads(bo.source.decode()) == {**BARE, "maker": "Bo"}

    def test_the_books_are_those_books(self) -> None:
        table = "name;text_block.sheets;sewing.spacing\nAna;4;20,5 mm\nBo;;\nZoë;4;20.5 mm\n"
        students = class_of(table)
        assert [numbers for _, numbers in groups(students)] == [(1, 3), (2,)]
        worked_out = plan(students[0].source)
        assert worked_out.text_block.pages == 4 * 4 * 2  # four sheets, each a quarto of four leaves
        stations = worked_out.sewing.stations
        assert stations[1] - stations[0] == pytest.approx(20.5)
        assert worked_out.maker == "Ana"

    def test_a_column_of_makers_stands_before_the_name(self) -> None:
        ana, bo = class_of("name,maker\nAna,Plot 14\nBo,\n")
        assert (plan(ana.source).maker, plan(bo.source).maker) == ("Plot 14", "Bo")

    @pytest.mark.parametrize("header", ["name", "Name", "STUDENT", " student "])
    def test_names_stand_under_either_word(self, header: str) -> None:
        assert asked(f"{header},title\nAna,Peas\n") == [("Ana", {"title": "Peas"})]

    def test_keys_in_capitals_are_keys(self) -> None:
        assert asked("Name,Text_Block.Sheets\nAna,4\n") == [("Ana", {"text_block.sheets": 4})]

    def test_names_alone_may_hold_commas(self) -> None:
        assert asked('name\nPerez, Ana\n"Leek; Tam"\n') == [("Perez, Ana", {}), ("Leek; Tam", {})]

    def test_without_names_they_are_numbered_and_that_is_said(self) -> None:
        table = read("text_block.sheets\n4\n5\n")
        students = roster(SPEC, (), table)
        assert [student.called for student in students] == ["student 1", "student 2"]
        spec = read_spec(SPEC).spec
        assert spec is not None
        assert [str(problem) for problem in warnings_of(students, spec, table)] == [
            'beans.csv:row 1: there is no column "name": the students are only numbered; a column headed "name"'
        ]

    def test_a_missing_name_is_no_fault(self) -> None:
        assert [student.called for student in class_of("name,title\nAna,\n,Peas\n")] == ["Ana", "student 2"]

    def test_blank_rows_are_passed_over_and_counted(self) -> None:
        text = "\nname;title\n\n;;;\nAna;Peas\n\n  ;\nBo;\n"
        assert [(row.number, row.name) for row in read(text).rows] == [(5, "Ana"), (8, "Bo")]

    def test_a_quoted_line_break_adds_no_row(self) -> None:
        text = 'name,title\n"Ana\nPerez","Peas"\nBo,\n'
        assert [(row.number, row.name) for row in read(text).rows] == [(2, "Ana Perez"), (3, "Bo")]

    def test_a_line_break_in_a_title_is_a_space(self) -> None:
        assert asked('name,title\nAna,"Peas \r\n\nand  beans"\n') == [("Ana", {"title": "Peas and  beans"})]

    def test_quotation_marks_within_a_cell(self) -> None:
        assert asked('name,title\n"Łucja ""Lu"" Wren","Peas, ""sugar"""\n') == [('Łucja "Lu" Wren', {"title": 'Peas, "sugar"'})]

    @pytest.mark.parametrize("name", ["=1+1", "=cmd|' /C calc'!A0", "@SUM(A1)", "+49", "-3"])
    def test_a_formula_stays_text(self, name: str) -> None:
        student, *_ = roster(SPEC, (), read(f'name,title\n"{name}","=2+2"\n'))
        assert (student.name, plan(student.source).title, plan(student.source).maker) == (name, "=2+2", name)

    def test_empty_columns_at_the_end_are_none(self) -> None:
        assert asked("name;title;;\nAna;Peas;;\nBo;;;;;\n") == [("Ana", {"title": "Peas"}), ("Bo", {})]

    @given(
        rows=st.lists(st.tuples(st.text(max_size=40), st.text(max_size=40)), min_size=1, max_size=12),
        delimiter=st.sampled_from(",;\t"),
        end=st.sampled_from(["\n", "\r\n"]),
        quoting=st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]),
    )
    @settings(deadline=None)
    def test_what_a_program_writes_is_read(self, rows: list[tuple[str, str]], delimiter: str, end: str, quoting: int) -> None:
        # nor a carriage return by itself where it is not quoted: there it ends a row, as it once did
        gone = str.maketrans("", "", "\0" if quoting == csv.QUOTE_ALL else "\0\r")
        kept = [(name.translate(gone), title.translate(gone)) for name, title in rows]
        stream = io.StringIO(newline="")
        csv.writer(stream, delimiter=delimiter, lineterminator=end, quoting=quoting).writerows([("name", "title"), *kept])  # type: ignore[arg-type]
        expected = [(name_of(name), {"title": on_one_line(title)} if title.strip() else {}) for name, title in kept]
        blank = [not name.strip() and not title.strip() for name, title in kept]
        wanted = [row for row, nothing in zip(expected, blank, strict=True) if not nothing]
        if wanted:
            assert asked(stream.getvalue()) == wanted
        else:
            with pytest.raises(BadFile):
                asked(stream.getvalue())

    @given(st.binary(max_size=300) | st.text(alphabet='name,;\t"\r\ntitle=\x00é', max_size=200).map(str.encode))
    @settings(deadline=None)
    def test_any_bytes_are_read_or_refused(self, data: bytes) -> None:
        try:
            roster(SPEC, (), read_students(data, "beans.csv"))
        except BadFile as error:
            assert all(problem.where.startswith("beans.csv") and problem.what for problem in error.problems)


class TestNoCsv:
    @pytest.mark.parametrize(
        ("data", "expected"),
        [
            (b"", "beans.csv: holds no students; a row of headers"),
            (b"\xef\xbb\xbf", "beans.csv: holds no students; a row of headers"),
            (b"name,title\n\n,\n", "beans.csv: holds no students; a row of headers"),
            (b"%PDF-1.7\n", "beans.csv: is a PDF, not a CSV; save"),
            (b"PK\x03\x04abc", "beans.csv: is a workbook or an archive, not a CSV; save"),
            (b"\xd0\xcf\x11\xe0\xa1", "beans.csv: is no text, not a CSV; save"),
            (b"name\nA\x00na\n", "beans.csv: is no text, not a CSV; save"),
            (b"name\nAna\nZo\xeb\n", "beans.csv:line 3: is not UTF-8 text; save"),
            ("name".encode("utf-16"), "beans.csv: holds no students; a row of headers"),
            (b"\xff\xfen", "beans.csv: is not UTF-16 text; save"),
            (b'name,title\nAna,\nBo,"Peas\n', "beans.csv:row 3: a quotation mark has no partner; a cell"),
            (b'name,title\nAna,"Pe"as"\n', "beans.csv:row 2: something stands after the quotation mark that ends a cell; a cell"),
            (b'name,title\n"Ana" ,Peas\n', "beans.csv:row 2: something stands after the quotation mark that ends a cell; a cell"),
            (b"name,title\nAna," + b"x" * 200_000, "beans.csv:row 2: a cell is too long; a quotation"),
            (b"name\n" + b"a" * (4 * 1024 * 1024), "beans.csv: is too large; 4 MiB at most"),
        ],
    )
    def test_one_line_says_so(self, data: bytes, expected: str) -> None:
        with pytest.raises(BadFile) as caught:
            read_students(data, "beans.csv")
        (problem,) = caught.value.problems
        assert str(problem).startswith(expected)

    def test_ten_thousand_rows_are_refused_at_once(self) -> None:
        data = ("name,text_block.sheets\n" + "Ana,ten\n" * 10_000).encode()
        begun = time.perf_counter()
        with pytest.raises(BadFile, match=r"^beans\.csv: holds 10,000 students; 2,000 at most$"):
            read_students(data, "beans.csv")
        assert time.perf_counter() - begun < 2


class TestHeaders:
    @pytest.mark.parametrize(
        ("header", "expected"),
        [
            ("sheets", "column B, sheets: 'sheets' is no key of a spec; the nearest is text_block.sheets"),
            (
                "text_block.sheet5",
                "column B, text_block.sheet5: 'text_block.sheet5' is no key of a spec; the nearest is text_block.sheet",
            ),
            (
                "sewing.spaceing",
                "column B, sewing.spaceing: 'sewing.spaceing' is no key of a spec; the nearest is sewing.spacing",
            ),
            ("turn_in", "column B, turn_in: 'turn_in' is no key of a spec; the nearest is cover.turn_in or tape.turn_in"),
            (
                "favourite pond",
                "column B, favourite pond: 'favourite pond' is no key of a spec; headers are \"name\" and keys of",
            ),
            ("Name", "column B, Name: is there already, in column A; write it once"),
            ("student", "column B, student: is there already, in column A; write it once"),
            (
                "units",
                "column B, units: units cannot differ from student to student: bare numbers are the same for all; write it",
            ),
            (
                "stock.1.count",
                "column B, stock.1.count: stock cannot differ from student to student: the paper is the same for all",
            ),
            ("class.spare", "column B, class.spare: class cannot differ from student to student: the class is the same for all"),
            ("cutting", "column B, cutting: cutting cannot differ from student to student: how it is cut is the same for all"),
            (
                "print.font",
                "column B, print.font: print.font cannot differ from student to student: letters are the same for all",
            ),
            ("", 'column B: has no header; "name", or a key of the spec'),
        ],
    )
    def test_one_that_will_not_do(self, header: str, expected: str) -> None:
        (line,) = told(f"name,{header}\nAna,1\n")
        assert line.startswith(f"beans.csv:row 1: {expected}")

    def test_a_key_twice(self) -> None:
        assert told("name,title,Title\nAna,Peas,Beans\n") == [
            "beans.csv:row 1: column C, Title: is there already, in column B; write it once"
        ]

    def test_a_header_at_fault_does_not_hide_a_cell_at_fault(self) -> None:
        lines = told("name,sheets,text_block.sheets\nAna,1,ten\n")
        assert len(lines) == 2
        assert lines[1] == "beans.csv:row 2: column C, text_block.sheets: 'ten' is of the wrong kind; a whole number"

    def test_columns_are_counted_as_a_spreadsheet_does(self) -> None:
        assert [letter_of(n) for n in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]

    def test_there_is_a_column_for_every_key_of_a_book(self) -> None:
        keys = known_keys()
        assert {"title", "maker", "text_block.sheets", "sewing.spacing", "cover.square.head", "print.margin.top"} <= set(keys)
        assert {"tape.width", "cover.panels", "sewing.outer_tape"} <= set(keys)
        assert not {key for key in keys if key.split(".")[0] in ("units", "stock", "class", "cutting")}
        assert (keys["text_block.sheets"], keys["text_block.bulk"], keys["sewing.stations"]) == ("whole number", "number", "list")
        assert (keys["cover.style"], keys["cover.board"], keys["print.paper"]) == ("text", "length", "length")


class TestCells:
    @pytest.mark.parametrize(
        ("cell", "key", "comma", "expected"),
        [
            ("12", "text_block.sheets", False, 12),
            ("1e3", "text_block.sheets", False, "1e3"),
            ("1.0", "text_block.sheets", False, "1.0"),
            ("1,35", "text_block.bulk", True, 1.35),
            ("1.35", "text_block.bulk", False, 1.35),
            ("12,5", "sewing.spacing", True, "12.5"),
            ("12,5", "sewing.spacing", False, "12,5"),
            ("12,5 mm", "sewing.spacing", True, "12.5 mm"),
            ("1,200 mm", "sewing.spacing", True, "1,200 mm"),  # may be thousands
            ("21,5 x 28 cm", "text_block.sheet", True, "21.5 x 28 cm"),
            ("1.234,5", "sewing.spacing", True, "1.234,5"),  # told of as it was written
            ("4,5", "text_block.sheets", True, "4,5"),
            ("12,5", "title", True, "12,5"),
            ("15, 30, 2 in", "sewing.stations", False, ["15", "30", "2 in"]),
            ("15; 30", "sewing.stations", False, ["15", "30"]),
            ("[15,5, 30]", "sewing.stations", True, ["15.5", "30"]),
            ("80", "text_block.grammage", False, 80.0),
            ("20 lb bond", "text_block.weight", False, "20 lb bond"),
            ("flush", "text_block.trim", False, "flush"),
        ],
    )
    def test_it_is_read_as_its_key_wants(self, cell: str, key: str, comma: bool, expected: object) -> None:
        value = value_of(cell, known_keys()[key], decimal_comma=comma)
        assert value == expected
        assert type(value) is type(expected)

    def test_every_bad_cell_is_told_with_its_row_and_column(self) -> None:
        text = (
            "Name;text_block.sheets;sewing.spacing;cover.square.head;title\n"
            'Ana;ten;=1+1;9 cm;"Bell\x07"\n'
            '"Zoë\nQuill";;;;\n'
            ";4,5;1,200;;佐\n"
        )
        assert told(text) == [
            "beans.csv:row 2: column B, text_block.sheets: 'ten' is of the wrong kind; a whole number",
            (
                "beans.csv:row 2: column C, sewing.spacing: '=1+1' does not begin with a number; "
                'write it like "140 mm", "14 cm" or "5 1/2 in"'
            ),
            "beans.csv:row 2: column D, cover.square.head: 90 mm is out of range; 0 in to 1 31/32 in",
            "beans.csv:row 2: column E, title: holds control characters (U+0007); letters, figures, signs and spaces",
            "beans.csv:row 4: column B, text_block.sheets: '4,5' is of the wrong kind; a whole number",
            (
                "beans.csv:row 4: column C, sewing.spacing: '1,200' has a decimal comma; "
                "write 1.200 (or 1200, if thousands are meant)"
            ),
            (
                "beans.csv:row 4: column E, title: holds letters that the printed font lacks: "
                "佐 (cjk unified ideograph-4f50); Latin, Greek or Cyrillic letters, or print.font with a font that has them"
            ),
        ]

    def test_keys_that_make_no_book_together(self) -> None:
        lines = told("name,sewing.count,text_block.sheets\nAna,5,\nBo,,400\n")
        assert lines[0] == "beans.csv:row 2: sewing.spacing: excludes count, and both are written; spacing or count"
        assert lines[1].startswith("beans.csv:row 3: tape.width: a tape 4 in wide is narrower than the gap")
        assert len(lines) == 2

    def test_another_style_is_checked_as_one(self) -> None:
        (line,) = told("name,cover.style\nAna,concertina\n")
        assert line.startswith("beans.csv:row 2: sewing.spacing: ")

    @pytest.mark.parametrize(
        ("row", "expected"),
        [("Ana", "has 1 cell, and the row of headers has 2"), ("Ana,Peas,3,,", "has 5 cells, and the row of headers has 2")],
    )
    def test_too_few_cells_or_too_many(self, row: str, expected: str) -> None:
        lines = told(f"name,title\nBo,\n{row}\n")
        assert len(lines) == 1
        assert lines[0].startswith(f"beans.csv:row 3: {expected}; a cell for every header")

    def test_a_cell_too_long(self) -> None:
        assert told(f"name,title\nAna,{'x' * 201}\n") == ["beans.csv:row 2: column B, title: is 201 characters long; 200 at most"]

    def test_two_hundred_are_told_and_how_many_more(self) -> None:
        lines = told("name,text_block.sheets,sewing.spacing\n" + "Ana,ten,far\n" * 150)
        assert len(lines) == 201
        assert lines[199].startswith("beans.csv:row 101: column C, ")  # a hundred rows of two, below the headers
        assert lines[200] == "beans.csv: 100 more; mend these first"

    def test_problems_fit_on_a_line(self) -> None:
        lines = told('name,text_block.format\nAna,"quar\nto"\n')
        assert all("\n" not in line for line in lines)


class TestSpeed:
    def test_a_thousand_who_differ_take_a_few_seconds(self) -> None:
        text = "name,text_block.sheets,sewing.spacing\n" + "".join(f"S{n},{4 + n % 5},{12 + n / 1000} mm\n" for n in range(1000))
        begun = time.perf_counter()
        students = class_of(text)
        assert len(groups(students)) == 1000
        assert time.perf_counter() - begun < 20  # here about one

    def test_two_thousand_of_one_book_are_looked_at_once(self) -> None:
        begun = time.perf_counter()
        students = class_of("name\n" + "".join(f"Zoë {n}\n" for n in range(2000)))
        assert len(students) == 2000
        assert len({id(student.book) for student in students}) == 1
        assert time.perf_counter() - begun < 5


class TestSample:
    def test_the_allotment_class_is_one(self) -> None:
        table = read_students((SAMPLES / "allotment_class.csv").read_bytes(), "allotment_class.csv")
        students = roster((SAMPLES / "allotment_class.toml").read_bytes(), (), table)
        assert [student.name for student in students][1:6] == ["Zoë Quill", "Bo", "Ana Perez", 'Łucja "Lu" Wren', "Ines Marrow"]
        assert [numbers for _, numbers in groups(students)] == [(1, 3, 5, 8), (2, 6), (4,), (7,)]
        assert students[-1].place == "allotment_class.csv:row 10"  # a blank row is above
