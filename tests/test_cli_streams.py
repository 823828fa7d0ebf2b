"""Closed, full and broken standard streams, and signals: the command line ends quietly and leaves nothing behind."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from commands import PROGRAM, listening, names_in


class TestStreams:
    def test_a_closed_standard_input_is_told(self) -> None:
        assert in_shell("exec <&-; plan -").startswith("1 -: cannot be read")
        assert in_shell("exec <&-; measure -").startswith("1 -: cannot be read")

    def test_a_closed_standard_output_is_told(self, spec: Path) -> None:
        assert "-: cannot be written" in in_shell(f"exec >&-; make '{spec}' -o -")

    def test_a_full_device_is_told(self, spec: Path) -> None:
        for command in (f"plan '{spec}'", f"plan '{spec}' --json", "schema", f"make '{spec}' -o -", "new -", "--help"):
            said = in_shell(f"exec >/dev/full; {command}")
            assert re.fullmatch(r"1 (standard output|-): cannot be written \(no space left on device\)(; .*)?\n", said), said

    def test_a_reader_that_goes_away_is_no_mistake_of_ours(self, spec: Path) -> None:
        for command in (["plan", spec], ["make", spec, "-o", "-"], ["schema"]):
            with subprocess.Popen([*PROGRAM, *command], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
                assert process.stdout is not None
                assert process.stderr is not None
                process.stdout.close()
                said = process.stderr.read()
            assert process.returncode == 1
            assert b"Traceback" not in said
            assert b"mistake" not in said
            assert b"Exception" not in said


def in_shell(line: str) -> str:
    """The exit code of a line of shell whose last word calls the program, and what stood on standard error."""
    setup, _, command = line.rpartition("; ")
    program = " ".join(f"'{word}'" for word in PROGRAM)
    ran = subprocess.run(["sh", "-c", f"{setup}; {program} {command}"], stderr=subprocess.PIPE, check=False, timeout=60)
    said = ran.stderr.decode()
    assert "Traceback" not in said
    return f"{ran.returncode} {said}"


def interrupted(arguments: list[str], number: int, **options: Any) -> tuple[int, bytes]:
    """Exit code and standard error of a command that waits for its input until a signal comes."""
    options.setdefault("stdin", subprocess.PIPE)
    options |= {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "preexec_fn": listening}
    with subprocess.Popen([*PROGRAM, *arguments], **options) as process:
        wait_until_it_waits(process.pid)
        process.send_signal(number)
        assert process.stderr is not None
        said = process.stderr.read()
    return process.returncode, said


def wait_until_it_waits(pid: int) -> None:
    """Until a process has slept for a tenth of a second: it has read all its modules, and waits for input or a reader."""
    asleep, state, end = 0, "", time.monotonic() + 20
    while asleep < 5 and state != "Z" and time.monotonic() < end:
        time.sleep(0.02)
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
        asleep = asleep + 1 if state == "S" else 0
    assert asleep == 5, f"it does not wait: state {state}"


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="looks at the process through /proc")
class TestInterrupt:
    @pytest.mark.parametrize("arguments", [["plan", "-"], ["make", "-"], ["measure", "-"]])
    def test_while_reading_is_130(self, tmp_path: Path, arguments: list[str]) -> None:
        assert interrupted(arguments, signal.SIGINT, cwd=tmp_path) == (130, b"bookplates: interrupted\n")
        assert names_in(tmp_path) == set()

    def test_while_a_pipe_has_no_reader_is_130(self, spec: Path, tmp_path: Path) -> None:
        os.mkfifo(tmp_path / "pipe")
        ended = interrupted(["make", str(spec), "-o", str(tmp_path / "pipe")], signal.SIGINT)
        assert ended == (130, b"bookplates: interrupted\n")
        assert names_in(tmp_path) == {"pool.toml", "pipe"}

    def test_being_told_to_end_is_a_line_too(self, tmp_path: Path) -> None:
        assert interrupted(["make", "-"], signal.SIGTERM, cwd=tmp_path) == (143, b"bookplates: told to end\n")

    def test_while_writing_leaves_no_half_file(self, spec: Path, tmp_path: Path) -> None:
        output = tmp_path / "out.pdf"
        output.write_bytes(b"as it was")
        broken = (
            "import os, signal, sys\n"
            "os.fsync = lambda _: os.kill(os.getpid(), signal.SIGINT)\n"
            f"sys.argv = ['bookplates', 'make', {str(spec)!r}, '-o', {str(output)!r}]\n"
            "from bookplates.__main__ import main\n"
            "main()\n"
        )
        ran = subprocess.run([sys.executable, "-c", broken], capture_output=True, check=False, preexec_fn=listening)
        assert (ran.returncode, ran.stderr, ran.stdout) == (130, b"bookplates: interrupted\n", b"")
        assert output.read_bytes() == b"as it was"
        assert names_in(tmp_path) == {"pool.toml", "out.pdf"}
