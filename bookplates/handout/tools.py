"""What to have ready: the tools that the steps to come speak of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bookplates.book.record import Plan
from bookplates.kinds.step import Step
from bookplates.lengths import in_mm

TOOLS: tuple[tuple[tuple[tuple[str, ...], str], ...], ...] = (
    (
        ((" ",), "a knife"),
        ((" ",), "a cutting mat"),
        ((" ",), "a metal safety rule"),
        ((" ",), "a steel ruler"),
        ((" ",), "a pencil"),
    ),
    (
        ((" fold", " rub ", " scor"), "a bone folder"),
        ((" clean paper", " clean waste", " waste sheet", " waste paper"), "clean waste paper"),
        ((" press ",), "two pressing boards"),
        ((" weight", " weigh "), "weights"),
    ),
    (
        ((" awl", " prick", " pierce"), "an awl with a cork"),
        ((" drill",), "a hand drill with a bit of {hole}, goggles"),
        ((" cradle",), "a cradle"),
        ((" foam ",), "a block of foam"),
        ((" waste board", " scrap of board"), "a waste board"),
        ((" offcut of board",), "an offcut of board"),
        ((" scraps of card",), "scraps of card"),
        ((" clamp",), "two clamps"),
    ),
    (
        ((" needle",), "a blunt needle that the thread just goes into"),
        ((" beeswax",), "beeswax"),
        ((" needle", " scissors "), "scissors"),
        ((" clips ",), "two clips"),
        ((" needle",), "pliers"),
    ),
    (
        ((" adhesive ", " glue", " paste"), "adhesive"),
        ((" brush ", " glue "), "a brush"),
        ((" adhesive tape ",), "adhesive tape"),
    ),
    (((" on card ",), "{card}"), ((" punch guide",), "heavy paper for the guides")),
)
"""Tools that go together, each with the words of a step that need it; a space stands where a word begins or ends."""

NO_LETTERS = str.maketrans(dict.fromkeys(".,:;!?()", " "))


def have_ready(plan: Plan, work: Sequence[Step]) -> Step:
    """The tools that the steps to come speak of."""
    tools = (f"{', '.join(group)}." for group in needed(plan, work))
    lines = (_materials(plan), *(f"{line[:1].upper()}{line[1:]}" for line in tools))
    return Step("Have ready", lines)


def needed(plan: Plan, work: Sequence[Step]) -> Iterator[tuple[str, ...]]:
    """The tools that these steps speak of, those that go together in one group."""
    said = spoken(work)
    for group in TOOLS:
        tools = [tool for words, tool in group if any(word in said for word in words)]
        if tools:
            yield tuple(tool.format(hole=in_mm(plan.sewing.hole), card=_card(said)) for tool in tools)


def spoken(work: Sequence[Step]) -> str:
    """All the words of steps in small letters, a space before and behind each."""
    said = " ".join(sentence for step in work for sentence in step.sentences).lower()
    return f" {' '.join(said.translate(NO_LETTERS).split())} "


def _materials(plan: Plan) -> str:
    tape = ", with book tape" if plan.tape else ""
    thread = ", and thread" if plan.sewing.path.steps else ""
    return f'The materials under "Cut for one book" on the sizes page{tape}{thread}.'


def _card(said: str) -> str:
    """What the card is for."""
    return "card for the gauges" if " gauge" in said else "card for the guide"
