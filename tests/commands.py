"""The command line, run as a whole program of its own."""

from __future__ import annotations

import io
import os
import select
import signal
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

PROGRAM = (sys.executable, "-m", "bookplates")

MINIMAL = b"""title = "Tide pool notes"
[text_block]
leaf = "100 x 150 mm"
folios = 8
[cover]
style = "taped"
"""
"""A book without fault or warning: line 1 title, 2 to 4 [text_block], 5 and 6 [cover]."""


@dataclass(frozen=True)
class Ran:
    """What a command left behind: its exit code, and its two streams as text."""

    code: int
    out: str
    err: str
    raw: bytes

    @property
    def lines(self) -> list[str]:
        return self.err.splitlines()


def bookplates(*arguments: str | bytes | Path, given: bytes = b"", env: dict[str, str] | None = None, **options: Any) -> Ran:
    """Run a command to its end; `given` stands on its standard input."""
    options.setdefault("input", given) if "stdin" not in options else None
    options.setdefault("stdout", subprocess.PIPE)
    environment = {**os.environ, **(env or {})}
    ran = subprocess.run([*PROGRAM, *arguments], stderr=subprocess.PIPE, timeout=60, check=False, env=environment, **options)
    raw = ran.stdout or b""
    assert b"Traceback" not in ran.stderr + raw
    return Ran(ran.returncode, raw.decode("utf-8", "replace"), ran.stderr.decode("utf-8", "replace"), raw)


def listening() -> None:
    """Before a program begins: let it hear an interrupt, also where whoever runs the tests has switched that off."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def names_in(folder: Path) -> set[str]:
    """The names of all that lies in a folder, hidden files included."""
    return set(os.listdir(folder))


class terminal:  # noqa: N801  # read as a word: with terminal(...)
    """A command whose three standard streams are a terminal; gives the process and the terminal's other end."""

    def __init__(self, *arguments: str, cwd: Path) -> None:
        self.screen, inner = os.openpty()
        streams = dict.fromkeys(("stdin", "stdout", "stderr"), inner)
        environment = {**os.environ, "TERM": "xterm"}
        options: dict[str, Any] = {**streams, "cwd": cwd, "env": environment, "preexec_fn": listening}
        self.process = subprocess.Popen([*PROGRAM, *arguments], **options)
        os.close(inner)

    def __enter__(self) -> tuple[subprocess.Popen[bytes], int]:
        return self.process, self.screen

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait()
        os.close(self.screen)


def said_until(screen: int, words: bytes) -> bytes:
    """What appears on a terminal, until it holds some words."""
    said = io.BytesIO()
    while words not in said.getvalue():
        ready, _, _ = select.select([screen], [], [], 20)
        assert ready, said.getvalue()
        said.write(os.read(screen, 4096))
    return said.getvalue()
