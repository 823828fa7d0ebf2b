"""The lining outline, as the lining lies on the inside of the board, and the gauge for its margin."""

from __future__ import annotations

from collections.abc import Callable

from bookplates.book.record import Plan
from bookplates.geometry import Box
from bookplates.kinds.cautions import GLUE, KNIFE
from bookplates.kinds.parts import Layout, Part
from bookplates.lengths import close
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import dimension, overall
from bookplates.plates.drawing import Drawing
from bookplates.plates.gauge import gauge
from bookplates.plates.notes import finished, head_and_tail, notes, show_grain, spine_and_fore_edge
from bookplates.plates.pad import Pad
from bookplates.plates.words import cut_count, cut_piece, height_of, mm_and_inches, size_of, width_of


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """The lining, and the margin gauge."""
    return tuple(TEMPLATES.get(layout.title, _lining)(plan, setup, layout) for layout in plan.layouts_of("lining outline"))


def _lining(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    lining, place = cut_piece(layout), next(part for part in layout.parts if part.line == "place")
    pad, box = Pad(layout, setup), lining.box
    overall(pad, box, width_of(box, plan), height_of(box, plan))
    _margins(pad, plan, box, place.box)
    head_and_tail(pad, box)
    spine_and_fore_edge(pad, box, lining, plan.opening)
    show_grain(pad, plan.piece(lining.name).grain, box)
    notes(pad, lining.name.capitalize(), _facts(plan, layout, lining), box)
    notes(pad, "How to use it", _use(_margin_where(plan)), box)
    return finished(pad, "lining outline", "lining outline")


def _margins(pad: Pad, plan: Plan, lining: Box, board: Box) -> None:
    """Dimension how much board shows at the head and at the fore-edge."""
    head = mm_and_inches(board.top - lining.top, plan, "margin")
    dimension(pad, (board.right, lining.top), (board.right, board.top), head, "right")
    for start, end in ((board.left, lining.left), (lining.right, board.right)):
        if not close(end, start):
            dimension(pad, (start, board.top), (end, board.top), mm_and_inches(end - start, plan, "margin"), "above")


def _facts(plan: Plan, layout: Layout, lining: Part) -> tuple[str, ...]:
    return (
        f"{cut_count(layout, plan.piece(lining.name).material)} RIGHT SIDE UP, as it lies on the inside of the front board.",
        size_of(lining, plan),
        "It serves for both, turned over: turned over like a page it is the back lining.",
    )


def _margin_where(plan: Plan) -> str:
    """The sides where board shows beyond the lining, in words; empty where none does."""
    lining = next(layout for layout in plan.layouts_of("lining outline") if any(part.line == "place" for part in layout.parts))
    paper, board = cut_piece(lining).box, next(part for part in lining.parts if part.line == "place").box
    shows = [not close(*ends) for ends in ((board.left, paper.left), (paper.right, board.right))]
    if not any((*shows, not close(paper.top, board.top))):
        return ""
    return "head, tail, spine edge and fore-edge" if all(shows) else "head, tail and fore-edge"


def _use(margin: str) -> tuple[str, ...]:
    flush = (
        "Flush at the spine edge; mark the other margins"
        if "spine" not in margin
        else "The margin is the same on all four sides: mark it"
    )
    return (
        "Lay this sheet on the lining paper, prick through the four corners of the solid line, and rule between the pricks.",
        "With a one-way motif cut the back lining as a mirror of the front one: turn the template over, and its head stays head.",
        f"The dashed line is the board. {flush} with the margin gauge." if margin else "Flush with the board on all sides.",
        "It is a lining, not a paste-down: no leaf of the book is stuck here.",
        KNIFE,
        GLUE,
    )


def _gauge(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    use = (
        f"Lay a {{edge}} edge on the covered board's edge, at {_margin_where(plan)}.",
        "Mark along the other {edge} edge: there the lining ends.",
    )
    return gauge(plan, setup, layout, use)


TEMPLATES: dict[str, Callable[[Plan, PageSetup, Layout], Drawing]] = {"margin gauge": _gauge}
