"""Whole books on paper so small that words need pages of their own: nothing refused, nothing struck, templates left whole."""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from bookplates.pipeline import make_pack
from outside import MM, called, parts_in
from page_check import findings

SAMPLES = Path(__file__).parent.parent / "sample_specs"


def on_paper(sample: str, paper: str) -> str:
    """The spec of a sample with another paper in the printer."""
    source = (SAMPLES / f"{sample}.toml").read_text(encoding="utf-8")
    before, table, after = source.partition("[print]\n")
    return f'{before}{table or "[print]" + chr(10)}paper = "{paper}"\n' + re.sub(r"(?m)^paper *=.*$", "", after)


@pytest.mark.parametrize(
    ("sample", "paper"),
    [
        ("hedgerow_diary", "A5"),
        ("hedgerow_diary", "Half letter"),
        ("pear_list", "Half letter"),
        ("rock_pool_survey", "A5"),
        ("allotment_ledger", "Half letter"),
        ("tide_marks", "131 x 195 mm"),  # 118 x 182 mm and what the printer does not reach
    ],
)
def test_small_paper_takes_every_plate_and_its_words(sample: str, paper: str) -> None:
    made = make_pack(on_paper(sample, paper))
    assert findings(io.BytesIO(made.pdf)) == []


@pytest.mark.parametrize(("sample", "paper", "high"), [("hedgerow_diary", "A5", 116.0), ("pear_list", "Half letter", 154.85)])
def test_a_template_that_goes_on_one_page_is_not_cut_for_its_words(sample: str, paper: str, high: float) -> None:
    """Cover punch guides 116 and 154.85 mm high, on paper that leaves at least 160 mm for a tile: no seam runs through them.

    A seam is the only short-dashed line across a whole page: pdfplumber finds it, and where the guide's edges lie.
    """
    made = make_pack(on_paper(sample, paper))
    guide = next(called(parts_in(made.pdf), "cover punch guide", "cover punch guide"))
    assert guide.size[1] == pytest.approx(high, abs=0.01)
    with pdfplumber.open(io.BytesIO(made.pdf)) as pdf:
        page = pdf.pages[guide.page - 1]
        dashed = [line for line in page.lines if line["width"] > 5 and _is_short_dashed(line)]
        seams = [(float(page.height) - line["top"]) * MM for line in dashed]
    assert bool(seams) == (sample == "pear_list")  # its width is written so low that a seam runs beside it
    assert all(y < guide.low or y > guide.low + high for y in seams)


def _is_short_dashed(line: dict[str, Any]) -> bool:
    """Dashes of 1.2 mm; pdfplumber gives them as written, on pages whose unit is the mm. No part of a plate has such."""
    dashes: list[float] = (line["dash"] or ([], 0))[0]
    return bool(dashes) and dashes[0] == pytest.approx(1.2, abs=0.01)
