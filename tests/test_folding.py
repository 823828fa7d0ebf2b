"""Every covering folded over boards of a real thickness, by another geometry library: what meets, laps, and stays bare.

A point so far beyond a board's edge goes up that edge first, a board's thickness, and what is left comes to lie on the
inside. All pieces are brought into the frame of one board, its lower left corner at the origin, its spine edge at x = 0.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import affine_transform, translate
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

import handbook as h
from bookplates.book.record import Plan
from bookplates.geometry import Size
from bookplates.kinds.boards import FACES, Face, wrap_all_round_layout
from bookplates.kinds.keys import TurnIns
from bookplates.kinds.parts import Layout
from shapes import POOL, planned
from test_case import LEDGER

FAR = 2000.0
SIDES = ("head", "tail", "fore_edge")
TINY = 1e-6


@dataclass(frozen=True)
class Board:
    """A board lying inside up in its own frame, spine edge at the left."""

    width: float
    height: float
    thick: float

    @property
    def face(self) -> BaseGeometry:
        return box(0, 0, self.width, self.height)

    def edges(self, *, spine: bool) -> dict[str, BaseGeometry]:
        """The sides of the board, each laid flat outside its edge."""
        w, high, b = self.width, self.height, self.thick
        found = {"head": box(0, high, w, high + b), "tail": box(0, -b, w, 0), "fore_edge": box(w, 0, w + b, high)}
        return {**found, "spine": box(-b, 0, 0, high)} if spine else found

    def folded(self, paper: BaseGeometry, *, spine: bool = False) -> dict[str, BaseGeometry]:
        """What of a paper comes to lie on the inside, over which edge."""
        w, high, b = self.width, self.height, self.thick
        over = {
            "head": (box(-FAR, high + b, FAR, FAR), (1, 0, 0, -1, 0, 2 * high + b)),
            "tail": (box(-FAR, -FAR, FAR, -b), (1, 0, 0, -1, 0, -b)),
            "fore_edge": (box(w + b, -FAR, FAR, FAR), (-1, 0, 0, 1, 2 * w + b, 0)),
            "spine": (box(-FAR, -FAR, -b, FAR), (-1, 0, 0, 1, -b, 0)),
        }
        sides = over if spine else {name: over[name] for name in SIDES}
        turned = {name: affine_transform(paper.intersection(beyond), way) for name, (beyond, way) in sides.items()}
        return {name: flap.intersection(self.face) for name, flap in turned.items()}


def board_of(made: Plan) -> Board:
    cover = made.cover
    assert cover.board_width
    assert cover.board_height
    assert cover.board_thickness
    return Board(cover.board_width, cover.board_height, cover.board_thickness)


def layout_of(made: Plan, title: str) -> Layout:
    (layout,) = (layout for layout in made.layouts_of("wrap outline") if layout.title == title)
    return layout


def framed(shape: BaseGeometry, left: float, bottom: float, board: Board, *, fore_edge_left: bool) -> BaseGeometry:
    """A shape of a drawing in the frame of the board whose lower left corner lies there on the drawing."""
    moved = translate(shape, -left, -bottom)
    return affine_transform(moved, (-1, 0, 0, 1, board.width, 0)) if fore_edge_left else moved


def at_left(made: Plan, face: Face) -> bool:
    """Whether a piece has its fore-edge at the left, inside up: the front one, unless the book opens on the right."""
    return (face == "front") == (made.opening == "left")


def by_place(made: Plan, title: str, face: Face) -> BaseGeometry:
    """A covering that shows the board's place."""
    layout = layout_of(made, title)
    paper = next(part for part in layout.parts if part.line == "cut" and part.closed)
    place = layout.part(f"{face} board place").box
    return framed(Polygon(paper.points), place.left, place.bottom, board_of(made), fore_edge_left=at_left(made, face))


def spine_cloth(made: Plan, face: Face) -> BaseGeometry:
    """The spine cloth, from the line that shows the board's spine edge."""
    layout, board = layout_of(made, "spine cloth"), board_of(made)
    edge = layout.part(f"{face} board edge").box
    left = edge.left - board.width if at_left(made, face) else edge.left
    return framed(Polygon(layout.part("spine cloth").points), left, edge.bottom, board, fore_edge_left=at_left(made, face))


def corners(made: Plan) -> dict[str, BaseGeometry]:
    """The corner at the head and the one at the tail, as they lie on either board: drawn for the front one, else turned over."""
    board, left = board_of(made), at_left(made, "front")
    found = {}
    for layout in (layout for layout in made.layouts_of("wrap outline") if layout.title.endswith("corner")):
        along, at, _ = layout.part("board corner place").points
        assert (at[0] < along[0]) == left
        drawn_at_tail = layout.title.startswith("tail")
        start = at[0] if left else at[0] - board.width, at[1] if drawn_at_tail else at[1] - board.height
        cloth = framed(Polygon(layout.part(layout.title).points), *start, board, fore_edge_left=left)
        found["tail" if drawn_at_tail else "head"] = cloth
    if "tail" not in found:
        found["tail"] = affine_transform(found["head"], (1, 0, 0, -1, 0, board.height))
    return found


def pieces_of(made: Plan, face: Face) -> dict[str, BaseGeometry]:
    """All that covers a board of a case, by name."""
    if made.cover.cloth_on_board is None:
        return {"covering": by_place(made, "covering", face)}
    pieces = {"spine cloth": spine_cloth(made, face), "side": by_place(made, f"{face} side", face)}
    half = any(piece.name.endswith("corner") for piece in made.pieces)
    return {**pieces, **({f"{end} corner": cloth for end, cloth in corners(made).items()} if half else {})}


def pasted_leaf(made: Plan, board: Board) -> BaseGeometry:
    """Half an endpaper where it lies on the inside of a board, a square from head, tail and fore-edge."""
    cover, endpaper = made.cover, made.piece("endpaper")
    right = board.width - cover.square_fore_edge
    leaf = box(right - endpaper.width / 2, cover.square_tail, right, cover.square_tail + endpaper.height)
    assert cover.square_head == pytest.approx(board.height - leaf.bounds[3])
    return leaf


def spread(shape: BaseGeometry, x: float, y: float) -> float:
    """How wide a shape is in a direction, mm."""
    along = [(px * x + py * y) / math.hypot(x, y) for px, py in shape.convex_hull.exterior.coords]
    return max(along) - min(along)


def assert_covered(board: Board, papers: Sequence[BaseGeometry], inside: BaseGeometry, *, spine: bool = False) -> None:
    """No bare board: not on its outside, not on its edges, and inside only under what is pasted there."""
    paper = unary_union(list(papers))
    assert board.face.difference(paper).area < TINY
    for name, edge in board.edges(spine=spine).items():
        assert edge.difference(paper).area < TINY, name
    turned = [flap for one in papers for flap in board.folded(one, spine=spine).values()]
    assert board.face.difference(unary_union([*turned, inside])).area < TINY


def assert_meets_in_the_mitres(board: Board, papers: Sequence[BaseGeometry], lap: float, *, spine: bool = False) -> None:
    """Turn-ins meet at the corners, in a band of the stated width across the line that halves each, and nowhere else."""
    flaps = [board.folded(one, spine=spine) for one in papers]
    for side in ("fore_edge", "spine") if spine else ("fore_edge",):
        for end in ("head", "tail"):
            one, other = (unary_union([flap[name] for flap in flaps]) for name in (side, end))
            met = one.intersection(other)
            way = 1 if (end == "head") == (side == "fore_edge") else -1
            assert spread(met, 1, -way) == pytest.approx(lap, abs=1e-6)
            corner = (board.width if side == "fore_edge" else 0.0), (board.height if end == "head" else 0.0)
            inwards = -FAR if side == "fore_edge" else FAR, -FAR if end == "head" else FAR
            halving = LineString([corner, (corner[0] + inwards[0], corner[1] + inwards[1])])
            assert met.difference(halving.buffer(lap / 2 + 1e-6)).area < TINY
    assert unary_union([f["head"] for f in flaps]).intersection(unary_union([f["tail"] for f in flaps])).area < TINY


UNEQUAL = {
    "cover.turn_in": {"head": "16 mm", "tail": "21 mm", "fore_edge": "18 mm"},
    "cover.square": {"head": "2 mm", "tail": "5 mm", "fore_edge": "4 mm"},
}
STIFF = {"cover.spine_piece": "stiff", "cover.board": "2.5 mm"}
RIGHT = {"text_block.opening": "right"}
WAYS: list[dict[str, Any]] = [{}, UNEQUAL, {**UNEQUAL, **RIGHT}, {**STIFF, **UNEQUAL}, {"cover.mitre": "6 mm", **RIGHT}]
COVERINGS: list[dict[str, Any]] = [
    {"cover.covering": "full"},
    {"cover.covering": "quarter", "cover.cloth_on_board": 28},
    {"cover.covering": "half", "cover.cloth_on_board": 24, "cover.overlap": 4},
]
# so wide that the slants cut off what would be turned in between them and the spine cloth, whose turn-ins they meet inside
WIDE_CORNERS = {"cover.covering": "half", "cover.cloth_on_board": 39, "cover.overlap": 2}


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("way", WAYS)
class TestCase:
    @pytest.mark.parametrize("covering", [*COVERINGS, WIDE_CORNERS])
    def test_no_board_is_bare(self, covering, way, face):
        made = planned({**way, **covering}, LEDGER)
        board = board_of(made)
        assert_covered(board, list(pieces_of(made, face).values()), pasted_leaf(made, board))

    @pytest.mark.parametrize("covering", COVERINGS)
    def test_turn_ins_meet_in_the_mitres(self, covering, way, face):
        made = planned({**way, **covering}, LEDGER)
        assert_meets_in_the_mitres(board_of(made), list(pieces_of(made, face).values()), made.cover.corner_lap)

    @pytest.mark.parametrize("covering", [*COVERINGS[1:], WIDE_CORNERS])
    def test_cloth_lies_on_the_board_as_said(self, covering, way, face):
        made = planned({**way, **covering}, LEDGER)
        board, pieces = board_of(made), pieces_of(made, face)
        on_board = pieces["spine cloth"].intersection(board.face)
        assert on_board.bounds == pytest.approx((0, 0, covering["cover.cloth_on_board"], board.height))
        met = pieces["spine cloth"].intersection(pieces["side"])
        assert spread(met, 1, 0) == pytest.approx(made.cover.overlap)
        assert spread(met.intersection(board.face), 0, 1) == pytest.approx(board.height)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("face", FACES)
class TestCorner:
    def made(self, way: dict[str, Any]) -> Plan:
        return planned({**way, "cover.covering": "half", "cover.cloth_on_board": 24, "cover.overlap": 4}, LEDGER)

    def test_side_paper_lies_over_the_corner_along_the_slant(self, way, face):
        made = self.made(way)
        board, pieces = board_of(made), pieces_of(made, face)
        for end, way_up in (("head", 1), ("tail", -1)):
            cloth, side = pieces[f"{end} corner"], pieces["side"]
            outside = cloth.intersection(side).intersection(board.face)
            assert spread(outside, 1, way_up) == pytest.approx(4)
            # inside, folded over head or tail and over the fore-edge, the slant runs the other way
            inside = (board.folded(cloth)[name].intersection(board.folded(side)[name]) for name in (end, "fore_edge"))
            assert [spread(lap, 1, -way_up) for lap in inside] == pytest.approx([4, 4])

    def test_width_of_the_corner(self, way, face):
        """Bean & Brodhead: on the line that halves the right angle, as wide as the back cloth on the board (handbook TI23)."""
        made = self.made(way)
        board, pieces = board_of(made), pieces_of(made, face)
        showing = pieces["spine cloth"].difference(pieces["side"]).intersection(board.face)
        for end, y in (("head", board.height), ("tail", 0.0)):
            halving = LineString([(board.width, y), (board.width - 60, y - 60 if y else 60)])
            corner = pieces[f"{end} corner"].intersection(board.face)
            assert corner.intersection(halving).length == pytest.approx(24)
            # without the laps, too: 24 - 4 = 20 of either is seen
            seen = corner.difference(pieces["side"]).intersection(halving).length
            assert seen == pytest.approx(20)
            assert seen == pytest.approx(float(h.TI23_CORNER_TO_CLOTH) * spread(showing, 1, 0))

    def test_the_side_papers_place_is_drawn_on_the_corner(self, way, face):
        for layout in self.made(way).layouts_of("wrap outline"):
            if layout.title.endswith("corner"):
                line = LineString(layout.part("side edge").points)
                at = layout.part("board corner place").points[1]
                assert line.distance(Polygon([at, (at[0] + TINY, at[1]), at])) == pytest.approx(20, abs=1e-5)


SIZES: dict[str, Any] = {
    "cover.board": st.floats(0.5, 4),
    "cover.turn_in": st.fixed_dictionaries(dict.fromkeys(SIDES, st.floats(15, 30))),
    "cover.square": st.fixed_dictionaries(dict.fromkeys(SIDES, st.floats(0, 6))),
    "cover.spine_piece": st.sampled_from(["none", "stiff"]),
    "text_block.opening": st.sampled_from(["left", "right"]),
}


class TestFull:
    @pytest.mark.parametrize("way", [STIFF, {**STIFF, **UNEQUAL, **RIGHT}])
    def test_the_spine_piece_is_covered_at_head_and_tail(self, way):
        made = planned(way, LEDGER)
        layout = layout_of(made, "covering")
        paper, place = Polygon(layout.part("covering").points), layout.part("spine piece place").box
        over = made.cover.board_thickness
        assert box(place.left, place.bottom - over, place.right, place.top + over).difference(paper).area < TINY
        boards = sorted((layout.part(f"{face} board place").box for face in FACES), key=lambda part: part.left)
        gaps = place.left - boards[0].right, boards[1].left - place.right
        assert gaps == pytest.approx((made.cover.gap, made.cover.gap))

    @settings(deadline=None, derandomize=True, max_examples=40)
    @given(st.fixed_dictionaries(SIZES), st.sampled_from(COVERINGS), st.floats(1.0, 2.5))
    def test_whatever_the_sizes(self, sizes, covering, boards):
        changes = {**sizes, **covering, "cover.mitre": boards * sizes["cover.board"]}
        made = planned(changes, {**LEDGER, "text_block.leaf": "130 x 180 mm"})
        board = board_of(made)
        for face in FACES:
            papers = list(pieces_of(made, face).values())
            assert_covered(board, papers, pasted_leaf(made, board))
            assert_meets_in_the_mitres(board, papers, made.cover.corner_lap)


class TestBare:
    """The tests above can fail: what is refused for it shows bare board when it is folded."""

    @pytest.mark.parametrize(("turn_in", "bare"), [("6.1 mm", False), ("5.9 mm", True)])
    def test_turn_in_that_ends_before_the_leaf(self, turn_in, bare):
        # square 4 and board 2: the leaf begins 4 in, and 2 of the turn-in go round the edge
        made = planned({"cover.square": "4 mm", "cover.turn_in": "20 mm", "cover.mitre": "3 mm"}, LEDGER)
        board, paper = board_of(made), by_place(made, "covering", "back")
        reach = float(turn_in.split()[0])
        short = paper.intersection(box(-FAR, -reach, board.width + reach, board.height + reach))
        flaps = board.folded(short).values()
        assert (board.face.difference(unary_union([*flaps, pasted_leaf(made, board)])).area > TINY) == bare

    def test_mitre_too_near(self):
        made = planned({}, LEDGER)
        board, paper = board_of(made), by_place(made, "covering", "back")
        # cut 1 from the corner: 1.414214 along an edge, which does not go round a board of 2
        x, y = board.width + 1.414214, board.height
        corner = Polygon([(x + 60, y - 60), (x + 60, y + 60), (x - 60, y + 60)])
        with pytest.raises(AssertionError):
            assert_covered(board, [paper.difference(corner)], pasted_leaf(made, board))


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("way", [{}, UNEQUAL, {**UNEQUAL, **RIGHT}])
class TestTaped:
    def test_covered_up_to_the_spine_edge(self, way, face):
        made = planned(way, POOL)
        board, cover = board_of(made), made.cover
        lining = box(0, cover.lining_margin, board.width - cover.lining_margin, board.height - cover.lining_margin)
        paper = by_place(made, face, face)
        assert_covered(board, [paper], lining)
        assert_meets_in_the_mitres(board, [paper], cover.corner_lap)
        assert paper.bounds[0] == pytest.approx(0)


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("turn_in", [TurnIns.all(18.0), TurnIns(head=16.0, tail=21.0, fore_edge=18.0)])
@pytest.mark.parametrize(("thick", "mitre"), [(2.0, 3.0), (2.5, 3.0)])
def test_all_round(thick, mitre, turn_in, face):
    """A board turned in on four sides, its lining 1/8 in from all of them (Bean & Brodhead, Problem XII; handbook TI11)."""
    board = Board(97.0, 156.0, thick)
    layout = wrap_all_round_layout(face, Size(board.width, board.height), turn_in, mitre)
    place = layout.part(f"{face} board place").box
    paper = translate(Polygon(layout.part(f"{face} covering").points), -place.left, -place.bottom)
    margin = float(h.TI11_LINING_MARGIN_IN) * 25.4
    lining = box(margin, margin, board.width - margin, board.height - margin)
    assert_covered(board, [paper], lining, spine=True)
    # the mitre's band by hand: 1.414214 x (1.414214 x 3 - 2) = 3.171573, and with 2.5: 6 - 3.535534 = 2.464466
    assert_meets_in_the_mitres(board, [paper], {2.0: 3.171573, 2.5: 2.464466}[thick], spine=True)
