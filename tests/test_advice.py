"""What a finding advises: it names the key that mends it, and who does as advised hears no more of it."""

from __future__ import annotations

import re

import pytest

from bookplates.kinds.limits import at_least, at_most
from shapes import planned, refusals, warnings


class TestRoundedToTheSafeSide:
    @pytest.mark.parametrize(
        ("mm", "units", "words"),
        [
            (65.4744, "mm", "65.48 mm"),  # 65.47 would fall short
            (65.47, "mm", "65.47 mm"),
            (25.43, "in", "25.43 mm"),  # 1 in is 0.03 mm short
            (25.37, "in", "1 in"),  # 1 in is 0.03 mm more than enough
        ],
    )
    def test_at_least(self, mm, units, words):
        assert at_least(mm, units) == words

    @pytest.mark.parametrize(
        ("mm", "units", "words"), [(15.876, "mm", "15.87 mm"), (15.88, "in", "5/8 in"), (25.37, "in", "25.37 mm")]
    )
    def test_at_most(self, mm, units, words):
        assert at_most(mm, units) == words


# Boards of 2 mm, joint 6.35 mm, a block of 1.6 mm. A caliper of 0.1234 mm makes it 16 x 0.1234 = 1.9744 mm thick, and
# the boards 1.9744 + 12.7 = 14.6744 mm apart.
THICKER = {"text_block.caliper": "0.1234 mm"}
ADVISED = [
    # where, the book, what it advises, what is then written
    ("cover.gap", {"cover.gap": 9}, "at least 9.6 mm", 9.6),  # 1.6 + 2 x (2 x 2)
    ("cover.gap", {"cover.gap": 1, **THICKER}, "at least 1.98 mm", 1.98),
    ("cover.joint", {"cover.joint": 3, "cover.board": 2.0833}, "at least 4.17 mm", 4.17),  # 2 x 2.0833 = 4.1666
    ("tape.width", {"tape.width": 50, **THICKER}, "65.48 mm or wider", 65.48),  # 14.6744 + 50.8 = 65.4744
    ("tape.width", {"tape.width": 20, **THICKER}, "at least 26.68 mm", 26.68),  # 14.6744 + 12 = 26.6744
    ("cover.mitre", {"cover.mitre": 1, "cover.board": 3}, "more than 2.13 mm", 2.13),  # 3 / 1.414214 = 2.12132
    ("cover.mitre", {"cover.mitre": 2, "cover.board": 2.345}, "at least 2.35 mm", 2.35),
    ("cover.lining_margin", {"cover.lining_margin": 11, "cover.turn_in": 15}, "10 mm or less", 10),  # 15 - 2 - 3
    ("cover.lining_margin", {"cover.lining_margin": 14, "cover.turn_in": 15}, "less than 13 mm", 12.99),
    ("tape.overlap", {"tape.overlap": 20, "sewing.stations": [20, 75, 138.123]}, "15.05 mm or less", 15.05),  # 11.877 + 3.175
    ("tape.turn_in", {"tape.inside": "turn-in", "tape.turn_in": 90}, "78.17 mm or less", 78.17),  # (150 + 6.35) / 2 = 78.175
    ("sewing.end_margin", {"sewing.end_margin": 80}, "at most 68.65 mm", 68.65),  # two stations 12.7 apart: (150 - 12.7) / 2
    ("sewing.end_margin", {"sewing.end_margin": 45, "sewing.count": 5}, "leave 40 mm or less at either end", 40),
]


@pytest.mark.parametrize(("where", "changes", "advice", "written"), ADVISED)
def test_who_does_as_advised_hears_no_more_of_it(where, changes, advice, written):
    refused = refusals(changes)
    told = refused[where] if refused else warnings(changes)[where]
    assert advice in told.hint
    mended = {**changes, where: written}
    after = refusals(mended) or warnings(mended)
    assert where not in after or complaint(after[where].what) != complaint(told.what)


def complaint(what: str) -> str:
    """The sentence without its numbers."""
    return re.sub(r"[0-9./]+", "", what)


class TestKeys:
    def test_what_stays_unsewn_names_what_sets_the_ends(self):
        assert "sewing.end_margin" in warnings({"sewing.count": 3, "sewing.end_margin": 41})
        assert "sewing.spacing" in warnings({"sewing.spacing": 65})  # two gaps of 65 do not go into 150 - 25.4: 42.5 at each end
        assert "sewing.stations" in warnings({"sewing.stations": [41, 75, 120]})

    def test_a_tape_too_narrow_for_a_gap_names_the_gap(self):
        assert "smaller cover.gap" in refusals({"cover.gap": 60, "tape.width": 70})["tape.width"].hint
        assert "smaller cover.joint" in refusals({"tape.width": 20})["tape.width"].hint

    def test_no_tape_wide_enough_is_not_advised(self):
        # no tape of 300 mm goes over 320
        hint = refusals({"measured.thickness": "320 mm"})["tape.width"].hint
        assert "at least" not in hint
        assert "thinner text block" in hint

    def test_much_creep_does_not_send_to_sections_that_the_stitch_refuses(self):
        told = warnings({"text_block.folios": 8, "text_block.caliper": "0.5 mm"})["text_block.folios"]
        assert told.what == "the innermost leaf stands 3.5 mm out"
        assert told.hint.startswith("fewer folded sheets")

    def test_a_turn_in_too_small_for_any_mitre_is_what_to_change(self):
        # turn-ins of 5 take a mitre under 7.07; a board of 10 asks for more than 7.07
        board = {"cover.board": 10, "cover.turn_in": 5, "cover.lining_margin": 0}
        assert refusals(board)["cover.mitre"].hint == "a larger cover.turn_in"
        assert "larger cover.turn_in" in refusals({**board, "cover.mitre": 2})["cover.mitre"].hint

    def test_of_no_board_nothing_more_is_said(self):
        found = refusals({"text_block.leaf": "40 x 150 mm", "cover.joint": "45 mm"})
        assert list(found) == ["cover.joint"]
        assert found["cover.joint"].what == "leaves no board at all"  # 40 + 3.175 - 45 is below 0


class TestTrue:
    @pytest.mark.parametrize(("width", "warned"), [("70 mm", False), ("62.9 mm", True)])
    def test_a_measured_width_is_held_against_the_trimmed_one(self, width, warned):
        # 100 + 7 x 0.1 - 30.7 = 70; a tenth off is 63
        assert ("measured.width" in warnings({"text_block.trim": "30.7 mm", "measured.width": width})) == warned

    def test_leaves_beyond_the_boards_are_no_square_below_nothing(self):
        told = warnings({"text_block.trim": "none", "cover.square": 0})["text_block.trim"].what
        assert "let leaves stand out by 0.7 mm instead of 0 mm" in told

    @pytest.mark.parametrize(("turn_in", "warned"), [(80, False), (80.2, True)])
    def test_turn_ins_meet_once_they_are_round_the_edges(self, turn_in, warned):
        # board 156.35 tall: 2 x (80 - 2) = 156, 2 x (80.2 - 2) = 156.4
        changes = {"cover.turn_in": {"head": turn_in, "tail": turn_in, "fore_edge": 20}}
        assert ("cover.turn_in" in warnings(changes)) == warned

    def test_out_of_range_is_not_rounded_into_it(self):
        assert refusals({"cover.board": 10.0001})["cover.board"].what == "10.0001 mm is out of range"


class TestLots:
    def test_many_are_counted(self):
        made = planned({"text_block.folios": 64})
        hint = next(problem.hint for problem in made.warnings if problem.where == "sewing.punch_at_once")
        assert "in 1 lot of 10 and 6 lots of 9" in hint  # 64 in seven lots: 10 + 6 x 9

    def test_few_are_named(self):
        assert "pierce them 8, 7 and 7 through" in warnings({"text_block.folios": 22})["sewing.punch_at_once"].hint


# Leaves 100 x 150 mm in three sections under a case: kettle stitches at the end margin, pairs of stations between them.
SEVERAL = {"cover.style": "case", "text_block.folios": 24, "text_block.sections": 3}
NO_ROOM = [
    # end margin 80 mm on a leaf 150 mm tall; what is advised
    ({"cover.style": "taped", "sewing.count": 7}, "66 mm"),  # six times 3 mm between them: (150 - 18) / 2
    ({"cover.style": "taped", "sewing.spacing": 30}, "60 mm"),  # two stations: (150 - 30) / 2
    ({"cover.style": "wrapper", "sewing.pattern": "pamphlet"}, "72 mm"),  # three stations: (150 - 6) / 2
    # outer tapes' middles 31.75 mm from the ends, tapes 12.7 mm wide, 3 mm to the kettle stitch: 31.75 - 6.35 - 3
    ({**SEVERAL, "sewing.pattern": "tapes"}, "22.4 mm"),
    # two pairs, their middles at 50 and 100 mm, 10 mm apart: 50 - 5 - 3
    ({**SEVERAL, "sewing.pattern": "french link"}, "42 mm"),
]


@pytest.mark.parametrize(("changes", "most"), NO_ROOM)
def test_an_end_margin_leaves_room_for_the_whole_pattern(changes, most):
    hint = refusals({**changes, "sewing.end_margin": 80})["sewing.end_margin"].hint
    assert hint == f"at most {most}"
    assert refusals({**changes, "sewing.end_margin": most}) == {}


def test_half_a_covering_takes_the_smaller_of_its_two_limits():
    # boards 100 + 3.175 - 6.35 = 96.825 wide and 60 + 6.35 = 66.35 tall: 96.825 / 2.41421 = 40.1, 66.35 / 2.82843 = 23.458
    low = {"cover.style": "case", "cover.covering": "half", "text_block.leaf": "100 x 60 mm", "sewing.pattern": "pamphlet"}
    hint = refusals({**low, "cover.cloth_on_board": 50})["cover.cloth_on_board"].hint
    assert hint.startswith("less than 23.45 mm")
    assert "cover.cloth_on_board" not in refusals({**low, "cover.cloth_on_board": 23.4})


def test_a_smaller_lining_margin_leaves_a_lining():
    # leaves 30 mm wide: a board of 30 + 3.175 - 6.35 = 26.825 mm; at 25 mm 1.825 are left, 3.175 short of a lining of 5 mm
    narrow = {"text_block.leaf": "30 x 150 mm", "cover.turn_in": 15, "tape.width": 30, "cover.mitre": 3}
    hint = refusals({**narrow, "cover.lining_margin": 25})["cover.lining_margin"].hint
    assert hint.startswith("less than ")
    mended = float(re.findall(r"less than ([0-9.]+) mm", hint)[0]) - 0.01
    assert "cover.lining_margin" not in refusals({**narrow, "cover.lining_margin": mended})


@pytest.mark.parametrize("pattern", ["four-hole", "noble", "hemp leaf", "tortoise shell"])
@pytest.mark.parametrize("inset", [2, 3.5, 24])
def test_what_is_advised_of_holes_in_a_hinge_strip_works_when_typed(pattern, inset):
    """Edges of holes of 2 mm stay 3 mm inside: middles 4 mm from either edge of 25; the extra holes stand at half the inset."""
    hinged = {"cover.style": "side-sewn", "cover.leaves": "single", "cover.hinge": 25, "sewing.pattern": pattern}
    least = "4 mm" if pattern == "four-hole" else "8 mm"
    told = refusals({**hinged, "sewing.inset": inset})["sewing.inset"]
    assert told.hint.startswith(f"{least} to 21 mm")
    assert "sewing.inset" not in refusals({**hinged, "sewing.inset": least})
