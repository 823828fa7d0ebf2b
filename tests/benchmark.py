"""How fast `bookplates` is, and how much memory it takes, beside programs that do as little as the same job allows.

Run by hand or after the tests: ``python tests/benchmark.py [PAIRS]``. Both programs of a comparison run as whole
processes in turn (A B A B ...), so that what else the computer does falls on both; the system says what each used
(os.wait4). Nothing is judged here: the target stands beside each ratio, and the exit code is 0.

All have the same interpreter and libraries, and start from compiled modules, as installed programs do. A child's
peak memory is never less than that of the process it came from, so this one imports little; see `floors.py` for the rest.
At the end `survey.py` makes a pack of every cover with every sewing.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

PAIRS = 9

BOOKPLATES = "from bookplates.cli import run\nrun()\n"
CHECK_BOOK = """\
title = "Orchard notebook"
units = "in"
[text_block]
sheet = "Letter"
format = "quarto"
sheets = 10
caliper = "0.1 mm"
[cover]
style = "taped"
board = "2 mm"
mitre = "3 mm"
[sewing]
thread_end = "4 in"
"""
FILES = {"main.py": BOOKPLATES, "book.toml": CHECK_BOOK, "refused.toml": CHECK_BOOK.replace("mitre", "miter")}


class Used(NamedTuple):
    """What one run of a program used: seconds by the clock, seconds of the processor, peak memory in MB."""

    time: float
    processor: float
    memory: float


class Program(NamedTuple):
    """What follows `python` on its command line, the folder it starts in, and the exit code it must end with."""

    folder: Path
    arguments: tuple[str, ...]
    code: int = 0


class Comparison(NamedTuple):
    title: str
    ours: Program
    floor: Program
    target: float


def run(program: Program, environment: Mapping[str, str]) -> Used:
    began = time.perf_counter()
    process = subprocess.Popen(
        (sys.executable, *program.arguments),
        cwd=program.folder,
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    _, status, usage = os.wait4(process.pid, 0)
    ended = time.perf_counter()
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != program.code:
        raise SystemExit(f"{' '.join(program.arguments)} ended with {process.returncode}, not {program.code}")
    unit = 1e6 if sys.platform == "darwin" else 1e3  # ru_maxrss counts bytes there, kilobytes elsewhere
    return Used(ended - began, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / unit)


def compared(one: Comparison, pairs: int, environment: Mapping[str, str]) -> None:
    """Run both in turn, and print medians, their ratio, and the median of the ratios pair by pair."""
    for program in (one.ours, one.floor):
        run(program, environment)  # compiles the modules, and brings the files into memory
    used = [(run(one.ours, environment), run(one.floor, environment)) for _ in range(pairs)]
    print(f"\n{one.title} (target {one.target})")
    measures: Sequence[tuple[str, str, Callable[[Used], float]]] = (
        ("time", "s", lambda once: once.time),
        ("processor", "s", lambda once: once.processor),
        ("peak memory", "MB", lambda once: once.memory),
    )
    for name, unit, of in measures:
        ours, floor = median([of(a) for a, _ in used]), median([of(b) for _, b in used])
        paired = median([of(a) / of(b) for a, b in used])
        print(
            f"  {name:<12} {ours:7.3f} {unit:<2}  floor {floor:7.3f} {unit:<2}  ratio {ours / floor:5.2f}  by pairs {paired:5.2f}"
        )


def median(values: Sequence[float]) -> float:
    """The middle value, or the mean of the two in the middle; `statistics` would take 5 MB."""
    ordered, half = sorted(values), len(values) // 2
    return ordered[half] if len(values) % 2 else (ordered[half - 1] + ordered[half]) / 2


def comparisons(ours: Path, floors: Path) -> tuple[Comparison, ...]:
    make = Program(ours, ("main.py", "make", "book.toml", "-o", "pack.pdf"))
    refused = Program(ours, ("main.py", "make", "refused.toml", "-o", "none.pdf"), 1)
    return (
        Comparison(
            "make, the check book, against bare reportlab and pypdf",
            make,
            Program(floors / "make", ("main.py", "floor.pdf")),
            1.3,
        ),
        Comparison(
            "--help, against a bare typer program",
            Program(ours, ("main.py", "--help")),
            Program(floors / "help", ("main.py", "--help")),
            1.3,
        ),
        Comparison(
            "a refused spec, against a typer program whose one model fails",
            refused,
            Program(floors / "refusal", ("main.py", "refused.toml"), 1),
            1.3,
        ),
        Comparison(
            "a refused spec, against importing pydantic and typer", refused, Program(ours, ("-c", "import pydantic, typer")), 1.5
        ),
    )


def main(pairs: int) -> None:
    with TemporaryDirectory() as name:
        home = Path(name)
        compiled = {**os.environ, "PYTHONPYCACHEPREFIX": str(home / "compiled")}
        compiled.pop("PYTHONDONTWRITEBYTECODE", None)
        ours, floors = home / "ours", home / "floors"
        for folder in (ours, floors):
            folder.mkdir()
        for file, text in FILES.items():
            (ours / file).write_text(text, encoding="utf-8")
        subprocess.run(
            (sys.executable, "main.py", "make", "book.toml", "-o", "pack.pdf"), cwd=ours, check=True, capture_output=True
        )
        writer = Path(__file__).with_name("floors.py")
        subprocess.run((sys.executable, str(writer), str(ours / "pack.pdf"), str(floors)), check=True)
        for one in comparisons(ours, floors):
            compared(one, pairs, compiled)
    subprocess.run((sys.executable, str(Path(__file__).with_name("survey.py"))), check=True)


if __name__ == "__main__":
    main(max(1, int(sys.argv[1])) if len(sys.argv) > 1 else PAIRS)
