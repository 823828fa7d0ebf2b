"""Reading and writing files: whole or not at all, over the right thing, with the right permissions."""

from __future__ import annotations

import os
import stat
import subprocess
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from bookplates.errors import BadFile
from bookplates.files import (
    check_new,
    is_pdf,
    read_bytes,
    read_pdf,
    read_spec_or_pack,
    reading,
    write_bytes,
    write_new,
    write_together,
)
from commands import MINIMAL, PROGRAM, bookplates, names_in

OLD, NEW = b"as it was", b"%PDF- as it is to be\n" * 1000


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "old.pdf").write_bytes(OLD)
    return tmp_path


@pytest.fixture
def umask() -> Iterator[Any]:
    before = os.umask(0o022)
    yield os.umask
    os.umask(before)


def permissions(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


class TestReplacing:
    def test_a_file_is_replaced_whole_and_nothing_else_is_left(self, folder: Path) -> None:
        write_bytes(str(folder / "old.pdf"), NEW)
        assert (folder / "old.pdf").read_bytes() == NEW
        assert names_in(folder) == {"old.pdf"}

    @pytest.mark.parametrize(("mask", "mode"), [(0o022, 0o644), (0o027, 0o640), (0o077, 0o600), (0o002, 0o664)])
    def test_a_new_file_has_the_permissions_the_umask_leaves(self, folder: Path, umask: Any, mask: int, mode: int) -> None:
        umask(mask)
        write_bytes(str(folder / "new.pdf"), NEW)
        assert permissions(folder / "new.pdf") == mode
        assert umask(0o022) == mask  # as before

    @pytest.mark.parametrize("mode", [0o600, 0o640, 0o664, 0o666, 0o755])
    def test_a_file_that_was_there_keeps_its_permissions(self, folder: Path, umask: Any, mode: int) -> None:
        umask(0o022)
        (folder / "old.pdf").chmod(mode)
        write_bytes(str(folder / "old.pdf"), NEW)
        assert permissions(folder / "old.pdf") == mode

    def test_a_file_that_may_not_be_written_is_left(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        (folder / "old.pdf").chmod(0o444)
        monkeypatch.setattr(os, "access", lambda *_: False)  # root may write everywhere
        with pytest.raises(BadFile, match="may not be written"):
            write_bytes(str(folder / "old.pdf"), NEW)
        assert (folder / "old.pdf").read_bytes() == OLD

    @pytest.mark.parametrize("target", ["old.pdf", "not there yet.pdf"])
    def test_a_symlink_is_written_through_and_stays(self, folder: Path, target: str) -> None:
        (folder / "elsewhere").mkdir()
        link = folder / "elsewhere" / "link.pdf"
        link.symlink_to(Path("..") / target)
        write_bytes(str(link), NEW)
        assert link.is_symlink()
        assert (folder / target).read_bytes() == NEW
        assert names_in(folder / "elsewhere") == {"link.pdf"}

    def test_a_relative_name_is_in_the_current_folder(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.chdir(folder)
        write_bytes("new.pdf", NEW)
        write_bytes("./old.pdf", NEW)
        assert (folder / "new.pdf").read_bytes() == (folder / "old.pdf").read_bytes() == NEW

    @pytest.mark.parametrize("call", ["fsync", "replace", "fdopen"])
    @pytest.mark.parametrize("fault", [KeyboardInterrupt(), SystemExit(130), OSError(28, "No space left on device")])
    def test_what_goes_wrong_half_way_leaves_everything_as_it_was(
        self, folder: Path, monkeypatch: pytest.MonkeyPatch, call: str, fault: BaseException
    ) -> None:
        def failing(*_: object, **__: object) -> None:
            raise fault

        monkeypatch.setattr(os, call, failing)
        for name in ("old.pdf", "new.pdf"):
            with pytest.raises((BadFile, KeyboardInterrupt, SystemExit)):
                write_bytes(str(folder / name), NEW)
        monkeypatch.undo()
        assert (folder / "old.pdf").read_bytes() == OLD
        assert names_in(folder) == {"old.pdf"}


class TestTogether:
    """Several files, all of them or none."""

    def test_all_are_written_into_a_folder_that_is_made(self, folder: Path, umask: Any) -> None:
        umask(0o027)
        made = folder / "made"
        write_together([(str(folder / "old.pdf"), NEW), (f"{made}/a.svg", b"a"), (f"{made}/b.svg", b"b")], folder=str(made))
        assert (folder / "old.pdf").read_bytes() == NEW
        assert {path.name: path.read_bytes() for path in made.iterdir()} == {"a.svg": b"a", "b.svg": b"b"}
        assert permissions(made) == 0o750
        assert permissions(made / "a.svg") == 0o640
        assert names_in(folder) == {"old.pdf", "made"}

    def test_what_was_in_the_folder_is_replaced_or_left(self, folder: Path) -> None:
        (folder / "other.txt").write_bytes(OLD)
        (folder / "a.svg").write_bytes(OLD)
        (folder / "a.svg").chmod(0o600)
        write_together([(f"{folder}/a.svg", b"a"), (f"{folder}/b.svg", b"b")], folder=f"{folder}/")
        assert ((folder / "a.svg").read_bytes(), permissions(folder / "a.svg")) == (b"a", 0o600)
        assert (folder / "other.txt").read_bytes() == OLD
        assert names_in(folder) == {"old.pdf", "other.txt", "a.svg", "b.svg"}

    @pytest.mark.parametrize("call", ["fdopen", "fsync", "replace", "chmod", "mkdir"])
    @pytest.mark.parametrize("fault", [KeyboardInterrupt(), SystemExit(130), OSError(28, "No space left on device")])
    @pytest.mark.parametrize("good", range(4))
    @pytest.mark.parametrize("linked", [True, False])
    def test_what_fails_at_any_step_leaves_everything_as_it_was(  # noqa: PLR0917  # every pair of them
        self, folder: Path, monkeypatch: pytest.MonkeyPatch, call: str, fault: BaseException, good: int, linked: bool
    ) -> None:
        for name in ("a.svg", "c.svg"):
            (folder / name).write_bytes(OLD)
            (folder / name).chmod(0o640)
        if not linked:  # as on a memory stick
            monkeypatch.setattr(os, "link", lambda *_, **__: (_ for _ in ()).throw(OSError(1, "no hard links")))
        fails_once_after(monkeypatch, call, good, fault)
        outputs = [(f"{folder}/{name}", NEW) for name in ("old.pdf", "a.svg", "b.svg", "made/x.svg", "c.svg")]
        if call == "mkdir" and good:
            write_together(outputs, folder=f"{folder}/made")  # only one folder is made
            return
        with pytest.raises((BadFile, KeyboardInterrupt, SystemExit)):
            write_together(outputs, folder=f"{folder}/made")
        monkeypatch.undo()
        assert names_in(folder) == {"old.pdf", "a.svg", "c.svg"}
        assert all((folder / name).read_bytes() == OLD for name in names_in(folder))
        assert permissions(folder / "a.svg") == permissions(folder / "c.svg") == 0o640

    def test_a_stream_that_breaks_takes_the_files_back(self, folder: Path) -> None:
        with pytest.raises(BadFile, match="/dev/full: cannot be written"):
            write_together(
                [("/dev/full", NEW), (f"{folder}/old.pdf", NEW), (f"{folder}/made/x.svg", NEW)], folder=f"{folder}/made"
            )
        assert (folder / "old.pdf").read_bytes() == OLD
        assert names_in(folder) == {"old.pdf"}

    @pytest.mark.parametrize(
        ("name", "why"),
        [
            ("taken.svg", "taken.svg: cannot be written .it is a folder"),
            ("nowhere/x.svg", "nowhere/x.svg: cannot be written .no such file"),
            ("input.toml", "input.toml: is the file that is read"),
            ("./a.svg", "a.svg: would be written twice"),
            ("link.svg", "link.svg: would be written twice"),
        ],
    )
    def test_one_that_cannot_be_is_named_and_the_others_are_not_written(self, folder: Path, name: str, why: str) -> None:
        (folder / "taken.svg").mkdir()
        (folder / "input.toml").write_bytes(OLD)
        (folder / "link.svg").symlink_to("a.svg")
        outputs = [(f"{folder}/a.svg", NEW), (f"{folder}/b.svg", NEW), (f"{folder}/{name}", NEW)]
        with pytest.raises(BadFile, match=why):
            write_together(outputs, folder=f"{folder}/made", source=f"{folder}/input.toml")
        assert names_in(folder) == {"old.pdf", "taken.svg", "input.toml", "link.svg"}

    @pytest.mark.parametrize(
        ("name", "why"), [("old.pdf", "it is a file"), ("no/where", "no such file"), ("loop", "symbolic links|exists")]
    )
    def test_a_folder_that_cannot_be_is_named(self, folder: Path, name: str, why: str) -> None:
        (folder / "loop").symlink_to("loop")
        with pytest.raises(BadFile, match=f"{name}: cannot be written .*({why})"):
            write_together([(f"{folder}/{name}/a.svg", NEW)], folder=f"{folder}/{name}")
        assert names_in(folder) == {"old.pdf", "loop"}


def fails_once_after(monkeypatch: pytest.MonkeyPatch, call: str, good: int, fault: BaseException) -> None:
    """Let a call of the system fail once, after it has done well so many times."""
    real, calls = getattr(os, call), []

    def failing(*arguments: Any, **options: Any) -> Any:
        calls.append(call)
        if len(calls) == good + 1:
            raise fault
        return real(*arguments, **options)

    monkeypatch.setattr(os, call, failing)


class TestRefused:
    @pytest.mark.parametrize(
        ("name", "why"),
        [
            ("", "folder"),
            ("sub", "folder"),
            ("sub/", "folder"),
            ("nowhere/", "no such folder"),
            ("nowhere/out.pdf", "no such file or directory"),
            ("old.pdf/out.pdf", "not a directory"),
            ("old.pdf/", "not a directory"),
            ("loop", "symbolic links"),
            ("nul\0.pdf", "null"),
            ("x" * 300, "too long"),
        ],
    )
    def test_what_cannot_be_written_is_told_and_nothing_is_made(self, folder: Path, name: str, why: str) -> None:
        (folder / "sub").mkdir()
        (folder / "loop").symlink_to("loop")
        with pytest.raises(BadFile, match=why):
            write_bytes(f"{folder}/{name}", NEW)
        assert names_in(folder) == {"old.pdf", "sub", "loop"}
        assert names_in(folder / "sub") == set()
        assert (folder / "loop").is_symlink()
        assert (folder / "old.pdf").read_bytes() == OLD

    @pytest.mark.skipif(os.geteuid() == 0, reason="root writes everywhere; a folder below a file, above, is closed to root too")
    def test_a_folder_that_may_not_be_written_to(self, folder: Path) -> None:
        folder.chmod(0o555)
        with pytest.raises(BadFile, match="permission denied"):
            write_bytes(str(folder / "new.pdf"), NEW)
        folder.chmod(0o755)
        assert names_in(folder) == {"old.pdf"}

    def test_by_command_it_is_1_with_the_name_and_no_file(self, folder: Path) -> None:
        (folder / "pool.toml").write_bytes(MINIMAL)
        for name in ("nowhere/out.pdf", "."):
            ran = bookplates("make", "pool.toml", "-o", name, cwd=folder)
            assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1)
            assert ran.err.startswith(f"{name}: cannot be written (")
        assert names_in(folder) == {"old.pdf", "pool.toml"}


class TestOutputThatIsTheInput:
    @pytest.mark.parametrize("name", ["pool.toml", "./pool.toml", "sub/../pool.toml", "symlink", "hard link", "sub/symlink"])
    def test_is_refused_by_any_name(self, folder: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
        monkeypatch.chdir(folder)
        (folder / "sub").mkdir()
        spec = folder / "pool.toml"
        spec.write_bytes(MINIMAL)
        (folder / "symlink").symlink_to("pool.toml")
        (folder / "sub/symlink").symlink_to(folder / "symlink")
        (folder / "hard link").hardlink_to(spec)
        for source in ("pool.toml", "symlink", "hard link", str(spec)):
            with pytest.raises(BadFile, match="is the file that is read"):
                write_bytes(name, NEW, source=source)
        assert spec.read_bytes() == MINIMAL

    def test_is_refused_by_command(self, folder: Path) -> None:
        (folder / "pool.toml").write_bytes(MINIMAL)
        (folder / "pool.pdf").hardlink_to(folder / "pool.toml")  # the name it would get by itself
        ran = bookplates("make", "pool.toml", cwd=folder)
        assert (ran.code, ran.lines) == (1, ["pool.pdf: is the file that is read; another name for the output, with -o"])
        assert (folder / "pool.toml").read_bytes() == MINIMAL

    def test_is_refused_where_a_standard_stream_is_that_file(self, folder: Path) -> None:
        spec = folder / "pool.toml"
        spec.write_bytes(MINIMAL)
        with spec.open("rb") as opened:
            assert bookplates("make", "-", "-o", spec, stdin=opened).code == 1
        with spec.open("ab") as opened:
            assert bookplates("make", spec, "-o", "-", stdout=opened).code == 1
        assert spec.read_bytes() == MINIMAL

    def test_a_copy_is_another_file(self, folder: Path) -> None:
        (folder / "pool.toml").write_bytes(NEW)
        write_bytes(str(folder / "old.pdf"), NEW, source=str(folder / "pool.toml"))
        assert (folder / "old.pdf").read_bytes() == NEW


class TestNoRegularFile:
    def test_a_pipe_gets_everything_and_stays_a_pipe(self, folder: Path) -> None:
        pipe = folder / "pipe"
        os.mkfifo(pipe)
        got: list[bytes] = []
        reader = threading.Thread(target=lambda: got.append(pipe.read_bytes()))
        reader.start()
        write_bytes(str(pipe), NEW * 50)  # far more than a pipe holds
        reader.join(20)
        assert got == [NEW * 50]
        assert stat.S_ISFIFO(pipe.stat().st_mode)
        assert names_in(folder) == {"old.pdf", "pipe"}

    def test_a_device_stays_a_device(self) -> None:
        write_bytes("/dev/null", NEW)
        assert stat.S_ISCHR(Path("/dev/null").stat().st_mode)
        with pytest.raises(BadFile, match="no space left"):
            write_bytes("/dev/full", NEW)

    def test_a_pipe_that_the_shell_names_will_do(self, folder: Path) -> None:
        (folder / "pool.toml").write_bytes(MINIMAL)
        read, write = os.pipe()
        command = [*PROGRAM, "make", str(folder / "pool.toml"), "-o", f"/dev/fd/{write}"]
        with subprocess.Popen(command, pass_fds=[write], stdout=subprocess.DEVNULL) as process:
            os.close(write)
            with os.fdopen(read, "rb") as pipe:
                assert pipe.read().startswith(b"%PDF-1.7")
        assert process.returncode == 0

    def test_what_a_pipe_brings_is_read(self, folder: Path) -> None:
        os.mkfifo(folder / "pipe")
        writer = threading.Thread(target=lambda: (folder / "pipe").write_bytes(MINIMAL))
        writer.start()
        assert read_bytes(str(folder / "pipe"), 1000) == MINIMAL
        writer.join(20)


class TestReading:
    def test_no_more_is_read_than_one_byte_too_many(self, folder: Path) -> None:
        assert read_bytes(str(folder / "old.pdf"), 9) == OLD
        assert read_bytes(str(folder / "old.pdf"), 5) == OLD[:6]
        assert len(read_bytes("/dev/zero", 1000)) == 1001

    def test_a_pdf_beyond_all_measure_is_refused(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(reading, "LARGEST_PDF", 9)
        assert read_pdf(str(folder / "old.pdf")) == OLD
        monkeypatch.setattr(reading, "LARGEST_PDF", 8)
        with pytest.raises(BadFile, match="too large"):
            read_pdf(str(folder / "old.pdf"))

    @pytest.mark.parametrize("name", ["nowhere", "", "old.pdf/below", "nul\0", "loop"])
    def test_what_cannot_be_read_is_told(self, folder: Path, name: str) -> None:
        (folder / "loop").symlink_to("loop")
        with pytest.raises(BadFile, match=r"cannot be read \("):
            read_bytes(f"{folder}/{name}", 10)


class TestSpecOrPack:
    LONG = b"# %PDF-1.7 is what comes out" + b"#" * 70_000

    def test_a_spec_is_read_no_further_than_it_may_be_long(self, folder: Path) -> None:
        (folder / "long.toml").write_bytes(b"#" * 200_000)
        assert len(read_spec_or_pack(str(folder / "long.toml"))) == 64 * 1024 + 1
        assert len(read_spec_or_pack("/dev/zero")) == 64 * 1024 + 1

    def test_a_pack_is_read_whole(self, folder: Path) -> None:
        pack = b"%PDF-1.7" + b"x" * 200_000
        (folder / "pack.pdf").write_bytes(pack)
        assert read_spec_or_pack(str(folder / "pack.pdf")) == pack

    @pytest.mark.parametrize(
        ("data", "found"),
        [
            (b"%PDF-1.4\n...", True),
            (b"\r\n%PDF-1.4\n...", True),
            (b"left by mail\n%PDF-1.4 ... %%EOF\n", True),
            (b'title = "how %PDF-1.7 came about"', False),
            (LONG, False),
            (b"", False),
        ],
    )
    def test_which_is_which(self, data: bytes, found: bool) -> None:
        assert is_pdf(data) == found


class TestNew:
    @pytest.mark.parametrize("name", ["old.pdf", ".", "link"])
    def test_what_is_there_is_left(self, folder: Path, name: str) -> None:
        (folder / "link").symlink_to("old.pdf")
        for write in (check_new, lambda path: write_new(path, NEW)):
            with pytest.raises(BadFile, match="is there already"):
                write(str(folder / name))
        assert (folder / "old.pdf").read_bytes() == OLD

    def test_what_is_not_there_is_made(self, folder: Path) -> None:
        write_new(str(folder / "new.toml"), NEW)
        assert (folder / "new.toml").read_bytes() == NEW
        write_new("/dev/null", NEW)
