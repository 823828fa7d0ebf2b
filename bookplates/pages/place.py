"""Which plate lies on which page, and where. Lengths in mm.

Nothing is ever scaled to fit. A plate laid out for a whole page has one to itself; the others share
pages, each on the first page that takes it upright, else the first that takes it a quarter turned. A plate
that goes on no page is spread over several, which it has to itself.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from bookplates.errors import PaperTooSmall, Problem
from bookplates.geometry import Box, Matrix, Size
from bookplates.lengths import Units
from bookplates.pages.frame import TitleBlock, check_paper, frame
from bookplates.pages.free import HAIR, FreeRoom
from bookplates.pages.sheets import Placement, Sheet
from bookplates.pages.tiles import MOST_TILES, cuts_words, fewest_tiles, tiled
from bookplates.papers.printing import FOOT_STRIP, LEFT_STRIP, PageSetup
from bookplates.papers.sizes import SHEETS
from bookplates.plates.drawing import Drawing

GAP = 4.0
"""Least distance between two plates that share a page."""

PRINTERS_PAPERS = (
    ("A5", "A4", "A3", "A2", "A1", "A0"),
    ("Half letter", "Letter", "Legal", "Tabloid", "ANSI C", "ANSI D", "ANSI E"),
)
"""Sheets that printers and print shops hold, international and American, the smallest first: what is advised where a
plate does not fit. Common practice, no source."""


@dataclass(slots=True)
class _Page:
    """A page being filled; one without free room takes nothing more."""

    placements: list[Placement] = field(default_factory=list)
    free: FreeRoom | None = None

    @property
    def drawings(self) -> list[Drawing]:
        return [placement.drawing for placement in self.placements]

    @property
    def title(self) -> str:
        return "; ".join(dict.fromkeys(drawing.title for drawing in self.drawings if drawing.title))


def make_pages(drawings: Sequence[Drawing], setup: PageSetup, title: str, maker: str, units: Units = "mm") -> tuple[Sheet, ...]:
    """Put the drawings on pages, true to size, with title block and bars on each.

    Args:
        drawings: in the order they are wanted; a small one may fill room left on an earlier page.
        setup: the paper, its margin and the printer's error.
        title: of the book, shortened in the title block where it is too long.
        maker: who makes it, or empty.
        units: which unit the lengths on the plates show first.

    Returns:
        The pages; on each the frame is the last placement.

    Raises:
        PaperTooSmall: a drawing laid out for a whole page does not go on it, another would take more pages than
            anybody joins, or the bars do not go on the paper.
    """
    check_paper(setup)
    _check_all_fit(drawings, setup)
    filled = _fill(drawings, setup)
    blocks = (TitleBlock(title, page.title, number, len(filled), maker, units) for number, page in enumerate(filled, 1))
    return tuple(_sheet(page, setup, block) for page, block in zip(filled, blocks, strict=True))


def _fill(drawings: Sequence[Drawing], setup: PageSetup) -> list[_Page]:
    pages: list[_Page] = []
    room = setup.room
    for drawing in drawings:
        if drawing.whole_page:
            pages.append(_Page([_placed(drawing, _at_top_left(drawing.box.size, room), turned=False)]))
        elif drawing.grid or not _goes_on_one(drawing, setup):
            pages += [_Page(list(placements)) for placements in tiled(drawing, setup)]
        elif not _lay_on_any(drawing, pages):
            page = _Page(free=FreeRoom(room, GAP))
            pages.append(page)
            _lay_on_any(drawing, [page])
    return pages


def _lay_on_any(drawing: Drawing, pages: Iterable[_Page]) -> bool:
    """Lay a drawing on the first page that takes it; whether one did."""
    return any(_lay(drawing, page, turned) for page in pages for turned in _ways(drawing))


def _ways(drawing: Drawing) -> tuple[bool, ...]:
    """Whether it is turned, the better way first."""
    return (False, True) if drawing.turnable and not drawing.whole_page else (False,)


def _lay(drawing: Drawing, page: _Page, turned: bool) -> bool:
    box = page.free.take(_size(drawing, turned)) if page.free else None
    if box is None:
        return False
    page.placements.append(_placed(drawing, box, turned))
    return True


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


def _sheet(page: _Page, setup: PageSetup, block: TitleBlock) -> Sheet:
    drawn = {stroke.part for drawing in page.drawings for stroke in drawing.parts()}
    framed = Placement(frame(setup, block, page.drawings[0].plate, bars="bar across" not in drawn), Matrix())
    return Sheet(setup.paper, page.title, (*page.placements, framed), setup.correction)


def _check_all_fit(drawings: Sequence[Drawing], setup: PageSetup) -> None:
    problems = [problem for drawing in drawings if (problem := _fault(drawing, setup))]
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
    return any(_size(drawing, turned).goes_into(setup.room.size) for turned in _ways(drawing))


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
    width = max(setup.paper.width, (need.width + LEFT_STRIP) * across + 2 * setup.margin)
    height = max(setup.paper.height, (need.height + FOOT_STRIP) * along + 2 * setup.margin)
    return Size(width, max(width, height))


def _area(size: Size) -> float:
    return size.width * size.height
