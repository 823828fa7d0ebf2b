"""Every pattern's path, through the plan of a whole book: it can be sewn, and it says what it sews.

And the checker of paths itself: it finds what is wrong with a path that was spoilt on purpose.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest

from bookplates.book.record import Plan
from bookplates.kinds.pairs import goes
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.patterns.base import Needlework
from bookplates.kinds.seam import Seam
from bookplates.kinds.styles import STYLES
from bookplates.kinds.thread import Leg, Place, SewingStep, ThreadPath
from path_checks import faults
from shapes import planned

PAIRS = [(style, pattern) for pattern in PATTERNS for style in STYLES if goes(style, pattern)]
SEWN = [pair for pair in PAIRS if issubclass(PATTERNS[pair[1]], Needlework)]
each_sewn = pytest.mark.parametrize(("style", "pattern"), SEWN)

SECTIONS = {
    "chain": (1,),
    "pamphlet": (1,),
    "link": (2, 3, 6),
    "french link": (2, 3, 6),
    "tapes": (2, 3, 6),
    "long stitch": (1, 2, 5),
}
"""Of how many sections a book is tried; one where nothing is said."""

COUNTS = {"pamphlet": (3, 5, 7), "long stitch": (2, 4, 6), "french link": (), "tapes": ()}
"""Numbers of stations a pattern takes, where not any will do."""

BOARDS_SEWN_ON = {"exposed"}
"""Styles whose boards have stations of their own."""


def book(style: str, pattern: str, sections: int = 1, **sewing: object) -> Plan:
    """Six folios a section of 0.1 mm, leaves 100 x 150 mm."""
    changes = {
        "text_block.folios": 6 * sections,
        "text_block.sections": sections if sections > 1 else None,
        "cover.style": style,
        "sewing.pattern": pattern,
        **{f"sewing.{key}": value for key, value in sewing.items()},
    }
    return planned(changes)


def seam_of(made: Plan) -> Seam:
    sewing = made.sewing
    return Seam(sewing.stations, holes=sewing.holes, hole=sewing.hole, thread=sewing.thread, thread_end=sewing.thread_end)


def of_plan(made: Plan, style: str, sections: int) -> list[str]:
    return faults(made.sewing.path, seam_of(made), sections, boards=style in BOARDS_SEWN_ON)


class TestEveryPattern:
    @each_sewn
    def test_can_be_sewn(self, style, pattern):
        for sections in SECTIONS.get(pattern, (1,)):
            assert of_plan(book(style, pattern, sections), style, sections) == []

    @pytest.mark.parametrize(
        ("style", "pattern", "count"),
        [(style, pattern, n) for style, pattern in SEWN for n in COUNTS.get(pattern, range(2, 8))],
    )
    def test_on_any_number_of_stations_that_it_takes(self, style, pattern, count):
        sections = SECTIONS.get(pattern, (1,))[-1]
        assert of_plan(book(style, pattern, sections, count=count), style, sections) == []

    @each_sewn
    def test_a_longer_end_is_more_thread(self, style, pattern):
        sections = SECTIONS.get(pattern, (1,))[-1]
        short, long = (book(style, pattern, sections, thread_end=end).sewing for end in (50, 120))
        assert long.thread_length - short.thread_length == pytest.approx(140)  # 2 x (120 - 50)
        assert long.thread_to_cut == pytest.approx(1.25 * long.thread_length)

    @each_sewn
    def test_no_step_is_left_without_a_full_stop_or_with_gaps(self, style, pattern):
        for step in book(style, pattern, SECTIONS.get(pattern, (1,))[-1]).sewing.path.steps:
            assert step.text[0].isupper()
            assert step.text.endswith(".")
            assert "  " not in step.text
            assert ".." not in step.text

    @each_sewn
    def test_the_usual_book_asks_for_no_wider_hole(self, style, pattern):
        made = book(style, pattern, SECTIONS.get(pattern, (1,))[-1])
        assert "sewing.hole" not in [problem.where for problem in made.warnings]


SEAM = Seam((20.0, 75.0, 130.0), thread_end=85.0)


def _leg(deed: str, start: Place, end: Place, length: float, **more: object) -> Leg:
    return Leg(start, end, deed, length, **more)  # type: ignore[arg-type]


def three_hole() -> ThreadPath:
    """The pamphlet stitch on three stations, leg by leg by hand: out at the middle, to the head, past the middle, to the tail."""
    middle, head, tail = ((Place(n, "inside"), Place(n, "outside")) for n in (2, 1, 3))
    legs = (
        _leg("end", middle[0], middle[0], 85),
        _leg("pass", middle[0], middle[1], 2, through=2),
        _leg("run", middle[1], head[1], 55),
        _leg("pass", head[1], head[0], 2, through=2),
        _leg("run", head[0], tail[0], 110),
        _leg("pass", tail[0], tail[1], 2, through=2),
        _leg("run", tail[1], middle[1], 55),
        _leg("pass", middle[1], middle[0], 2, through=2),
        _leg("end", middle[0], middle[0], 85),
    )
    return ThreadPath(legs, (SewingStep("Up.", 4), SewingStep("Down and back.", 9)))


def swapped(n: int, **changes: object) -> Callable[[ThreadPath], ThreadPath]:
    """Spoils one leg."""

    def spoil(path: ThreadPath) -> ThreadPath:
        legs = list(path.legs)
        legs[n] = replace(legs[n], **changes)
        return replace(path, legs=tuple(legs))

    return spoil


def with_legs(at: int, *legs: Leg, drop: int = 0) -> Callable[[ThreadPath], ThreadPath]:
    """Puts legs in, or takes some out."""
    return lambda path: replace(path, legs=(*path.legs[:at], *legs, *path.legs[at + drop :]))


def stepped(*done: int) -> Callable[[ThreadPath], ThreadPath]:
    return lambda path: replace(path, steps=tuple(SewingStep("Sew.", n) for n in done))


HEAD_OUT, HEAD_IN, TAIL_IN = Place(1, "outside"), Place(1, "inside"), Place(3, "inside")
MIDDLE_OUT, MIDDLE_IN = Place(2, "outside"), Place(2, "inside")
BACK_AND_FORTH = (_leg("pass", HEAD_IN, HEAD_OUT, 2, through=2), _leg("pass", HEAD_OUT, HEAD_IN, 2, through=2))
TO_AND_FRO = (_leg("run", HEAD_OUT, Place(3, "outside"), 110), _leg("run", Place(3, "outside"), HEAD_OUT, 110))

SPOILT: dict[str, tuple[Callable[[ThreadPath], ThreadPath], str]] = {
    "a leg that starts elsewhere": (swapped(4, start=MIDDLE_IN), "starts at"),
    "a pass that stays on its side": (swapped(3, end=HEAD_OUT), "does not change side"),
    "a pass to another hole": (swapped(3, end=MIDDLE_IN), "does not change side"),
    "a pass through nothing": (swapped(3, through=0.0), "goes through 0"),
    "a pass shorter than the paper": (swapped(3, length=1.9), "less than the straight way"),
    "a run through the paper": (swapped(2, end=HEAD_IN), "leaves its side"),
    "a run to another section": (swapped(2, end=Place(1, "outside", 2)), "leaves its side"),
    "a run that cuts a corner": (swapped(2, length=54.9), "less than the straight way"),
    "a run to nowhere": (with_legs(3, _leg("run", HEAD_OUT, HEAD_OUT, 1)), "goes nowhere"),
    "a station that is not there": (swapped(2, end=Place(4, "outside")), "no station"),
    "a climb inside": (with_legs(4, _leg("climb", HEAD_IN, Place(1, "inside", 2), 3)), "is not outside"),
    "a climb along the spine": (with_legs(2, _leg("climb", MIDDLE_OUT, Place(1, "outside", 2), 3)), "leaves its station"),
    "a climb to where it is": (with_legs(2, _leg("climb", MIDDLE_OUT, MIDDLE_OUT, 3)), "stays at its section"),
    "a wrap round nothing": (with_legs(3, _leg("wrap", HEAD_OUT, HEAD_IN, 50)), "goes round no edge"),
    "a wrap that comes back": (with_legs(3, _leg("wrap", HEAD_OUT, HEAD_OUT, 50, edge="head")), "does not change side"),
    "a wrap that is too short": (with_legs(3, _leg("wrap", HEAD_OUT, HEAD_IN, 39, edge="head")), "less than the straight way"),
    "a run round an edge": (swapped(2, edge="head"), "goes round head"),
    "a hitch that moves": (with_legs(3, _leg("hitch", HEAD_OUT, HEAD_IN, 9)), "does not stay"),
    "a pass straight back": (with_legs(4, *BACK_AND_FORTH), "passes straight back"),
    "a run that nothing holds": (with_legs(3, *TO_AND_FRO), "nothing to hold it"),
    "a link round nothing": (with_legs(3, _leg("link", HEAD_OUT, HEAD_OUT, 2)), "is not there"),
    "a link round a section not sewn": (with_legs(3, _leg("link", HEAD_OUT, HEAD_OUT, 2, linked=2)), "is not there"),
    "a link on to another station round its own stitch": (
        with_legs(3, _leg("link", HEAD_OUT, MIDDLE_OUT, 57)),
        "without another's stitch",
    ),
    "a link on round a stitch that is not there": (
        with_legs(3, _leg("link", HEAD_OUT, MIDDLE_OUT, 57, linked=2)),
        "is not there",
    ),
    "a link on that cuts a corner": (with_legs(3, _leg("link", HEAD_OUT, MIDDLE_OUT, 54.9, linked=2)), "less than the straight"),
    "a hitch at a section not sewn": (with_legs(3, _leg("hitch", HEAD_OUT, HEAD_OUT, 9, linked=2)), "is not there"),
    "a knot with an end that is not there": (with_legs(3, _leg("knot", HEAD_OUT, HEAD_OUT, 18, linked=2)), "is not there"),
    "a hitch at the first end, of which nothing is said": (
        with_legs(1, _leg("hitch", MIDDLE_IN, MIDDLE_IN, 9)),
        "tied in 0 steps",
    ),
    "a first end tied before there is a stitch": (
        lambda path: replace(
            with_legs(1, _leg("hitch", MIDDLE_IN, MIDDLE_IN, 9))(path),
            steps=(SewingStep("Up.", 5, ties_first=True), SewingStep("Down and back.", 10)),
        ),
        "no stitch yet",
    ),
    "an end in the middle": (with_legs(4, _leg("end", HEAD_IN, HEAD_IN, 85)), "to be ends, and no other"),
    "no end": (with_legs(8, drop=1), "to be ends, and no other"),
    "a short end": (swapped(8, length=80.0), "an end is not 85"),
    "ends out of reach": (with_legs(6, _leg("end", Place(3, "outside"), Place(3, "outside"), 85), drop=3), "cannot be tied"),
    "a station left out": (with_legs(4, _leg("run", HEAD_IN, MIDDLE_IN, 55), drop=4), "hole 3 of section 1 is not used"),
    "a step that sews nothing": (stepped(4, 4, 9), "sew nothing"),
    "steps that go back": (stepped(4, 3, 9), "go back"),
    "steps that end early": (stepped(4, 8), "end at leg 8 of 9"),
    "no steps": (stepped(), "end at leg 0"),
    "a step without a word": (lambda path: replace(path, steps=(SewingStep(" ", 9),)), "says nothing"),
    "no thread": (lambda path: replace(path, legs=()), "no thread"),
}


class TestChecker:
    def test_a_sound_path_has_no_faults(self):
        assert faults(three_hole(), SEAM, 1) == []

    @pytest.mark.parametrize("spoilt", SPOILT)
    def test_finds(self, spoilt):
        spoil, words = SPOILT[spoilt]
        found = faults(spoil(three_hole()), SEAM, 1)
        assert any(words in fault for fault in found), found

    def test_a_section_or_a_board_left_out(self):
        assert "hole 1 of section 2 is not used" in faults(three_hole(), SEAM, 2)
        with_boards = faults(three_hole(), SEAM, 1, boards=True)
        assert "hole 3 of section 0 is not used" in with_boards
        assert "hole 3 of section 2 is not used" in with_boards

    def test_a_fold_has_no_front(self):
        through_the_side = replace(SEAM, holes=((10.0, 20.0), (10.0, 75.0), (10.0, 130.0)))
        assert any("the thread is on the inside, outside" in fault for fault in faults(three_hole(), through_the_side, 1))

    def test_the_path_by_hand_joins(self):
        assert all(before.end == after.start for before, after in pairwise(three_hole().legs))
