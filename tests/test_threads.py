"""Several packs at a time in one program: the libraries below keep settings for the whole process."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import pytest
from reportlab import rl_config

from bookplates.errors import BadFile
from bookplates.pipeline import make_pack
from bookplates.readback import measure_pdf
from books import DESK_PAPERS, spec_of
from raw_pdf import part, pdf

SPECS = [spec_of(book, paper) for book in ("acorn", "tide pool") for paper in DESK_PAPERS]


@pytest.fixture
def _by_turns() -> Iterator[None]:
    """Let threads take turns a thousand times as often as they would."""
    before = sys.getswitchinterval()
    sys.setswitchinterval(5e-6)
    yield
    sys.setswitchinterval(before)


@pytest.mark.usefixtures("_by_turns")
def test_packs_made_side_by_side_are_those_made_one_by_one() -> None:
    before = rl_config.useA85
    one_by_one = [make_pack(spec).pdf for spec in SPECS]
    with ThreadPoolExecutor(4) as threads:
        side_by_side = list(threads.map(lambda spec: make_pack(spec).pdf, SPECS))
    assert side_by_side == one_by_one
    assert rl_config.useA85 == before


@pytest.mark.usefixtures("_by_turns")
def test_a_damaged_file_is_told_of_and_a_sound_one_beside_it_is_not() -> None:
    sound, damaged = pdf(part("0 0 m 9 9 l S") * 400), pdf(part("0 0 m 9 9 l S") * 400 + part("0 0 m 1..2 9 l S"))

    def parts(data: bytes) -> int | None:
        try:
            return len(measure_pdf(data).parts)
        except BadFile:
            return None

    with ThreadPoolExecutor(4) as threads:
        assert list(threads.map(parts, [sound, damaged] * 8)) == [400, None] * 8
