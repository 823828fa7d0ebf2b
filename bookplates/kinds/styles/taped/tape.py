"""The book tape that joins two boards down the spine: its keys, sizes, guide, and what a binder would say of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from bookplates.errors import Finding, refuse, warn
from bookplates.geometry import Size, rectangle
from bookplates.kinds.block import Opening
from bookplates.kinds.boards import GAUGE
from bookplates.kinds.checks import LINING_TO_SPARE
from bookplates.kinds.cover import TapeSizes
from bookplates.kinds.keys import INCH, Keys, Span
from bookplates.kinds.limits import at_least, at_most
from bookplates.kinds.parts import Layout, Piece, outline, rule
from bookplates.lengths import Units, fits, said

LEAST_HOLD = 6.0
"""A tape that lies on less of a board than this does not hold it, mm: common practice, no source."""

GOOD_HOLD = INCH
"""What a tape should lie on each board, mm: Bean & Brodhead, Problem XII (handbook TI10)."""

STRIP_SHORTER = INCH / 8
"""By how much an inner strip is shorter than the boards, mm: Bean & Brodhead, Problem XII (handbook TI10)."""

WIDEST = 300.0
"""The widest tape that can be written, mm."""

TICK = 25.0
"""How far the lines of the tape guide run beyond head and tail, where no board hides them, mm."""

LEAST_LAP = 3.0
"""The least lap that can be written, mm."""

GOOD_LAP = 6.0
"""A covering that reaches less under the tape may show its edge, mm: common practice, no source. Usual is 1/2 in, as Bean
& Brodhead lap the cover cloth of a hinged sketch-book (Problem VIII-A; handbook TI12)."""

FROM_TAIL = 5.0
"""The tape's ends overlap no further than this from the tail edge, or they would lie where the book is handled, mm:
common practice, no source."""


class Tape(Keys):
    """The book tape over a taped spine."""

    width: Annotated[float, Span(5, WIDEST)] = Field(default=4 * INCH, description="width of the tape as bought")
    inside: Literal["full", "turn-in"] = Field(
        default="full",
        description="whether the tape lines the inside, too, or is only turned over head and tail",
    )
    turn_in: Annotated[float, Span(3, 100)] = Field(
        default=INCH, description="turned over head and tail, where the tape does not line the inside"
    )
    overlap: Annotated[float, Span(0, 100)] = Field(
        default=INCH / 2,
        description="how far the tape's two ends, or an inner strip and each board, overlap",
    )
    lap: Annotated[float, Span(LEAST_LAP, WIDEST)] | None = Field(
        default=None,
        description="how far each covering reaches under the tape; not written, it goes on to the board's spine edge",
        examples=["1/2 in"],
    )


def on_board(tape: Tape, apart: float) -> float:
    """How much of the tape lies on each of two boards `apart` mm from each other, mm; below 0 it does not reach them."""
    return (tape.width - apart) / 2


def short(tape: Tape, apart: float) -> float:
    """How far from the spine edge of its board a covering stops under the tape, mm; 0 where it goes on to that edge."""
    return 0.0 if tape.lap is None else max(0.0, on_board(tape, apart) - tape.lap)


def sizes(tape: Tape, board: Size, thickness: float, apart: float, clear: float) -> TapeSizes:
    """The sizes of the tape. Inside full, its ends overlap near the tail, clear of the stations if they can.

    Args:
        tape: its keys.
        board: width and height of a board, mm.
        thickness: of a board, mm.
        apart: the boards' back edges from each other, mm.
        clear: tail of the boards to the last station, mm.
    """
    up = board.height
    if tape.inside == "turn-in":
        hang_head = hang_tail = thickness + tape.turn_in
        overlap, from_tail = None, None
    else:
        overlap, from_tail = tape.overlap, min(FROM_TAIL, max(0.0, (clear - tape.overlap) / 2))
        hang_tail = thickness + from_tail + overlap
        hang_head = thickness + up - from_tail
    return TapeSizes(
        width=tape.width,
        length=up + hang_head + hang_tail,
        on_board=on_board(tape, apart),
        guide_offset=tape.width / 2,
        inside=tape.inside,
        hang_head=hang_head,
        hang_tail=hang_tail,
        overlap=overlap,
        overlap_from_tail=from_tail,
        lap=tape.lap,
    )


def inner_strip(tape: Tape, board: Size, apart: float) -> tuple[Piece, ...]:
    """What covers the adhesive left bare in the gap, where the tape does not line the inside."""
    if tape.inside == "full":
        return ()
    strip = rectangle(0, 0, apart + 2 * tape.overlap, board.height - STRIP_SHORTER)
    return (Piece("inner strip", "tape", 1, strip, "none"),)


def guide_layouts(tape: Tape, board: Size, apart: float, opening: Opening) -> tuple[Layout, ...]:
    """The guide that lies under the boards, outside up: so the front board is at the right; and the tape gauge."""
    up, half = board.height, apart / 2
    low, high, edge = -TICK, up + TICK, tape.width / 2
    front = 1.0 if opening == "left" else -1.0
    reach = max(edge, half) + 10.0
    guide = (
        rule("front board edge", "place", (front * half, low), (front * half, high)),
        rule("back board edge", "place", (-front * half, low), (-front * half, high)),
        rule("spine centre", "centre", (0.0, low), (0.0, high)),
        rule("front tape edge", "place", (front * edge, low), (front * edge, high)),
        rule("back tape edge", "place", (-front * edge, low), (-front * edge, high)),
        rule("head edge", "place", (-reach, up), (reach, up)),
        rule("tail edge", "place", (-reach, 0.0), (reach, 0.0)),
    )
    gauge = outline("tape gauge", "cut", rectangle(0, 0, on_board(tape, apart), GAUGE))
    return Layout("tape guide", "", guide), Layout("tape guide", "tape gauge", (gauge,))


def hold_findings(tape: Tape, board: Size, apart: float, units: Units, joint_key: str) -> Iterator[Finding]:
    """Tapes too narrow to hold the boards, or wider than the cover; `joint_key` is what sets the boards apart."""
    hold, width = on_board(tape, apart), said(tape.width, units)
    if not fits(LEAST_HOLD, hold):
        short = f"holds only {said(hold, units)} of each board" if hold > 0 else f"is narrower than the gap, {said(apart, units)}"
        yield refuse(
            "tape.width",
            f"a tape {width} wide {short}",
            f"{_wide_enough(apart + 2 * LEAST_HOLD, units)}, or a smaller {joint_key}",
        )
    elif not fits(GOOD_HOLD, hold):
        yield warn(
            "tape.width",
            f"the tape lies on only {said(hold, units)} of each board",
            f"{at_least(apart + 2 * GOOD_HOLD, units)} or wider gives it {said(GOOD_HOLD, units)} of hold"
            if fits(apart + 2 * GOOD_HOLD, WIDEST)
            else f"a thinner text block, or a smaller {joint_key}",
        )
    elif not fits(hold, board.width):
        yield warn(
            "tape.width",
            f"a tape {width} wide reaches over the fore-edge of the boards",
            f"{at_most(apart + 2 * board.width, units)} or narrower",
        )


def _wide_enough(least: float, units: Units) -> str:
    return f"at least {at_least(least, units)}" if fits(least, WIDEST) else "a thinner text block"


def end_findings(tape: Tape, board: Size, clear: float, units: Units) -> Iterator[Finding]:
    """Ends that meet a station or each other; `clear` is what is free of stations at the tail, mm."""
    if tape.inside == "turn-in":
        if not fits(2 * tape.turn_in, board.height):
            most = at_most(board.height / 2, units)
            yield warn("tape.turn_in", "the turned-in ends of the tape meet or pass each other inside", f"{most} or less")
        return
    if "turn_in" in tape.model_fields_set:
        yield warn("tape.turn_in", 'is not used with tape.inside = "full"', 'leave it out, or inside = "turn-in"')
    if not fits(tape.overlap, clear):
        yield warn(
            "tape.overlap",
            f"the last station pierces three layers of tape: the ends overlap "
            f"{said(tape.overlap, units)} near the tail, and {said(clear, units)} is free of stations",
            f"{at_most(clear, units)} or less, or the last station (sewing) farther from the tail",
        )


def lap_findings(tape: Tape, apart: float, cuts: float, units: Units) -> Iterator[Finding]:
    """Coverings that stop under the tape and save nothing, show their edge, or have none; `cuts`: spine edge to mitre, mm."""
    if tape.lap is None:
        return
    lap, hold = tape.lap, on_board(tape, apart)
    if fits(hold, lap):
        what = f"coverings that reach {said(lap, units)} under the tape stop nowhere: it lies on each board by "
        less = f"less than {at_most(hold, units)}, or " if hold > LEAST_LAP else ""
        yield refuse("tape.lap", f"{what}{said(max(hold, 0.0), units)}", f"{less}leave it out")
    elif cuts > 0 and fits(cuts, hold - lap):
        what = "the coverings would stop under the tape where their mitres are cut"
        yield refuse("tape.lap", what, f"more than {at_least(hold - cuts, units)}, or leave it out")
    elif not fits(GOOD_LAP, lap):
        what = f"the tape hides the edges of the coverings by only {said(lap, units)}"
        yield warn("tape.lap", what, f"{said(GOOD_LAP, units)} or more; {said(INCH / 2, units)} is usual")


def bare_findings(tape: Tape, margin: float, units: Units) -> Iterator[Finding]:
    """Bare board at head and tail inside, where coverings stop under the tape and only the tape's ends are turned in there.

    Tape that lines the inside hides it all; ends that are only turned in have to reach the lining, `margin` mm from the edge.
    """
    if tape.lap is None or tape.inside == "full":
        return
    spare, turned = tape.turn_in - margin, said(tape.turn_in, units)
    if fits(spare, 0.0):
        what = f"bare board shows near the spine between the tape, turned in by {turned}, and a lining {said(margin, units)} from"
        yield refuse(
            "tape.turn_in",
            f"{what} the edge",
            f"more than {at_least(margin, units)}, or leave tape.lap out, so that the coverings go on to the spine edge",
        )
    elif not fits(LINING_TO_SPARE, spare):
        what = f"near the spine the turned-in tape, {turned}, reaches over the lining by only {said(spare, units)}"
        yield warn("tape.turn_in", what, f"at least {at_least(margin + LINING_TO_SPARE, units)}, or leave tape.lap out")
