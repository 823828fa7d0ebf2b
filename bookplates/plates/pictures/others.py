"""Pictures of wrappers, exposed sewing, side-sewn covers and concertinas. Lengths in mm."""

from __future__ import annotations

from bookplates.book.record import Plan
from bookplates.geometry import Box, Size
from bookplates.lengths import said as length
from bookplates.plates.drawing import Anchor
from bookplates.plates.pictures.marks import (
    BOARD,
    SLENDER,
    TEXT,
    Items,
    awl,
    board_of,
    box,
    dots,
    drawn,
    go,
    hatched,
    hatched_round,
    inside,
    knife,
    layers,
    leaf_of,
    left_spine,
    said,
    said_in,
    shape,
    span,
    swing,
    together,
)


def _wrapper(plan: Plan, room: Box) -> tuple[Box, tuple[float, ...], float]:
    """The card, its fold lines, and how wide a flap is drawn."""
    cover = plan.cover
    flap = cover.flap or 0.0
    whole = cover.open_width + 2 * flap
    area = inside(Size(whole, min(max(cover.open_height, whole / 3.0), whole)), room)
    scale = area.size.width / whole
    half = max(plan.text_block.thickness * scale / 2, 0.7)
    x = area.middle[0]
    spine = (x - half, x + half) if plan.text_block.thickness >= 1.0 else (x,)
    flaps = (area.left + flap * scale, area.right - flap * scale) if flap else ()
    return area, (*spine, *flaps), flap * scale


def score_card(plan: Plan, w: float, h: float) -> Items:
    """The card flat, its fold lines drawn with the bone folder along a rule."""
    area, folds, _ = _wrapper(plan, Box(0.5, TEXT + 2.0, w - 0.5, h - 3.0))
    lines = [drawn((x, area.bottom - 1.0), (x, area.top + 1.0), line="fold") for x in folds]
    x = folds[0]
    bone = (
        (x, area.middle[1]),
        (x + 1.2, area.middle[1] + 1.4),
        (x + 6.4, area.middle[1] + 7.2),
        (x + 5.2, area.middle[1] + 8.0),
    )
    return (
        *box(area),
        *together(lines),
        *shape(bone, BOARD),
        *go((x - 2.0, area.top - 3.0), (x - 2.0, area.bottom + 3.0)),
        *said("score, do not cut", w / 2, 0.5 * TEXT),
    )


def fold_wrapper(plan: Plan, w: float, h: float) -> Items:
    """From the head: the card folded round the block."""
    y, thick = h * 0.4, 5.0
    block = Box(6.0, y, w - 6.0, y + thick)
    return (
        *layers(block, 5),
        *drawn((w - 4.0, y - 1.2), (4.8, y - 1.2), (4.8, y + thick + 1.2), (w - 5.0, h - 5.0), line="medium"),
        *swing((w - 2.0, h - 6.0), (w - 2.0, y + thick + 1.5), 0.5),
        *span((2.6, y), (2.6, y + thick)),
        *said(f"spine {length(plan.text_block.thickness, plan.units)}", 0.3, y - 1.2 - 0.9 * TEXT, "start"),
    )


def flaps(plan: Plan, w: float, h: float) -> Items:
    """The flaps turned inside along the fore-edge of the cover."""
    area, folds, flap = _wrapper(plan, Box(0.5, TEXT + 2.0, w - 0.5, h - 4.0))
    left, right = area.left + flap, area.right - flap
    arrows = (
        *swing((area.left, area.middle[1]), (left + 4.5, area.middle[1]), 2.0),
        *swing((area.right, area.middle[1]), (right - 4.5, area.middle[1]), -2.0),
    )
    lines = [drawn((x, area.bottom - 1.0), (x, area.top + 1.0), line="fold") for x in folds]
    return (*box(area), *together(lines), *arrows, *said(f"flap {length(plan.cover.flap or 0.0, plan.units)}", w / 2, 0.5 * TEXT))


def pierce_boards(plan: Plan, w: float, h: float) -> Items:
    """A board with its row of holes along the spine edge, the awl straight down through one."""
    left = left_spine(plan)
    area = inside(board_of(plan), Box(w * 0.4, 0.5, w - 0.5, h - 5.5) if left else Box(0.5, 0.5, w * 0.6, h - 5.5))
    edge, way = (area.left, 1.0) if left else (area.right, -1.0)
    x, high = edge + way * 2.5, plan.cover.board_height or plan.cover.open_height or 1.0
    places = [area.top - y / high * area.size.height for y in plan.sewing.cover_stations] or [area.middle[1]]
    anchor: Anchor = "end" if left else "start"
    return (
        *box(area, BOARD),
        *dots([(x, y) for y in places]),
        *awl(x, places[0], h - 0.2),
        *said("spine edge", edge - way * 1.2, area.bottom + 2.0, anchor),
        *said_in(
            "HEAD",
            Box(x + 1.5, area.top - 3.0, area.right, area.top) if left else Box(area.left, area.top - 3.0, x - 1.5, area.top),
        ),
    )


def hinge_boards(plan: Plan, w: float, h: float) -> Items:
    """The cut strip and the main board, set apart by the gap, under one covering."""
    cover = plan.cover
    strip, gap = cover.hinge or 20.0, cover.hinge_gap or 4.0
    main = max((cover.board_width or cover.open_width / 2) - strip - gap, 10.0)
    high = min(cover.board_height or cover.open_height, SLENDER * (strip + gap + main))
    area = inside(Size(strip + gap + main, high), Box(3.0, TEXT + 3.5, w - 3.0, h - 2.0))
    scale = area.size.width / (strip + gap + main)
    wide = max(gap * scale, 1.4)
    if not left_spine(plan):  # seen from the wrong side of the covering
        one = Box(area.left, area.bottom, area.left + strip * scale, area.top)
        two = Box(one.right + wide, area.bottom, area.right, area.top)
    else:
        one = Box(area.right - strip * scale, area.bottom, area.right, area.top)
        two = Box(area.left, area.bottom, one.left - wide, area.top)
    paper = area.grown(1.8)
    return (
        *box(paper),
        *hatched_round(paper, area),
        *box(one, BOARD),
        *box(two, BOARD),
        *said_in("main board", two),
        *said(f"gap {length(gap, plan.units)}", w / 2, 0.5 * TEXT),
    )


def hinge_inside(plan: Plan, w: float, h: float) -> Items:  # noqa: ARG001  # every hinge looks alike from its head
    """From the head: the inner strip pressed down into the gap, from the hinge strip to the main board."""
    y, left, right = h * 0.42, 1.0, w - 1.0
    strip, main = Box(left, y, w * 0.34, y + 3.0), Box(w * 0.46, y, right, y + 3.0)
    first, last = strip.right, main.left
    laid = (
        (left + 2.0, y + 3.7),
        (first, y + 3.7),
        (first + 0.7, y + 0.8),
        (last - 0.7, y + 0.8),
        (last, y + 3.7),
        (last + 6.0, y + 3.7),
    )
    return (
        *box(strip, BOARD),
        *box(main, BOARD),
        *drawn((left, y - 0.8), (right, y - 0.8), line="medium"),
        *drawn(*laid, line="cut"),
        *go(((first + last) / 2, h - 2.5), ((first + last) / 2, y + 2.0)),
        *said("inner strip", last + 2.0, h - 5.0, "start"),
        *said("hinge strip", 0.3, y - 1.0 - 0.9 * TEXT, "start"),
        *said("board", main.middle[0] + 2.0, y - 1.0 - 0.9 * TEXT),
    )


def lay_covers(plan: Plan, w: float, h: float) -> Items:
    """From the tail, the front up: a cover on top of the leaves and one below, level at the spine edge."""
    y, left, right = h * 0.35, 4.0, w - 6.0
    beyond = 2.0 if plan.cover.square_fore_edge > 0.05 else 0.0
    return (
        *layers(Box(left, y, right, y + 6.0), 6),
        *box(Box(left, y - 4.2, right + beyond, y - 2.6), BOARD),
        *box(Box(left, y + 8.6, right + beyond, y + 10.2), BOARD),
        *go((w * 0.4, y + 15.0), (w * 0.4, y + 11.0)),
        *go((w * 0.62, y - 9.0), (w * 0.62, y - 5.0)),
        *drawn((left - 1.2, y - 5.5), (left - 1.2, y + 12.0), line="hidden"),
        *said("spine edge", 0.3, y - 5.5 - 0.8 * TEXT, "start"),
        *said("seen from the " + ("tail" if left_spine(plan) else "head"), w - 0.3, h - 0.5 * TEXT, "end"),
    )


def _panels(plan: Plan) -> int:
    return max(2, min(4, plan.text_block.leaves))


def cut_strips(plan: Plan, w: float, h: float) -> Items:
    """A strip with its panels and the tab at its end."""
    leaf, count = leaf_of(plan), _panels(plan)
    area = inside(Size(leaf.width * count, leaf.height), Box(1.0, TEXT + 1.5, w - 5.0, h - 6.8))
    wide = area.size.width / count
    folds = [drawn((area.left + n * wide, area.bottom), (area.left + n * wide, area.top), line="hidden") for n in range(1, count)]
    tab = (
        (area.right, area.bottom),
        (area.right + 2.6, area.bottom + 1.0),
        (area.right + 2.6, area.top - 1.0),
        (area.right, area.top),
    )
    return (
        *box(area),
        *together(folds),
        *shape(tab),
        *knife(area.right - wide / 2, area.top),
        *said(f"each panel {length(leaf.width, plan.units)} wide", w / 2, 0.5 * TEXT),
    )


def fold_strips(plan: Plan, w: float, h: float) -> Items:
    """The strip from its head: folds to and fro."""
    step, low, high = (w - 8.0) / 5, h * 0.28, h * 0.7
    points = [(4.0 + n * step, low if n % 2 else high) for n in range(6)]
    return (
        *drawn(*points, line="medium"),
        *go((w - 0.5, high + 3.0), (w * 0.55, high + 3.0)),
        *go((0.5, low - 3.0), (w * 0.45, low - 3.0)),
        *said(f"{plan.text_block.leaves} panels", w / 2, 0.5 * TEXT),
    )


def join_strips(plan: Plan, w: float, h: float) -> Items:  # noqa: ARG001  # every join looks alike
    """The tab of one strip under the first panel of the next."""
    low, high = h * 0.3, h * 0.72
    fold, slope = (w * 0.46, high), (low - high) / (w * 0.18)
    first = ((1.0, low), (w * 0.16, high), (w * 0.3, low), fold, (fold[0] + 4.0, high + 4.0 * slope))
    second = ((fold[0] + 0.9, high), (w * 0.64 + 0.9, low), (w * 0.82, high), (w - 1.0, low))
    return (
        *drawn(*first, line="medium"),
        *drawn(*second, line="thread"),
        *said("tab", fold[0] - 0.5, low + 1.0, "middle"),
        *go((fold[0], low + 1.0 + 0.6 * TEXT), (fold[0] + 2.2, high + 3.4 * slope)),
        *said("next strip, along the fold", w / 2, 0.5 * TEXT),
        *go((w * 0.78, high + 3.5), (w * 0.52, high + 1.2)),
    )


def paste_ends(plan: Plan, w: float, h: float) -> Items:
    """The first panel pasted on the inside of its board, the squares even on all sides."""
    area = inside(board_of(plan), Box(1.0, 1.0, w * 0.5, h - 1.0))
    even = 1.4
    panel = Box(area.left + even, area.bottom + even, area.right - even, area.top - even)
    x, low, high, step = panel.right, panel.bottom, panel.top, (w - 2.0 - panel.right) / 3
    more = [
        shape(
            (
                (x + n * step, low + (n % 2)),
                (x + (n + 1) * step, low + (n + 1) % 2),
                (x + (n + 1) * step, high + (n + 1) % 2),
                (x + n * step, high + (n % 2)),
            )
        )
        for n in range(3)
    ]
    return (*box(area, BOARD), *together(more), *box(panel), *hatched(panel, 2.0))


PICTURES = {
    "score card": score_card,
    "fold wrapper": fold_wrapper,
    "flaps": flaps,
    "pierce boards": pierce_boards,
    "hinge boards": hinge_boards,
    "hinge inside": hinge_inside,
    "lay covers": lay_covers,
    "cut strips": cut_strips,
    "fold strips": fold_strips,
    "join strips": join_strips,
    "paste ends": paste_ends,
}
