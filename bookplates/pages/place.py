"""Which plate lies on which page, and where. Lengths in mm.

Nothing is ever scaled to fit. A plate laid out for a whole page has one to itself, once; of the others there may be
several copies, and the small ones share pages. A plate that goes on no page is spread over several, which it has to
itself, or printed on larger paper where there is some and that takes fewer pages.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from bookplates.errors import BadSpec, PaperTooSmall, Problem
from bookplates.geometry import Box, Matrix, Size
from bookplates.lengths import Units
from bookplates.pages.frame import TitleBlock, check_paper, frame
from bookplates.pages.free import HAIR
from bookplates.pages.gang import Piece, cost, ganged
from bookplates.pages.sheets import Placement, Sheet
from bookplates.pages.tiles import MOST_TILES, cuts_words, fewest_tiles, tiled
from bookplates.papers.printing import FOOT_STRIP, LEFT_STRIP, PageSetup
from bookplates.papers.sizes import SHEETS
from bookplates.plates.drawing import Drawing

MOST_PAGES = 2000
"""More pages than this nobody prints in one go: common practice, no source."""

PRINTERS_PAPERS = (
    ("A5", "A4", "A3", "A2", "A1", "A0"),
    ("Half letter", "Letter", "Legal", "Tabloid", "ANSI C", "ANSI D", "ANSI E"),
)
"""Sheets that printers and print shops hold, international and American, the smallest first: what is advised where a
plate does not fit. Common practice, no source."""


Draw = Callable[[PageSetup], Sequence[Drawing]]
"""Lays the same plates out once more, in the same order, for another page; words may then take fewer or more pages."""

Again = Callable[[PageSetup], Mapping[int, Drawing]]
"""The same for the plates that are cut out alone, by their number in the pack."""


@dataclass(frozen=True, slots=True)
class Page:
    """A page before its frame: whose place in the order it takes, its paper, and what lies there."""

    number: int
    setup: PageSetup
    placements: tuple[Placement, ...]

    @property
    def drawings(self) -> list[Drawing]:
        """What lies there, each drawing as often as it does."""
        return [placement.drawing for placement in self.placements]

    @property
    def title(self) -> str:
        """The plates on the page, each with how often it stands there."""
        times = Counter(drawing.title for drawing in self.drawings if drawing.title)
        return "; ".join(f"{title} × {often}" if often > 1 else title for title, often in times.items())


def make_pages(
    drawings: Sequence[Drawing],
    setup: PageSetup,
    title: str,
    maker: str,
    units: Units = "mm",
    *,
    copies: int = 1,
    large: PageSetup | None = None,
    draw: Draw | None = None,
) -> tuple[Sheet, ...]:
    """Put the drawings on pages, true to size, with title block and bars on each: see `laid_out` and `framed`."""
    return framed(laid_out(drawings, setup, copies=copies, large=large, draw=draw), title, maker, units)


def laid_out(
    drawings: Sequence[Drawing],
    setup: PageSetup,
    *,
    copies: int = 1,
    large: PageSetup | None = None,
    draw: Draw | None = None,
) -> tuple[Page, ...]:
    """Put the drawings on pages, true to size, which say nothing yet of the book.

    Args:
        drawings: in the order in which they are used, laid out for pages of this set-up.
        setup: the paper, its margin and the printer's error.
        copies: of every drawing that has not a whole page to itself.
        large: larger paper, for what takes fewer pages of it.
        draw: lays them out again, for that and to lie turned; without it they are taken as they are.

    Raises:
        PaperTooSmall: a drawing laid out for a whole page does not go on it, another would take more pages than
            anybody joins, or the bars do not go on the paper.
        BadSpec: so many copies make more pages than anybody prints.
    """
    for paper, key in ((setup, "paper"), (large, "large_paper")):
        if paper:
            check_paper(paper, f"print.{key}")
    again = partial(_again, drawings, draw) if draw else None
    chosen = _papers(drawings, setup, large, again)
    _check_all_fit(chosen)
    filled = _fill(chosen, copies, again)
    if len(filled) > MOST_PAGES:
        what = f"{copies} copies make {len(filled):,} pages"
        raise BadSpec(Problem("print.copies", what, f"{MOST_PAGES:,} pages at most: fewer copies, and print them again"))
    return tuple(filled)


def framed(pages: Sequence[Page], title: str, maker: str, units: Units = "mm") -> tuple[Sheet, ...]:
    """The pages with title block and bars on each, numbered from 1.

    Args:
        pages: in printing order.
        title: of the book, shortened in the title block where it is too long.
        maker: who makes it, or empty.
        units: which unit the lengths on the plates show first.

    Returns:
        The pages; on each the frame is the last placement.
    """
    blocks = (TitleBlock(title, page.title, number, len(pages), maker, units) for number, page in enumerate(pages, 1))
    return tuple(_sheet(page, block) for page, block in zip(pages, blocks, strict=True))


Chosen = Sequence[tuple[Drawing, PageSetup]]
"""Drawings in their order, each with the paper it is printed on."""


def _again(drawings: Sequence[Drawing], draw: Draw, setup: PageSetup) -> Mapping[int, Drawing]:
    numbers = (number for number, drawing in enumerate(drawings) if not drawing.whole_page)
    return dict(zip(numbers, (drawing for drawing in draw(setup) if not drawing.whole_page), strict=True))


def _papers(drawings: Sequence[Drawing], setup: PageSetup, large: PageSetup | None, again: Again | None) -> Chosen:
    """Each drawing with its paper: the larger one where that takes fewer pages."""
    if large is None or all(drawing.whole_page or _goes_on_one(drawing, setup) for drawing in drawings):
        return [(drawing, setup) for drawing in drawings]
    others = again(large) if again else dict(enumerate(drawings))
    pairs = (((drawing, setup), (others.get(number, drawing), large)) for number, drawing in enumerate(drawings))
    return [min(pair, key=lambda choice: _pages_of(*choice)) for pair in pairs]


def _pages_of(drawing: Drawing, setup: PageSetup) -> int:
    """How many pages a drawing takes by itself; a hundred thousand where it goes on none."""
    if drawing.whole_page or _goes_on_one(drawing, setup):
        return 1
    return sum(1 for _ in tiled(drawing, setup)) if _goes_on(drawing, setup) else 100_000


def _fill(chosen: Chosen, copies: int, again: Again | None) -> list[Page]:
    pages: list[Page] = []
    sharing: dict[PageSetup, dict[int, Drawing]] = {}
    for number, (drawing, setup) in enumerate(chosen):
        if drawing.whole_page:
            place = _placed(drawing, _at_top_left(drawing.box.size, setup.room), turned=False)
            pages.append(Page(number, setup, (place,)))
        elif not _goes_on_one(drawing, setup):
            pages += [Page(number, setup, placements) for placements in tiled(drawing, setup)] * copies
        else:
            sharing.setdefault(setup, {})[number] = drawing
    for setup, drawings in sharing.items():
        pages += _shared(drawings, setup, copies, again)
    return sorted(pages, key=lambda page: page.number)


def _shared(drawings: Mapping[int, Drawing], setup: PageSetup, copies: int, again: Again | None) -> Iterator[Page]:
    """Small drawings on as few pages as is reasonable: some laid out again to lie turned, where that saves pages."""
    lying = {number: dict.fromkeys(_ways(drawing), drawing) for number, drawing in drawings.items()}
    pages = ganged(_pieces(lying, setup, copies), setup.room)
    turned = {number: {True: drawing, **lying[number]} for number, drawing in drawings.items()}
    if again and cost(ganged(_pieces(turned, setup, copies), setup.room)) < cost(pages):
        others = again(replace(setup, turned=True))
        turned = {number: {**lying[number], **_turned(others[number], setup)} for number in drawings}
        closer = ganged(_pieces(turned, setup, copies), setup.room)
        lying, pages = (turned, closer) if cost(closer) < cost(pages) else (lying, pages)
    for page in pages:
        placements = tuple(_placed(lying[one.number][one.turned], one.box, one.turned) for one in page.laid)
        yield from [Page(min(page.numbers), setup, placements)] * page.times


Lying = Mapping[bool, Drawing]
"""A plate as it is laid out to stand upright (False), to lie turned (True), or both."""


def _turned(drawing: Drawing, setup: PageSetup) -> Lying:
    """The drawing as one that lies turned, if it was laid out for that and goes on the page so."""
    lies = drawing.turnable and not drawing.grid and drawing.box.size.turned.goes_into(setup.room.size)
    return {True: drawing} if lies else {}


def _pieces(lying: Mapping[int, Lying], setup: PageSetup, copies: int) -> list[Piece]:
    """What is to be laid down, in the ways in which it goes on the page."""
    room, pieces = setup.room.size, []
    for number, ways in lying.items():
        sizes = {turned: size for turned, drawing in ways.items() if (size := _size(drawing, turned)).goes_into(room)}
        pieces.append(Piece(number, sizes.get(False), sizes.get(True), copies))
    return pieces


def _ways(drawing: Drawing) -> tuple[bool, ...]:
    """Whether it may be turned, the better way first."""
    return (False, True) if drawing.turnable and not drawing.whole_page else (False,)


def _placed(drawing: Drawing, box: Box, turned: bool) -> Placement:
    """The drawing moved, or turned counter-clockwise and moved, to where the box lies: it then reads from the right."""
    old = drawing.box
    if turned:
        return Placement(drawing, Matrix.move(box.left + old.top, box.bottom - old.left).after(Matrix.turn(90)))
    return Placement(drawing, Matrix.move(box.left - old.left, box.bottom - old.bottom))


def _size(drawing: Drawing, turned: bool) -> Size:
    return drawing.box.size.turned if turned else drawing.box.size


def _at_top_left(size: Size, room: Box) -> Box:
    return Box(room.left, room.top - size.height, room.left + size.width, room.top)


def _sheet(page: Page, block: TitleBlock) -> Sheet:
    setup = page.setup
    drawn = {stroke.part for drawing in page.drawings if drawing.whole_page for stroke in drawing.parts()}
    framed = Placement(frame(setup, block, page.drawings[0].plate, bars="bar across" not in drawn), Matrix())
    return Sheet(setup.paper, page.title, (*page.placements, framed), setup.correction)


def _check_all_fit(chosen: Chosen) -> None:
    problems = [problem for drawing, setup in chosen if (problem := _fault(drawing, setup))]
    if problems:
        raise PaperTooSmall(*problems)


def _fault(drawing: Drawing, setup: PageSetup) -> Problem | None:
    """Why a drawing cannot be printed on this paper, or nothing."""
    if not _goes_on(drawing, setup):
        return _too_large(drawing, setup)
    if not _goes_on_one(drawing, setup) and cuts_words(drawing, setup):
        what = f"the plate '{drawing.title}' is too large for one page, and its words too long for its parts"
        return Problem("print.paper", what, "take larger paper, or a smaller overlap (print.overlap)")
    return None


def _goes_on_one(drawing: Drawing, setup: PageSetup) -> bool:
    return not drawing.grid and any(_size(drawing, turned).goes_into(setup.room.size) for turned in _ways(drawing))


def _goes_on(drawing: Drawing, setup: PageSetup) -> bool:
    """Whether it goes on a page, or may be spread over several."""
    return _goes_on_one(drawing, setup) or (not drawing.whole_page and fewest_tiles(drawing, setup) <= MOST_TILES)


def _too_large(drawing: Drawing, setup: PageSetup) -> Problem:
    need, room = drawing.box.size, setup.room.size
    pages = "" if drawing.whole_page else f", more than {MOST_TILES} pages of it"
    what = f"the plate '{drawing.title}' needs {need.width:.1f} x {need.height:.1f} mm"
    has = f"this paper leaves {room.width:.1f} x {room.height:.1f} mm{pages}"
    return Problem("print.paper", f"{what}, and {has}", _larger_paper(drawing, setup))


def _larger_paper(drawing: Drawing, setup: PageSetup) -> str:
    """Words for the smallest international and American papers that would do, and for the least size that takes it whole."""
    least = min((_least_paper(_size(drawing, turned), setup) for turned in _ways(drawing)), key=_area)
    custom = f"{math.ceil(least.width - HAIR)} x {math.ceil(least.height - HAIR)} mm"
    named = " or ".join(filter(None, (_smallest(family, drawing, setup) for family in PRINTERS_PAPERS)))
    return f"{named} would do, or any paper of {custom} and more" if named else f"it takes paper of {custom} at least"


def _smallest(papers: Iterable[str], drawing: Drawing, setup: PageSetup) -> str:
    """The name of the first paper that takes the drawing; empty where none does."""
    return next((name for name in papers if _goes_on(drawing, replace(setup, paper=SHEETS[name]))), "")


def _least_paper(need: Size, setup: PageSetup) -> Size:
    """The upright paper that just takes a drawing, its strips stretched as the page will be, and both margins.

    It is no narrower and no lower than the paper there is, on which the bars and other plates may just fit.
    """
    across, along = setup.correction
    margins = setup.margins
    width = max(setup.paper.width, (need.width + LEFT_STRIP) * across + margins.left + margins.right)
    height = max(setup.paper.height, (need.height + FOOT_STRIP) * along + margins.top + margins.bottom)
    return Size(width, max(width, height))


def _area(size: Size) -> float:
    return size.width * size.height
