"""The steps as a learner gets them: nothing is named that the pack lacks, the order holds, a caution stands at every danger."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from bookplates.book.record import Plan, Sewing
from bookplates.handout.facts import chapters
from bookplates.handout.glossary import GLOSSARY, first_uses, words_in
from bookplates.handout.steps import Step, steps
from bookplates.kinds.thread import ThreadPath
from bookplates.pipeline import plan as plan_of
from check_book import book

SAMPLES = sorted((Path(__file__).parent.parent / "sample_specs").glob("*.toml"))
LISTS = ("cutting plan", "shopping list")
NONE_OF = {"wrapper": {"Adhesive:"}, "side-sewn": {"Adhesive:"}}
"""Dangers that a soft cover of card may do without."""
PLATES = ("board outline", "wrap outline", "lining outline", "tape guide", "spacer", "punch guide", "cover punch guide")

DANGERS = {
    r"(^|\. )(Cut|Slit)\b(?! .* of thread)(?!.* with scissors)": "Knife:",
    r"(^|\. )(Prick|Pierce) (the|every|through|each|it)\b": "Awl:",
    r"(^|\. )Drill\b|pierce or drill\b": "Drill:",
    r"\badhesive thinly\b|\bwith adhesive\b(?! tape)|(^|\. )Glue\b": "Adhesive:",
    r"\bunder a weight\b|(^|\. )Weigh\b": "Weights:",
}
"""What a sentence tells to do, and the caution that then stands at that step. The needle is asked for apart."""


def said(step: Step) -> str:
    return " ".join(step.sentences)


def order(plan: Plan) -> str:
    """All steps as one running text."""
    return " ".join(f"{step.title}. {said(step)}" for step in steps(plan))


@cache
def sample(path: Path) -> Plan:
    return plan_of(path.read_bytes())


@pytest.fixture(params=SAMPLES, ids=lambda path: path.stem)
def plan(request) -> Plan:
    return sample(request.param)


def test_a_step_names_no_plate_that_the_pack_lacks(plan):
    held = {layout.plate for layout in plan.layouts} | {"scale page", "sizes"}
    named = {name for name in (*PLATES, *LISTS) if re.search(rf"(?<!cover )\b{name}\b", order(plan))}
    assert named
    assert named - held == set()


def test_a_step_names_no_gauge_that_the_pack_lacks(plan):
    held = {layout.title for layout in plan.layouts}
    assert {name for name in ("mitre gauge", "margin gauge", "tape gauge") if name in order(plan)} - held == set()


@pytest.mark.parametrize("gone", ["punch guide", "spacer"])
def test_a_shared_stage_goes_where_its_plate_goes(gone):
    """What the style says of itself stays; the stages that all books share look at the pack."""
    plan = book()
    bare = replace(plan, work=("pierce", "gauges", "spacers"))
    named = re.compile(rf"(?<!cover ){gone}")
    assert named.search(order(bare))
    assert not named.search(order(replace(bare, layouts=tuple(layout for layout in plan.layouts if layout.plate != gone))))


def test_a_caution_stands_at_every_danger(plan):
    met = {
        (step.title, caution)
        for step in steps(plan)
        for sentence in step.sentences
        for danger, caution in DANGERS.items()
        if re.search(danger, sentence)
    }
    assert {"Knife:", "Awl:", "Adhesive:", "Weights:"} - {caution for _, caution in met} <= NONE_OF.get(plan.cover.style, set())
    cautions = {step.title: step.caution for step in steps(plan)}
    assert [(title, caution) for title, caution in sorted(met) if caution not in cautions[title]] == []
    assert [title for title, caution in cautions.items() if title.startswith("Sew:") and "Needle:" not in caution] == []


def test_what_is_not_sewn_has_no_step_of_sewing():
    bare = replace(book(), work=("fold", "nest", "pierce", "thread", "sew", "press"), sewing=unsewn())
    titles = [step.title for step in steps(bare)]
    assert titles == [
        "Check the print, and read on",
        "Have ready",
        "Cut and fold the text paper",
        "Nest and press",
        "Press the book",
    ]
    ready = said(steps(bare)[1])
    assert "needle" not in ready
    assert "thread" not in ready


def unsewn() -> Sewing:
    return replace(book().sewing, stations=(), cover_stations=(), punching=(), path=ThreadPath())


def gathered(**changes: object) -> Plan:
    """The check book's stages with its leaves hanging together in another way."""
    plan = book()
    stages = ("fold", "nest", "trim", "measure", "pierce", "thread", "sew", "press")
    return replace(plan, work=stages, text_block=replace(plan.text_block, **changes))


def step(plan: Plan, title: str) -> str:
    return next(said(one) for one in steps(plan) if one.title == title)


def test_sections_of_one_size_are_nested_each_and_numbered():
    nest = step(gathered(sections=4, folios_per_section=(5, 5, 5, 5)), "Nest and press")
    assert "set one inside the other, 5 to a section: 4 sections." in nest
    assert "Number the sections lightly inside, 1 at the front." in nest
    assert "Knock each section up to the head." in nest


def test_sections_of_different_size_are_counted_from_the_front():
    plan = gathered(sections=3, folios_per_section=(7, 7, 6))
    assert "set one inside the other: first 2 sections of 7, then 1 section of 6." in step(plan, "Nest and press")


def test_single_folios_are_not_nested():
    nest = step(gathered(sections=20, folios_per_section=(1,) * 20), "Nest and press")
    assert "Each folded sheet, each folio, is a section by itself: 20 sections." in nest
    assert "one inside the other" not in nest


def test_every_section_is_pierced_by_the_same_guide():
    plan = gathered(sections=2, folios_per_section=(10, 10))
    plan = replace(plan, sewing=replace(plan.sewing, punching=((10,), (10,))))
    pierce = step(plan, "Pierce the sections")
    assert "Take a" not in pierce
    assert "Pierce each further section by the same guide, the same way up. Keep the sections in their order." in pierce


def test_single_leaves_are_cut_stacked_and_trimmed_from_the_spine_edge():
    plan = gathered(gathered="single leaves", folios=20, leaves=40, sheet=None, sheets=None, creep=0.0, fore_edge_trim=2.0)
    assert "Cut 40 leaves, 4 1/4 × 5 1/2 in (107.95 × 139.7 mm)." in step(plan, "Cut the leaves")
    assert "heads together, the first page up." in step(plan, "Stack and press")
    assert "from the spine edge, at head and tail." in step(plan, "Trim the fore-edge")
    assert "innermost leaf" not in order(plan)


def test_leaves_folded_at_the_fore_edge_have_their_open_edges_at_the_spine():
    plan = gathered(gathered="fore-edge folded", creep=0.0)
    assert "it is the fore-edge; the open edges go to the spine." in step(plan, "Cut and fold the text paper")
    assert "the open edges to the spine." in step(plan, "Stack and press")


def test_panels_are_not_folded_as_folios_are():
    assert "Fold each piece" not in order(gathered(gathered="panels"))


def test_a_long_thread_is_sewn_in_pieces_where_it_can_be_joined():
    plan = gathered(sections=4, folios_per_section=(5, 5, 5, 5))
    long = replace(plan, sewing=replace(plan.sewing, thread_to_cut=2400.0))
    assert "weaver's knot" in step(long, "Get ready to sew")
    assert "weaver's knot" not in step(plan, "Get ready to sew")  # 792 mm
    one = replace(book(), sewing=replace(book().sewing, thread_to_cut=2400.0))
    assert "weaver's knot" not in step(one, "Get ready to sew")


def test_thread_is_cut_to_a_length_that_a_ruler_shows():
    told = step(book(), "Get ready to sew")
    cut = book().sewing.thread_to_cut  # up to the next half inch, 12.7 mm
    inches = -(-cut // 12.7) / 2
    whole, half = divmod(inches, 1)
    assert f"Cut {whole:.0f}{' 1/2' if half else ''} in (" in told


def test_have_ready_names_only_the_tools_of_this_book():
    ready = {path.stem: said(steps(sample(path))[1]) for path in SAMPLES}
    for path in SAMPLES:
        plan, text = sample(path), ready[path.stem]
        work = " ".join(said(one) for one in steps(plan)[2:]).lower()
        assert ("needle" in text) is bool(plan.sewing.path.steps)
        assert ("cradle" in text) is ("cradle" in work)
        assert ("drill" in text) is ("drill" in work)
        assert ("clamps" in text) is ("clamp" in work)
        assert "A knife, a cutting mat, a metal safety rule" in text


# ---- words


def test_a_word_is_explained_where_it_stands_first():
    first, second = first_uses(["Rub it down with the bone folder.", "Bone folders and awls: keep the corks on the awls."])
    assert [word for word, _ in first] == ["bone folder"]
    assert [word for word, _ in second] == ["awl"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("The head of both leaves", ["head, tail", "leaf, page"]),
        ("on the sizes page", []),
        ("Knock the stack up", ["knock up"]),
        ("three reef knots, square to the edge", ["reef knot"]),
        ("It is printed in Tailwind green", []),
        ("the squares are even", ["square"]),
        ("Kettle stitch: go round", ["kettle stitch"]),
        ("two hinge strips of board", []),
    ],
)
def test_words_are_found_in_their_forms(text, words):
    assert [word for word, _ in words_in(text)] == words


WRITTEN = {
    "leaf, page": "the leaf is closed",
    "head, tail": "at the tail",
    "quarter, half covering": "a half covering of cloth",
    "square": "the squares",
    "strip": "cut one strip",
    "tip on": "tip it on",
}
"""Words that stand for two, or that mean something else as well, each in a sentence."""


def test_every_word_of_the_glossary_is_found_as_it_is_written():
    for word, meaning in GLOSSARY:
        written = WRITTEN.get(word, f"a {word} and")
        assert (word, meaning) in words_in(written), word


# ---- the order, the sizes


def test_the_work_is_told_in_its_order() -> None:
    told = order(sample(SAMPLES[[path.stem for path in SAMPLES].index("orchard_notebook")]))
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
        "Draw a pencil line along its other long edge",
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
        "press it into the groove",
        "Pierce every station with the awl",
        "Pierce every station straight down",
        "Draw it over the beeswax",
        "its fold in the groove",
        "Go out through station 1. Go back in",
        "Press it under a weight",
    ]
    places = [told.find(stage) for stage in stages]
    assert -1 not in places, stages[places.index(-1)]
    assert places == sorted(places)


def test_a_tape_that_is_turned_in_has_its_strip_cut_and_laid() -> None:
    told = order(sample(SAMPLES[[path.stem for path in SAMPLES].index("tide_pool_log")]))
    assert "21.9 mm (about 7/8 in) from one end, the head end, and one 21.9 mm" in told  # 20 + 1.9; 7/8 in is 22.2 mm
    assert (
        told.index("Then the tail end") < told.index("Cut the inner strip, ") < told.index("Lay it over the adhesive left bare")
    )
    # 24 x 0.162 + 2 x 6 + 2 x 12.7 = 41.288 wide; 105 + 2 x 3 - 3.175 = 107.825 high
    assert "Cut the inner strip, 41.29 × 107.83 mm (" in told
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
    assert any("grain across" in fact.value for fact in mixed.facts)  # the text sheet's; the boards' runs head to tail
    alike = replace(plan, pieces=tuple(piece for piece in plan.pieces if piece.name != "text sheet"))
    (shared,) = [chapter for chapter in chapters(alike) if chapter.title.startswith("Cut for one book")]
    assert shared.title == "Cut for one book, grain head to tail"
    assert not any("grain" in fact.value for fact in shared.facts)


def facts_of(stem: str) -> dict[str, dict[str, str]]:
    plan = sample(next(path for path in SAMPLES if path.stem == stem))
    return {
        chapter.title.split(",")[0].split(":")[0]: {fact.name: fact.value for fact in chapter.facts} for chapter in chapters(plan)
    }


def test_the_facts_of_a_case_on_tapes_tell_its_endpapers_and_its_tapes():
    facts = facts_of("orchard_year")
    assert facts["Text block"]["endpapers"].startswith("4 leaves")  # two folded endpapers
    assert set(facts["Sewing tapes"]) == {"1", "2"}
    assert "Stations" in facts


def test_a_side_sewn_book_has_holes_and_no_second_list_of_stations():
    facts = facts_of("potting_shed_book")
    assert set(facts["Holes"]) == {str(n) for n in range(1, 7)}  # four main holes and two near the corners
    assert "Stations" not in facts
    assert {"hinge strip", "hinge gap"} <= set(facts["Cover"])


def test_a_concertina_has_panels_and_no_chapter_of_sewing():
    facts = facts_of("plot_map_concertina")
    assert facts["Text block"]["panels"] == "10"
    assert "Sewing" not in facts
    assert "Stations" not in facts


def test_a_wrapper_has_card_and_its_flap():
    facts = facts_of("hedgerow_diary")
    assert facts["Squares"]["flap"].startswith("30 mm")
    assert "card thickness" in facts["Cover"]
    assert "board thickness" not in facts["Cover"]


# ---- what learners stumbled over


def measured_step(stem: str) -> str:
    plan = sample(next(path for path in SAMPLES if path.stem == stem))
    return step(plan, "Measure")


def test_a_block_that_is_measured_before_it_is_sewn_is_told_what_its_thread_adds():
    # three sections sewn with thread of 0.8 mm: 3 x 0.8 = 2.4 mm of swell at the spine
    assert "add 2.4 mm (3/32 in) to the thickness" in measured_step("hedgerow_diary")
    assert "to the thickness, for the thread" not in measured_step("orchard_year")  # a case is made for a sewn block
    assert "to the thickness, for the thread" not in measured_step("orchard_notebook")  # one section


def test_a_sheet_as_bought_is_told_with_its_grain():
    text = order(sample(next(path for path in SAMPLES if path.stem == "orchard_notebook")))
    assert "It must run along the sides that are 11 in (279.4 mm) long." in text


def test_a_size_of_nothing_has_no_row():
    names = {name for chapter in facts_of("windfall_recipes").values() for name in chapter}
    assert not {name for name in names if name.startswith(("square", "creep", "fore-edge trim"))}
    assert {"front cover", "back cover"} <= names  # of card, not coverings


def test_a_flap_is_told_as_it_is_inside_and_as_it_is_cut():
    # 30 mm inside and 0.6 mm of card in the fold
    assert facts_of("hedgerow_diary")["Squares"]["flap"].startswith("30 mm (1 3/16 in -0.2 mm) inside; with its fold 30.6 mm")


def test_a_cover_that_is_not_pierced_has_no_stations():
    (table,) = [
        c for c in chapters(sample(next(p for p in SAMPLES if p.stem == "orchard_year"))) if c.title.startswith("Stations")
    ]
    assert table.heads == ("station", "on the leaf")
    assert all(len(fact.cells) == 1 for fact in table.facts)


def test_a_word_is_found_whatever_stands_round_it():
    words = [word for word, _ in words_in("Knock each section up. Lay 3 strips, and one hinge strip, on the spine cloth.")]
    assert words == ["knock up", "section", "strip", "spine cloth"]
