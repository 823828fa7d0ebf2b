"""The steps as a learner gets them: nothing is named that the pack lacks, the order holds, a caution stands at every danger."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from bookplates.book.record import Plan
from bookplates.geometry import rectangle
from bookplates.handout.facts import chapters
from bookplates.handout.steps import Step, steps
from bookplates.kinds.parts import Piece
from check_book import book

PLATES = ("board outline", "wrap outline", "lining outline", "tape guide", "spacer", "punch guide", "cover punch guide")

DANGERS = {
    r"(^|\. )(Cut|Slit)\b(?! .* of thread)": "Knife:",
    r"(^|\. )(Prick|Pierce) (the|every|through)\b": "Awl:",
    r"\badhesive thinly\b|\bwith adhesive\b|(^|\. )Glue\b": "Adhesive:",
    r"\bunder a weight\b|(^|\. )Weigh\b": "Weights:",
}
"""What a sentence tells to do, and the caution that then stands at that step. The needle is asked for apart."""


def said(step: Step) -> str:
    return " ".join(step.sentences)


def order(plan: Plan) -> str:
    """All steps as one running text."""
    return " ".join(f"{step.title}. {said(step)}" for step in steps(plan))


def turned_in(plan: Plan) -> Plan:
    """The book with its tape only turned over head and tail, by 25.4 mm and the board's 2 mm."""
    assert plan.tape is not None
    short = replace(plan.tape, inside="turn-in", hang_head=27.4, hang_tail=27.4, overlap=None, overlap_from_tail=None)
    strip = Piece("inner strip", "tape", 1, rectangle(0, 0, 42.1, 142.875), "none")  # 16.7 + 2 x 12.7; 146.05 - 3.175
    return replace(plan, tape=short, pieces=(*plan.pieces, strip))


@pytest.mark.parametrize("gone", PLATES)
def test_a_step_names_no_plate_that_the_pack_lacks(gone: str) -> None:
    plan = book()
    bare = replace(plan, layouts=tuple(layout for layout in plan.layouts if layout.plate != gone))
    named = re.compile(rf"(?<!cover ){gone}")
    assert named.search(order(plan))
    assert not named.search(order(bare))


@pytest.mark.parametrize("gone", ["margin gauge", "tape gauge"])
def test_a_step_names_no_gauge_that_the_pack_lacks(gone: str) -> None:
    plan = book()
    assert gone in order(plan)
    assert gone not in order(replace(plan, layouts=tuple(layout for layout in plan.layouts if layout.title != gone)))


@pytest.mark.parametrize("plan", [book(), turned_in(book())], ids=["tape all round", "tape turned in"])
def test_a_caution_stands_at_every_danger(plan: Plan) -> None:
    met = {
        (step.title, caution)
        for step in steps(plan)
        for sentence in step.sentences
        for danger, caution in DANGERS.items()
        if re.search(danger, sentence)
    }
    assert {caution for _, caution in met} == {"Knife:", "Awl:", "Adhesive:", "Weights:"}
    cautions = {step.title: step.caution for step in steps(plan)}
    assert [(title, caution) for title, caution in sorted(met) if caution not in cautions[title]] == []
    assert [title for title, caution in cautions.items() if title.startswith("Sew") and "Needle:" not in caution] == []


def test_the_work_is_told_in_its_order() -> None:
    told = order(book())
    stages = [
        "Fold each piece in half",
        "set one inside the other",
        "Press it overnight",
        "Trim the fore-edge",
        "Measure the width, height and thickness",
        "Make the gauges",
        "the board is 4 1/8 × 5 3/4 in",
        "Cut the whole rectangle",
        "Lay the board on the four pricks",
        "Cut along its other long edge",
        "Brush the fore-edge turn-in",
        "Lay it to the marks",
        "Press the boards dry",
        "mark lightly 42.45 mm",
        "Push one spacer into the gap",
        "Slit the backing paper",
        "Lay the tape from above",
        "Draw both spacers out",
        "Lift the work off, and turn it over",
        "Peel the backing off the tail end",
        "Peel the backing off the long head end",
        "press the tape into the groove",
        "Pierce every station (place for the needle)",
        "Pierce every station straight down",
        "Draw it over the beeswax",
        "its fold in the groove",
        "Bring the needle out at station 1",
        "Press it under a weight",
    ]
    places = [told.find(stage) for stage in stages]
    assert -1 not in places, stages[places.index(-1)]
    assert places == sorted(places)


def test_a_tape_that_is_turned_in_has_its_strip_cut_and_laid() -> None:
    told = order(turned_in(book()))
    assert "27.4 mm (about 1 3/32 in) from one end, the head end, and one 27.4 mm" in told  # 1 3/32 in is 27.78 mm
    assert (
        told.index("Then the tail end") < told.index("Cut the inner strip, ") < told.index("Lay it over the adhesive left bare")
    )
    assert "(42.1 × 142.88 mm)" in told
    assert "overlap by" not in told


def test_a_sheet_that_is_folded_once_is_not_cut() -> None:
    plan = book()
    folio = replace(plan, text_block=replace(plan.text_block, format="folio", sheets=20))
    assert "They are folded as they are." in order(folio)
    assert "Cut each into 2 equal pieces, 8 1/2 × 5 1/2 in (215.9 × 139.7 mm): 20 pieces in all." in order(plan)


def test_leaves_given_by_their_size_say_which_way_the_grain_runs() -> None:
    plan = book()
    loose = replace(plan, text_block=replace(plan.text_block, sheet=None, sheets=None, format=None))
    # Two leaves of 107.95 mm side by side; the grain head to tail is along the 139.7 mm.
    assert "Cut 20 pieces 8 1/2 × 5 1/2 in (215.9 × 139.7 mm), the grain along the side of 5 1/2 in (139.7 mm)." in order(loose)


def test_the_square_asked_for_and_the_one_that_results_stand_beside_each_other() -> None:
    (edges,) = [chapter for chapter in chapters(book()) if chapter.title.startswith("Squares")]
    values = {fact.name: fact.value for fact in edges.facts}
    assert values["square, fore-edge"] == "asked 1/8 in (3.18 mm); closed 7/32 in -0.1 mm (5.5 mm)"  # 7/32 in is 5.556 mm
    assert values["turn-in, head, tail, fore-edge"] == "1 in (25.4 mm)"


def test_turn_ins_that_differ_are_told_one_by_one() -> None:
    plan = book()
    uneven = replace(plan, cover=replace(plan.cover, turn_in_tail=19.05))
    (edges,) = [chapter for chapter in chapters(uneven) if chapter.title.startswith("Squares")]
    values = {fact.name: fact.value for fact in edges.facts}
    assert values["turn-in, head, fore-edge"] == "1 in (25.4 mm)"
    assert values["turn-in, tail"] == "3/4 in (19.05 mm)"  # 0.75 x 25.4


def test_a_grain_that_pieces_share_is_said_once() -> None:
    plan = book()
    (mixed,) = [chapter for chapter in chapters(plan) if chapter.title.startswith("Cut for one book")]
    assert any(fact.value.endswith("grain across") for fact in mixed.facts)  # the text sheet's; the boards' runs head to tail
    alike = replace(plan, pieces=tuple(piece for piece in plan.pieces if piece.name != "text sheet"))
    (shared,) = [chapter for chapter in chapters(alike) if chapter.title.startswith("Cut for one book")]
    assert shared.title == "Cut for one book, grain head to tail"
    assert not any("grain" in fact.value for fact in shared.facts)
