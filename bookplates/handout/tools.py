"""What to have ready: the tools that the steps to come speak of."""

from __future__ import annotations

import re
from collections.abc import Sequence

from bookplates.book.record import Plan
from bookplates.kinds.step import Step

TOOLS: tuple[tuple[tuple[str, str], ...], ...] = (
    (("", "a knife"), ("", "a cutting mat"), ("", "a metal safety rule"), ("", "a steel ruler"), ("", "a pencil")),
    (
        (r"\bfold|rub|\bscor", "a bone folder"),
        (r"clean (paper|waste)|waste sheet", "clean waste paper"),
        (r"\bpress\b", "two pressing boards"),
        (r"weight|\bweigh\b", "weights"),
    ),
    (
        (r"\bawl\b|prick|pierce", "an awl with a cork"),
        (r"\bdrill", "a hand drill and goggles"),
        (r"cradle", "a cradle"),
        (r"\bfoam\b", "a block of foam"),
        (r"waste board|scrap of board", "a waste board"),
        (r"\bclamp", "two clamps"),
    ),
    (
        (r"needle", "a blunt needle that the thread just goes into"),
        (r"beeswax", "beeswax"),
        (r"needle", "scissors"),
        (r"\bclips\b", "two clips"),
        (r"needle", "pliers"),
    ),
    ((r"adhesive\b|\bglue|paste", "adhesive"), (r"\bbrush\b", "a brush")),
    ((r"on card\b", "card for the gauges"), (r"punch guide", "heavy paper for the guides")),
)
"""Tools that go together, each with the words of a step that need it."""


def have_ready(plan: Plan, work: Sequence[Step]) -> Step:
    """The tools that the steps to come speak of."""
    said = " ".join(sentence for step in work for sentence in step.sentences).lower()
    thread = ", and thread" if plan.sewing.path.steps else ""
    listed = ([tool for words, tool in group if re.search(words, said)] for group in TOOLS)
    tools = (f"{', '.join(group)}." for group in listed if group)
    needed = f'The materials under "Cut for one book" on the sizes page{thread}.'
    return Step("Have ready", (needed, *(f"{line[:1].upper()}{line[1:]}" for line in tools)))
