"""Each cover style with each sewing that goes with it: its pack verifies, is a sound PDF, and nothing on its pages meets."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest

from bookplates.kinds.pairs import patterns_for
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES
from bookplates.pipeline import make_pack, problems_of
from every_kind import Kind, every_kind, pairs, some_of_each
from page_check import findings

IDS = " ".join


@pytest.mark.parametrize("kind", some_of_each(), ids=IDS)
def test_its_pack_verifies_and_reads_well(kind: Kind, tmp_path: Path) -> None:
    made = make_pack(kind.spec)
    assert made.verified.largest_difference <= 0.01
    with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert len(pdf.pages) == made.pages
    file = tmp_path / "pack.pdf"
    file.write_bytes(made.pdf)
    assert findings(str(file)) == []


@pytest.mark.parametrize("kind", every_kind(), ids=IDS)
def test_it_is_a_book(kind: Kind) -> None:
    assert problems_of(kind.spec) == ()


def test_every_style_and_every_pattern_has_its_pair() -> None:
    styles, patterns = zip(*pairs(), strict=True)
    assert set(styles) == set(STYLES)
    assert set(patterns) == set(PATTERNS)


@pytest.mark.parametrize("style", STYLES)
def test_the_usual_sewing_goes_with_its_style(style: str) -> None:
    assert STYLES[style].default_pattern in patterns_for(style)


@pytest.mark.parametrize(("style", "pattern"), [(s, p) for s in STYLES for p in PATTERNS if p not in patterns_for(s)])
def test_a_pair_that_does_not_go_is_refused_with_those_that_do(style: str, pattern: str) -> None:
    problems = problems_of(Kind(style, pattern, "A4", "upright").spec)
    found = [problem for problem in problems if problem.where == "sewing.pattern"]
    assert len(found) == 1
    assert all(f'"{going}"' in found[0].hint for going in patterns_for(style))
