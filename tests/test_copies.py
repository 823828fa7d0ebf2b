"""Packs for a group: so many copies of what is cut out, on larger paper where that saves pages, within four margins."""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Callable
from functools import cache

import pdfplumber
import pikepdf
import pytest

from bookplates.errors import BadSpec, Disagreement, PaperTooSmall
from bookplates.geometry import Size
from bookplates.papers.printing import Margins, PageSetup
from bookplates.pipeline import Made, make_pack, plan
from bookplates.verify import verify_pack
from outside import Drawn, parts_in

MM = 25.4 / 72

NOTEBOOK = """\
title = "Windfall notes"
[text_block]
sheet = "A4"
format = "quarto"
sheets = 4
[cover]
style = "taped"
[print]
"""
WALL_BOOK = """\
title = "Orchard wall book"
[text_block]
leaf = "300 x 420 mm"
folios = 6
[cover]
style = "taped"
[tape]
width = "100 mm"
[print]
"""


@cache
def made(spec: str) -> Made:
    return make_pack(spec)


def often(spec: str) -> Counter[tuple[str, str]]:
    """How often each part stands in a pack, the bars of its pages left out."""
    return Counter((part.plate, part.name) for part in parts_in(made(spec).pdf) if part.name not in ("bar across", "bar along"))


def page_sizes(spec: str) -> list[tuple[int, int]]:
    with pdfplumber.open(io.BytesIO(made(spec).pdf)) as pdf:
        return [(round(float(page.width) * MM), round(float(page.height) * MM)) for page in pdf.pages]


def plates_by_page(spec: str) -> dict[int, set[str]]:
    parts = parts_in(made(spec).pdf)
    return {page: {part.plate for part in parts if part.page == page} for page in {part.page for part in parts}}


@pytest.mark.parametrize("copies", [2, 5])
def test_what_is_cut_out_is_there_so_often_and_the_scale_page_once(copies: int) -> None:
    alone, group = often(NOTEBOOK), often(f"{NOTEBOOK}copies = {copies}\n")
    assert set(alone) == set(group)
    assert {key: count / alone[key] for key, count in group.items() if key[0] != "scale page"} == {
        key: copies for key in alone if key[0] != "scale page"
    }
    assert [group[key] for key in alone if key[0] == "scale page"] == [alone[key] for key in alone if key[0] == "scale page"]


def test_pages_of_words_are_there_once() -> None:
    def words(spec: str) -> Counter[str]:
        with pdfplumber.open(io.BytesIO(made(spec).pdf)) as pdf:
            texts = [page.extract_text() for page in pdf.pages]
        return Counter(word for word in ("Words of the trade", "Check the scale first") for text in texts if word in text)

    assert words(NOTEBOOK) == words(f"{NOTEBOOK}copies = 5\n")


def test_a_group_takes_less_paper_than_so_many_packs() -> None:
    text = sum(not plates - {"scale page", "sizes", "steps"} for plates in plates_by_page(NOTEBOOK).values())
    alone, group = made(NOTEBOOK).pages, made(f"{NOTEBOOK}copies = 12\n").pages
    assert group - text < 12 * (alone - text)


@pytest.mark.parametrize(
    ("plate", "name"),
    [
        ("board outline", "front board"),
        ("wrap outline", "front covering"),
        ("wrap outline", "back covering"),
        ("tape guide", "spine centre"),
        ("spacer", "spacer"),
        ("punch guide", "punch guide"),
    ],
)
def test_copies_of_a_plate_follow_each_other(plate: str, name: str) -> None:
    parts = parts_in(made(f"{NOTEBOOK}copies = 5\n").pdf)
    pages = sorted({part.page for part in parts if (part.plate, part.name) == (plate, name)})
    assert pages == list(range(pages[0], pages[0] + len(pages)))


def test_words_read_from_below_or_from_the_right_however_a_plate_lies() -> None:
    """ISO 129-1: dimensions are read from the bottom or the right-hand side of the page."""
    with pdfplumber.open(io.BytesIO(made(f"{NOTEBOOK}copies = 5\n").pdf)) as pdf:
        ways = {tuple(round(value, 3) for value in char["matrix"][:4]) for page in pdf.pages for char in page.chars}
    upright, turned = [way for way in ways if way[0] > 0], [way for way in ways if way[1] > 0]
    assert len(upright) + len(turned) == len(ways) and turned


def without(pdf: bytes, page: int) -> bytes:
    saved = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as document:
        del document.pages[page - 1]
        document.save(saved)
    return saved.getvalue()


@pytest.mark.parametrize(("book", "plate"), [(NOTEBOOK, "punch guide"), (WALL_BOOK, "wrap outline")])
def test_a_copy_that_is_lost_is_noticed(book: str, plate: str) -> None:
    spec = f"{book}copies = 3\n"
    pack = made(spec)
    times = [1 if layout.plate == "scale page" else 3 for layout in pack.plan.layouts]
    assert verify_pack(pack.plan.layouts, pack.pdf, times=times).parts == len(parts_in(pack.pdf))
    page = [page for page, plates in plates_by_page(spec).items() if plate in plates][1]
    with pytest.raises(Disagreement, match=f"{plate}.*times, not 3"):
        verify_pack(pack.plan.layouts, without(pack.pdf, page), times=times)


def reordered(pdf: bytes, order: Callable[[list[int]], list[int]]) -> bytes:
    saved = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as document, pikepdf.new() as other:
        pages = list(document.pages)
        for number in order(list(range(len(pages)))):
            other.pages.append(pages[number])
        other.save(saved)
    return saved.getvalue()


def test_tiles_may_be_sorted_but_none_may_be_there_more_often_than_others() -> None:
    pack = made(f"{WALL_BOOK}copies = 2\n")
    times = [1 if layout.plate == "scale page" else 2 for layout in pack.plan.layouts]
    backwards = reordered(pack.pdf, lambda pages: pages[::-1])
    assert verify_pack(pack.plan.layouts, backwards, times=times).parts == len(parts_in(pack.pdf))
    tile = next(page for page, plates in plates_by_page(f"{WALL_BOOK}copies = 2\n").items() if "wrap outline" in plates)
    with pytest.raises(Disagreement, match=r"wrap outline .*some of its pages are there more often than others"):
        verify_pack(pack.plan.layouts, reordered(pack.pdf, lambda pages: [*pages, tile - 1]), times=times)


def test_more_pages_than_anybody_prints_are_refused() -> None:
    with pytest.raises(BadSpec) as caught:
        make_pack(f"{WALL_BOOK}copies = 500\n")
    (problem,) = caught.value.problems
    assert problem.where == "print.copies" and "500 copies make" in problem.what and "2,000 pages at most" in problem.hint


def test_larger_paper_takes_what_needs_fewer_pages_of_it_and_nothing_else() -> None:
    small, large = WALL_BOOK + 'paper = "A4"\n', WALL_BOOK + 'paper = "A4"\nlarge_paper = "A3"\n'
    sizes, plates, before = page_sizes(large), plates_by_page(large), plates_by_page(small)
    assert set(sizes) == {(210, 297), (297, 420)} and made(large).pages < made(small).pages
    spread = {plate for plate in set().union(*before.values()) if sum(plate in found for found in before.values()) > 1}
    on_large = {plate for page, found in plates.items() if sizes[page - 1] == (297, 420) for plate in found}
    assert on_large and on_large <= spread
    assert true(large) == true(small)


def true(spec: str) -> dict[tuple[str, str], tuple[float, float]]:
    """Every part but the bars with its size; the shorter side first, since a plate may lie turned."""

    def sides(part: Drawn) -> tuple[float, float]:
        return round(min(part.size), 2), round(max(part.size), 2)

    return {(part.plate, part.name): sides(part) for part in parts_in(made(spec).pdf) if not part.name.startswith("bar ")}


def test_larger_paper_that_saves_nothing_is_not_used() -> None:
    assert made(f'{NOTEBOOK}large_paper = "A3"\n').pages == made(NOTEBOOK).pages
    assert set(page_sizes(f'{NOTEBOOK}large_paper = "A3"\n')) == {(210, 297)}
    assert set(page_sizes(f'{WALL_BOOK}large_paper = "A4"\n')) == {(210, 297)}
    with pytest.raises(PaperTooSmall, match=r"print\.large_paper"):
        make_pack(f'{WALL_BOOK}large_paper = "100 x 110 mm"\n')


@pytest.mark.parametrize(
    ("papers", "told"),
    [
        ('paper = "A4"\nlarge_paper = "A4 landscape"\n', True),
        ('paper = "A4"\nlarge_paper = "A5"\n', True),
        ('large_paper = "A4"\n', True),
        ('paper = "A4"\nlarge_paper = "A3"\n', False),
        ('paper = "A4"\nlarge_paper = "Letter"\n', False),  # wider, so that it may take what A4 does not
        ('paper = "A4"\n', False),
    ],
)
def test_larger_paper_that_is_not_larger_is_warned_of(papers: str, told: bool) -> None:
    warnings = [problem for problem in plan(WALL_BOOK + papers).warnings if problem.where == "print.large_paper"]
    assert len(warnings) == told
    assert all("is no larger than the paper, 210" in problem.what and problem.hint for problem in warnings)


def test_each_margin_keeps_its_own_side_free() -> None:
    setup = PageSetup(Size(210, 297), Margins(top=5, bottom=18, left=3, right=9))
    assert setup.printable == pytest.approx((3, 18, 201, 292))
    spec = f'{NOTEBOOK}margin = {{ top = 5, bottom = "18 mm", left = 3, right = 9 }}\n'
    with pdfplumber.open(io.BytesIO(made(spec).pdf)) as pdf:
        for page in pdf.pages:
            inked = [*page.chars, *page.lines, *page.curves, *page.rects]
            assert min(item["x0"] for item in inked) * MM >= 3 - 0.2  # half the title block's line lies beyond
            assert max(item["x1"] for item in inked) * MM <= 201 + 0.2
            assert min(item["top"] for item in inked) * MM >= 5 - 0.2
            assert max(item["bottom"] for item in inked) * MM <= 297 - 18 + 0.2
    # the title block stands on its margins: 201 - 3 = 198 mm wide, its foot 18 mm from the paper's
    block = max((rect for page in made_pages(spec)[:1] for rect in page), key=lambda rect: rect[2] - rect[0])
    assert block == pytest.approx((3, 18, 201, 31), abs=0.01)  # two rows of 6.5 mm


def made_pages(spec: str) -> list[list[tuple[float, float, float, float]]]:
    """The rectangles of each page, mm from its lower left corner."""
    with pdfplumber.open(io.BytesIO(made(spec).pdf)) as pdf:
        return [
            [
                (item["x0"] * MM, item["y0"] * MM, item["x1"] * MM, item["y1"] * MM)
                for item in (*page.rects, *page.curves)
                if item["width"] * MM > 190
            ]
            for page in pdf.pages
        ]


def test_a_margin_left_out_is_a_quarter_inch() -> None:
    spec = f'{NOTEBOOK}margin = {{ bottom = "20 mm" }}\n'
    (block, *_) = made_pages(spec)[0]
    assert block[:3] == pytest.approx((6.35, 20, 210 - 6.35), abs=0.01)
