"""Every size of a book in words and both units, chapter by chapter: one list for the screen and for paper."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bookplates.book.record import Plan
from bookplates.kinds.lots import in_words
from bookplates.kinds.parts import Piece
from bookplates.lengths import both, both_sizes, close, in_mm

SHOWN = 0.005
"""A length under this is nothing, mm: it has no row."""


@dataclass(frozen=True, slots=True)
class Fact:
    """A size or a count.

    Attributes:
        name: what it is.
        value: what it comes to, in words.
        provisional: whether it hangs on a thickness or width that no ruler has found yet.
        cells: the value's parts where a table shows them under the chapter's heads; else empty.
    """

    name: str
    value: str
    provisional: bool = False
    cells: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Chapter:
    """Facts that belong together; `heads` stand over name and cells where it can be shown as a table."""

    title: str
    facts: tuple[Fact, ...]
    heads: tuple[str, ...] = ()


def chapters(plan: Plan) -> tuple[Chapter, ...]:
    """All of a plan's sizes; what the book has none of is left out."""
    found = (
        Chapter("Text block", _text_block(plan)),
        Chapter(f"Cover: {plan.cover.style}", _cover(plan)),
        Chapter("Squares, turn-ins, margins", _edges(plan)),
        _pieces(plan),
        Chapter("Book tape", _tape(plan)),
        Chapter(f"Sewing: {plan.sewing.called}", _sewing(plan)),
        Chapter("Sewing tapes, edges from the head of the leaf", _supports(plan), ("tape", "upper edge", "lower edge")),
        Chapter(
            "Stations, from the head", _stations(plan), ("station", "on the leaf", *(("on the cover",) if pierced(plan) else ()))
        ),
        Chapter("Holes", _holes(plan), ("hole", "from the spine edge", "from the head")),
    )
    return tuple(chapter for chapter in found if chapter.facts)


def stuff(plan: Plan) -> str:
    """What the cover is made of: board, or card."""
    return "card" if "board" not in {piece.material for piece in plan.pieces} else "board"


def _lengths(plan: Plan, lengths: Iterable[tuple[str, float | None]]) -> tuple[Fact, ...]:
    """Those that are more than nothing."""
    return tuple(
        Fact(name, both(mm, plan.units), name in plan.provisional) for name, mm in lengths if mm is not None and mm > SHOWN
    )


def _text_block(plan: Plan) -> tuple[Fact, ...]:
    block = plan.text_block
    paper: tuple[Fact, ...] = ()
    if block.sheets is not None and block.sheet is not None:
        paper = (Fact("paper", f"{block.sheets} sheets {both_sizes(block.sheet, plan.units)}, {block.format}"),)
    return (
        *paper,
        Fact("leaf", both_sizes((block.leaf_width, block.leaf_height), plan.units)),
        *_gathered(plan),
        Fact("grain", block.grain),
        Fact("caliper", f"{block.caliper:.3g} mm"),
        *_lengths(
            plan,
            (
                ("thickness", block.thickness),
                ("section thickness", block.section_thickness if block.sections > 1 else None),
                ("creep", block.creep),
                ("fore-edge trim", block.fore_edge_trim),
                ("block width", block.block_width),
            ),
        ),
    )


def _gathered(plan: Plan) -> tuple[Fact, ...]:
    """How many leaves there are, and how they hang together."""
    block = plan.text_block
    leaves = Fact("leaves, pages", f"{block.leaves} leaves, {block.pages} pages")
    folded = Fact("folded sheets (folios)", str(block.folios))
    if block.gathered == "panels":
        return Fact("panels", str(block.leaves)), Fact(
            "pages", f"{block.pages}, on both sides of the panels; the first and the last are pasted to the boards"
        )
    if block.gathered == "single leaves":
        return (Fact("leaves, pages", f"{block.leaves} single leaves, {block.pages} pages"),)
    if block.gathered == "fore-edge folded":
        return folded, leaves, Fact("pages inside the folds", f"{block.pages // 2}, which stay closed")
    shares = block.folios_per_section
    each = str(shares[0]) if len(set(shares)) == 1 else ", ".join(map(str, shares))
    sections = Fact("sections", f"{block.sections}, of {each} folded sheets")
    ends = f"{block.endleaves} leaves, not counted above; they make the block thicker"
    return (folded, leaves, sections, *((Fact("endpapers", ends),) if block.endleaves else ()))


def _cover(plan: Plan) -> tuple[Fact, ...]:
    cover = plan.cover
    spine = (Fact("spine side", f"{plan.opening}, seen from the front"),)
    return spine + _lengths(
        plan,
        (
            (f"{stuff(plan)} thickness", cover.board_thickness),
            ("spine width", plan.text_block.thickness if cover.board_width is None else None),
            ("board width", cover.board_width),
            ("board height", cover.board_height),
            ("boards apart", cover.boards_apart),
            ("spine piece width", cover.spine_piece_width),
            ("gap", cover.gap),
            ("open width", None if cover.in_two else cover.open_width),
            ("open height", None if cover.in_two else cover.open_height),
            ("joint width", cover.joint),
            ("hinge strip", cover.hinge),
            ("hinge gap", cover.hinge_gap),
        ),
    )


def _edges(plan: Plan) -> tuple[Fact, ...]:
    """What stands beyond, is folded over, or is left showing at the edges."""
    cover = plan.cover
    turn_ins = {"head": cover.turn_in_head, "tail": cover.turn_in_tail, "fore-edge": cover.turn_in_fore_edge}
    return (
        *_lengths(plan, _together("square", {"head": cover.square_head, "tail": cover.square_tail})),
        *_fore_edge_square(plan),
        *_lengths(plan, _together("turn-in", turn_ins)),
        *_lengths(
            plan,
            (
                ("mitre, left at the corner", cover.mitre),
                ("turn-ins overlap there by", cover.corner_lap),
                ("turn-ins lap over their strips", cover.join),
                ("lining margin", cover.lining_margin),
                ("cloth on each board", cover.cloth_on_board),
                ("side paper over the cloth", cover.overlap),
            ),
        ),
        *_flap(plan),
    )


def _flap(plan: Plan) -> tuple[Fact, ...]:
    """How wide it is inside, and with the fold that takes it round the card's thickness."""
    cover, units = plan.cover, plan.units
    if cover.flap is None:
        return ()
    with_fold = cover.flap + (cover.board_thickness or 0.0)
    return (Fact("flap", f"{both(cover.flap, units)} inside; with its fold {both(with_fold, units)} of the card"),)


def _together(what: str, sides: dict[str, float | None]) -> list[tuple[str, float | None]]:
    """A length for each side, those that are the same under one name."""
    same: dict[float | None, list[str]] = {}
    for side, mm in sides.items():
        same.setdefault(next((known for known in same if _alike(known, mm)), mm), []).append(side)
    return [(f"{what}, {', '.join(names)}", mm) for mm, names in same.items()]


def _alike(one: float | None, other: float | None) -> bool:
    return one is other if one is None or other is None else close(one, other)


def _fore_edge_square(plan: Plan) -> tuple[Fact, ...]:
    """The square asked for, and beside it the one that results once the cover follows the fold."""
    asked, closed = plan.cover.square_fore_edge, plan.cover.closed_square
    if asked <= SHOWN and closed is None:
        return ()
    beside = "" if closed is None else f"; closed {both(closed, plan.units)}"
    return (Fact("square, fore-edge", f"asked {both(asked, plan.units)}{beside}", "square, fore-edge" in plan.provisional),)


def _pieces(plan: Plan) -> Chapter:
    """What to cut; a grain that all share is said once."""
    grains = sorted({piece.grain for piece in plan.pieces} - {"none"})
    shared = len(grains) == 1
    return Chapter(
        f"Cut for one book, grain {grains[0]}" if shared else "Cut for one book",
        tuple(_piece(plan, piece, say_grain=not shared) for piece in plan.pieces),
    )


def _piece(plan: Plan, piece: Piece, *, say_grain: bool) -> Fact:
    grain = f", grain {piece.grain}" if say_grain and piece.grain != "none" else ""
    size = both_sizes((piece.width, piece.height), plan.units)
    names = {piece.name, f"{piece.name} width", f"{piece.name.rpartition(' ')[2]} width"}
    value = f"{piece.count} of {piece.material}: {size}{grain}{_bought(plan, piece)}"
    called = piece.name.replace("covering", "cover") if piece.material == "card" else piece.name
    return Fact(called, value, not names.isdisjoint(plan.provisional))


def _bought(plan: Plan, piece: Piece) -> str:
    """Along which side of a sheet as bought the grain runs."""
    block = plan.text_block
    if piece.name != "text sheet" or block.sheet is None or block.sheet_grain is None or close(*block.sheet):
        return ""
    return f", its grain along the {block.sheet_grain} side"


def _tape(plan: Plan) -> tuple[Fact, ...]:
    tape = plan.tape
    if tape is None:
        return ()
    return _lengths(
        plan,
        (
            ("tape width", tape.width),
            ("tape length", tape.length),
            ("tape on each board", tape.on_board),
            ("covering under the tape", tape.lap),
            ("covering off the spine edge", tape.short),
            ("tape edge from the middle", tape.guide_offset),
            ("tape hangs at the head", tape.hang_head),
            ("tape hangs at the tail", tape.hang_tail),
            ("tape ends overlap inside", tape.overlap),
            ("overlap, from the tail edge", tape.overlap_from_tail),
        ),
    )


def _sewing(plan: Plan) -> tuple[Fact, ...]:
    sewing = plan.sewing
    if not sewing.path.legs:
        return ()
    lots = "; ".join(in_words(lot, ", then ") for lot in sorted(set(sewing.punching), reverse=True))
    return (
        Fact("holes", f"{len(sewing.holes)}") if sewing.holes else Fact("stations", f"{len(sewing.stations)}"),
        *((Fact("pierced at a time", f"{lots} folded sheets"),) if lots else ()),
        Fact("hole, as drawn", in_mm(sewing.hole)),
        Fact("thread, how thick", in_mm(sewing.thread)),
        *_lengths(
            plan,
            (
                ("thread end", sewing.thread_end),
                ("thread, computed", sewing.thread_length),
                ("thread to cut, at least", sewing.thread_to_cut),
            ),
        ),
    )


def _stations(plan: Plan) -> tuple[Fact, ...]:
    sewing, units = plan.sewing, plan.units
    if sewing.holes:  # the first of them are the stations
        return ()
    leaves = [both(place, units) for place in sewing.stations]
    if not pierced(plan):
        return tuple(Fact(f"{n}", leaf, cells=(leaf,)) for n, leaf in enumerate(leaves, 1))
    places = zip(leaves, (both(place, units) for place in sewing.cover_stations), strict=True)
    return tuple(Fact(f"{n}", f"leaf {leaf}; cover {cover}", cells=(leaf, cover)) for n, (leaf, cover) in enumerate(places, 1))


def pierced(plan: Plan) -> bool:
    """Whether the cover is sewn through, too."""
    return bool(plan.layouts_of("cover punch guide"))


def _supports(plan: Plan) -> tuple[Fact, ...]:
    """The strips of tape that the thread goes round; not the book tape."""
    edges = ((both(upper, plan.units), both(lower, plan.units)) for upper, lower in plan.sewing.supports)
    return tuple(Fact(f"{n}", f"{upper} to {lower}", cells=(upper, lower)) for n, (upper, lower) in enumerate(edges, 1))


def _holes(plan: Plan) -> tuple[Fact, ...]:
    places = ((both(x, plan.units), both(y, plan.units)) for x, y in plan.sewing.holes)
    return tuple(Fact(f"{n}", f"{x} from the spine edge, {y} from the head", cells=(x, y)) for n, (x, y) in enumerate(places, 1))
