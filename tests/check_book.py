"""Plans put together by hand: the check book, an orchard notebook with boards joined by a tape, and two of odd sizes.

Numbers are typed, with the sum beside those that come from others. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from bookplates.book.record import Cover, Default, Plan, Sewing, TapeSizes, TextBlock
from bookplates.errors import Problem
from bookplates.geometry import Outline, Size, rectangle
from bookplates.kinds.block import Block
from bookplates.kinds.parts import Layout, Part, Piece, hole, outline, rule
from bookplates.kinds.seam import Seam
from bookplates.kinds.step import Stage, Step
from bookplates.kinds.styles.taped.style import Taped
from bookplates.kinds.thread import Leg, Place, SewingStep, ThreadPath

LETTER, A4 = Size(215.9, 279.4), Size(210.0, 297.0)


@dataclass(frozen=True, slots=True)
class Make:
    """The sizes a plan is put together from."""

    board: Size
    apart: float
    turn_in: float
    mitre: float
    margin: float
    tape: Size
    on_board: float
    leaf: Size
    flank: float
    places: tuple[float, ...]
    square: float


CHECK = Make(
    board=Size(104.775, 146.05),  # 107.95 + 3.175 - 6.35; 139.7 + 2 x 3.175
    apart=16.7,  # 4 + 2 x 6.35
    turn_in=25.4,
    mitre=3.0,
    margin=9.525,
    tape=Size(101.6, 308.8),  # 2 x 146.05 + 2 x 2 + 12.7
    on_board=42.45,  # (101.6 - 16.7) / 2
    leaf=Size(107.95, 139.7),
    flank=107.95,
    places=(12.7, 25.4, 38.1, 50.8, 63.5, 76.2, 88.9, 101.6, 114.3, 127.0),
    square=3.175,
)
NARROW = Make(
    board=Size(25.0, 30.0),
    apart=5.0,
    turn_in=8.0,
    mitre=1.5,
    margin=3.0,
    tape=Size(17.0, 76.7),  # 2 x 30 + 2 x 2 + 12.7
    on_board=6.0,
    leaf=Size(24.0, 27.0),
    flank=24.0,
    places=(6.0, 9.0, 13.5, 18.0, 21.0),
    square=1.5,
)
LARGE = Make(
    board=Size(290.0, 400.0),
    apart=30.0,
    turn_in=25.4,
    mitre=3.0,
    margin=9.525,
    tape=Size(140.0, 816.7),  # 2 x 400 + 2 x 2 + 12.7
    on_board=55.0,
    leaf=Size(300.0, 394.0),
    flank=40.0,
    places=(20.0, 120.0, 197.0, 280.0, 374.0),
    square=3.0,
)


def text_block(leaf: Size) -> TextBlock:
    return TextBlock(
        leaf_width=leaf.width,
        leaf_height=leaf.height,
        block_width=leaf.width,
        folios=20,
        leaves=40,
        pages=80,
        sections=1,
        folios_per_section=(20,),
        caliper=0.1,
        section_thickness=4.0,  # 2 x 20 x 0.1
        thickness=4.0,
        creep=1.9,  # 19 x 0.1
        fore_edge_trim=1.9,
        grain="head to tail",
        sheets=10,
        sheet=LETTER,
        format="quarto",
        measured=(),
    )


def cover(make: Make) -> Cover:
    return Cover(
        style="taped",
        board_width=make.board.width,
        board_height=make.board.height,
        board_thickness=2.0,
        boards_apart=make.apart,
        spine_piece_width=None,
        gap=None,
        open_width=2 * make.board.width + make.apart,
        open_height=make.board.height,
        joint=6.35,
        square_head=make.square,
        square_tail=make.square,
        square_fore_edge=make.square,
        closed_square=5.5,
        turn_in_head=make.turn_in,
        turn_in_tail=make.turn_in,
        turn_in_fore_edge=make.turn_in,
        mitre=make.mitre,
        corner_lap=3.17,  # sqrt 2 x (sqrt 2 x 3 - 2)
        lining_margin=make.margin,
    )


def covering(make: Make, name: str) -> Layout:
    """The paper of a board, flush at the spine edge: the front one's at the right, the back one's at the left."""
    (w, h), t = make.board, make.turn_in
    leg = 2 * t - make.mitre * 2**0.5  # handbook E15

    def side(points: Outline) -> Outline:
        return tuple((w - x, y) for x, y in reversed(points)) if name == "front" else points

    paper = ((0, -t), (w + t - leg, -t), (w + t, -t + leg), (w + t, h + t - leg), (w + t - leg, h + t), (0, h + t))
    head = ((w + t, h + t - leg), (w + t, h + t), (w + t - leg, h + t))
    tail = ((w + t - leg, -t), (w + t, -t), (w + t, -t + leg))
    place = rectangle(0, 0, w, h)
    parts = (
        outline(f"{name} covering", "cut", side(paper)),
        rule(f"{name} head corner", "cut", *side(head)),
        rule(f"{name} tail corner", "cut", *side(tail)),
        outline(f"{name} board place", "place", place),
        *(hole(f"{name} prick {number}", at, 1.0) for number, at in enumerate(place, 1)),
    )
    return Layout("wrap outline", name, parts)


def scale_page() -> Layout:
    bars = (
        ("bar across", (0.0, 0.0), (100.0, 0.0)),
        ("bar along", (0.0, 0.0), (0.0, 100.0)),
        ("inch bar across", (0.0, 108.0), (101.6, 108.0)),
        ("inch bar along", (108.0, 0.0), (108.0, 101.6)),
        ("diagonal bar rising", (0.0, 0.0), (100.0, 100.0)),
        ("diagonal bar falling", (0.0, 100.0), (100.0, 0.0)),
    )
    return Layout("scale page", "", tuple(rule(name, "bar", start, end) for name, start, end in bars))


def stations(places: tuple[float, ...], head: float) -> tuple[Part, ...]:
    return tuple(hole(f"station {number}", (0.0, head - place), 1.0) for number, place in enumerate(places, 1))


def punch_guide(make: Make) -> Layout:
    height = make.leaf.height
    paper = outline("punch guide", "cut", rectangle(-make.flank, 0, 2 * make.flank, height))
    return Layout("punch guide", "", (paper, rule("fold", "fold", (0, 0), (0, height)), *stations(make.places, height)))


def cover_punch_guide(make: Make) -> Layout:
    half, height = make.apart / 2, make.board.height
    parts = (
        outline("cover punch guide", "cut", rectangle(0.5 - half, 0, make.apart - 1, height)),
        rule("spine centre", "centre", (0, 0), (0, height)),
        rule("front board edge", "place", (-half, 0), (-half, height)),
        rule("back board edge", "place", (half, 0), (half, height)),
        *stations(tuple(place + make.square for place in make.places), height),
    )
    return Layout("cover punch guide", "", parts)


def tape_guide(make: Make) -> Layout:
    """Outside up: the front board is the right one."""
    edge, tape, height = make.apart / 2, make.tape.width / 2, make.board.height
    xs = {"front board edge": edge, "back board edge": -edge, "front tape edge": tape, "back tape edge": -tape}
    parts = (
        *(rule(name, "place", (x, -25.0), (x, height + 25.0)) for name, x in xs.items()),
        rule("spine centre", "centre", (0.0, -25.0), (0.0, height + 25.0)),
        rule("head edge", "place", (-tape, height), (tape, height)),
        rule("tail edge", "place", (-tape, 0), (tape, 0)),
    )
    return Layout("tape guide", "", parts)


def lining(make: Make) -> Layout:
    (w, h), margin = make.board, make.margin
    paper = outline("front lining", "cut", rectangle(margin, margin, w - margin, h - 2 * margin))
    return Layout("lining outline", "", (paper, outline("front board place", "place", rectangle(0, 0, w, h))), 2)


def strip(plate: str, name: str, wide: float, long: float) -> Layout:
    return Layout(plate, name, (outline(name, "cut", rectangle(0, 0, wide, long)),))


def mitre_gauge(mitre: float) -> Layout:
    points = ((0, 0), (60, 0), (60 - mitre, mitre), (mitre, mitre))
    return Layout("wrap outline", "mitre gauge", (outline("mitre gauge", "cut", points),))


def layouts(make: Make) -> tuple[Layout, ...]:
    return (
        scale_page(),
        Layout("board outline", "", (outline("front board", "cut", rectangle(0, 0, *make.board)),), 2),
        covering(make, "front"),
        covering(make, "back"),
        mitre_gauge(make.mitre),
        lining(make),
        strip("lining outline", "margin gauge", make.margin, 60.0),
        tape_guide(make),
        strip("tape guide", "tape gauge", make.on_board, 60.0),
        Layout("spacer", "", (outline("spacer", "cut", rectangle(0, 0, make.apart, 100.0)),), 2),
        punch_guide(make),
        cover_punch_guide(make),
    )


def pieces(make: Make) -> tuple[Piece, ...]:
    w, h = make.board
    sizes = {
        ("board", "board"): (w, h),
        ("covering", "cover paper"): (w + make.turn_in, h + 2 * make.turn_in),
        ("lining", "lining paper"): (w - make.margin, h - 2 * make.margin),
    }
    pairs = tuple(
        Piece(f"{side} {name}", material, 1, rectangle(0, 0, *size), "head to tail")
        for (name, material), size in sizes.items()
        for side in ("front", "back")
    )
    roll = Piece("tape", "tape", 1, rectangle(0, 0, *make.tape), "none")
    return (*pairs, roll, Piece("text sheet", "text paper", 10, rectangle(0, 0, *LETTER), "across"))


def sewing(make: Make) -> Sewing:
    leg = Leg(Place(1, "inside"), Place(1, "outside"), "pass", 634.0, 4.0)
    return Sewing(
        pattern="chain",
        called="single-section chain stitch, through the spine",
        stations=make.places,
        cover_stations=tuple(place + make.square for place in make.places),
        holes=(),
        hole=1.0,
        thread=0.6,
        thread_end=101.6,
        thread_length=634.0,
        thread_to_cut=792.5,  # 634 x 1.25
        punching=((10, 10),),
        path=ThreadPath((leg,), (SewingStep("Bring the needle out at station 1.", 1),)),
    )


def tape(make: Make) -> TapeSizes:
    """Hung over so that the two ends meet near the tail: 142.75 + 146.05 + 20 = 308.8 for the check book."""
    length = make.tape.height
    return TapeSizes(
        width=make.tape.width,
        length=length,
        on_board=make.on_board,
        guide_offset=make.tape.width / 2,
        inside="full",
        hang_head=length - make.board.height - 20.0,
        hang_tail=20.0,
        overlap=12.7,
        overlap_from_tail=5.3,  # 20 - 2 - 12.7
    )


def book(make: Make = CHECK) -> Plan:
    """The plan of a book of these sizes."""
    heavy = Problem("text_block.folios", "20 folios in one section spring open", "press it overnight and measure it")
    return Plan(
        title="Orchard notebook",
        maker="Quince Street Bindery",
        units="in",
        opening="left",
        text_block=text_block(make.leaf),
        cover=cover(make),
        pieces=pieces(make),
        layouts=layouts(make),
        sewing=sewing(make),
        tape=tape(make),
        provisional=("boards apart", "tape on each board", "covering width"),
        defaults=(Default("cover.mitre", "3 mm"), Default("sewing.hole", "1 mm")),
        warnings=(heavy,),
        work=work(make),
        sides="Inside means in the middle fold, outside means on the spine.",
    )


def work(make: Make) -> tuple[Step | Stage, ...]:
    """The steps of a taped book, as its style says them for this leaf."""
    width, height = make.leaf
    block = Block(
        width=width, leaf_width=width, height=height, thickness=4.0, caliper=0.1,
        folios_per_section=(20,), fold="sharp", opening="left", units="in",
    )  # fmt: skip
    return Taped().work(block, Seam(make.places))


def opening_right() -> Plan:
    """The check book, opened at the other side."""
    return replace(book(), opening="right")
