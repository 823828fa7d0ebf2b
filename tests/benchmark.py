"""How fast `bookplates` is, and how much memory it takes, beside programs that do as little as the same job allows.

Run by hand or after the tests: ``python tests/benchmark.py [PAIRS]``. Both programs of a comparison run as whole
processes in turn (A B A B ...), so that what else the computer does falls on both; the system says what each used
(os.wait4). Nothing is judged here: the target stands beside each ratio, and the exit code is 0.

All have the same interpreter and libraries, and start from compiled modules, as installed programs do. Packs of about
10, 100 and 1,000 pages are the check book's in as many copies; the larger, the fewer runs. A child's peak memory is
never less than that of the process it came from, so this one imports little; see `floors.py` for the rest.
At the end `cutting_benchmark.py` holds cutting plans against those of a packing library, `class_benchmark.py` makes classes
of growing size, and `survey.py` makes a pack of every cover with every sewing.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

PAIRS = 9

COPIES = {"pack of 10 pages": 1, "pack of 100 pages": 15, "pack of 500 pages": 78, "pack of 1,000 pages": 156}
"""Of the check book, and what its pack then has, about."""
SMALL, MIDDLE, HALF, LARGE = COPIES

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
FILES = {
    "main.py": BOOKPLATES,
    "refused.toml": CHECK_BOOK.replace("mitre", "miter"),
    **{f"{name}.toml": f"{CHECK_BOOK}[print]\ncopies = {copies}\n" for name, copies in COPIES.items()},
}


class Used(NamedTuple):
    """What one run of a program used: seconds by the clock, seconds of the processor, peak memory in MB."""

    time: float
    processor: float
    memory: float


MEASURES: Sequence[tuple[str, str, Callable[[Used], float]]] = (
    ("time", "s", lambda once: once.time),
    ("processor", "s", lambda once: once.processor),
    ("peak memory", "MB", lambda once: once.memory),
)


class Program(NamedTuple):
    """What follows `python` on its command line, the folder it starts in, and the exit code it must end with."""

    folder: Path
    arguments: tuple[str, ...]
    code: int = 0


class Comparison(NamedTuple):
    """What is held against what; `share` of the pairs are run, one at least."""

    title: str
    ours: Program
    floor: Program
    target: str
    share: float = 1.0


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
    pairs = max(1, round(one.share * pairs))
    if one.share >= 1:  # what is run less often comes later, when that is done
        for program in (one.ours, one.floor):
            run(program, environment)  # compiles the modules, and brings the files into memory
    used = [(run(one.ours, environment), run(one.floor, environment)) for _ in range(pairs)]
    print(f"\n{one.title} (target {one.target}; runs of each: {pairs})")
    for name, unit, of in MEASURES:
        ours, floor = median([of(a) for a, _ in used]), median([of(b) for _, b in used])
        paired = median([of(a) / of(b) for a, b in used])
        print(
            f"  {name:<12} {ours:7.3f} {unit:<2}  floor {floor:7.3f} {unit:<2}  ratio {ours / floor:5.2f}  by pairs {paired:5.2f}"
        )


def median(values: Sequence[float]) -> float:
    """The middle value, or the mean of the two in the middle; `statistics` would take 5 MB."""
    ordered, half = sorted(values), len(values) // 2
    return ordered[half] if len(values) % 2 else (ordered[half - 1] + ordered[half]) / 2


def commands(ours: Path, floors: Path) -> tuple[Comparison, ...]:
    """What is done without a pack."""
    refused = Program(ours, ("main.py", "make", "refused.toml", "-o", "none.pdf"), 1)
    typer = Program(ours, ("main.py", "--help")), Program(floors / "help", ("main.py", "--help"))
    model = Program(floors / "refusal", ("main.py", "refused.toml"), 1)
    return (
        Comparison("--help, against a bare typer program", *typer, "1.3"),
        Comparison("a refused spec, against a typer program whose one model fails", refused, model, "1.3"),
    )


def packs_made(ours: Path, floors: Path) -> Iterator[Comparison]:
    """Each pack made, against writing as many operators and reading them back, and against writing them alone."""
    for name, share in ((SMALL, 1.0), (MIDDLE, 0.5), (LARGE, 0.3)):
        make = Program(ours, ("main.py", "make", f"{name}.toml", "-o", f"{name}.pdf"))
        both, alone = (Program(floors / name, ("main.py", "floor.pdf", *only)) for only in ((), ("--no-read",)))
        yield Comparison(f"make, {name}, against bare reportlab and pypdf", make, both, "1.3, memory 1.5", share)
        title = f"make, {name}, which measures what it wrote, against bare reportlab, which does not"
        yield Comparison(title, make, alone, "none", share / 2)


def packs_measured(ours: Path, floors: Path) -> Iterator[tuple[str, Comparison]]:
    """Packs measured, against pdfplumber's curves, lines and rectangles."""
    for name, share in ((SMALL, 1.0), (MIDDLE, 0.3)):
        measure = Program(ours, ("main.py", "measure", f"{name}.pdf", "--json"))
        floor = Program(floors / "measure", ("main.py", str(ours / f"{name}.pdf")))
        yield name, Comparison(f"measure, {name}, against pdfplumber", measure, floor, "0.2", share)


def growth(ours: Path, pages: Mapping[str, int], pairs: int, environment: Mapping[str, str]) -> None:
    """What each page takes beyond those of the pack before, so that the start is in none of it."""
    print("\nmake, milliseconds of the processor for each page more (target: as many at the end, 10 % apart at most)")
    used = {}
    for name in (MIDDLE, HALF, LARGE):
        make = Program(ours, ("main.py", "make", f"{name}.toml", "-o", f"{name}.pdf"))
        used[name] = median([run(make, environment).processor for _ in range(max(1, pairs // 3))])
    first, then = (1000 * (used[b] - used[a]) / (pages[b] - pages[a]) for a, b in ((MIDDLE, HALF), (HALF, LARGE)))
    print(f"  from 100 to 500 pages {first:.2f}  from 500 to 1,000 pages {then:.2f}  ratio {then / first:.2f}")


def prepared(home: Path) -> tuple[Path, Path, dict[str, int]]:
    """The folder of our program and packs, that of the floors, and how many pages each pack has."""
    ours, floors = home / "ours", home / "floors"
    for folder in (ours, floors):
        folder.mkdir()
    for file, text in FILES.items():
        (ours / file).write_text(text, encoding="utf-8")
    pages = {}
    for name in COPIES:
        line = (sys.executable, "main.py", "make", f"{name}.toml", "-o", f"{name}.pdf")
        said = subprocess.run(line, cwd=ours, check=True, capture_output=True, text=True).stdout
        pages[name] = int(said.rpartition(" pages, ")[0].rpartition(": ")[2].replace(",", ""))
    packs = (str(ours / f"{name}.pdf") for name in (SMALL, MIDDLE, LARGE))
    subprocess.run((sys.executable, str(Path(__file__).with_name("floors.py")), str(floors), *packs), check=True)
    return ours, floors, pages


def main(pairs: int) -> None:
    with TemporaryDirectory() as name:
        home = Path(name)
        compiled = {**os.environ, "PYTHONPYCACHEPREFIX": str(home / "compiled")}
        compiled.pop("PYTHONDONTWRITEBYTECODE", None)
        ours, floors, pages = prepared(home)
        for one in commands(ours, floors):
            compared(one, pairs, compiled)
        for one in packs_made(ours, floors):
            compared(one, pairs, compiled)
        growth(ours, pages, pairs, compiled)
        for pack, one in packs_measured(ours, floors):
            compared(one, pairs, compiled)
            line = (sys.executable, str(floors / "measure" / "both.py"), str(ours / f"{pack}.pdf"), str(max(1, pairs // 3)))
            subprocess.run(line, check=True)
    for own in ("cutting_benchmark.py", "class_benchmark.py", "survey.py"):
        subprocess.run((sys.executable, str(Path(__file__).with_name(own))), check=True)


if __name__ == "__main__":
    main(max(1, int(sys.argv[1])) if len(sys.argv) > 1 else PAIRS)
