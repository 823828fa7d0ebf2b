"""The steps plate: its pictures keep to their room, their words meet nothing, and every step finds one."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest
from shapely.geometry import LineString, Polygon, box

from bookplates.book.record import Plan
from bookplates.geometry import Size
from bookplates.handout.steps import steps
from bookplates.letters import width
from bookplates.papers.printing import PageSetup
from bookplates.pipeline import plan as plan_of
from bookplates.plates import steps as plate
from bookplates.plates.drawing import Drawing, Fill, Item, Label, Stroke
from bookplates.plates.pictures.table import PICTURES, picture
from check_book import A4, LETTER, NARROW, book

SAMPLES = sorted((Path(__file__).parent.parent / "sample_specs").glob("*.toml"))
SIX_POINTS = 2.1167  # 6 / 72 x 25.4
WIDE, HIGH = plate.PICTURE


@cache
def sample(path: Path) -> Plan:
    return plan_of(path.read_bytes())


def other_way(plan: Plan) -> Plan:
    return replace(plan, opening="right" if plan.opening == "left" else "left")


@pytest.fixture(params=SAMPLES, ids=lambda path: path.stem)
def plan(request) -> Plan:
    return sample(request.param)


def letters(label: Label) -> Polygon:
    """The room of a label that is not turned: 0.7 of its size over the baseline and 0.25 below."""
    wide = width(label.text, label.size, label.bold)
    left = label.at[0] - {"start": 0.0, "middle": wide / 2, "end": wide}[label.anchor]
    return box(left, label.at[1] - 0.25 * label.size, left + wide, label.at[1] + 0.7 * label.size)


def line_of(stroke: Stroke) -> LineString:
    return LineString((*stroke.points, stroke.points[0]) if stroke.closed else stroke.points)


def clashes(items: tuple[Item, ...]) -> list[tuple[str, str]]:
    """Words that meet other words, a line or an arrowhead. What a light fill hides is not seen, and does not count."""
    found = []
    words = [item for item in items if isinstance(item, Label)]
    rooms = [letters(label) for label in words]
    for (one, first), (other, second) in combinations(zip(words, rooms, strict=True), 2):
        if first.intersects(second):
            found.append((one.text, other.text))
    for label, room in zip(words, rooms, strict=True):
        for item in items:
            if isinstance(item, Stroke) and line_of(item).intersects(room):
                found.append((label.text, item.line))
            elif isinstance(item, Fill) and item.grey < 0.5 and Polygon(item.points).intersects(room):
                found.append((label.text, "fill"))
    return found


@pytest.mark.parametrize("name", [name for name in PICTURES if name != "sew"])  # that one: see test_stitch_picture
def test_a_picture_keeps_to_its_room_and_its_words_meet_nothing(name, plan):
    for opened in (plan, other_way(plan)):
        items = picture(name, opened, WIDE, HIGH)
        assert items or name == "gauges"  # a book may need none
        room = box(-0.3, -0.3, WIDE + 0.3, HIGH + 0.3)
        out = [item for item in items if not room.covers(letters(item) if isinstance(item, Label) else LineString(item.points))]
        assert not out
        assert not clashes(items)


def test_an_unknown_picture_draws_nothing(plan):
    assert picture("a bookbinder's cat", plan, WIDE, HIGH) == ()


def test_every_step_has_a_picture(plan):
    without = [step.title for step in steps(plan) if step.picture not in PICTURES]
    assert without == ["Have ready"]  # a list of things to lay out


def drawn(plan: Plan, paper: Size = A4) -> tuple[Drawing, ...]:
    return plate.draw(plan, PageSetup(paper, 6.35, Size(100.0, 100.0)))


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
def test_words_on_the_plate_meet_nothing_and_stay_on_their_page(paper, plan):
    for page in drawn(plan, paper):
        assert not clashes(page.items)
        room = box(*page.box).buffer(1e-6)
        assert all(room.covers(letters(item)) for item in page.items if isinstance(item, Label))
        assert all(room.covers(LineString(item.points)) for item in page.items if not isinstance(item, Label))


def test_no_words_are_smaller_than_six_points_after_the_largest_correction(plan):
    sizes = [item.size for page in drawn(plan) for item in page.items if isinstance(item, Label)]
    assert min(sizes) * 100 / 105 >= SIX_POINTS


def said(pages: tuple[Drawing, ...]) -> str:
    return " ".join(item.text for page in pages for item in page.items if isinstance(item, Label))


def test_every_step_is_told_with_its_number_title_caution_and_sentences(plan):
    told = said(drawn(plan))
    for number, step in enumerate(steps(plan), 1):
        assert f"{number} {step.title}".replace("  ", " ") in told.replace("  ", " ")
        assert step.caution in told
    for stitch in plan.sewing.path.steps:
        assert stitch.text in told


def test_the_handout_of_the_check_book_takes_at_most_six_pages():
    assert 2 <= len(drawn(book(), LETTER)) <= 6


def test_a_title_never_ends_a_column(plan):
    for page in drawn(plan):
        bold = [item for item in page.items if isinstance(item, Label) and item.bold and item.size > 3.4]  # 10 pt is 3.53 mm
        for title in bold:
            below = [
                item.at[1]
                for item in page.items
                if isinstance(item, Label) and not item.bold and item.at[1] < title.at[1] and abs(item.at[0] - title.at[0]) < 20
            ]
            assert below, title.text
            assert title.at[1] - max(below) < 45


def test_a_word_is_explained_once_below_the_step_that_uses_it_first():
    told = said(drawn(book(), LETTER))
    assert told.count("bone folder: a smooth flat blade") == 1
    assert told.index("3 Cut and fold") > told.index("bone folder: a smooth flat blade") > told.index("2 Have ready")
    assert told.index("station: a place where the needle goes through") > told.index("Pierce every station with the awl")


def test_a_column_too_narrow_for_words_beside_a_picture_has_it_above_them():
    page = Size(160.0, 230.0)  # two columns of some 60 mm
    pages = plate.draw(book(), PageSetup(page, 4.0, Size(100.0, 100.0)))
    columns = {item.at[0] > pages[0].box.right / 2 for item in pages[0].items if isinstance(item, Label)}
    assert columns == {True, False}
    assert any(isinstance(item, Fill) for item in pages[0].items)
    assert not any(clashes(page.items) for page in pages)


TALL = """
title = "Bean pole record"
[text_block]
leaf = "60 x 420 mm"
folios = 12
sections = {sections}
[cover]
style = "{style}"
board = "2 mm"
[sewing]
pattern = "{pattern}"
"""


@pytest.mark.parametrize(
    ("style", "pattern", "sections"),
    [("taped", "chain", 1), ("case", "french link", 3), ("exposed", "link", 3), ("wrapper", "long stitch", 2)],
)
def test_pictures_of_a_tall_narrow_book_are_clear(style, pattern, sections):
    text = TALL.format(style=style, pattern=pattern, sections=sections)
    plan = plan_of((text.replace('board = "2 mm"', "") if style == "wrapper" else text).encode())
    for name in {step.picture for step in steps(plan)} - {"", "sew"}:
        items = picture(name, plan, WIDE, HIGH)
        room = box(-0.3, -0.3, WIDE + 0.3, HIGH + 0.3)
        assert all(room.covers(letters(item)) for item in items if isinstance(item, Label)), name
        assert not clashes(items), name


def test_a_last_page_of_a_few_lines_is_closed_up():
    """Before it was, some of these packs ended on a page that held less than a tenth of a column."""
    for path in SAMPLES:
        pages = drawn(sample(path))
        low = min(item.at[1] for item in pages[-1].items if isinstance(item, Label))
        assert pages[-1].box.top - low > 0.1 * pages[-1].box.size.height, path.stem


def test_a_narrow_page_does_without_pictures_beside_its_words():
    pages = drawn(book(NARROW), Size(75.0, 120.0))
    assert not clashes(tuple(item for item in pages[0].items if isinstance(item, Label)))
    assert said(pages).count("Check the print") == 1
