"""Make a pack of every cover style with every sewing that goes with it, on both papers, both ways up, and look each over.

Run by hand or with the benchmark: ``python tests/survey.py``. Each pack has been measured against its plan before it is
handed over; here it is read by two libraries that share no code with the program. A line for each pack that fails, and a sum.
"""

from __future__ import annotations

import io
import time
from collections.abc import Iterator

import pikepdf

from bookplates.errors import BookplatesError
from bookplates.pipeline import make_pack
from every_kind import Kind, every_kind
from page_check import findings


def faults(kind: Kind) -> Iterator[str]:
    """What is wrong with the pack of one kind, and how many pages and seconds it took."""
    try:
        made = make_pack(kind.spec)
    except BookplatesError as error:
        yield f"refused: {error}"
        return
    with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
        yield from pdf.check_pdf_syntax()
    yield from findings(io.BytesIO(made.pdf))


def main() -> None:
    kinds = every_kind()
    began, bad = time.perf_counter(), 0
    for kind in kinds:
        found = list(faults(kind))
        bad += bool(found)
        for fault in found:
            print(f"  {' '.join(kind)}: {fault}")
    seconds = time.perf_counter() - began
    print(f"\nevery cover style with every sewing: {len(kinds)} packs, {bad} with a fault, {seconds:.0f} s with both readers")


if __name__ == "__main__":
    main()
