"""The commands, each run as a program of its own: exit codes, streams and what they print."""

from __future__ import annotations

import dataclasses
import io
import json
import re
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from reportlab.pdfgen.canvas import Canvas
from typer.testing import CliRunner

from bookplates.cli import app
from bookplates.geometry import Size
from bookplates.pdf import write_pdf
from books import ORCHARD
from commands import MINIMAL, bookplates, names_in

WARNING = re.compile(r"^[^:]+:\d+: warning: [a-z_.]+: [^;]+; .+$")


@pytest.fixture
def orchard(tmp_path: Path) -> Path:
    path = tmp_path / "orchard.toml"
    path.write_text(ORCHARD)
    return path


class TestMake:
    def test_the_pack_is_named_after_the_spec_and_lies_in_the_current_folder(self, spec: Path, tmp_path: Path) -> None:
        work = tmp_path / "work"
        work.mkdir()
        ran = bookplates("make", spec, cwd=work)
        assert (ran.code, ran.err) == (0, "")
        assert names_in(work) == {"pool.pdf"}
        assert names_in(tmp_path) == {"work", "pool.toml"}
        verified, written = ran.out.splitlines()
        assert re.fullmatch(r"verified: \d+ parts, largest difference 0\.00\d\d mm", verified)
        assert re.fullmatch(r"pool\.pdf: \d+ pages, print at 100 %", written)

    def test_a_name_given_is_the_name(self, spec: Path, tmp_path: Path) -> None:
        assert bookplates("make", spec, "-o", tmp_path / "out.pdf", cwd=tmp_path).code == 0
        assert names_in(tmp_path) == {"pool.toml", "out.pdf"}
        with pikepdf.open(tmp_path / "out.pdf") as pdf:
            assert pdf.attachments["spec.toml"].get_file().read_bytes() == MINIMAL

    @pytest.mark.parametrize("name", ["-", "/dev/stdout"])
    def test_standard_output_has_the_pdf_and_people_read_the_other_stream(self, spec: Path, tmp_path: Path, name: str) -> None:
        ran = bookplates("make", spec, "-o", name, cwd=tmp_path)
        assert ran.code == 0
        assert ran.raw.startswith(b"%PDF-1.7")
        assert ran.raw.rstrip().endswith(b"%%EOF")
        assert ran.err.startswith("verified: ")
        assert names_in(tmp_path) == {"pool.toml"}

    def test_standard_input_is_read_and_answered_on_standard_output(self, tmp_path: Path) -> None:
        ran = bookplates("make", "-", given=MINIMAL, cwd=tmp_path)
        assert ran.code == 0
        assert ran.raw.startswith(b"%PDF-1.7")
        assert names_in(tmp_path) == set()

    def test_standard_input_to_a_file(self, tmp_path: Path) -> None:
        assert bookplates("make", "-", "-o", "pool.pdf", given=MINIMAL, cwd=tmp_path).code == 0
        assert names_in(tmp_path) == {"pool.pdf"}

    def test_warnings_name_file_and_line_and_do_not_stop(self, orchard: Path, tmp_path: Path) -> None:
        ran = bookplates("make", "orchard.toml", cwd=tmp_path)
        assert ran.code == 0
        assert len(ran.lines) == 2
        assert all(WARNING.match(line) for line in ran.lines)
        # sheets stand on line 8; punch_at_once is not written, its table begins on line 22
        assert [line.split(" warning: ")[0] for line in ran.lines] == ["orchard.toml:8:", "orchard.toml:22:"]
        assert names_in(tmp_path) == {"orchard.toml", "orchard.pdf"}

    def test_a_paper_too_small_is_refused_at_its_line(self, tmp_path: Path) -> None:
        (tmp_path / "pool.toml").write_bytes(MINIMAL + b'[print]\nmargin = 5\npaper = "A6"\n')
        ran = bookplates("make", "pool.toml", cwd=tmp_path)
        assert ran.code == 1
        assert ran.lines
        assert all(line.startswith("pool.toml:9: print.paper: ") for line in ran.lines)
        assert names_in(tmp_path) == {"pool.toml"}

    def test_a_pack_that_does_not_measure_as_planned_is_not_handed_over(
        self, spec: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
    ) -> None:
        def wrong(pack: Any) -> bytes:
            sheets = tuple(dataclasses.replace(sheet, correction=Size(1.001, 1)) for sheet in pack.pages)
            return write_pdf(dataclasses.replace(pack, pages=sheets))

        monkeypatch.setattr("bookplates.pdf.write_pdf", wrong)
        output = tmp_path / "out.pdf"
        output.write_bytes(b"as it was")
        ran = CliRunner().invoke(app, ["make", str(spec), "-o", str(output)])
        assert ran.exit_code == 3
        assert "pages 1-13: bar across reaches 100.1000 mm across the page, not 100.0000 mm" in ran.stderr
        assert "verified" not in ran.output
        assert output.read_bytes() == b"as it was"
        assert names_in(tmp_path) == {"pool.toml", "out.pdf"}


# The keys of the design's section 6; there may be more
TEXT_BLOCK_KEYS = {
    "leaf_width", "leaf_height", "block_width", "folios", "leaves", "pages", "sections", "folios_per_section", "caliper",
    "section_thickness", "thickness", "creep", "fore_edge_trim", "grain",
}  # fmt: skip
COVER_KEYS = {
    "style", "board_width", "board_height", "board_thickness", "boards_apart", "spine_piece_width", "gap", "open_width",
    "open_height",
}  # fmt: skip
SEWING_KEYS = {"pattern", "stations", "cover_stations", "holes", "thread_length", "steps", "thread_to_cut"}


class TestPlan:
    def test_json_has_every_key_and_lengths_in_mm(self, orchard: Path) -> None:
        ran = bookplates("plan", orchard, "--json")
        assert ran.code == 0
        plan = json.loads(ran.out)
        assert set(plan) >= {"title", "units", "text_block", "cover", "pieces", "sewing", "tape", "warnings"}
        assert set(plan["text_block"]) >= TEXT_BLOCK_KEYS
        assert set(plan["cover"]) >= COVER_KEYS
        assert set(plan["sewing"]) >= SEWING_KEYS
        assert set(plan["tape"]) >= {"width", "length", "on_board", "guide_offset"}
        assert all(set(w) == {"where", "what", "hint"} for w in plan["warnings"])
        for piece in plan["pieces"]:
            assert set(piece) >= {"name", "material", "count", "width", "height", "outline", "grain"}
        assert (plan["title"], plan["units"]) == ("Orchard notebook", "in")
        assert plan["cover"]["board_width"] == pytest.approx(104.775, abs=1e-6)  # 107.95 + 3.175 - 6.35
        assert plan["cover"]["boards_apart"] == pytest.approx(16.7, abs=1e-6)  # 4 + 2 x 6.35
        assert plan["cover"]["spine_piece_width"] is None
        assert plan["sewing"]["holes"] == []
        assert plan["tape"]["length"] == pytest.approx(308.8, abs=1e-6)  # 2 x 146.05 + 2 x 2 + 12.7
        assert len(plan["warnings"]) == len(ran.lines) == 2

    def test_people_get_both_units_and_every_warning(self, orchard: Path) -> None:
        ran = bookplates("plan", orchard)
        assert ran.code == 0
        assert "4 1/8 in (104.78 mm)" in ran.out
        assert "text_block.sections" in ran.out  # taken as usual
        assert len(ran.lines) == 2

    @pytest.mark.parametrize(
        "printing", ['paper = "A99"', "bar_across = 90", "margin = -1", 'bogus = "x"', 'paper = "A6"', "paper = []"]
    )
    def test_nothing_about_the_printer_keeps_a_book_from_being_planned(self, tmp_path: Path, printing: str) -> None:
        (tmp_path / "pool.toml").write_bytes(MINIMAL + f"[print]\n{printing}\n".encode())
        planned = CliRunner().invoke(app, ["plan", str(tmp_path / "pool.toml")])
        assert planned.exit_code == 0
        assert "board width" in planned.stdout
        assert all(":8: warning: print." in line for line in planned.stderr.splitlines())
        made = CliRunner().invoke(app, ["make", str(tmp_path / "pool.toml"), "-o", str(tmp_path / "pool.pdf")])
        assert made.exit_code == 1
        assert made.stderr
        assert all(":8: print." in line for line in made.stderr.splitlines())
        assert names_in(tmp_path) == {"pool.toml"}

    def test_a_print_that_is_no_table_is_only_warned_of(self) -> None:
        ran = bookplates("plan", "-", given=b"print = 3\n" + MINIMAL)
        assert ran.code == 0
        assert ran.err.startswith("-:1: warning: print: ")

    def test_letters_that_a_terminal_lacks_are_written_out(self) -> None:
        spec = MINIMAL.replace(b"Tide pool notes", "Łąka ×".encode())
        ran = bookplates("plan", "-", given=spec, env={"PYTHONIOENCODING": "latin-1"})
        assert ran.code == 0
        assert ran.raw.startswith(b"\\u0141\\u0105ka \xd7")
        assert json.loads(bookplates("plan", "-", "--json", given=spec, env={"PYTHONIOENCODING": "latin-1"}).out)


class TestMeasure:
    def test_json_gives_every_part_and_nothing_about_the_file(self, pack: Any) -> None:
        ran = bookplates("measure", "-", "--json", given=pack("orchard", "A4").pdf)
        assert (ran.code, ran.err) == (0, "")
        found = json.loads(ran.out)
        assert set(found) == {"pages", "parts"}
        keys = {"page", "plate", "name", "line", "width", "height", "paper_width", "paper_height"}
        assert all(set(part) == keys for part in found["parts"])
        assert {part["page"] for part in found["parts"]} == set(range(1, found["pages"] + 1))
        (board,) = [part for part in found["parts"] if (part["plate"], part["name"]) == ("board outline", "front board")]
        # 107.95 + 3.175 - 6.35 by 139.7 + 2 x 3.175
        assert (board["width"], board["height"]) == pytest.approx((104.775, 146.05), abs=0.001)
        assert (board["paper_width"], board["paper_height"]) == pytest.approx((104.775, 146.05), abs=0.001)

    def test_people_get_a_line_for_each_part(self, pack: Any, tmp_path: Path) -> None:
        (tmp_path / "pack.pdf").write_bytes(pack("orchard", "A4").pdf)
        ran = bookplates("measure", "pack.pdf", cwd=tmp_path)
        assert (ran.code, ran.err) == (0, "")
        (board,) = [line for line in ran.out.splitlines() if line.split()[1:5] == ["board", "outline", "front", "board"]]
        assert "104.78 × 146.05 mm" in board
        assert "(4 1/8 × 5 3/4 in)" in board

    def test_what_is_drawn_for_a_printer_that_is_off_has_that_size_beside_it(self, tmp_path: Path) -> None:
        spec = tmp_path / "pond.toml"
        spec.write_bytes(MINIMAL + b'[print]\nbar_along = "98 mm"\n')
        assert bookplates("make", str(spec), cwd=tmp_path).code == 0
        head, *lines = bookplates("measure", "pond.pdf", cwd=tmp_path).out.splitlines()
        bar = next(line for line in lines if "bar along" in line)
        assert head.endswith("as drawn in the PDF") and bar.endswith("  102.04 mm")  # 100 x 100 / 98 = 102.0408
        assert "100 mm (3 15/16 in)" in bar

    def test_a_pdf_without_parts_has_none(self, tmp_path: Path) -> None:
        page = io.BytesIO()
        canvas = Canvas(page)
        canvas.rect(50, 50, 100, 100)
        canvas.save()
        ran = bookplates("measure", "-", given=page.getvalue())
        assert ran.code == 0
        assert ran.out.startswith("1 page, no parts")
        assert json.loads(bookplates("measure", "-", "--json", given=page.getvalue()).out) == {"pages": 1, "parts": []}

    @pytest.mark.parametrize("data", [b"", b"\0" * 5000, MINIMAL, b"%PDF-1.7\n%%EOF\n", b"%PDF-1.7" + b"x" * 2000])
    def test_what_is_no_pdf_is_refused(self, data: bytes) -> None:
        ran = bookplates("measure", "-", given=data)
        assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1)
        assert ran.err.startswith("-: ")

    def test_names_in_a_pdf_cannot_steer_the_terminal(self) -> None:
        page = io.BytesIO()
        canvas = Canvas(page, pageCompression=0)
        canvas.addLiteral(r"/Part << /Plate (a\033[31m) /Name (b\nc) /Line /cut >> BDC 0 0 m 72 0 l S EMC")
        canvas.save()
        ran = bookplates("measure", "-", given=page.getvalue())
        assert ran.code == 0
        assert "\x1b" not in ran.out
        assert len(ran.out.splitlines()) == 2


def test_version_and_help() -> None:
    assert bookplates("--version").out == "bookplates 0.1.0\n"
    said = bookplates("--help").out
    assert all(command in said for command in ("make", "plan", "measure", "new", "schema"))
    for command in ("make", "plan", "measure", "new", "schema"):
        ran = bookplates(command, "--help")
        assert (ran.code, ran.err) == (0, "")
        assert "Example: bookplates" in ran.out
