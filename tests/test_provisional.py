"""Which sizes are marked as waiting for a ruler: exactly those that change with what a ruler finds."""

from __future__ import annotations

from typing import Any

import pytest

from bookplates.handout.facts import Fact, chapters
from bookplates.handout.steps import steps
from shapes import planned

SEVERAL = {"text_block.folios": 24, "text_block.sections": 3}
QUARTER = {"cover.style": "case", "cover.covering": "quarter", "cover.cloth_on_board": 20}
BOOKS: dict[str, dict[str, Any]] = {
    "taped": {},
    "taped, strip inside": {"tape.inside": "turn-in"},
    "taped, gap": {"cover.gap": 20, "tape.inside": "turn-in"},
    "taped, sections": {**SEVERAL, "sewing.pattern": "long stitch"},
    "case": {"cover.style": "case", "sewing.pattern": "pamphlet"},
    "case, tapes": {"cover.style": "case", **SEVERAL},
    "case, gap": {"cover.style": "case", "cover.gap": 20, **SEVERAL},
    "case, stiff": {"cover.style": "case", "cover.spine_piece": "stiff", **SEVERAL},
    "case, stiff, gap": {"cover.style": "case", "cover.spine_piece": "stiff", "cover.gap": 9, **SEVERAL},
    "quarter": {**QUARTER, **SEVERAL},
    "quarter, gap": {**QUARTER, "cover.gap": 20, **SEVERAL},
    "half": {**QUARTER, "cover.covering": "half", "cover.spine_piece": "stiff", **SEVERAL},
    "wrapper": {"cover.style": "wrapper"},
    "wrapper, flaps": {"cover.style": "wrapper", "cover.flap": 40, "sewing.pattern": "long stitch", **SEVERAL},
    "exposed": {"cover.style": "exposed", **SEVERAL},
    "side-sewn": {"cover.style": "side-sewn"},
    "side-sewn, hinged": {"cover.style": "side-sewn", "cover.hinge": 25},
    "concertina": {"cover.style": "concertina"},
}
THREAD = {"thread, computed", "thread to cut, at least"}
"""Not marked: a learner cuts a quarter more, and no paper is cut by them."""

OF_PAPER = {"caliper", "creep", "fore-edge trim", "section thickness"}
"""What [measured] has no key for: they are the paper's own, and no cover is cut by them."""


def facts(changes: dict[str, Any]) -> dict[tuple[str, str], Fact]:
    """Every size by its chapter and name."""
    return {(chapter.title, fact.name): fact for chapter in chapters(planned(changes)) for fact in chapter.facts}


def changed(book: dict[str, Any], changes: dict[str, Any]) -> set[str]:
    before, after = facts(book), facts({**book, **changes})
    assert before.keys() == after.keys()
    return {key[1] for key, fact in before.items() if fact.value != after[key].value} - THREAD


@pytest.mark.parametrize("name", BOOKS)
def test_marked_is_what_a_ruler_changes(name):
    """The blocks are under 7 mm thick and up to 101 mm wide; a ruler finds 7.5 mm, and 96.5 mm."""
    book = BOOKS[name]
    marked = {fact.name for fact in facts(book).values() if fact.provisional}
    assert marked == changed(book, {"measured.thickness": "7.5 mm", "measured.width": "96.5 mm"})
    assert not any(fact.provisional for fact in facts({**book, "measured.thickness": 7.5, "measured.width": 96.5}).values())


@pytest.mark.parametrize("name", BOOKS)
@pytest.mark.parametrize(("found", "other"), [("thickness", "width"), ("width", "thickness")])
def test_what_is_found_marks_no_more(name, found, other):
    known = {f"measured.{found}": {"thickness": 7.5, "width": 96.5}[found]}
    book = {**BOOKS[name], **known}
    marked = {fact.name for fact in facts(book).values() if fact.provisional}
    assert marked == changed(book, {f"measured.{other}": {"thickness": 8.5, "width": 95.5}[other]})


@pytest.mark.parametrize("name", BOOKS)
def test_another_caliper_changes_nothing_that_is_not_marked(name):
    """Untrimmed, so that the width hangs on the caliper as well; a block of panels must keep its folds."""
    book = {**BOOKS[name], "text_block.trim": "none"}
    marked = {fact.name for fact in facts(book).values() if fact.provisional}
    differ = changed(book, {"text_block.caliper": "0.13 mm"}) - OF_PAPER
    assert "thickness" in differ
    assert differ <= marked


def test_paper_is_cut_at_the_leaf_as_written_whatever_a_ruler_found():
    for style in ({}, {"cover.style": "side-sewn"}):
        made = planned({**style, "measured.height": "148.6 mm"})
        assert made.piece("text sheet").height == 150
        assert made.cover.board_height == pytest.approx(154.95)  # 148.6 + 2 x 3.175
        assert "150 mm" in " ".join(steps(made)[2].sentences)
