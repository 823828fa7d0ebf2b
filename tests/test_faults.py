"""Disks that fill up, folders that are closed, interrupts: whole processes, as a user would meet them.

Whatever goes wrong, no half file is left, a file that was there is as it was, and one line says why.
"""

from __future__ import annotations

import ctypes
import os
import resource
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from bookplates import make_pack
from commands import MINIMAL, Ran, bookplates, listening, names_in

OLD = b"what somebody printed last term\n" * 10


@pytest.fixture
def folder(spec: Path, tmp_path: Path) -> Path:
    """A folder with a spec, pool.toml, and with an older file where its pack will go, pool.pdf."""
    (tmp_path / "pool.pdf").write_bytes(OLD)
    return tmp_path


def refused(ran: Ran, folder: Path, name: str, why: str) -> None:
    """One line, 1, and all as it was."""
    assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1), ran.err
    assert ran.err.startswith(f"{name}: cannot be written (")
    assert why in ran.err
    assert (folder / "pool.pdf").read_bytes() == OLD
    assert {"pool.toml", "pool.pdf"} <= names_in(folder) <= {"pool.toml", "pool.pdf", "sub"}


def full_at(room: int) -> None:
    """From now on no file of this process grows beyond so many bytes: a write then fails with EFBIG (setrlimit(2))."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (room, room))


class TestNoRoom:
    @pytest.mark.parametrize("name", ["pool.pdf", "new.pdf"])
    @pytest.mark.parametrize("room", [0, 1, 4096, 60_000])
    def test_a_disk_that_fills_up_while_the_pack_is_written(self, folder: Path, room: int, name: str) -> None:
        assert len(make_pack(MINIMAL).pdf) > 60_000
        ran = bookplates("make", "pool.toml", "-o", name, cwd=folder, preexec_fn=lambda: full_at(room))
        refused(ran, folder, name, "file too large")

    @pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
    def test_a_device_that_is_full(self, folder: Path) -> None:
        refused(bookplates("make", "pool.toml", "-o", "/dev/full", cwd=folder), folder, "/dev/full", "no space left")


def without_roots_powers() -> None:
    """As root, write only where the permissions say so (capabilities(7)): a program then run cannot override them."""
    if os.geteuid() == 0:
        drop_from_bounding_set, override, read_and_search = 24, 1, 2
        for power in (override, read_and_search):
            if ctypes.CDLL(None, use_errno=True).prctl(drop_from_bounding_set, power, 0, 0, 0):
                os._exit(99)  # the test fails: its exit code is none of the program's


@pytest.mark.skipif(sys.platform != "linux", reason="permissions and file systems of Linux")
class TestClosed:
    @pytest.mark.parametrize("name", ["new.pdf", "pool.pdf"])
    def test_a_folder_without_permission_to_write(self, folder: Path, name: str) -> None:
        folder.chmod(0o555)
        ran = bookplates("make", "pool.toml", "-o", name, cwd=folder, preexec_fn=without_roots_powers)
        folder.chmod(0o755)
        refused(ran, folder, name, "permission denied")

    def test_a_file_without_permission_to_write(self, folder: Path) -> None:
        (folder / "pool.pdf").chmod(0o444)
        ran = bookplates("make", "pool.toml", cwd=folder, preexec_fn=without_roots_powers)
        refused(ran, folder, "pool.pdf", "may not be written")

    @pytest.mark.skipif(not Path("/proc/self").exists(), reason="no file system that takes no files")
    def test_a_file_system_that_takes_no_files(self, folder: Path) -> None:
        ran = bookplates("make", "pool.toml", "-o", "/proc/pool.pdf", cwd=folder)
        refused(ran, folder, "/proc/pool.pdf", "")

    @pytest.mark.parametrize("name", ["sub", "sub/", "sub/.", "."])
    def test_a_folder_where_the_pack_should_go(self, folder: Path, name: str) -> None:
        (folder / "sub").mkdir()
        refused(bookplates("make", "pool.toml", "-o", name, cwd=folder), folder, name, "folder")
        assert names_in(folder / "sub") == set()

    def test_a_spec_that_may_not_be_read(self, folder: Path) -> None:
        (folder / "pool.toml").chmod(0)
        ran = bookplates("make", "pool.toml", cwd=folder, preexec_fn=without_roots_powers)
        assert (ran.code, len(ran.lines)) == (1, 1)
        assert "permission denied" in ran.err
        assert (folder / "pool.pdf").read_bytes() == OLD


@pytest.mark.skipif(os.name != "posix", reason="Windows refuses to replace an open file")
class TestOpenElsewhere:
    @pytest.mark.parametrize("mode", ["rb", "r+b", "ab+"])
    def test_whoever_reads_the_old_file_keeps_it(self, folder: Path, mode: str) -> None:
        with (folder / "pool.pdf").open(mode) as elsewhere:
            assert bookplates("make", "pool.toml", cwd=folder).code == 0
            elsewhere.seek(0)
            assert elsewhere.read() == OLD
        assert (folder / "pool.pdf").read_bytes() == make_pack(MINIMAL).pdf
        assert names_in(folder) == {"pool.toml", "pool.pdf"}


# ---- interrupts


HEARD = """\
import os, signal, sys
from bookplates.__main__ import main
arrange = signal.signal
def told(number, handler):
    before = arrange(number, handler)
    if number == signal.SIGTERM and handler is not signal.SIG_IGN:
        os.write(1, b".")
    return before
signal.signal = told
main()
"""
"""The program, which says with a point when it begins to listen: what comes earlier meets the interpreter, not the program."""

LINE = {signal.SIGINT: b"bookplates: interrupted\n", signal.SIGTERM: b"bookplates: told to end\n"}
MOMENTS = 20


def interrupted(arguments: list[str], folder: Path, after: float, number: int) -> tuple[int, bytes]:
    """Exit code and standard error of a command that gets a signal so many seconds after it began to listen."""
    options: dict[str, Any] = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "cwd": folder, "preexec_fn": listening}
    with subprocess.Popen([sys.executable, "-c", HEARD, *arguments], **options) as process:
        assert process.stdout is not None
        assert process.stdout.read(1) == b"."
        time.sleep(after)
        process.send_signal(number)
        _, err = process.communicate(timeout=60)
    return process.returncode, err


def lies_in(folder: Path) -> dict[str, bytes]:
    """All files in a folder and below, hidden ones too, with what is in them; empty folders as such."""
    below = {str(path.relative_to(folder)): path for path in folder.rglob("*")}
    return {name: path.read_bytes() if path.is_file() else b"a folder" for name, path in below.items()}


@pytest.mark.parametrize(
    ("number", "code", "more"),
    [(signal.SIGINT, 130, []), (signal.SIGTERM, 143, []), (signal.SIGINT, 130, ["--svg", "plates"])],
)
def test_an_interrupt_at_any_moment_leaves_all_old_or_all_new(folder: Path, number: int, code: int, more: list[str]) -> None:
    arguments, old = ["make", "pool.toml", *more], lies_in(folder)
    begun = time.monotonic()
    assert bookplates(*arguments, cwd=folder).code == 0
    whole_run, new = time.monotonic() - begun, lies_in(folder)
    codes = []
    for moment in range(MOMENTS):
        (folder / "pool.pdf").write_bytes(OLD)
        shutil.rmtree(folder / "plates", ignore_errors=True)
        ended, err = interrupted(arguments, folder, 1.05 * whole_run * moment / MOMENTS, number)
        assert ended in (code, 0, -number), (moment, ended, err)
        assert err in (b"", LINE[number]), (moment, err)
        assert err or ended != code, moment
        # While Python closes down, all being done, the system has signals back; a shell calls that 130 and 143, too
        assert lies_in(folder) in ((old, new) if ended == code else (new,)), (moment, ended, names_in(folder))
        codes.append(ended)
    assert codes.count(code) >= MOMENTS // 3, codes  # most moments lie within the run


class TestFolderOfPlates:
    @pytest.mark.parametrize("room", [0, 4096, 60_000])
    def test_a_disk_that_fills_up_takes_all_of_them_back(self, folder: Path, room: int) -> None:
        old = lies_in(folder)
        ran = bookplates("make", "pool.toml", "--svg", "plates", cwd=folder, preexec_fn=lambda: full_at(room))
        assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1), ran.err
        assert "file too large" in ran.err
        assert lies_in(folder) == old

    @pytest.mark.parametrize("name", ["pool.toml", "pool.pdf", "/proc/plates", "nowhere/plates"])
    def test_what_can_be_no_folder_is_refused(self, folder: Path, name: str) -> None:
        old = lies_in(folder)
        ran = bookplates("make", "pool.toml", "--svg", name, cwd=folder)
        assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1), ran.err
        assert lies_in(folder) == old

    @pytest.mark.skipif(sys.platform != "linux", reason="permissions of Linux")
    def test_a_folder_that_may_not_be_written_to_is_left(self, folder: Path) -> None:
        (folder / "plates").mkdir(mode=0o555)
        old = lies_in(folder)
        ran = bookplates("make", "pool.toml", "--svg", "plates", cwd=folder, preexec_fn=without_roots_powers)
        assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1), ran.err
        assert "permission denied" in ran.err
        assert lies_in(folder) == old


SWALLOWED = """\
import os, signal, sys
from bookplates import pipeline
def swallowing(*_, **__):
    try:
        os.kill(os.getpid(), signal.SIGINT)
        sum(range(1000))
    except:
        raise ValueError("the font is corrupt")
pipeline.make_pack = swallowing
from bookplates.__main__ import main
main()
"""


def test_an_interrupt_that_a_library_takes_for_a_fault_is_one_all_the_same(folder: Path) -> None:
    """As a reader of fonts does that catches whatever comes while it reads."""
    command = [sys.executable, "-c", SWALLOWED, "make", "pool.toml"]
    ran = subprocess.run(command, cwd=folder, capture_output=True, check=False, preexec_fn=listening)
    assert (ran.returncode, ran.stdout, ran.stderr) == (130, b"", b"bookplates: interrupted\n")
    assert lies_in(folder) == {"pool.toml": MINIMAL, "pool.pdf": OLD}


NOT_PASSED_ON = """\
import os, signal, time
from bookplates import pipeline
class Dropped:
    def __del__(self):
        os.kill(os.getpid(), signal.SIGINT)
        sum(range(1000))
def dropping(*_, **__):
    Dropped()
    time.sleep(10)
    print("went on")
pipeline.make_pack = dropping
from bookplates.__main__ import main
main()
"""


def test_an_interrupt_that_python_cannot_pass_on_ends_it_all_the_same(folder: Path) -> None:
    """As while an object is taken down: what is raised there is shown and dropped, and the work goes on."""
    command = [sys.executable, "-c", NOT_PASSED_ON, "make", "pool.toml"]
    ran = subprocess.run(command, cwd=folder, capture_output=True, check=False, preexec_fn=listening)
    assert (ran.returncode, ran.stdout, ran.stderr) == (130, b"", b"bookplates: interrupted\n")
    assert lies_in(folder) == {"pool.toml": MINIMAL, "pool.pdf": OLD}
