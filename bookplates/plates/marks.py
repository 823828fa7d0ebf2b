"""Marks that help to read a template: arrows, crosses, words, and the sizes of letters. Lengths in mm."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from bookplates.geometry import Point
from bookplates.kinds.parts import Grain
from bookplates.lengths import POINT
from bookplates.letters import width, wrap
from bookplates.plates.drawing import Fill, Item, Label, Layer, Stroke
from bookplates.plates.pad import ASCENT

SMALL, LIST, NORMAL, TITLE = 6.4 * POINT, 7 * POINT, 8 * POINT, 10 * POINT
"""Sizes of letters, mm. Nothing may print under 6 pt, even where a printer's error of 5 % is corrected downwards."""

LEADING = 1.25
ARROW, HALF_ARROW = 2.2, 0.4

GAPS_IN_LENGTHS = (
    re.compile(r"(?<=\d) (?=\d+/\d|in\b|mm\b|×)|(?<=in) (?=[+-]\d|×)|(?<=mm) (?=×)|(?<=×) (?=\d)"),
    re.compile(r"(?<=\d) (?=\d+/\d|in\b|mm\b)|(?<=in) (?=[+-]\d)"),
    re.compile(r"(?<=\d) (?=\d+/\d|in\b|mm\b)"),
)
"""The spaces at which a line should not end: those within "5 1/2 × 7 in", or at least within "5 1/2 in +0.3 mm"."""

DIGIT = re.compile(r"\d")
TIED = "\u00a0"


@lru_cache(maxsize=4096)
def lines(text: str, size: float, room: float, bold: bool = False) -> tuple[str, ...]:
    """The text wrapped to `room` mm, no line ending within a length if the room takes that length whole."""
    if not DIGIT.search(text):  # as most sentences: there is no length in it
        return wrap(text, size, room, bold)
    ties = (gaps.sub(TIED, text) for gaps in GAPS_IN_LENGTHS)
    tied = next((tie for tie in ties if max(width(word, size, bold) for word in tie.split(" ")) <= room), text)
    return tuple(line.replace(TIED, " ") for line in wrap(tied, size, room, bold))


def arrowhead(tip: Point, along: Point, layer: Layer | None = "notes") -> Fill:
    """A filled arrowhead whose point is `tip`; `along` is the unit vector it points along."""
    (x, y), (dx, dy) = tip, along
    barbs = ((x - ARROW * dx - half * dy, y - ARROW * dy + half * dx) for half in (HALF_ARROW, -HALF_ARROW))
    return Fill((tip, *barbs), layer=layer)


def arrow(start: Point, end: Point, both_ends: bool = False, layer: Layer | None = "notes") -> tuple[Item, ...]:
    """A thin line with an arrowhead at its end, or at both."""
    length = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    along = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    tail = (arrowhead(start, (-along[0], -along[1]), layer),) if both_ends else ()
    return (Stroke((start, end), "thin", layer=layer), arrowhead(end, along, layer), *tail)


ARM = 3.0
"""How far a cross reaches from its middle, mm."""


def cross(at: Point, arm: float = ARM, layer: Layer | None = "notes") -> tuple[Item, ...]:
    """A thin cross that marks where to prick."""
    x, y = at
    return tuple(Stroke(ends, "thin", layer=layer) for ends in (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))))


def head_sign(wide: float = 2.4, x: float = 0.0) -> Fill:
    """The black triangle that points to the head, its base `wide` mm from `x` on."""
    return Fill(((x, 0.0), (x + wide, 0.0), (x + wide / 2, 0.9 * wide)), layer=None)


def text_block(paragraphs: Sequence[str], room: float, size: float = NORMAL, title: str = "") -> tuple[Label, ...]:
    """Paragraphs wrapped to `room` mm under a bold title, top left corner at the origin.

    A title that names the piece shows in any case, one that says how to use it goes with what is said.
    """
    labels: list[Label] = []
    top = 0.0
    named: Layer | None = "notes" if title.startswith("How ") else None
    for text, big, bold in ((title, size * 1.2, True), *((text, size, False) for text in paragraphs)):
        for line in lines(text, big, room, bold) if text else ():
            labels.append(Label(line, (0.0, top - ASCENT * big), big, bold=bold, layer=named if bold else "notes"))
            top -= LEADING * big
        top -= 0.35 * big
    return tuple(labels)


def word(
    text: str, size: float = NORMAL, bold: bool = False, angle: float = 0.0, layer: Layer | None = None
) -> tuple[Label, ...]:
    """One line of words, as something that can be settled on a pad.

    What a piece is called and which edge is which shows in any case: with the notes hidden nobody could tell head from tail.
    """
    return (Label(text, (0.0, 0.0), size, "middle", angle, bold, layer),)


def grain_arrow(grain: Grain, length: float = 16.0) -> tuple[Item, ...]:
    """A double-headed arrow along the grain, labelled; empty where a material has none."""
    if grain == "none":
        return ()
    if grain == "across":
        ends, name = (length, 0.0), Label("grain", (length / 2, 1.6), NORMAL, "middle", layer=None)
    else:
        ends, name = (0.0, length), Label("grain", (1.8, length / 2 - 0.25 * NORMAL), NORMAL, layer=None)
    return (*arrow((0.0, 0.0), ends, both_ends=True, layer=None), name)
