"""The wrap outline: what covers a board or a whole cover, from its wrong side; and the gauge for its mitres."""

from __future__ import annotations

from itertools import pairwise

from bookplates.book.record import Plan
from bookplates.geometry import Box
from bookplates.kinds.boards import RECTANGLE_FIRST
from bookplates.kinds.cautions import AWL_AGAIN, GLUE_AGAIN, KNIFE, KNIFE_AGAIN
from bookplates.kinds.parts import Layout, Part
from bookplates.lengths import both
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import dimension, overall
from bookplates.plates.drawing import Drawing
from bookplates.plates.marks import NORMAL, SMALL, arrow, text_block, word
from bookplates.plates.notes import (
    beside_edge,
    edge_word,
    finished,
    head_and_tail,
    name_strip,
    notes,
    show_grain,
    spine_and_fore_edge,
)
from bookplates.plates.pad import Pad, box_round, moved, spots
from bookplates.plates.words import cut_count, cut_piece, height_of, size_of, width_of
from bookplates.plates.wrap_corner import draw_corner, is_corner
from bookplates.plates.wrap_dimensions import (
    FLUSH,
    across,
    covered,
    in_both,
    mitre,
    places,
    say_mitres,
    stops_short,
    turn_ins,
    upright,
)


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """One drawing for each piece that is wrapped round boards, and the mitre gauge."""
    return tuple(_template(plan, setup, layout) for layout in plan.layouts_of("wrap outline"))


def _template(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    if layout.title.endswith(" gauge"):
        return _gauge(plan, setup, layout)
    return (draw_corner if is_corner(layout) else _covering)(plan, setup, layout)


def _covering(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    paper, pad = cut_piece(layout), Pad(layout, setup)
    place, material = covered(layout, paper.box), plan.piece(paper.name).material
    overall(pad, paper.box, width_of(paper.box, plan), height_of(paper.box, plan))
    turn_ins(pad, plan, paper.box, place)
    across(pad, plan, layout)
    mitre(pad, plan, layout, place)
    say_mitres(pad, layout)
    head_and_tail(pad, place)
    _sides(pad, plan, layout, paper, place)
    if "paper" in material:
        _motif(pad, in_both(place, paper.box) if stops_short(plan) else place)
    inside = _inside(layout, in_both(place, paper.box))
    show_grain(pad, plan.piece(paper.name).grain, inside[0])
    untold, pad.untold = tuple(pad.untold), []
    notes(pad, paper.name.capitalize(), (*_facts(plan, layout, paper, place), *untold), *inside)
    notes(pad, "How to use it", (*_use(plan, layout), KNIFE, AWL_AGAIN), *inside)
    return finished(pad, "wrap outline", f"wrap outline, {layout.title}" if layout.title else "wrap outline")


def _sides(pad: Pad, plan: Plan, layout: Layout, paper: Part, place: Box) -> None:
    """Name the upright edges, what lies where, and the folds."""
    named = places(layout)
    if paper.name.startswith(("front", "back")):
        spine_and_fore_edge(pad, place, paper, plan.opening)
    elif len(named) > 1:
        for edge in ("left", "right"):
            edge_word(pad, "fore-edge", edge, place)
    for part in named if len(named) > 1 or upright(layout, "board edge") else ():
        _name_place(pad, part)
    for part in (*upright(layout, "board edge"), *upright(layout, "fold")):
        edge_word(pad, part.name, "left" if part.box.left < place.middle[0] else "right", part.box)


def _name_place(pad: Pad, part: Part) -> None:
    """What lies there: along a narrow strip, else near the tail, out of the way of the other words."""
    name, room = part.name.removesuffix(" place"), part.box
    foot = room.middle[0], room.bottom
    for size in (NORMAL, SMALL):
        letters = word(name, size, bold=True)
        wide = box_round(letters).size.width
        if wide + 8.0 < room.size.width and pad.settle(letters, spots(room.grown(-1.5), box_round(letters).size, foot)):
            return
    name_strip(pad, room, (name,))


def _motif(pad: Pad, place: Box) -> None:
    """An arrow to the side where a motif that has a top has it."""
    words = word("top of the motif", NORMAL)
    box = box_round(words)
    items = (*words, *moved(arrow((0.0, 0.0), (0.0, 10.0), layer=None), box.right + 2.0, box.bottom))
    beside_edge(pad, items, "above", place, (place.left + 0.75 * place.size.width, place.top))


def _inside(layout: Layout, place: Box) -> tuple[Box, ...]:
    """Where the words may go: into the widest places first, of a folded card into its panels."""
    folds = [part.box.left for part in layout.parts if part.line == "fold"]
    if folds:
        edges = pairwise(sorted((place.left, *folds, place.right)))
        panels = (place._replace(left=left, right=right) for left, right in edges)
        return tuple(sorted(panels, key=lambda box: -round(box.size.width, 6)))
    boards = sorted((part.box for part in places(layout)), key=lambda box: -box.size.width)
    return tuple(boards) if len(boards) > 1 else (place,)


def _facts(plan: Plan, layout: Layout, paper: Part, place: Box) -> tuple[str, ...]:
    material = plan.piece(paper.name).material
    up = next((f" WRONG SIDE OF THE {what.upper()} UP." for what in ("paper", "cloth") if what in material), "")
    facts = (f"{cut_count(layout, material)}{up}", size_of(paper, plan))
    if layout.use or not places(layout):
        return facts
    pieced = "Its turn-ins are short on purpose: strips under the lining make them up, see the steps."
    more = (*_stops(plan), *((pieced,) if plan.cover.join else ()))
    return (*facts, f"The dashed line is the board's place{_flush(paper.box, place)}.", *more)


def _stops(plan: Plan) -> tuple[str, ...]:
    """How far from the board's spine edge the paper ends, and how far under the tape that is."""
    tape, units = plan.tape, plan.units
    if tape is None or tape.lap is None:
        return ()
    return (f"The paper ends {both(tape.short, units)} off the board's spine edge, {both(tape.lap, units)} under the tape.",)


def _flush(paper: Box, place: Box) -> str:
    """Whether paper and board end together at the spine edge: at one side and not at the other."""
    left, right = (abs(gap) < FLUSH for gap in (place.left - paper.left, paper.right - place.right))
    return ", flush with the paper at the spine edge" if left != right else ""


def _use(plan: Plan, layout: Layout) -> tuple[str, ...]:
    usual = (
        f"Lay this sheet, printed side up, on the wrong side of the paper. {_prick(plan)}",
        *RECTANGLE_FIRST,
        "Turned over like a page it serves for the other board; turned round it does not.",
    )
    first, last = (layout.use, ()) if layout.use else (usual[:-1], usual[-1:])
    return (*first, *_corner_words(plan, layout), *last)


def _prick(plan: Plan) -> str:
    """What the small circles are: corners of the board, but where the paper ends before them."""
    if not stops_short(plan):
        return "Prick through the board's corners, the small circles."
    return "Prick through the small circles: the board's fore-edge corners, and where its head and tail edges leave the paper."


def _corner_words(plan: Plan, layout: Layout) -> tuple[str, ...]:
    """What a mitre leaves, where the layout has any."""
    cover = plan.cover
    if not any(part.line == "cut" and not part.closed for part in layout.parts):
        return ()
    left = f"Left at the board's corner: {both(cover.mitre, plan.units)}, square to the cut. " if cover.mitre else ""
    lap = f"Folded, the two turn-ins overlap by {both(cover.corner_lap, plan.units)}." if cover.corner_lap else ""
    return tuple(filter(None, (f"{left}{lap}".strip(),)))


def _gauge(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    pad, box = Pad(layout, setup), layout.part("mitre gauge").box
    for handle in layout.named("mitre gauge handle"):
        names = text_block(["mitre", "gauge"], handle.box.size.width, SMALL)
        pad.settle(names, spots(handle.box.grown(-0.6), box_round(names).size))
    dimension(pad, (box.left, box.bottom), (box.left, box.top), height_of(box, plan), "left")
    notes(pad, "Mitre (miter) gauge", _gauge_use(layout))
    return finished(pad, "wrap outline", "mitre gauge")


def _gauge_use(layout: Layout) -> tuple[str, ...]:
    return (
        f"{cut_count(layout, 'card')} Glue it on card before cutting. Either side up.",
        "Cut round strip and handle together, in one piece.",
        "With the board glued down, rest the long edge without the handle against the board's corner.",
        "Turn the slanted ends, and the slopes of the handle's top, parallel to the board's two edges.",
        "Draw a pencil line along the outer edge, on both sides of the handle. Take the gauge off.",
        "Lay a metal rule on the line, and cut along it. No blade runs along the gauge.",
        "No head or tail: it serves for every corner.",
        KNIFE_AGAIN,
        GLUE_AGAIN,
    )
