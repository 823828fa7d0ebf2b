"""What the README promises: its two commands, its examples, and every key with its usual value and its range."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from bookplates import make_pack
from bookplates.errors import BadFile
from bookplates.handout.facts import chapters
from bookplates.kinds.keys import Squares
from bookplates.kinds.pairs import patterns_for
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES
from bookplates.pipeline import plan, problems_of
from bookplates.pipeline.book import checked_spec
from bookplates.spec.stock import Cutting, Stock
from bookplates.spec.tables import Head, Measured, Print, TextBlock
from bookplates.spec.taught import Class
from bookplates.workshop.students.differing import read_students
from bookplates.workshop.students.roster import groups, roster
from commands import bookplates

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
HEAD = "above the first table"
BOOK = {
    HEAD: {"title": '"Pond notes"'},
    "text_block": {"sheet": '"A4"', "format": '"quarto"', "sheets": "5"},
    "cover": {"style": '"taped"'},
}
PAMPHLET = b"""
title = "Bean rows"
text_block = { sheet = "A4", format = "quarto", sheets = 5 }
cover = { style = "case", covering = "quarter" }
sewing = { pattern = "pamphlet" }
"""
COMPANIONS = {"grammage": {"bulk": "1"}, "bulk": {"grammage": "100"}}
"""Keys that may not stand alone, with another to stand beside them."""
SHEET = {"material": '"cover paper"', "name": '"bean rows print"', "size": '"A3"'}
ROLL = {"material": '"tape"', "name": '"cloth tape"', "length": '"5 m"'}


def fences(kind: str) -> list[str]:
    return [code.strip() for code in re.findall(rf"^```{kind}\n(.*?)^```", README, re.DOTALL | re.MULTILINE)]


def rows() -> list[tuple[str, str, str, str]]:
    """Table, key, usual value and range of each row of the reference."""
    found, table = [], ""
    for line in README.splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) == 4 and cells[1:3] == ["what it is", "usual value"]:
            table = cells[0].strip("[]")  # [[stock]], too
        elif len(cells) == 4 and table and cells[0].startswith("`"):
            found.append((table, cells[0].strip("`"), cells[2], cells[3]))
        elif not line.startswith("|"):
            table = ""
    return found


ROWS = rows()
FIXED = [(table, key, usual) for table, key, usual, _ in ROWS if re.fullmatch(r"`[^`]+`", usual)]
RANGES = [
    (table, key, float(found[1]), float(found[2]), bool(found[3]))
    for table, key, _, allowed in ROWS
    if (found := re.search(r"\b([\d.]+) to ([\d.]+)( mm)?", allowed)) and key not in ("title", "name", "count")
]


def book(table: str, key: str, value: str) -> str:
    """A book with one key more, or with another value of it."""
    tables = {name: dict(keys) for name, keys in BOOK.items()}
    style, pattern = kind_of(table, key)
    tables["cover"] |= {"style": f'"{style}"'} | ({"hinge": '"1 in"'} if key == "hinge_gap" else {})
    tables["text_block"] |= {"sections": "3"} if PATTERNS[pattern].least_sections > 1 else {}
    if pattern != STYLES[style].default_pattern:
        tables["sewing"] = {"pattern": f'"{pattern}"'}
    if table == "stock":
        tables["stock"] = dict(ROLL if key in ("length", "width") else SHEET)
    tables.setdefault(table, {}).update({**COMPANIONS.get(key, {}), key: value})
    lines = [f"{name} = {written}" for name, written in tables.pop(HEAD).items()]
    for name, keys in tables.items():
        lines += [f"[[{name}]]" if name == "stock" else f"[{name}]", *(f"{key} = {written}" for key, written in keys.items())]
    return "\n".join(lines)


def kind_of(table: str, key: str) -> tuple[str, str]:
    """A style and a pattern that the key goes with."""
    if table == "cover":
        style = next(name for name, keys in STYLES.items() if key in keys.model_fields)
        return style, STYLES[style].default_pattern
    if table == "sewing":
        pattern = next(name for name, keys in PATTERNS.items() if key in keys.model_fields)
        return next(name for name in STYLES if pattern in patterns_for(name)), pattern
    return "taped", "chain"


def usual_book(table: str, key: str) -> str:
    """The same book without that key."""
    return "\n".join(line for line in book(table, key, "0").splitlines() if line != f"{key} = 0")


def written(key: str, value: float, in_mm: bool) -> str:
    if key in ("sheet", "leaf", "paper", "large_paper", "size"):
        return f'"{value:.7g} x {value:.7g} mm"'
    return f'"{value:.7g} mm"' if in_mm else f"{value:.7g}"


def out_of_range(table: str, key: str, value: str) -> bool:
    where = f"stock.1.{key}" if table == "stock" else f"{table}.{key}"
    told = [problem.what for problem in problems_of(book(table, key, value)) if problem.where.startswith(where)]
    return any("out of range" in what or "set to fit to page" in what for what in told)


class TestCommands:
    def test_the_first_makes_a_pack_the_second_runs_the_tests(self) -> None:
        first, second, *_ = fences("sh")
        assert first.startswith("python3 -m venv .venv && ")
        assert first.endswith(".venv/bin/bookplates make sample_specs/orchard_notebook.toml")
        assert second.startswith("python3 -m venv .venv-tests && ")
        assert second.endswith(".venv-tests/bin/python -m pytest")
        assert all(len(command.splitlines()) == 1 and "$" not in command for command in (first, second))

    def test_the_first_picture_comes_before_them(self) -> None:
        assert README.index("![") < README.index("```sh")

    def test_every_command_is_named(self) -> None:
        listed = re.findall(r"^  (\w+) +\S", bookplates("--help").out.split("Commands:")[1], re.MULTILINE)
        assert len(listed) > 4
        assert all(f"| `bookplates {command} " in README or f"| `bookplates {command}` " in README for command in listed)


class TestFiles:
    @pytest.mark.parametrize("target", sorted(set(re.findall(r"\]\(([^)#:]+)\)", README))))
    def test_what_it_points_to_is_there(self, target: str) -> None:
        assert (ROOT / target).exists()

    @pytest.mark.parametrize("picture", sorted((ROOT / "sample_specs").glob("*.png")), ids=lambda path: path.stem)
    def test_a_picture_is_shown_and_small(self, picture: Path) -> None:
        assert f"](sample_specs/{picture.name})" in README
        assert picture.stat().st_size < 60_000

    @pytest.mark.parametrize("sample", sorted((ROOT / "sample_specs").glob("*.toml")), ids=lambda path: path.stem)
    def test_a_sample_is_named_and_makes_a_pack(self, sample: Path) -> None:
        assert f"sample_specs/{sample.name}" in README
        assert make_pack(sample.read_bytes()).pages > 5


class TestSpec:
    def test_the_book_described_is_one(self) -> None:
        described = next(code for code in fences("toml") if code.startswith("title"))
        assert plan(described).text_block.pages == 80  # ten sheets, each a quarto of four leaves, two pages a leaf

    def test_the_faults_shown_are_what_is_said(self, tmp_path: Path) -> None:
        shown = next(code for code in fences("text") if code.startswith("book.toml:"))
        lines = ['title = "Pond notes"', "", "[text_block]", 'sheet = "Letter"', 'format = "quarto"', "sheets = 10", "[cover]"]
        lines += ['bord = "2 mm"', 'style = "taped"', "[tape]", 'width = "20 mm"']
        (tmp_path / "book.toml").write_text("\n".join(lines))
        ran = bookplates("plan", "book.toml", cwd=tmp_path)
        assert (ran.code, ran.err.strip()) == (1, shown)

    def test_the_stock_and_the_class_shown_are_read(self) -> None:
        for code in fences("toml"):
            if code.startswith(("[[stock]]", "[class]")):
                assert problems_of(f"{book('cover', 'board', '2')}\n{code}") == ()
        assert sum(code.startswith(("[[stock]]", "[class]")) for code in fences("toml")) == 2

    def test_the_students_shown_are_a_class(self) -> None:
        shown = next(code for code in fences("text") if code.startswith("name,"))
        students = roster(PAMPHLET, (), read_students(shown.encode(), "beans.csv"))
        assert [student.name for student in students] == ["Ana Perez", "Zoë Quill", "Bo"]
        assert [numbers for _, numbers in groups(students)] == [(1, 3), (2,)]

    def test_the_fault_of_a_cell_shown_is_what_is_said(self) -> None:
        table = b"name,text_block.sheets\nAna Perez,\nBo,ten\n"
        with pytest.raises(BadFile) as told:
            roster(PAMPHLET, (), read_students(table, "beans.csv"))
        assert str(told.value) in fences("text")

    @pytest.mark.parametrize(
        ("table", "models"),
        [
            (HEAD, [Head]),
            ("text_block", [TextBlock]),
            ("measured", [Measured]),
            ("cover", list(STYLES.values())),
            *((name, [model]) for style in STYLES.values() for name, model in style.tables.items()),
            ("sewing", list(PATTERNS.values())),
            ("print", [Print]),
            ("stock", [Stock]),
            ("cutting", [Cutting]),
            ("class", [Class]),
        ],
        ids=lambda value: value if isinstance(value, str) else "",
    )
    def test_every_key_has_its_row(self, table: str, models: list) -> None:
        keys = {key for model in models for key in model.model_fields}
        keys -= {name for style in STYLES.values() for name in style.tables}  # tables of their own
        assert {key for where, key, *_ in ROWS if where == table} == keys

    def test_the_sides_of_a_square_are_named(self) -> None:
        written = next(allowed for _, key, _, allowed in ROWS if key == "square")
        table = re.search(r"`(\{.*\})`", written)
        assert table
        assert tomllib.loads(f"square = {table[1]}")["square"].keys() == Squares.model_fields.keys()

    @pytest.mark.parametrize(("table", "key", "usual"), FIXED)
    def test_a_usual_value_written_out_changes_nothing(self, table: str, key: str, usual: str) -> None:
        written_out, as_usual = plan(book(table, key, usual.strip("`"))), plan(usual_book(table, key))
        assert chapters(written_out) == chapters(as_usual)
        specs = [checked_spec(text, for_printing=True) for text in (book(table, key, usual.strip("`")), usual_book(table, key))]
        assert [(spec.stock, spec.cutting, spec.taught) for spec in specs[:1]] == [
            (spec.stock, spec.cutting, spec.taught) for spec in specs[1:]
        ]

    @pytest.mark.parametrize(("table", "key", "least", "most", "in_mm"), RANGES)
    def test_a_range_is_the_programs(self, table: str, key: str, least: float, most: float, in_mm: bool) -> None:
        step = (
            1
            if key in ("sheets", "folios", "sections", "punch_at_once", "tapes", "pairs", "panels", "copies", "students")
            else 0.01
        )
        ends = (least, most, least - step, most + step)
        found = [out_of_range(table, key, written(key, end, in_mm)) for end in ends]
        assert found == [False, False, True, True]
