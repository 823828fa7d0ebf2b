"""What each student more costs, and how much memory a class takes, however large it is.

Run by `benchmark.py`, or by hand: ``python tests/class_benchmark.py [STUDENTS...]``, such as ``100 1000``. Once all make
the same book, once each makes another. Nothing is judged: the targets stand beside the figures.
"""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

STUDENTS = (50, 150, 300)

BOOK = """\
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
[class]
title = "Windfall Saturday"
"""


class Used(NamedTuple):
    """What a class took: seconds by the clock and of all processors, and MB: the largest process, and all at one time."""

    time: float
    processor: float
    largest: float
    together: float


def alike(folder: Path, count: int) -> tuple[str, ...]:
    """A class whose students make one book."""
    (folder / f"alike-{count}.toml").write_text(f"{BOOK}students = {count}\n", encoding="utf-8")
    return (f"alike-{count}.toml",)


def different(folder: Path, count: int) -> tuple[str, ...]:
    """A class in which no book is like another: from 3 to 22 sheets, and other squares."""
    rows = (f"Student {n},{3 + n % 20},{3 + 0.002 * (n // 20):.3f} mm\n" for n in range(count))
    (folder / "different.toml").write_text(BOOK, encoding="utf-8")
    text = f"name,text_block.sheets,cover.square\n{''.join(rows)}"
    (folder / f"different-{count}.csv").write_text(text, encoding="utf-8")
    return "different.toml", "--students", f"different-{count}.csv"


def run(folder: Path, arguments: Sequence[str]) -> Used:
    line = (sys.executable, "-m", "bookplates", "class", *arguments, "-o", "class.pdf")
    began = time.perf_counter()
    process = subprocess.Popen(line, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    found = [0.0]
    watch = threading.Thread(target=watched, args=(process.pid, found), daemon=True)
    watch.start()
    _, status, usage = os.wait4(process.pid, 0)
    ended = time.perf_counter()
    process.returncode = os.waitstatus_to_exitcode(status)
    watch.join()
    if process.returncode:
        raise SystemExit(f"{' '.join(line)} ended with {process.returncode}")
    unit = 1e6 if sys.platform == "darwin" else 1e3  # ru_maxrss counts bytes there, kilobytes elsewhere
    return Used(ended - began, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / unit, found[0])


def watched(process: int, most: list[float]) -> None:
    """Note the most memory that a process and all it begins hold at one time, MB, where the system lists them in /proc."""
    while Path(f"/proc/{process}/statm").exists() and (held := sum(map(memory, family(process)))):
        most[0] = max(most[0], held)
        time.sleep(0.1)


def family(process: int) -> list[int]:
    try:
        kids = Path(f"/proc/{process}/task/{process}/children").read_text(encoding="ascii").split()
    except OSError:  # it has just ended
        kids = []
    return [process, *(one for kid in kids for one in family(int(kid)))]


def memory(process: int) -> float:
    try:
        return int(Path(f"/proc/{process}/statm").read_text(encoding="ascii").split()[1]) * os.sysconf("SC_PAGESIZE") / 1e6
    except (OSError, IndexError):
        return 0.0


def main(counts: Sequence[int]) -> None:
    with TemporaryDirectory() as name:
        folder = Path(name)
        for kind in (alike, different):
            print(f"\nclass, students who make {'the same book' if kind is alike else 'a book each'}")
            used = {count: run(folder, kind(folder, count)) for count in counts}
            for count, one in used.items():
                said = f"{one.time:7.1f} s  processor {one.processor:7.1f} s, {1000 * one.processor / count:5.1f} ms a student"
                print(f"  {count:>5,} students {said}  largest process {one.largest:4.0f} MB, all {one.together:5.0f} MB")
            print(f"  (target: 1,000 MB)  {growth(used)}")


def growth(used: dict[int, Used]) -> str:
    """Milliseconds of the processor for each student more, early and late, so that the start is in neither."""
    if len(used) < 3:
        return ""
    first, middle, *_, last = sorted(used)
    early, late = (1000 * (used[b].processor - used[a].processor) / (b - a) for a, b in ((first, middle), (middle, last)))
    return f"for each student more: {early:.1f} ms, then {late:.1f} ms; ratio {late / early:.2f} (target: linear, 1.1 at most)"


if __name__ == "__main__":
    main([int(argument) for argument in sys.argv[1:]] or STUDENTS)
