"""The starter spec, and the questions that a terminal asks for it."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import tomllib
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES
from bookplates.pipeline import make_pack, plan, problems_of
from bookplates.spec.starter import QUESTIONS, ask, starter
from bookplates.spec.stock import Cutting, Stock
from bookplates.spec.tables import Head, Measured, Print, TextBlock
from bookplates.spec.taught import Class
from commands import bookplates, names_in, said_until, terminal
from fonts import font

USUAL = {key: proposed for key, _, proposed in QUESTIONS}


class Person:
    """Answers questions from a list, and hears what is said."""

    def __init__(self, *answers: str) -> None:
        self.answers = list(answers)
        self.asked: list[str] = []
        self.heard: list[str] = []

    def prompt(self, question: str, default: str = "") -> str:
        self.asked.append(question)
        return self.answers.pop(0) or default

    @classmethod
    def saying(cls, check: Callable[..., Any] | None = None, **answers: list[str]) -> tuple[Person, dict[str, str]]:
        """Somebody who gives these answers one after the other, then what is proposed; and what was understood."""
        person = cls(*(answer for key in USUAL for answer in (*answers.get(key, []), *([] if answers.get(key) else [""]))))
        return person, ask(person.prompt, person.heard.append, check)


class TestStarter:
    def test_it_makes_a_pack(self) -> None:
        made = make_pack(starter({}))
        assert made.plan.warnings == ()
        assert made.plan.text_block.leaf_height == pytest.approx(148.5)  # an A4 sheet halved twice
        assert made.pages > 5

    def test_every_commented_key_is_a_key_of_its_table(self) -> None:
        models = {"": Head, "text_block": TextBlock, "measured": Measured, "cover": STYLES["taped"], "print": Print}
        models |= dict(STYLES["taped"].tables) | {"sewing": PATTERNS["chain"]}
        models |= {"stock": Stock, "cutting": Cutting, "class": Class}
        table, offered = "", set()
        for line in starter({}).splitlines()[4:]:
            if found := re.match(r"(?:# )?\[?\[(\w+)\]", line):
                table = found[1]
            elif found := re.match(r"(?:# )?(\w+) = ", line):
                assert found[1] in models[table].model_fields, line
                offered.add(found[1])
        assert len(offered) > 30

    @pytest.mark.parametrize(
        "line", [n for n, line in enumerate(starter({}).splitlines()) if re.match(r"# \w+ = ", line) and n > 3]
    )
    def test_a_comment_made_a_key_is_taken(self, line: int, tmp_path: Path) -> None:
        lines = starter({}).splitlines()
        lines[line] = lines[line].removeprefix("# ")
        header = next((n for n in range(line, 0, -1) if re.match(r"(?:# )?\[", lines[n])), line)
        last = next((n for n in range(header + 1, len(lines)) if re.match(r"(?:# )?\[|$", lines[n])), len(lines))
        in_stock = lines[header].startswith("# [[")  # an entry needs a material, a name and a size or a length
        for n in range(header, last if in_stock else header + 1):
            lines[n] = lines[n].removeprefix("# ")
        (tmp_path / "my_font.ttf").write_bytes(font())
        assert problems_of("\n".join(lines), tmp_path) == ()

    def test_answers_stand_in_it(self) -> None:
        title = 'Beans "runner" \\ {peas}'
        worked_out = plan(starter({**USUAL, "title": title, "sheets": "4", "board": "3 mm", "units": "in"}))
        assert worked_out.title == title
        assert worked_out.text_block.sheets == 4
        assert worked_out.cover.board_thickness == pytest.approx(3)
        assert worked_out.units == "in"


class TestQuestions:
    def test_what_is_proposed_is_a_book(self) -> None:
        person, answers = Person.saying(problems_of)
        assert answers == USUAL
        assert person.heard == []
        assert len(person.asked) == len(QUESTIONS)

    def test_inches_propose_letter_paper(self) -> None:
        _, answers = Person.saying(problems_of, units=["in"])
        assert (answers["sheet"], answers["paper"]) == ("Letter", "Letter")

    @pytest.mark.parametrize("check", [None, problems_of])
    @pytest.mark.parametrize(
        ("key", "bad", "good"),
        [
            ("title", " ", "Beans"),
            ("title", "Bell\a", "Bell"),
            ("units", "inch", "in"),
            ("sheet", "A99", "A5"),
            ("sheet", "8.5 x", "8.5 x 11 in"),
            ("format", "duodecimo", "octavo"),
            ("sheets", "six", "6"),
            ("sheets", "0", "8"),
            ("sheets", "6\nbogus = 1", "6"),
            ("sheets", "9" * 5000, "6"),
            ("caliper", "0.1 furlong", "0.1 mm"),
            ("board", "2 cm", "2.5 mm"),
            ("paper", '"', "A3"),
        ],
    )
    def test_a_bad_answer_is_asked_for_again(self, check: Any, key: str, bad: str, good: str) -> None:
        person, answers = Person.saying(check, **{key: [bad, good]})
        assert answers[key] == good
        assert len(person.asked) == len(QUESTIONS) + 1
        assert len(person.heard) == 1
        assert len(person.heard[0].splitlines()) == 1

    def test_an_answer_that_only_makes_no_book_is_asked_for_again_too(self) -> None:
        # An A10 sheet, 26 x 37 mm, halved twice leaves 13 x 18.5 mm; leaves begin at 20 mm.
        person, answers = Person.saying(problems_of, sheet=["A10", "A3"])
        assert answers["sheet"] == "A3"
        assert len(person.heard) == 1

    def test_letters_that_are_none_do_not_end_it(self) -> None:
        _, answers = Person.saying(problems_of, title=["caf\udce9"])
        assert answers["title"] == "caf?"
        assert problems_of(starter(answers)) == ()


class TestNew:
    def test_it_writes_the_starter_which_makes_a_pack(self, tmp_path: Path) -> None:
        ran = bookplates("new", cwd=tmp_path)
        assert (ran.code, ran.err) == (0, "")
        assert (tmp_path / "book.toml").read_text() == starter({})
        assert bookplates("make", "book.toml", cwd=tmp_path).code == 0
        assert names_in(tmp_path) == {"book.toml", "book.pdf"}

    def test_it_leaves_what_is_there(self, tmp_path: Path) -> None:
        (tmp_path / "book.toml").write_text("mine")
        for name in ("book.toml", "."):
            ran = bookplates("new", name, cwd=tmp_path)
            assert (ran.code, ran.out) == (1, "")
            assert ran.err == f"{name}: is there already; another name, or move it away\n"
        assert (tmp_path / "book.toml").read_text() == "mine"
        assert names_in(tmp_path) == {"book.toml"}

    def test_standard_output_gets_nothing_else(self, tmp_path: Path) -> None:
        for name in ("-", "/dev/stdout"):
            assert bookplates("new", name, cwd=tmp_path).out == starter({})
        assert names_in(tmp_path) == set()

    def test_a_folder_that_is_not_there(self, tmp_path: Path) -> None:
        ran = bookplates("new", "nowhere/book.toml", cwd=tmp_path)
        assert ran.code == 1
        assert ran.err.startswith("nowhere/book.toml: cannot be written")

    def test_it_asks_on_a_terminal(self, tmp_path: Path) -> None:
        with terminal("new", "pool.toml", cwd=tmp_path) as (process, screen):
            for reply in ("Pool notes", "inches", "in", *[""] * (len(QUESTIONS) - 2)):
                said_until(screen, b"]: ")
                os.write(screen, reply.encode() + b"\n")
            said_until(screen, b"written; next, bookplates plan pool.toml")
            assert process.wait(20) == 0
        spec = tomllib.loads((tmp_path / "pool.toml").read_text())
        assert (spec["title"], spec["units"], spec["text_block"]["sheet"]) == ("Pool notes", "in", "Letter")

    def test_it_asks_nothing_where_it_could_not_write(self, tmp_path: Path) -> None:
        (tmp_path / "pool.toml").write_text("mine")
        with terminal("new", "pool.toml", cwd=tmp_path) as (process, screen):
            said = said_until(screen, b"is there already")
            assert process.wait(20) == 1
        assert b"Title" not in said

    def test_an_interrupt_at_a_question_is_130_and_writes_nothing(self, tmp_path: Path) -> None:
        with terminal("new", "pool.toml", cwd=tmp_path) as (process, screen):
            said_until(screen, b"]: ")
            for _ in range(20):  # one that comes between the question and the waiting is heard only with the next
                process.send_signal(signal.SIGINT)
                with suppress(subprocess.TimeoutExpired):
                    process.wait(1)
                    break
            assert process.returncode == 130
        assert names_in(tmp_path) == set()

    def test_a_pdf_is_not_poured_on_a_terminal(self, tmp_path: Path) -> None:
        (tmp_path / "pool.toml").write_text(starter({}))
        for arguments in (("make", "pool.toml", "-o", "-"), ("make", "pool.toml", "-o", "/dev/stdout")):
            with terminal(*arguments, cwd=tmp_path) as (process, screen):
                said = said_until(screen, b"fill the screen")
                assert process.wait(20) == 2
            assert b"%PDF" not in said
