"""What the command line refuses: which exit code, which lines, how soon, and with what loaded."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from pathlib import Path

import pytest

from commands import MINIMAL, bookplates, names_in

PROBLEM = re.compile(r"^[^:]+:\d+: [a-z_.]+: [^;]+; .+$")


FAULTY = b"""titel = "Beans"
title = ""
[text_block]
leaf = "100 x 150 mm"
folios = 0
[cover]
style = "taped"
bord = 2
mitre = "1 inch or so"
[sewing]
stations = ["20 mm", "10 mm"]
count = 3
"""


class TestRefusals:
    def test_every_problem_is_told_once_on_a_line_of_its_own_in_the_files_order(self, tmp_path: Path) -> None:
        (tmp_path / "beans.toml").write_bytes(FAULTY)
        ran = bookplates("make", "beans.toml", cwd=tmp_path)
        assert (ran.code, ran.out) == (1, "")
        assert all(PROBLEM.match(line) for line in ran.lines), ran.err
        found = [tuple(line.split(": ")[:2]) for line in ran.lines]
        for place in [
            ("beans.toml:1", "titel"),
            ("beans.toml:2", "title"),
            ("beans.toml:5", "text_block.folios"),
            ("beans.toml:8", "cover.bord"),
            ("beans.toml:9", "cover.mitre"),
        ]:
            assert found.count(place) == 1, place
        assert any(key.startswith("sewing.") for _, key in found)
        lines = [int(place.split(":")[1]) for place, _ in found]
        assert lines == sorted(lines)
        assert names_in(tmp_path) == {"beans.toml"}

    @pytest.mark.parametrize("command", ["make", "plan"])
    def test_the_same_problems_from_standard_input(self, tmp_path: Path, command: str) -> None:
        (tmp_path / "beans.toml").write_bytes(FAULTY)
        named = bookplates(command, "beans.toml", cwd=tmp_path)
        piped = bookplates(command, "-", given=FAULTY)
        assert piped.code == 1
        assert piped.err == named.err.replace("beans.toml:", "-:")

    @pytest.mark.parametrize(
        ("source", "line", "words"),
        [
            (b'title = "x"\n[text_block\nleaf = 1\n', 2, "[text_block"),
            (b'title = "x"\ntitle = "y"\n', 2, 'title = "y"'),
            (b'\n\ntitle = "Beans\n', 3, 'title = "Beans'),
        ],
    )
    def test_what_is_no_toml_is_quoted_with_its_line(self, tmp_path: Path, source: bytes, line: int, words: str) -> None:
        (tmp_path / "beans.toml").write_bytes(source)
        ran = bookplates("plan", "beans.toml", cwd=tmp_path)
        assert ran.code == 1
        assert len(ran.lines) == 1
        assert ran.err.startswith(f"beans.toml:{line}: ")
        assert words in ran.err

    def test_a_missing_key_is_told_at_its_tables_line_or_the_first(self, tmp_path: Path) -> None:
        (tmp_path / "beans.toml").write_bytes(b'\n[text_block]\nleaf = "100 x 150 mm"\n\n[cover]\nboard = 2\n')
        ran = bookplates("plan", "beans.toml", cwd=tmp_path)
        starts = [line.split(": ")[:2] for line in ran.lines]
        assert ["beans.toml:1", "title"] in starts
        assert ["beans.toml:2", "text_block.sheets"] in starts
        assert ["beans.toml:5", "cover.style"] in starts

    @pytest.mark.parametrize("name", ["nowhere.toml", ".", "pool.toml/below", "loop"])
    @pytest.mark.parametrize("command", ["make", "plan", "measure"])
    def test_a_file_that_cannot_be_read_is_1(self, spec: Path, tmp_path: Path, command: str, name: str) -> None:
        (tmp_path / "loop").symlink_to("loop")
        ran = bookplates(command, name, cwd=tmp_path)
        assert (ran.code, ran.out) == (1, "")
        assert re.fullmatch(rf"{re.escape(name)}: cannot be read \(.+\); .+", ran.lines[0])
        assert len(ran.lines) == 1
        assert names_in(tmp_path) == {"pool.toml", "loop"}

    @pytest.mark.skipif(os.geteuid() == 0, reason="root reads everything; the test above has what nobody can read")
    def test_a_file_that_may_not_be_read_is_1(self, spec: Path, tmp_path: Path) -> None:
        spec.chmod(0)
        assert "permission denied" in bookplates("plan", spec).err

    @pytest.mark.parametrize("arguments", [["plan", "/dev/zero"], ["make", "/dev/zero"], ["measure", "/dev/zero"]])
    def test_what_never_ends_is_refused_at_once(self, tmp_path: Path, arguments: list[str]) -> None:
        begun = time.monotonic()
        ran = bookplates(*arguments, cwd=tmp_path)
        assert time.monotonic() - begun < 1
        assert ran.code == 1
        assert "too" in ran.err
        with Path("/dev/zero").open("rb") as endless:
            assert bookplates(arguments[0], "-", stdin=endless, cwd=tmp_path).code == 1
        assert names_in(tmp_path) == set()

    @pytest.mark.parametrize("byte", [b"\n", b'"\\\n', b"a=1\n"])
    def test_a_spec_of_ten_megabytes_is_refused_at_once(self, tmp_path: Path, byte: bytes) -> None:
        path = tmp_path / "long.toml"
        path.write_bytes(byte * (10_000_000 // len(byte)))
        begun = time.monotonic()
        ran = bookplates("plan", path)
        assert time.monotonic() - begun < 1
        assert (ran.code, len(ran.lines)) == (1, 1)
        assert "64 KiB" in ran.err

    @pytest.mark.parametrize("piece", [b'"\\\n', b"'''\n", b"[[a]]\n", b"a.b.c.d = [[[[\n"])
    def test_the_longest_spec_of_nonsense_is_refused_soon(self, tmp_path: Path, piece: bytes) -> None:
        begun = time.monotonic()
        ran = bookplates("plan", "-", given=piece * (64_000 // len(piece)))
        assert time.monotonic() - begun < 2
        assert ran.code == 1

    @pytest.mark.parametrize("name", ["two words.toml", "line\nbreak and bell\a.toml", "\x1b[31m[b]red[b].toml"])
    def test_any_file_name_will_do_and_none_breaks_a_line(self, tmp_path: Path, name: str) -> None:
        (tmp_path / name).write_bytes(MINIMAL)
        ran = bookplates("make", name, cwd=tmp_path)
        assert ran.code == 0
        assert names_in(tmp_path) == {name, name.replace(".toml", ".pdf")}
        assert len(ran.out.splitlines()) == 2
        assert all(c.isprintable() for c in ran.out.replace("\n", ""))
        (tmp_path / name).write_bytes(MINIMAL.replace(b"title", b"titel"))
        ran = bookplates("make", name, cwd=tmp_path)
        assert ran.code == 1
        assert all(line.isprintable() and ".toml:1: tit" in line for line in ran.lines)

    def test_a_name_of_bytes_that_are_no_text_will_do(self, tmp_path: Path) -> None:
        name = os.path.join(os.fsencode(tmp_path), b"caf\xe9.toml")
        with open(name, "wb") as file:
            file.write(MINIMAL)
        assert bookplates("make", name, cwd=tmp_path).code == 0
        assert os.path.exists(name.replace(b".toml", b".pdf"))

    @pytest.mark.parametrize("arguments", [[], ["make"], ["make", "a", "b"], ["bind", "x"], ["plan", "--jso", "x"]])
    def test_wrong_use_is_2(self, tmp_path: Path, arguments: list[str]) -> None:
        ran = bookplates(*arguments, cwd=tmp_path)
        assert (ran.code, ran.out) == (2, "")
        assert "Usage: " in ran.err
        assert names_in(tmp_path) == set()

    def test_an_empty_name_for_the_output_is_wrong_use(self, spec: Path, tmp_path: Path) -> None:
        assert bookplates("make", spec, "-o", "", cwd=tmp_path).code == 2
        assert names_in(tmp_path) == {"pool.toml"}


class TestLate:
    def test_a_refused_spec_loads_no_reader_or_writer_of_pdfs(self, tmp_path: Path) -> None:
        (tmp_path / "beans.toml").write_bytes(FAULTY)
        run = f"sys.argv[1:] = ['make', {str(tmp_path / 'beans.toml')!r}]\ntry:\n    main()\nfinally:\n    print(*sys.modules)"
        code = f"import sys\nfrom bookplates.__main__ import main\n{run}"
        ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
        assert ran.returncode == 1
        assert set(ran.stdout.split()) & {"pydantic", "reportlab", "pypdf", "PIL"} == {"pydantic"}

    def test_every_public_name_can_be_had(self) -> None:
        import bookplates as package

        assert {name for name in package.__all__ if getattr(package, name) is None} == set()
        assert set(dir(package)) == set(package.__all__)
        with pytest.raises(AttributeError, match="no attribute 'bind'"):
            _ = package.bind
