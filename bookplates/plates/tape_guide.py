"""The tape guide: lines that show beyond and between the boards, and the gauge for the tape's edge."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from bookplates.book.record import Plan, TapeSizes
from bookplates.geometry import Box
from bookplates.kinds.cautions import WEIGHT
from bookplates.kinds.parts import Layout
from bookplates.lengths import both
from bookplates.papers.printing import PageSetup
from bookplates.plates.dimensions import dimension
from bookplates.plates.drawing import Drawing, Stroke
from bookplates.plates.gauge import gauge
from bookplates.plates.notes import edge_word, finished, notes_in_sight
from bookplates.plates.pad import Pad
from bookplates.plates.words import Where, mm_and_inches

TICK = 8.0
OUTER: tuple[Where, Where] = ("left", "right")
"""The edges of the left and the right board's places that lie away from the spine."""


def draw(plan: Plan, setup: PageSetup) -> tuple[Drawing, ...]:
    """The guide to lay the tape by, and the tape gauge."""
    return tuple(TEMPLATES.get(layout.title, _guide)(plan, setup, layout) for layout in plan.layouts_of("tape guide"))


def _guide(plan: Plan, setup: PageSetup, layout: Layout) -> Drawing:
    pad = Pad(layout, setup)
    pad.put(*_ticks(layout))
    front, back, tapes = layout.part("front board edge").box, layout.part("back board edge").box, layout.named("front tape edge")
    head, tail = layout.part("head edge").box.top, layout.part("tail edge").box.bottom
    boards, tape = sorted((front.left, back.left)), sorted((tapes[0].box.left, layout.part("back tape edge").box.left))
    top = front.top
    dimension(pad, (boards[0], top), (boards[1], top), mm_and_inches(boards[1] - boards[0], plan, "boards apart"), "above")
    dimension(pad, (boards[1], front.bottom), (tape[1], front.bottom), both(tape[1] - boards[1], plan.units), "below")
    dimension(pad, (tape[0], front.bottom), (boards[0], front.bottom), both(boards[0] - tape[0], plan.units), "below")
    dimension(pad, (tape[0], front.bottom), (tape[1], front.bottom), mm_and_inches(tape[1] - tape[0], plan, "tape"), "below")
    dimension(pad, (tape[0], tail), (tape[0], head), mm_and_inches(head - tail, plan, "boards high"), "left")
    sides = {"FRONT": tapes[0].box.left, "BACK": layout.part("back tape edge").box.left}
    _name(pad, sides, Box(tape[0], tail, boards[0], head), Box(boards[1], tail, tape[1], head))
    reach = plan.piece("front board").width
    covered = Box(boards[0] - reach, tail, boards[1] + reach, head)
    _say(pad, plan, covered, Box(boards[1], tail, tape[1], head), Box(tape[0], tail, boards[0], head))
    return finished(pad, "tape guide", "tape guide")


def _ticks(layout: Layout) -> tuple[Stroke, ...]:
    """The upright lines drawn solid at their two ends, where no board hides them."""
    upright = [part.box for part in layout.parts if part.box.size.width < 0.01]
    ends = ((box.left, y, y + TICK) for box in upright for y in (box.bottom, box.top - TICK))
    return tuple(Stroke(((x, low), (x, high)), "medium", layer="place") for x, low, high in ends)


def _name(pad: Pad, sides: dict[str, float], left: Box, right: Box) -> None:
    """FRONT and BACK on their sides, HEAD and TAIL on both."""
    for name, x in sides.items():
        side, edge = (left, OUTER[0]) if x <= left.right else (right, OUTER[1])
        edge_word(pad, name, edge, side, bold=True)
        edge_word(pad, "HEAD", "above", side, bold=True)
        edge_word(pad, "TAIL", "below", side)


def _say(pad: Pad, plan: Plan, boards: Box, *inside: Box) -> None:
    """What to know and to do, where the boards will not cover it if the page has other room."""
    tape = plan.tape
    notes_in_sight(pad, "How to use it", _use(), boards, *inside)
    facts = ("Covered boards OUTSIDE UP, heads at HEAD.", *(_tape(plan, tape) if tape else ()))
    notes_in_sight(pad, "Tape guide", facts, boards, *inside)


def _tape(plan: Plan, tape: TapeSizes) -> tuple[str, ...]:
    laps = "" if tape.overlap is None else f" Inside, its two ends overlap by {both(tape.overlap, plan.units)} near the tail"
    where = "" if tape.overlap_from_tail is None else f", from {both(tape.overlap_from_tail, plan.units)} above the tail edge"
    return (
        f"Tape: {both(tape.width, plan.units)} wide, {both(tape.length, plan.units)} long.",
        f"It lies on each board by {both(tape.on_board, plan.units)}.",
        f"It hangs over by {both(tape.hang_head, plan.units)} at the head and {both(tape.hang_tail, plan.units)} at the tail.",
        *((f"{laps}{where}.".strip(),) if laps else ()),
    )


def _use() -> tuple[str, ...]:
    return (
        "Fix this page to the table. Lay the boards on their lines, head and tail to the lines across, the spacers in the gap.",
        "The boards hide the lines: go by the ends that show beyond head and tail, and by the tape gauge's marks on the boards.",
        "The tape comes from above, its edges on the tape lines at both ends. Rub down from the middle.",
        WEIGHT,
    )


GAUGE_USE = (
    "Lay a {edge} edge on each covered board's spine edge, outside up.",
    "Mark lightly along the other {edge} edge: there the tape ends.",
)

TEMPLATES: dict[str, Callable[[Plan, PageSetup, Layout], Drawing]] = {"tape gauge": partial(gauge, use=GAUGE_USE)}
